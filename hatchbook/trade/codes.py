"""The closed sets of codes that records carry.

A code is what is stored, exported and compared; the desk turns it into words of the breeder's language.
The words are the trade's own: clear, early dead, pipped dead.
"""

from __future__ import annotations

from enum import StrEnum


class MachineKind(StrEnum):
    """How the air moves in a machine."""

    FORCED_AIR = "forced_air"
    STILL_AIR = "still_air"


class PhaseKind(StrEnum):
    """The phases of an incubation."""

    INCUBATION = "incubation"
    LOCKDOWN = "lockdown"


class DutyKind(StrEnum):
    """What a batch asks of the breeder at a time."""

    SET = "set"
    TURN = "turn"
    CANDLE = "candle"
    WEIGH = "weigh"
    LOCKDOWN = "lockdown"
    HATCH = "hatch"
    BREAK_OUT = "break_out"
    OTHER = "other"


class EventKind(StrEnum):
    """What happened to a machine or a batch."""

    WATER = "water"
    VENT = "vent"
    LID = "lid"
    POWER_CUT = "power_cut"
    TURNED = "turned"
    MISTED = "misted"
    NOTE = "note"
    DRY_RUN = "dry_run"
    CLEANED = "cleaned"
    CARE = "care"


class FindingCode(StrEnum):
    """What was seen in one egg at a candling."""

    CLEAR = "clear"
    ALIVE = "alive"
    UNSURE = "unsure"
    EARLY_DEAD = "early_dead"
    DEAD = "dead"
    CRACKED = "cracked"
    ROTTEN = "rotten"


class HatchMark(StrEnum):
    """What was seen of one egg while the batch hatched."""

    INTERNAL_PIP = "internal_pip"
    EXTERNAL_PIP = "external_pip"
    HATCHED = "hatched"
    HELPED = "helped"
    DIED_IN_PIP = "died_in_pip"
    WEAK = "weak"
    CULLED = "culled"


class BreakOutResult(StrEnum):
    """What opening an egg showed."""

    INFERTILE = "infertile"
    EARLY_DEAD = "early_dead"
    MID_DEAD = "mid_dead"
    LATE_DEAD = "late_dead"
    PIPPED_DEAD = "pipped_dead"
    ROTTEN = "rotten"
    UNKNOWN = "unknown"


class Malposition(StrEnum):
    """The classic malpositions (numbers of most from memory; III: Hutt 1938, Poult. Sci. 17:345)."""

    I_HEAD_BETWEEN_THIGHS = "I"
    II_HEAD_IN_SMALL_END = "II"
    III_HEAD_UNDER_LEFT_WING = "III"
    IV_BEAK_AWAY_FROM_AIR_CELL = "IV"
    V_FEET_OVER_HEAD = "V"
    VI_BEAK_OVER_RIGHT_WING = "VI"
    VII_ACROSS_THE_EGG = "VII"


class BreakOutSign(StrEnum):
    """What else was seen in an opened egg; the causes read these."""

    WET = "wet"
    DRY_AND_STUCK = "dry_and_stuck"
    MALFORMED = "malformed"
    BAD_SMELL = "bad_smell"
    SMALL_AIR_CELL = "small_air_cell"
    LARGE_AIR_CELL = "large_air_cell"
    YOLK_OUTSIDE = "yolk_outside"


class RemovalReason(StrEnum):
    """Why an egg left the batch without hatching or dying in it."""

    TAKEN_OUT_ALIVE = "taken_out_alive"
    BROKEN = "broken"


class Fate(StrEnum):
    """What became of an egg; derived in `hatchbook.trade.fates` only."""

    SET = "set"
    ALIVE = "alive"
    UNSURE = "unsure"
    CLEAR = "clear"
    INFERTILE = "infertile"
    EARLY_DEAD = "early_dead"
    MID_DEAD = "mid_dead"
    LATE_DEAD = "late_dead"
    DEAD = "dead"
    INTERNAL_PIP = "internal_pip"
    EXTERNAL_PIP = "external_pip"
    PIPPED_DEAD = "pipped_dead"
    HATCHED = "hatched"
    HELPED = "helped"
    CULLED = "culled"
    CRACKED = "cracked"
    ROTTEN = "rotten"
    TAKEN_OUT = "taken_out"
    UNKNOWN = "unknown"


class ProbePlace(StrEnum):
    """Where a probe hangs."""

    MACHINE = "machine"
    ROOM = "room"


class Quantity(StrEnum):
    """What a probe measures or a check corrects."""

    HUMIDITY = "humidity"
    TEMPERATURE = "temperature"


class CheckMethod(StrEnum):
    """How a probe was checked."""

    SALT = "salt"
    REFERENCE = "reference"


class Wick(StrEnum):
    """How the wet bulb's wick meets the air; the psychrometer coefficient follows from it."""

    ASPIRATED = "aspirated"
    NATURAL = "natural"
    STILL_AIR = "still_air"


class WeighPlan(StrEnum):
    """Which eggs of a batch are weighed."""

    MARKED = "marked"
    EVERY_EGG = "every_egg"
    WHOLE_TRAY = "whole_tray"
    NONE = "none"


class EggSource(StrEnum):
    """Where the eggs came from."""

    OWN = "own"
    SHIPPED = "shipped"
