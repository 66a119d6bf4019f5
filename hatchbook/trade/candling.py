"""What a candling goes by: which eggs are looked into, what they show on which day, how long the lid may be open.

Days of other species are compared at the same share of their incubation (our rule, as for the stages of death).
"""

from __future__ import annotations

from enum import StrEnum

from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT, EggOutcome
from hatchbook.trade.stages import HEN_INCUBATION_DAYS

STILL_CANDLED = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE, Fate.INTERNAL_PIP})
"""The eggs that a candling goes to by itself. One that was found clear, dead, cracked or rotten is as a rule taken
out then; it can still be gone to and judged again."""

LID_CARE_S = 15 * 60
"""Eggs may be out of the warmth for so long, two or three times in an incubation, without hatching much later: read
on farmingport.com, a copy of an extension text."""

_FIRST_USEFUL_HEN_DAY = 5.0
"""Little is seen before day 4 to 5 (the same text)."""
_FULL_HEN_DAY = 16.0
"""From about then on the chick blocks the light and only the air cell is seen ("late candling" in the same text
gives no day; day 16 is our choice)."""


class CandlingLook(StrEnum):
    """What a living egg looks like before the lamp."""

    TOO_EARLY = "too_early"
    VEINS = "veins"
    FULL = "full"


def look_on(day: float, incubation_days: float) -> CandlingLook:
    """What a living egg shows so many days after setting, in an incubation of so many days."""
    hen_day = day * HEN_INCUBATION_DAYS / incubation_days
    if hen_day < _FIRST_USEFUL_HEN_DAY:
        return CandlingLook.TOO_EARLY
    return CandlingLook.VEINS if hen_day < _FULL_HEN_DAY else CandlingLook.FULL


def first_useful_day(incubation_days: float) -> float:
    """The day after setting from which on a candling tells something, in an incubation of so many days."""
    return _FIRST_USEFUL_HEN_DAY * incubation_days / HEN_INCUBATION_DAYS


def has_left(outcome: EggOutcome) -> bool:
    """Whether an egg is no longer there to be looked into: hatched, died in the pip, opened or taken out."""
    return outcome.opened or outcome.fate in CAME_OUT or outcome.fate in (Fate.PIPPED_DEAD, Fate.TAKEN_OUT)
