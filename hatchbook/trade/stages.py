"""When an embryo died: early, mid or late.

The bounds are a setting and are printed with the figures, since other schemes are in use (0-7/8-17/18-21,
1-6/7-17/18-21). The default is the customary weekly one for hens, early 1-7, mid 8-14, late 15-21: *from memory*,
not seen in a retrieved text. For other species it is scaled by the length of the incubation, as embryos are
compared at the same fraction of it (our rule).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from hatchbook.trade.codes import Fate

HEN_EARLY_UNTIL_DAY = 7.0  # from memory
HEN_MID_UNTIL_DAY = 14.0  # from memory
HEN_INCUBATION_DAYS = 21.0
STAGE_SLACK_DAYS = 1.0
"""How far days may disagree before it is a contradiction: an embryo's age is read to about a day (our choice)."""


@dataclass(frozen=True)
class StageBounds:
    """The last day of the early and of the mid stage, in days after setting.

    Day *n* is the n-th 24 hours after setting, so "early 1-7" ends 7.0 days after it and "mid 8-14" ends at 14.0.

    Raises:
        ValueError: when the bounds are not in order or not finite.
    """

    early_until_day: float
    mid_until_day: float
    incubation_days: float

    def __post_init__(self) -> None:
        bounds = (0.0, self.early_until_day, self.mid_until_day, self.incubation_days)
        if not all(math.isfinite(bound) for bound in bounds):
            raise ValueError("The days of the stages must be plain numbers.")
        if not all(earlier < later for earlier, later in itertools.pairwise(bounds)):
            raise ValueError(
                "The early stage must end after setting, the mid stage after the early one, "
                "and both before the incubation ends."
            )

    @classmethod
    def for_incubation(cls, days: float) -> StageBounds:
        """The customary hen bounds, scaled to an incubation of this many days.

        Raises:
            ValueError: when `days` is not a number above 0.
        """
        if not math.isfinite(days) or days <= 0:
            raise ValueError(f"An incubation lasts more than 0 days, not {days:g}.")
        scale = days / HEN_INCUBATION_DAYS
        return cls(HEN_EARLY_UNTIL_DAY * scale, HEN_MID_UNTIL_DAY * scale, days)

    def stage_of(self, day: float) -> Fate:
        """`Fate.EARLY_DEAD`, `MID_DEAD` or `LATE_DEAD` for a death so many days after setting.

        A day past the end of the incubation is late. What is known to have died after pipping is
        `Fate.PIPPED_DEAD`, which a day alone can not tell.

        Raises:
            ValueError: when `day` is not a number.
        """
        if math.isnan(day):
            raise ValueError("The day of a death must be a number.")
        if day <= self.early_until_day:
            return Fate.EARLY_DEAD
        return Fate.MID_DEAD if day <= self.mid_until_day else Fate.LATE_DEAD

    def days_of(self, stage: Fate) -> tuple[float, float]:
        """The first and last day a death of this stage can fall on; the last is infinite for late and pipped.

        Raises:
            ValueError: when `stage` is not a stage of death.
        """
        match stage:
            case Fate.EARLY_DEAD:
                return 0.0, self.early_until_day
            case Fate.MID_DEAD:
                return self.early_until_day, self.mid_until_day
            case Fate.LATE_DEAD | Fate.PIPPED_DEAD:
                return self.mid_until_day, math.inf
        raise ValueError(f"{stage.value} is not a stage of death.")


def span_of_death(
    limits: tuple[float, float], alive_days: Iterable[float], dead_days: Iterable[float]
) -> tuple[float, float | None]:
    """The days between which an embryo died: last seen alive to first seen dead, within `limits`.

    Sightings that contradict the limits by more than `STAGE_SLACK_DAYS` are left out. The end is None when nothing
    bounds it.
    """
    first, last = limits
    until = min([last, *(day for day in dead_days if day >= first - STAGE_SLACK_DAYS)])
    since = max([first, 0.0, *(day for day in alive_days if day <= last + STAGE_SLACK_DAYS)])
    return min(since, max(until, 0.0)), until if math.isfinite(until) else None
