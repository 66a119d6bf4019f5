"""On which day each egg was lost or hatched, and how well that day is known."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.trade.codes import Fate
from hatchbook.trade.instants import day_number

_CANDLED = frozenset({Fate.CLEAR, Fate.INFERTILE, Fate.CRACKED, Fate.ROTTEN, Fate.TAKEN_OUT})
_OUT = frozenset({Fate.HATCHED, Fate.HELPED, Fate.CULLED})


@dataclass(frozen=True)
class DayStack:
    """Eggs of one fate that share a span of days, in days since setting; equal ends: the day is known."""

    from_day: float
    to_day: float
    counts: tuple[tuple[Fate, int], ...]

    @property
    def shown_day(self) -> float:
        """The day on which the stack stands: the end of its span, when it was found."""
        return self.to_day

    @property
    def is_span(self) -> bool:
        """Whether the day is known only to a span of more than a day."""
        return self.to_day - self.from_day > 1.0


def eggs_by_day(figures: BatchFigures) -> tuple[DayStack, ...]:
    """The eggs that were lost or hatched, stacked by the day or the span to which they are known.

    Chicks stand on the day on which they came out, rounded to half days; eggs alive or not known are left out.
    """
    stacks: dict[tuple[float, float], Counter[Fate]] = {}
    for egg in figures.eggs:
        span = _span(egg, figures.batch.set_at)
        if span is not None:
            stacks.setdefault(span, Counter())[egg.outcome.fate] += 1
    return tuple(
        DayStack(first, last, tuple(sorted(counts.items())))
        for (first, last), counts in sorted(stacks.items(), key=lambda item: (item[0][1], item[0][0]))
    )


def _span(egg: EggFigures, set_at: int) -> tuple[float, float] | None:
    outcome = egg.outcome
    if outcome.fate in _OUT:
        if outcome.hatched_at_s is None:
            return None
        day = round(day_number(outcome.hatched_at_s, set_at) * 2) / 2
        return day, day
    if outcome.fate in _CANDLED:
        if not egg.seen:
            return None
        found = round(egg.seen[-1][0], 1)
        return found, found
    if outcome.dead_from_day is None or outcome.dead_until_day is None:
        return None
    return round(outcome.dead_from_day, 1), round(outcome.dead_until_day, 1)
