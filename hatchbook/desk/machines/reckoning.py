"""The slow part of the Machines page: reading a machine's history and fitting its guide, on the worker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

from PySide6.QtCore import QObject, Signal

from hatchbook.desk.context import DeskContext
from hatchbook.desk.tasks import Task
from hatchbook.figures.care import CareEntry, machine_care
from hatchbook.figures.guide_results import MachineGuide, RoomAir, RoomAirFrom
from hatchbook.figures.machines import MachineFigures, machine_figures
from hatchbook.journal import Journal


class Guiding(Protocol):
    """A fitted machine, which answers quickly and reads nothing any more."""

    def guide(self, room: RoomAir | None, batch: str | None) -> MachineGuide:
        """The guide with some room air (None: the last reading of the room), for a batch (None: none)."""


ModelMaker = Callable[[Journal, str, int], Guiding]


@dataclass(frozen=True, eq=False)
class Reckoned:
    """All that the page shows of a machine at an instant (UTC seconds).

    ``guide`` is that for the batch that was asked for; ``read_room``: the room air as it was read, None where
    nothing was.
    """

    uid: str
    now: int
    figures: MachineFigures
    care: tuple[CareEntry, ...]
    model: Guiding
    guide: MachineGuide
    read_room: RoomAir | None
    watch: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Question:
    """What is asked of a machine: for which batch (None: the one the page takes), with which typed room air."""

    batch: str | None = None
    room: RoomAir | None = None


def fitted_model(journal: Journal, uid: str, now: int) -> Guiding:
    """The guide of a machine, fitted to its history."""
    from hatchbook.figures.guide import machine_guide_model

    return machine_guide_model(journal, uid, now)


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

    def reckon(self, uid: str, choose: Callable[[MachineFigures], Question]) -> None:
        """Reads a machine and fits its guide; ``choose`` says, in the worker, what is asked of it."""
        journal, now = self._context.door.journal, self._context.now()

        def work(task: Task) -> Reckoned | None:
            with journal.second() as second:
                figures = machine_figures(second, uid, now)
                if task.cancelled:
                    return None
                care = machine_care(second, uid, now)
                model = self._make_model(second, uid, now)
                asked = choose(figures)
                as_read = model.guide(None, asked.batch)
                guide = as_read if asked.room is None else model.guide(asked.room, asked.batch)
                read = None if as_read.room.origin is RoomAirFrom.ASSUMED else as_read.room
                return Reckoned(uid, now, figures, care, model, guide, read)

        self._start(work)

    def stop(self) -> None:
        """Asks for nothing any more."""
        if self._task is not None:
            self._task.cancel()
            self._task = None
            self.busy_changed.emit(False)

    def _start(self, work: Callable[[Task], object]) -> None:
        if self._task is not None:
            self._task.cancel()
        task = self._task = self._context.worker.start(work)
        self.busy_changed.emit(True)
        task.finished.connect(lambda result: self._finish(task, result))
        task.failed.connect(lambda error: self._fail(task, error))

    def _finish(self, task: Task, result: object) -> None:
        if task is not self._task:
            return
        self._task = None
        self.busy_changed.emit(False)
        if result is not None:
            self.reckoned.emit(result)

    def _fail(self, task: Task, error: object) -> None:
        if task is not self._task:
            return
        self._task = None
        self.busy_changed.emit(False)
        self.failed.emit(error)
