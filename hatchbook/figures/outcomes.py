"""What became of the eggs of one batch or of many, derived once for each egg from records read in bulk."""

from __future__ import annotations

import marshal
import threading
from collections import Counter, OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from hashlib import blake2b
from typing import Protocol

from hatchbook.journal import Journal
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.fates import EggOutcome, SeenBreakOut, SeenFinding, SeenHatch, SeenRemoval, derive_fate
from hatchbook.trade.instants import day_number
from hatchbook.trade.stages import StageBounds

OPENED = "opened:"
"""Stands before the result of a break-out among the codes of what was seen of an egg."""


class SetEggs(Protocol):
    """What the fates of a batch's eggs depend on besides their records; a ``Batch`` or a ``BatchLine``."""

    @property
    def uid(self) -> str:
        """Of the batch."""

    @property
    def set_at(self) -> int:
        """UTC seconds."""

    @property
    def incubation_days(self) -> float:
        """Days."""

    @property
    def early_until_day(self) -> float:
        """Days since setting."""

    @property
    def mid_until_day(self) -> float:
        """Days since setting."""

    @property
    def closed_at(self) -> int | None:
        """UTC seconds."""


@dataclass(slots=True)
class EggRecords:
    """The records of one egg as the journal hands them out, in no order."""

    findings: list[tuple[int, str]] = field(default_factory=list)
    marks: list[tuple[int, str]] = field(default_factory=list)
    results: list[tuple[int, str, float | None]] = field(default_factory=list)
    reasons: list[tuple[int, str]] = field(default_factory=list)

    def outcome(self, batch: SetEggs, bounds: StageBounds) -> EggOutcome:
        """What became of the egg."""
        return derive_fate(
            [SeenFinding(at, FindingCode(code)) for at, code in self.findings],
            [SeenHatch(at, HatchMark(code)) for at, code in self.marks],
            [SeenBreakOut(at, BreakOutResult(code), day) for at, code, day in self.results],
            [SeenRemoval(at, RemovalReason(code)) for at, code in self.reasons],
            set_at_s=batch.set_at,
            bounds=bounds,
            closed=batch.closed_at is not None,
        )

    def seen(self, batch: SetEggs) -> tuple[tuple[float, str], ...]:
        """Day since setting and code of all that was seen of it, oldest first."""
        looks = [*self.findings, *self.marks, *self.reasons]
        looks += [(at, f"{OPENED}{result}") for at, result, _ in self.results]
        looks.sort(key=lambda look: look[0])
        return tuple((day_number(at, batch.set_at), code) for at, code in looks)


def bounds_of(batch: SetEggs) -> StageBounds:
    """The bounds of the stages of death in a batch.

    The customary ones where those noted do not fit its length, which can have been changed after them.
    """
    if 0 < batch.early_until_day < batch.mid_until_day < batch.incubation_days:
        return StageBounds(batch.early_until_day, batch.mid_until_day, batch.incubation_days)
    return StageBounds.for_incubation(batch.incubation_days)


def egg_records(journal: Journal, batches: Sequence[str] | None = None) -> dict[str, dict[str, EggRecords]]:
    """The records of every egg by batch and egg, for these batches or for all; one query a kind of record."""
    by_batch: dict[str, dict[str, EggRecords]] = {}
    by_egg: dict[str, EggRecords] = {}
    for batch, egg in journal.eggs.uids(batches):
        records = by_egg[egg] = EggRecords()
        by_batch.setdefault(batch, {})[egg] = records
    for egg, at, code in journal.candlings.findings_in(batches):
        by_egg[egg].findings.append((at, code))
    for egg, at, code in journal.hatchings.marks_in(batches):
        by_egg[egg].marks.append((at, code))
    for egg, at, code, dead_day in journal.break_outs.results_in(batches):
        by_egg[egg].results.append((at, code, dead_day))
    for egg, at, code in journal.removals.reasons_in(batches):
        by_egg[egg].reasons.append((at, code))
    return by_batch


def outcomes_by_batch(journal: Journal, batches: Sequence[SetEggs]) -> list[list[EggOutcome]]:
    """What became of the eggs of each of these batches, in their order."""
    records = egg_records(journal, [batch.uid for batch in batches])
    return [
        [egg.outcome(batch, bounds_of(batch)) for egg in records.get(batch.uid, {}).values()]
        for batch in batches
    ]


class OutcomeKeeper:
    """Derives what became of eggs, and keeps it for batches of which nothing has changed.

    The fates of a thousand batches take a second to derive and next to nothing to compare.
    """

    KEPT = 4096

    def __init__(self) -> None:
        self._kept: OrderedDict[bytes, tuple[EggOutcome, ...]] = OrderedDict()
        self._lock = threading.Lock()

    def outcomes(self, batch: SetEggs, eggs: Sequence[EggRecords]) -> tuple[EggOutcome, ...]:
        """What rates count of each egg, in their order: its fate and how it is known, without days and clashes."""
        rows = [(egg.findings, egg.marks, egg.results, egg.reasons) for egg in eggs]
        bounds = bounds_of(batch)
        stages = (bounds.early_until_day, bounds.mid_until_day, bounds.incubation_days)
        # Version 2 writes equal values as equal bytes; later ones also tell which of them are one object.
        text = marshal.dumps((batch.set_at, stages, batch.closed_at is not None, rows), 2)
        key = blake2b(text, digest_size=16).digest()
        with self._lock:
            outcomes = self._kept.pop(key, None)
            if outcomes is not None:
                self._kept[key] = outcomes  # the latest asked for goes last
        if outcomes is None:
            outcomes = tuple(_essence(egg.outcome(batch, bounds)) for egg in eggs)
            with self._lock:
                self._kept[key] = outcomes
                while len(self._kept) > self.KEPT:
                    self._kept.popitem(last=False)
        return outcomes

    def count(self, batch: SetEggs, eggs: Sequence[EggRecords]) -> dict[Fate, int]:
        """How many eggs of a batch met each fate; only fates that occur."""
        counted = Counter(outcome.fate for outcome in self.outcomes(batch, eggs))
        return {fate: counted[fate] for fate in Fate if counted[fate]}


KEEPER = OutcomeKeeper()
"""The one that the batch list and the comparison of batches share."""


def _essence(outcome: EggOutcome) -> EggOutcome:
    return _one_object(outcome.fate, outcome.candled, outcome.candled_clear, outcome.opened, outcome.fertile)


@cache
def _one_object(
    fate: Fate, candled: bool, candled_clear: bool, opened: bool, fertile: bool | None
) -> EggOutcome:
    """Equal ones are one object: a large journal has 40,000 eggs and some thirty of these."""
    return EggOutcome(fate, candled, candled_clear, opened, fertile)
