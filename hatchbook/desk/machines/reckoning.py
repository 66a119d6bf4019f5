"""The slow part of the Machines page: reading a machine's history and fitting its guide, on the worker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from PySide6.QtCore import QObject

from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
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


class MachineWork(LatestWork):
    """Reckons a machine; what it answers is a ``Reckoned``."""

    def __init__(
        self, context: DeskContext, parent: QObject | None = None, make_model: ModelMaker = fitted_model
    ) -> None:
        super().__init__(context, parent)
        self._make_model = make_model

    def reckon(self, uid: str, now: int, batch: str | None, room: RoomAir | None) -> None:
        """Reads a machine, fits its guide, and asks it for a batch (where it lies there) with a room's air."""

        def reading(journal: Journal, task: Task) -> Reckoned | None:
            def go_on(_share: float) -> None:
                if task.cancelled:
                    raise _StoppedError

            try:
                figures = machine_figures(journal, uid, now)
                go_on(0.0)
                model = self._make_model(journal, uid, now, go_on)
                care, watch = machine_care(journal, uid, now), probe_watch(journal, uid, now)
            except _StoppedError:
                return None
            guide, read = _asked(model, batch, room)
            return Reckoned(uid, now, figures, care, watch, model, guide, read)

        self.read(reading)

    def reckon_again(self, known: Reckoned, batch: str | None, room: RoomAir | None) -> None:
        """Asks a machine that is fitted already for another batch, or with other room air."""

        def work(_task: Task) -> Reckoned:
            guide, read = _asked(known.model, batch, room)
            return replace(known, guide=guide, read_room=read)

        self.ask(work)


def _asked(model: Guiding, batch: str | None, room: RoomAir | None) -> tuple[MachineGuide, RoomAir | None]:
    """The guide that is asked for, and the room air as it was read."""
    served = batch if batch in model.batches else None
    as_read = model.guide(None, served)
    read = None if as_read.room.origin is RoomAirFrom.ASSUMED else as_read.room
    return (as_read if room is None else model.guide(room, served)), read
