"""What a machine has room for at a time, and whose lockdown would reach whose eggs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.figures.egg_places import Place, place_of
from hatchbook.figures.outcomes import bounds_of, egg_records
from hatchbook.journal import Batch, BatchPhase, Journal, Machine
from hatchbook.trade.codes import Fate, PhaseKind
from hatchbook.trade.plan import BatchPlan, instant_of_day

_GONE = frozenset({Fate.TAKEN_OUT, Fate.CRACKED, Fate.ROTTEN})
"""Eggs that no longer lie in the machine. Clear and dead ones may have been left in."""


@dataclass(frozen=True)
class MachineRoom:
    """The places of a machine during a stretch, and what other batches take of them.

    ``most_eggs``: how many eggs of others lie in it at once at most. ``labels``: of those batches, by setting.
    """

    places: int
    most_eggs: int
    taken: frozenset[Place]
    labels: tuple[str, ...]

    @property
    def free(self) -> int:
        """Places that are left throughout, at least 0."""
        return max(self.places - self.most_eggs, 0)


@dataclass(frozen=True)
class LockdownClash:
    """A lockdown whose raised humidity reaches eggs that are not so far; ``ours``: that of the planned batch."""

    label: str
    from_at: int
    until_at: int
    ours: bool


def machine_room(
    journal: Journal, machine: Machine, start_at: int, end_at: int, *, without: str = ""
) -> MachineRoom:
    """What is free in a machine from an instant to another.

    Args:
        without: the uid of the batch that is planned, whose own eggs do not count.
    """
    others = _others(journal, machine.uid, start_at, end_at, without)
    records = egg_records(journal, [batch.uid for batch in others])
    taken: set[Place] = set()
    counts: list[int] = []
    for batch in others:
        bounds = bounds_of(batch)
        eggs = [
            egg
            for egg in journal.eggs.of_batch(batch.uid)
            if records[batch.uid][egg.uid].outcome(batch, bounds).fate not in _GONE
        ]
        counts.append(len(eggs))
        taken.update(place for egg in eggs if (place := place_of(egg)) is not None)
    return MachineRoom(
        places=machine.places,
        most_eggs=_most_at_once(others, counts, start_at, end_at),
        taken=frozenset(taken),
        labels=tuple(batch.label for batch in others),
    )


def lockdown_clashes(
    journal: Journal, machine: str, plan: BatchPlan, *, without: str = ""
) -> tuple[LockdownClash, ...]:
    """Lockdowns of other batches during this one's incubation in the same machine, and the other way round."""
    clashes: dict[tuple[str, bool], LockdownClash] = {}
    for batch in _others(journal, machine, plan.set_at_s, plan.hatch_due_at_s, without):
        for phase in journal.batches.phases(batch.uid):
            if (phase.machine or batch.machine) != machine:
                continue
            start, end = _stretch(batch, phase)
            ours = phase.kind is not PhaseKind.LOCKDOWN
            if ours:
                from_at, until_at = max(start, plan.lockdown_at_s), min(end, plan.hatch_due_at_s)
            else:
                from_at, until_at = max(start, plan.set_at_s), min(end, plan.lockdown_at_s)
            if from_at < until_at:
                known = clashes.get((batch.label, ours))
                until = until_at if ours else end
                if known is not None:
                    from_at, until = min(from_at, known.from_at), max(until, known.until_at)
                clashes[batch.label, ours] = LockdownClash(batch.label, from_at, until, ours)
    return tuple(clashes.values())


def _others(journal: Journal, machine: str, start_at: int, end_at: int, without: str) -> list[Batch]:
    """The other batches that lie in a machine at some time of a stretch, by setting."""
    found = [
        batch
        for batch in journal.batches.with_phase_in(machine)
        if batch.uid != without and batch.set_at < end_at and _end(batch) > start_at
    ]
    return sorted(found, key=lambda batch: (batch.set_at, batch.label))


def _end(batch: Batch) -> int:
    return batch.hatch_due_at if batch.closed_at is None else min(batch.closed_at, batch.hatch_due_at)


def _stretch(batch: Batch, phase: BatchPhase) -> tuple[int, int]:
    start, end = instant_of_day(batch.set_at, phase.from_day), instant_of_day(batch.set_at, phase.to_day)
    return start, end if batch.closed_at is None else min(end, batch.closed_at)


def _most_at_once(others: Sequence[Batch], counts: Sequence[int], start_at: int, end_at: int) -> int:
    """The largest sum of eggs that lie there together; it is reached when one of the batches is set."""
    begins = [start_at, *(batch.set_at for batch in others if start_at < batch.set_at < end_at)]
    return max(
        sum(count for batch, count in zip(others, counts, strict=True) if batch.set_at <= at < _end(batch))
        for at in begins
    )
