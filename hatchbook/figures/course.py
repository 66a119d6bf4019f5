"""A batch with its phases at an instant: what is over, what runs, what is to come. Read once for all figures."""

from __future__ import annotations

import time
from dataclasses import dataclass
from functools import cached_property

from hatchbook.figures.results import BatchState, PhaseState
from hatchbook.figures.series import BatchReadings, StretchSeries
from hatchbook.journal import Batch, BatchPhase, Duty, Event, Journal, Machine
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import instant_of_day

OVERTIME_S = 7 * DAY_S
"""For so long after the hatch was due a batch that was not closed is followed (our choice): no egg takes longer,
and the machine may hold another batch by then."""


def present(now: int | None) -> int:
    """The given instant, or that of the clock, UTC seconds."""
    return int(time.time()) if now is None else now


def state_of(set_at: int, closed_at: int | None, now: int) -> BatchState:
    """Whether a batch is planned, runs or is closed."""
    if closed_at is not None:
        return BatchState.CLOSED
    return BatchState.PLANNED if now < set_at else BatchState.RUNNING


@dataclass(frozen=True)
class Stretch:
    """A phase with its instants: of the part ``elapsed_at`` ends, the part that has gone by."""

    phase: BatchPhase
    state: PhaseState
    start_at: int
    end_at: int
    elapsed_at: int

    @property
    def elapsed_h(self) -> float:
        """Hours gone by."""
        return (self.elapsed_at - self.start_at) / 3600

    @property
    def remaining_h(self) -> float:
        """Hours left; the whole length of a phase to come, none of one that is over."""
        return 0.0 if self.state is PhaseState.OVER else (self.end_at - self.elapsed_at) / 3600


class Course:
    """A batch, its phases, events and duties, and the readings that count, at an instant."""

    def __init__(self, journal: Journal, uid: str, now: int | None = None) -> None:
        """Raises RecordMissingError when there is no such batch."""
        self.journal = journal
        self.now = present(now)
        self.batch: Batch = journal.batches.get(uid)
        self.phases = journal.batches.phases(uid)
        self.state = state_of(self.batch.set_at, self.batch.closed_at, self.now)

    @property
    def day(self) -> float:
        """Days since setting, below 0 before it; of a closed batch those until it was closed."""
        at = self.now if self.batch.closed_at is None else min(self.now, self.batch.closed_at)
        return self.day_of(at)

    def day_of(self, at: int) -> float:
        """Days since setting of an instant."""
        return (at - self.batch.set_at) / DAY_S

    @cached_property
    def due_at(self) -> int:
        """When the last phase ends: the hatch is due."""
        return max((self._instant(phase.to_day) for phase in self.phases), default=self.batch.hatch_due_at)

    @cached_property
    def followed_until(self) -> int:
        """Until when readings and events belong to the batch: its closing, at the latest some days overtime."""
        late = self.due_at + OVERTIME_S
        return late if self.batch.closed_at is None else min(self.batch.closed_at, late)

    @property
    def seen_until(self) -> int:
        """Until when there is something to show: now, or the end of a batch that is over."""
        return min(self.now, self.followed_until)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The phases with their instants, first to last."""
        return tuple(self._stretch(phase) for phase in self.phases)

    def _instant(self, day: float) -> int:
        return instant_of_day(self.batch.set_at, day)

    def _stretch(self, phase: BatchPhase) -> Stretch:
        start_at, end_at = self._instant(phase.from_day), self._instant(phase.to_day)
        elapsed_at = max(start_at, min(self.seen_until, end_at))
        if self.state is BatchState.CLOSED or self.now >= end_at:
            state = PhaseState.OVER
        else:
            state = PhaseState.RUNNING if self.now >= start_at else PhaseState.TO_COME
        return Stretch(phase, state, start_at, end_at, elapsed_at)

    # ---------------------------------------------------------------- machines

    @cached_property
    def machine(self) -> Machine:
        """The machine it was set in."""
        return self.journal.machines.get(self.batch.machine)

    def machine_of(self, phase: BatchPhase) -> str:
        """The uid of the machine in which the batch lies for a phase."""
        return phase.machine or self.batch.machine

    @cached_property
    def machine_names(self) -> dict[str, str]:
        """The machines by uid."""
        return {machine.uid: machine.name for machine in self.journal.machines.all()}

    def machine_at(self, at: int) -> str:
        """The uid of the machine in which the batch lies at an instant."""
        begun = [stretch for stretch in self.stretches if stretch.start_at <= at]
        return self.machine_of(begun[-1].phase) if begun else self.batch.machine

    # ---------------------------------------------------------------- what was noted

    @cached_property
    def duties(self) -> tuple[Duty, ...]:
        """All that the batch asks for, in the order of time."""
        return tuple(self.journal.duties.of_batch(self.batch.uid))

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """The batch's own events, and those of the machine in which it lay at their time."""
        machines = sorted({self.batch.machine, *(self.machine_of(phase) for phase in self.phases)})
        found = self.journal.events.of_batch(
            self.batch.uid, machines, self.batch.set_at, self.followed_until + 1
        )
        return tuple(
            event for event in found if event.batch is not None or event.machine == self.machine_at(event.at)
        )

    # ---------------------------------------------------------------- readings

    @cached_property
    def _readings(self) -> BatchReadings:
        return BatchReadings(self.journal, self.batch, self.batch.set_at, self.seen_until, self.now)

    @cached_property
    def series(self) -> tuple[StretchSeries | None, ...]:
        """The readings of each phase; None of one that has not begun. The last one runs on until the end."""
        last = len(self.stretches) - 1
        return tuple(
            self._readings.of_stretch(
                self.machine_of(stretch.phase),
                stretch.start_at,
                stretch.elapsed_at,
                self.seen_until if position == last else None,
            )
            if stretch.start_at <= self.seen_until
            else None
            for position, stretch in enumerate(self.stretches)
        )
