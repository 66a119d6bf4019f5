"""Where the eggs of a day stand: bins along a lane of days, filled row by row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hatchbook.figures.by_day import DayStack
from hatchbook.trade.codes import Fate

_HALF_DAY = 0.5
_MOST_ROWS = 4
_WIDEST = 30


@dataclass(frozen=True)
class Lane:
    """A stretch of days drawn from ``left`` over ``width`` px."""

    from_day: float
    to_day: float
    left: float
    width: float

    def x(self, day: float) -> float:
        """Where a day lies, px; days beyond the lane lie at its ends."""
        share = (day - self.from_day) / max(self.to_day - self.from_day, 0.1)
        return self.left + self.width * min(max(share, 0.0), 1.0)

    def holds(self, day: float) -> bool:
        """Whether a day lies in the lane."""
        return self.from_day <= day < self.to_day

    def bin_days(self, side: float) -> float:
        """The days of a bin that is at least one egg wide, in half days."""
        per_day = self.width / max(self.to_day - self.from_day, 0.1)
        halves = 1
        while per_day * halves * _HALF_DAY < side:
            halves += 1
        return halves * _HALF_DAY


@dataclass(frozen=True)
class Bin:
    """Eggs that stand together: from ``left`` over ``across`` eggs a row, in the order of stacking.

    ``stacks``: those whose eggs they are.
    """

    left: float
    across: int
    eggs: tuple[Fate, ...]
    stacks: tuple[DayStack, ...] = ()

    @property
    def rows(self) -> int:
        """How high the stack is, in eggs."""
        return -(-len(self.eggs) // self.across)


def binned(stacks: Sequence[DayStack], lanes: Iterable[Lane], side: float, widen: int = 1) -> list[Bin]:
    """The eggs of all stacks in bins ``widen`` times as wide as one that holds an egg ``side`` px wide."""
    bins: list[Bin] = []
    for lane in lanes:
        step = lane.bin_days(side) * widen
        found: dict[int, list[DayStack]] = {}
        for stack in stacks:
            if lane.holds(stack.shown_day):
                position = int((stack.shown_day - lane.from_day) / step)
                found.setdefault(position, []).append(stack)
        for position, together in sorted(found.items()):
            eggs = [fate for stack in together for fate, count in stack.counts for _ in range(count)]
            left, right = (lane.x(lane.from_day + edge * step) for edge in (position, position + 1))
            across = min(max(1, int((right - left) // side)), len(eggs))
            start = (left + right) / 2 - across * side / 2
            stacked = tuple(sorted(eggs, key=list(Fate).index))
            bins.append(Bin(start, across, stacked, tuple(together)))
    return bins


def span_rows(stacks: Iterable[DayStack]) -> list[list[DayStack]]:
    """The stacks whose day is known only to a span, in rows so that none lies over another, as far as rows go."""
    rows: list[list[DayStack]] = []
    for stack in sorted((one for one in stacks if one.is_span), key=lambda one: (one.from_day, one.to_day)):
        row = next((row for row in rows if row[-1].to_day <= stack.from_day), None)
        if row is None and len(rows) < _MOST_ROWS:
            rows.append([stack])
        else:
            (row or rows[-1]).append(stack)
    return rows


def best_bins(
    stacks: Sequence[DayStack], lanes: Sequence[Lane], height: float, most: int, least: int
) -> tuple[float, list[Bin]]:
    """The largest egg, px, at which every stack fits into a height, with the bins; narrow bins go first."""
    for side in range(most, least - 1, -1):
        for widen in (1, 2):
            bins = binned(stacks, lanes, side, widen)
            if all(one.rows * side <= height for one in bins):
                return float(side), bins
    # Hundreds of eggs of one day spread over the days beside it, rather than out of the picture.
    for widen in range(3, _WIDEST):
        bins = binned(stacks, lanes, least, widen)
        if all(one.rows * least <= height for one in bins):
            break
    return float(least), bins
