"""What an embryo shows on each day of the incubation, for telling how old a dead one is: read from
`resources/stages/hen.toml`.

The signs are the hen's. Other species are compared at the same share of their incubation (our rule), as handbooks
advise to go by the time to hatching; the desk says so.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path

from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import LONGEST_DAYS, ProgrammeError, ProgrammeFault, check_between
from hatchbook.trade.resources import resource_path
from hatchbook.trade.sources import SourceMark

PAIN_FROM_SHARE = 0.8
"""From this share of the incubation on an embryo may perceive pain: AVMA Guidelines for the Euthanasia of Animals,
2020, as quoted by university animal care committees."""


class EmbryoSign(StrEnum):
    """One thing that a day of the incubation brings; the desk has the words."""

    BLASTODERM_AREAS = "blastoderm_areas"
    YOLK_SAC_VESSELS = "yolk_sac_vessels"
    TURNS_ONTO_LEFT_SIDE = "turns_onto_left_side"
    HEART_BEATS = "heart_beats"
    NOSE_BEGINS = "nose_begins"
    WINGS_AND_LEGS_BEGIN = "wings_and_legs_begin"
    ALLANTOIS_BEGINS = "allantois_begins"
    AMNION_CLOSED = "amnion_closed"
    TONGUE_BEGINS = "tongue_begins"
    FREE_OF_YOLK_SAC = "free_of_yolk_sac"
    GIZZARD_BEGINS = "gizzard_begins"
    SEX_ORGANS_BEGIN = "sex_organs_begin"
    BEAK_BEGINS = "beak_begins"
    EGG_TOOTH = "egg_tooth"
    LIMBS_DIVIDED = "limbs_divided"
    MOVES = "moves"
    DIGITS_INDICATED = "digits_indicated"
    BELLY_PROMINENT = "belly_prominent"
    FEATHER_GERMS = "feather_germs"
    BIRD_LIKE = "bird_like"
    MOUTH_OPENING = "mouth_opening"
    BEAK_HARDENS = "beak_hardens"
    DIGITS_APART = "digits_apart"
    TOES_FORMED = "toes_formed"
    FIRST_FEATHERS = "first_feathers"
    SCALES_AND_CLAWS = "scales_and_claws"
    FAIRLY_FEATHERED = "fairly_feathered"
    HEAD_TURNS_TO_BLUNT_END = "head_turns_to_blunt_end"
    GUT_TAKEN_IN = "gut_taken_in"
    FULLY_FEATHERED = "fully_feathered"
    CLAWS_AND_BEAK_HORNY = "claws_and_beak_horny"
    WHITE_NEARLY_GONE = "white_nearly_gone"
    BEAK_TURNS_TO_AIR_CELL = "beak_turns_to_air_cell"
    GROWTH_NEARLY_DONE = "growth_nearly_done"
    YOLK_SAC_DRAWS_IN = "yolk_sac_draws_in"
    FILLS_EGG_BUT_AIR_CELL = "fills_egg_but_air_cell"
    YOLK_SAC_IN = "yolk_sac_in"
    BREATHES_IN_AIR_CELL = "breathes_in_air_cell"
    HATCHES = "hatches"


@dataclass(frozen=True)
class DaySigns:
    """What one day brings. `hen_day`: of the hen's 21; `day`: the same share of the batch's own incubation."""

    hen_day: float
    day: float
    signs: tuple[EmbryoSign, ...]


@dataclass(frozen=True)
class EmbryoTable:
    """One source's days, in days of an incubation of `EmbryoStages.incubation_days`."""

    source: str
    mark: SourceMark
    days: tuple[tuple[float, tuple[EmbryoSign, ...]], ...]


@dataclass(frozen=True)
class EmbryoStages:
    """The signs of every source, and the length of the incubation that their days count in."""

    incubation_days: float
    tables: tuple[EmbryoTable, ...]

    def days_for(self, incubation_days: float) -> tuple[DaySigns, ...]:
        """The days with the signs of all sources, ascending, scaled to an incubation of so many days.

        Raises:
            ValueError: when `incubation_days` is not above 0.
        """
        if not incubation_days > 0:
            raise ValueError(f"An incubation lasts more than 0 days, not {incubation_days:g}.")
        by_day: dict[float, list[EmbryoSign]] = {}
        for table in self.tables:
            for day, signs in table.days:
                by_day.setdefault(day, []).extend(signs)
        scale = incubation_days / self.incubation_days
        return tuple(DaySigns(day, day * scale, tuple(signs)) for day, signs in sorted(by_day.items()))


def pain_possible_from_day(incubation_days: float) -> float:
    """The day from which on an embryo may perceive pain: 16.8 of 21 days."""
    return PAIN_FROM_SHARE * incubation_days


@cache
def load_embryo_stages() -> EmbryoStages:
    """The signs that the program knows: the hen's.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
        ResourcesMissingError: when the program's own files are not there.
    """
    return read_embryo_stages(resource_path("stages", "hen.toml"))


def read_embryo_stages(path: Path) -> EmbryoStages:
    """The signs in a TOML file.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
    """
    try:
        try:
            entries = Entries(tomllib.loads(path.read_text(encoding="utf-8")))
        except ValueError as error:  # not TOML, or not UTF-8
            raise ProgrammeError(ProgrammeFault.UNREADABLE, "", f"This is not TOML: {error}.") from error
        incubation_days = entries.number("incubation_days")
        check_between("incubation_days", incubation_days, 1.0, LONGEST_DAYS, "days")
        tables = entries.each("tables", lambda inner: _read_table(inner, incubation_days))
        entries.done()
        if not tables:
            raise ProgrammeError(ProgrammeFault.MISSING, "tables", "There are no signs.")
        return EmbryoStages(incubation_days, tables)
    except ProgrammeError as error:
        raise error.within(file=path.name) from error.__cause__


def _read_table(entries: Entries, incubation_days: float) -> EmbryoTable:
    table = EmbryoTable(
        source=entries.text("source"),
        mark=entries.code("mark", SourceMark),
        days=entries.each("days", lambda inner: _read_day(inner, incubation_days)),
    )
    entries.done()
    days = [day for day, _ in table.days]
    if days != sorted(set(days)):
        raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "days", "The days must grow.")
    return table


def _read_day(entries: Entries, incubation_days: float) -> tuple[float, tuple[EmbryoSign, ...]]:
    day, signs = entries.number("day"), entries.codes("signs", EmbryoSign)
    check_between("day", day, 0.0, incubation_days)
    entries.done()
    return day, signs
