"""The slow part of the Machines page: reading a machine's history and fitting its guide, on the worker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from hatchbook.desk.context import DeskContext
from hatchbook.desk.tasks import Task
from hatchbook.figures.care import CareEntry, machine_care
from hatchbook.figures.guide_results import MachineGuide, RoomAir, RoomAirFrom
from hatchbook.figures.machines import MachineFigures, machine_figures
from hatchbook.figures.probe_watch import ProbeWatch, probe_watch
from hatchbook.journal import Journal

Progress = Callable[[float], None]


class Guiding(Protocol):
    """A fitted machine (`hatchbook.figures.guide.GuideModel`); it reads nothing any more."""

    @property
    def batches(self) -> tuple[str, ...]:
        """The uids of the batches that it can advise for."""

    def guide(self, room: RoomAir | None = None, batch: str | None = None) -> MachineGuide:
        """The guide with some room air (None: the last reading), for a batch (None: the first)."""


ModelMaker = Callable[[Journal, str, int, Progress], Guiding]


@dataclass(frozen=True, eq=False)
class Reckoned:
    """All that the page shows of a machine at an instant (``now``, UTC seconds).

    ``guide`` is for the batch and the room air that were asked for; ``read_room`` the room air as it was read, None
    where nothing was.
    """

    uid: str
    now: int
    figures: MachineFigures
    care: tuple[CareEntry, ...]
    watch: ProbeWatch
    model: Guiding
    guide: MachineGuide
    read_room: RoomAir | None


class _StoppedError(Exception):
    """Another machine is asked for by now."""


def fitted_model(journal: Journal, uid: str, now: int, progress: Progress) -> Guiding:
    """The guide of a machine, fitted to its history."""
    from hatchbook.figures.guide import machine_guide_model

    return machine_guide_model(journal, uid, now, progress)


class MachineWork(QObject):
    """Reckons a machine; whatever is asked ends what was asked before.

    Signals:
        reckoned: a ``Reckoned``.
        failed: the exception that ended the reckoning.
        busy_changed: whether something is being reckoned.
    """

    reckoned = Signal(object)
    failed = Signal(object)
    busy_changed = Signal(bool)

    def __init__(
        self, context: DeskContext, parent: QObject | None = None, make_model: ModelMaker = fitted_model
    ) -> None:
        super().__init__(parent)
        self._context = context
        self._make_model = make_model
        self._task: Task | None = None

    @property
    def is_busy(self) -> bool:
        """Whether something is being reckoned."""
        return self._task is not None

    def reckon(self, uid: str, batch: str | None, room: RoomAir | None) -> None:
        """Reads a machine, fits its guide, and asks it for a batch (where it lies there) with a room's air."""
        journal, now = self._context.door.journal, self._context.now()

        def work(task: Task) -> Reckoned | None:
            def go_on(_share: float) -> None:
                if task.cancelled:
                    raise _StoppedError

            try:
                with journal.second() as second:
                    figures = machine_figures(second, uid, now)
                    go_on(0.0)
                    model = self._make_model(second, uid, now, go_on)
                    care, watch = machine_care(second, uid, now), probe_watch(second, uid, now)
            except _StoppedError:
                return None
            guide, read = _asked(model, batch, room)
            return Reckoned(uid, now, figures, care, watch, model, guide, read)

        self._start(work)

    def ask(self, known: Reckoned, batch: str | None, room: RoomAir | None) -> None:
        """Asks a machine that is fitted already for another batch, or with other room air."""

        def work(_task: Task) -> Reckoned:
            guide, read = _asked(known.model, batch, room)
            return replace(known, guide=guide, read_room=read)

        self._start(work)

    def stop(self) -> None:
        """Asks for nothing any more."""
        if self._task is not None:
            self._task.cancel()
            self._task = None
            self.busy_changed.emit(False)

    def _start(self, work: Callable[[Task], Reckoned | None]) -> None:
        if self._task is not None:
            self._task.cancel()
        task = self._task = self._context.worker.start(work)
        self.busy_changed.emit(True)
        task.finished.connect(lambda result: self._finish(task, result))
        task.failed.connect(lambda error: self._fail(task, error))

    def _finish(self, task: Task, result: Reckoned | None) -> None:
        if task is not self._task:
            return
        self._task = None
        self.busy_changed.emit(False)
        if result is not None:
            self.reckoned.emit(result)

    def _fail(self, task: Task, error: Exception) -> None:
        if task is not self._task:
            return
        self._task = None
        self.busy_changed.emit(False)
        self.failed.emit(error)


def _asked(model: Guiding, batch: str | None, room: RoomAir | None) -> tuple[MachineGuide, RoomAir | None]:
    """The guide that is asked for, and the room air as it was read."""
    served = batch if batch in model.batches else None
    as_read = model.guide(None, served)
    read = None if as_read.room.origin is RoomAirFrom.ASSUMED else as_read.room
    return (as_read if room is None else model.guide(room, served)), read
