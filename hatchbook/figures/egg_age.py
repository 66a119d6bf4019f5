"""How old eggs were when they were set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from hatchbook.journal import Egg
from hatchbook.trade.instants import to_local


@dataclass(frozen=True)
class EggAges:
    """The ages of a batch's eggs when set, days; ``known`` of ``eggs`` have a laying date."""

    mean: float
    youngest: int
    oldest: int
    known: int
    eggs: int


def age_when_set(egg: Egg, set_at: int, zone: ZoneInfo) -> int | None:
    """Days from the laying of an egg to its setting, by the calendar; None without a laying date."""
    if egg.laid_on is None:
        return None
    return (to_local(set_at, zone).date() - date.fromisoformat(egg.laid_on)).days


def egg_ages(eggs: Iterable[Egg], set_at: int, zone: ZoneInfo) -> EggAges | None:
    """The ages of eggs when set; None where no laying date is known."""
    every = [age_when_set(egg, set_at, zone) for egg in eggs]
    ages = [age for age in every if age is not None]
    if not ages:
        return None
    return EggAges(sum(ages) / len(ages), min(ages), max(ages), len(ages), len(every))
