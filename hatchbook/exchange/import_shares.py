"""Which of the readings of a file count for which batch: those while their probe hung with its eggs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.course import OVERTIME_S, Course
from hatchbook.journal import Batch, Journal, ProbePlacement
from hatchbook.trade.instants import DAY_S

Instants = NDArray[np.int64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class BatchShare:
    """The readings (a mask over those of the file, some of it true) that count for a batch."""

    batch: Batch
    readings: Mask

    @property
    def count(self) -> int:
        """How many."""
        return int(self.readings.sum())


def batch_shares(
    journal: Journal, probe: str | None, placements: Iterable[ProbePlacement], at: Instants, now: int | None
) -> tuple[BatchShare, ...]:
    """The batches for which some of the readings of a probe count, in the order in which they were set.

    Args:
        journal: where the batches are.
        probe: the uid of the probe; None where it is new.
        placements: where it hung when.
        at: the instants of the readings, ascending.
        now: the present instant; None: that of the clock.
    """
    if not at.size:
        return ()
    places = tuple(placements)
    first, last = int(at[0]), int(at[-1])
    shares = []
    for line in journal.batches.lines():
        # How long the phases of a batch really last tells its course; twice the incubation is always later.
        latest = line.set_at + round(2 * line.incubation_days * DAY_S) + OVERTIME_S
        if line.set_at <= last and latest >= first:
            mask = _mask(Course(journal, line.uid, now), probe, places, at)
            if mask.any():
                shares.append(BatchShare(journal.batches.get(line.uid), mask))
    return tuple(sorted(shares, key=lambda share: (share.batch.set_at, share.batch.label)))


def _mask(course: Course, probe: str | None, places: tuple[ProbePlacement, ...], at: Instants) -> Mask:
    mask = np.zeros(at.size, dtype=np.bool_)
    own = probe is not None and course.batch.probe == probe
    for stretch in course.stretches:
        machine = course.machine_of(stretch.phase)
        end = course.followed_until if stretch is course.stretches[-1] else stretch.end_at
        within = _between(at, stretch.start_at, min(end, course.followed_until) + 1)
        here, elsewhere = np.zeros_like(mask), np.zeros_like(mask)
        for place in places:
            stay = _between(at, place.from_at, place.until_at)
            if place.machine == machine:
                here |= stay
            else:
                elsewhere |= stay
        # A batch's own probe counts wherever it is not known to have hung elsewhere.
        mask |= within & (here | ~elsewhere if own else here)
    return mask


def _between(at: Instants, start: int, end: int | None) -> Mask:
    """The instants from a start until before an end."""
    mask = np.zeros(at.size, dtype=np.bool_)
    first, stop = np.searchsorted(at, (start, np.iinfo(np.int64).max if end is None else end))
    mask[first:stop] = True
    return mask
