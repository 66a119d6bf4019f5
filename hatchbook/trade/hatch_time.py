"""Why a hatch is to be expected earlier or later than that of fresh eggs at the right warmth, and who says so."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from hatchbook.trade.sources import SourceMark

#: Hours to the peak of the hatch by days of storage, hen eggs.
STORAGE_PEAKS = ((0.0, 486.0), (0.25, 492.0), (3.0, 492.0), (7.0, 498.0))
STORAGE_SOURCE = (
    "Turkish Journal of Veterinary and Animal Sciences, journals.tubitak.gov.tr/veterinary, no. 5487"
)
LONG_STORAGE_SOURCE = "Özlü 2021, Poultry Science research note, seen in a copy"
TEMPERATURE_SOURCE = "Mississippi State University Extension, Important incubation factors"
COOLING_SOURCE = "an extension text on candling, seen in a copy (farmingport.com)"
STORAGE_RULE_H_A_DAY = 1.0  # from memory: a rule of thumb, no text was found
CHICKENS = frozenset({"hen", "bantam"})


class HatchShiftCode(StrEnum):
    """Why a hatch comes earlier or later; the desk has the words."""

    STORED = "stored"  #: stored eggs, with published hours
    STORED_LONG = "stored_long"  #: later still beyond what was published in hours
    STORED_RULE = "stored_rule"  #: the rule of thumb, from memory
    WARM = "warm"
    COOL = "cool"
    COOLED = "cooled"  #: without heat for hours


@dataclass(frozen=True)
class HatchShift:
    """One reason; ``later``: or else earlier. ``hours``: None where no figure was published.

    ``value``: what it rests on: mean age in days, °C off the band, hours without heat.
    """

    code: HatchShiftCode
    later: bool
    hours: float | None
    value: float
    source: str
    mark: SourceMark


def storage_hours(age_days: float) -> float:
    """How much later eggs stored so long hatch than unstored ones, hours, as published up to 7 days.

    Between the published days it runs straight; beyond the last it stays.

    Raises:
        ValueError: for an age below 0.
    """
    if age_days < 0:
        raise ValueError("An egg is not set before it is laid.")
    fresh = STORAGE_PEAKS[0][1]
    for (from_day, from_h), (to_day, to_h) in pairwise(STORAGE_PEAKS):
        if age_days <= to_day:
            return from_h - fresh + (to_h - from_h) * (age_days - from_day) / (to_day - from_day)
    return STORAGE_PEAKS[-1][1] - fresh


def shifts_by_storage(species: str, age_days: float) -> tuple[HatchShift, ...]:
    """What storage does to the hatch of chickens; nothing is said of other species, nor of a fresh egg."""
    if species not in CHICKENS or age_days < 1:
        return ()
    published, last = SourceMark.PUBLISHED, STORAGE_PEAKS[-1][0]
    hours = storage_hours(age_days)
    found = [HatchShift(HatchShiftCode.STORED, True, hours, age_days, STORAGE_SOURCE, published)]
    if age_days > last:
        long = HatchShiftCode.STORED_LONG
        found.append(HatchShift(long, True, None, age_days, LONG_STORAGE_SOURCE, published))
        rule = STORAGE_RULE_H_A_DAY * age_days
        memory = SourceMark.FROM_MEMORY
        found.append(HatchShift(HatchShiftCode.STORED_RULE, True, rule, age_days, "", memory))
    return tuple(found)


def shift_by_temperature(off_c: float) -> HatchShift | None:
    """What a mean temperature so far above or below its band does; None inside it. No hours are published."""
    if off_c == 0:
        return None
    code = HatchShiftCode.WARM if off_c > 0 else HatchShiftCode.COOL
    return HatchShift(code, off_c < 0, None, off_c, TEMPERATURE_SOURCE, SourceMark.PUBLISHED)


def shift_by_cooling(hours_cold: float) -> HatchShift | None:
    """What hours without heat do: hours of cooling delay a hatch, 15 minutes make little difference."""
    if hours_cold < 1:
        return None
    published = SourceMark.PUBLISHED
    return HatchShift(HatchShiftCode.COOLED, True, None, hours_cold, COOLING_SOURCE, published)
