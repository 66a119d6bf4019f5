"""Words for the codes that records carry."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    CheckMethod,
    DutyKind,
    EggSource,
    EventKind,
    Fate,
    FindingCode,
    HatchMark,
    MachineKind,
    Malposition,
    PhaseKind,
    ProbePlace,
    Quantity,
    RemovalReason,
    WeighPlan,
    Wick,
)

_FATES = {
    Fate.SET: QT_TRANSLATE_NOOP("Codes", "Set, not looked into"),
    Fate.ALIVE: QT_TRANSLATE_NOOP("Codes", "Alive"),
    Fate.UNSURE: QT_TRANSLATE_NOOP("Codes", "Unsure"),
    Fate.CLEAR: QT_TRANSLATE_NOOP("Codes", "Clear"),
    Fate.INFERTILE: QT_TRANSLATE_NOOP("Codes", "Infertile, opened"),
    Fate.EARLY_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead early"),
    Fate.MID_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead mid"),
    Fate.LATE_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead late"),
    Fate.DEAD: QT_TRANSLATE_NOOP("Codes", "Dead, day not known"),
    Fate.INTERNAL_PIP: QT_TRANSLATE_NOOP("Codes", "Internal pip"),
    Fate.EXTERNAL_PIP: QT_TRANSLATE_NOOP("Codes", "External pip"),
    Fate.PIPPED_DEAD: QT_TRANSLATE_NOOP("Codes", "Died in pip"),
    Fate.HATCHED: QT_TRANSLATE_NOOP("Codes", "Hatched"),
    Fate.HELPED: QT_TRANSLATE_NOOP("Codes", "Helped out"),
    Fate.CULLED: QT_TRANSLATE_NOOP("Codes", "Hatched, culled"),
    Fate.CRACKED: QT_TRANSLATE_NOOP("Codes", "Cracked"),
    Fate.ROTTEN: QT_TRANSLATE_NOOP("Codes", "Rotten"),
    Fate.TAKEN_OUT: QT_TRANSLATE_NOOP("Codes", "Taken out"),
    Fate.UNKNOWN: QT_TRANSLATE_NOOP("Codes", "Not known"),
}
_FINDINGS = {
    FindingCode.CLEAR: QT_TRANSLATE_NOOP("Codes", "Clear"),
    FindingCode.ALIVE: QT_TRANSLATE_NOOP("Codes", "Alive"),
    FindingCode.UNSURE: QT_TRANSLATE_NOOP("Codes", "Unsure"),
    FindingCode.EARLY_DEAD: QT_TRANSLATE_NOOP("Codes", "Early dead (blood ring)"),
    FindingCode.DEAD: QT_TRANSLATE_NOOP("Codes", "Dead"),
    FindingCode.CRACKED: QT_TRANSLATE_NOOP("Codes", "Cracked"),
    FindingCode.ROTTEN: QT_TRANSLATE_NOOP("Codes", "Rotten"),
}
_PHASES = {
    PhaseKind.INCUBATION: QT_TRANSLATE_NOOP("Codes", "Incubation"),
    PhaseKind.LOCKDOWN: QT_TRANSLATE_NOOP("Codes", "Lockdown"),
}
_DUTIES = {
    DutyKind.SET: QT_TRANSLATE_NOOP("Codes", "Set"),
    DutyKind.TURN: QT_TRANSLATE_NOOP("Codes", "Turn"),
    DutyKind.CANDLE: QT_TRANSLATE_NOOP("Codes", "Candle"),
    DutyKind.WEIGH: QT_TRANSLATE_NOOP("Codes", "Weigh"),
    DutyKind.LOCKDOWN: QT_TRANSLATE_NOOP("Codes", "Lockdown"),
    DutyKind.HATCH: QT_TRANSLATE_NOOP("Codes", "Hatch due"),
    DutyKind.BREAK_OUT: QT_TRANSLATE_NOOP("Codes", "Open unhatched eggs"),
    DutyKind.OTHER: QT_TRANSLATE_NOOP("Codes", "Duty"),
}
_EVENTS = {
    EventKind.WATER: QT_TRANSLATE_NOOP("Codes", "Water"),
    EventKind.VENT: QT_TRANSLATE_NOOP("Codes", "Vent"),
    EventKind.LID: QT_TRANSLATE_NOOP("Codes", "Lid open"),
    EventKind.POWER_CUT: QT_TRANSLATE_NOOP("Codes", "Power cut"),
    EventKind.TURNED: QT_TRANSLATE_NOOP("Codes", "Turned"),
    EventKind.MISTED: QT_TRANSLATE_NOOP("Codes", "Misted"),
    EventKind.NOTE: QT_TRANSLATE_NOOP("Codes", "Note"),
    EventKind.DRY_RUN: QT_TRANSLATE_NOOP("Codes", "Dry run"),
    EventKind.CLEANED: QT_TRANSLATE_NOOP("Codes", "Cleaned"),
    EventKind.CARE: QT_TRANSLATE_NOOP("Codes", "Other care"),
}
_MACHINES = {
    MachineKind.FORCED_AIR: QT_TRANSLATE_NOOP("Codes", "Forced air (with a fan)"),
    MachineKind.STILL_AIR: QT_TRANSLATE_NOOP("Codes", "Still air"),
}
_HATCH_MARKS = {
    HatchMark.INTERNAL_PIP: QT_TRANSLATE_NOOP("Codes", "Internal pip"),
    HatchMark.EXTERNAL_PIP: QT_TRANSLATE_NOOP("Codes", "External pip"),
    HatchMark.HATCHED: QT_TRANSLATE_NOOP("Codes", "Hatched"),
    HatchMark.HELPED: QT_TRANSLATE_NOOP("Codes", "Helped out"),
    HatchMark.DIED_IN_PIP: QT_TRANSLATE_NOOP("Codes", "Died in pip"),
    HatchMark.WEAK: QT_TRANSLATE_NOOP("Codes", "Weak chick"),
    HatchMark.CULLED: QT_TRANSLATE_NOOP("Codes", "Culled"),
}
_BREAK_OUTS = {
    BreakOutResult.INFERTILE: QT_TRANSLATE_NOOP("Codes", "Infertile"),
    BreakOutResult.EARLY_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead early"),
    BreakOutResult.MID_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead mid"),
    BreakOutResult.LATE_DEAD: QT_TRANSLATE_NOOP("Codes", "Dead late"),
    BreakOutResult.PIPPED_DEAD: QT_TRANSLATE_NOOP("Codes", "Died in pip"),
    BreakOutResult.ROTTEN: QT_TRANSLATE_NOOP("Codes", "Rotten"),
    BreakOutResult.UNKNOWN: QT_TRANSLATE_NOOP("Codes", "Cannot be told"),
}
_MALPOSITIONS = {
    Malposition.I_HEAD_BETWEEN_THIGHS: QT_TRANSLATE_NOOP("Codes", "I: head between the thighs"),
    Malposition.II_HEAD_IN_SMALL_END: QT_TRANSLATE_NOOP("Codes", "II: head in the small end"),
    Malposition.III_HEAD_UNDER_LEFT_WING: QT_TRANSLATE_NOOP("Codes", "III: head under the left wing"),
    Malposition.IV_BEAK_AWAY_FROM_AIR_CELL: QT_TRANSLATE_NOOP("Codes", "IV: beak away from the air cell"),
    Malposition.V_FEET_OVER_HEAD: QT_TRANSLATE_NOOP("Codes", "V: feet over the head"),
    Malposition.VI_BEAK_OVER_RIGHT_WING: QT_TRANSLATE_NOOP("Codes", "VI: beak over the right wing"),
    Malposition.VII_ACROSS_THE_EGG: QT_TRANSLATE_NOOP("Codes", "VII: across the egg"),
}
_SIGNS = {
    BreakOutSign.WET: QT_TRANSLATE_NOOP("Codes", "Wet"),
    BreakOutSign.DRY_AND_STUCK: QT_TRANSLATE_NOOP("Codes", "Dry and stuck"),
    BreakOutSign.MALFORMED: QT_TRANSLATE_NOOP("Codes", "Malformed"),
    BreakOutSign.BAD_SMELL: QT_TRANSLATE_NOOP("Codes", "Bad smell"),
    BreakOutSign.SMALL_AIR_CELL: QT_TRANSLATE_NOOP("Codes", "Small air cell"),
    BreakOutSign.LARGE_AIR_CELL: QT_TRANSLATE_NOOP("Codes", "Large air cell"),
    BreakOutSign.YOLK_OUTSIDE: QT_TRANSLATE_NOOP("Codes", "Yolk outside"),
}
_REMOVALS = {
    RemovalReason.TAKEN_OUT_ALIVE: QT_TRANSLATE_NOOP("Codes", "Taken out alive"),
    RemovalReason.BROKEN: QT_TRANSLATE_NOOP("Codes", "Broken by accident"),
}
_WICKS = {
    Wick.ASPIRATED: QT_TRANSLATE_NOOP("Codes", "Wick in a fan's air"),
    Wick.NATURAL: QT_TRANSLATE_NOOP("Codes", "Wick in slow air"),
    Wick.STILL_AIR: QT_TRANSLATE_NOOP("Codes", "Wick in still air"),
}
_WEIGH_PLANS = {
    WeighPlan.MARKED: QT_TRANSLATE_NOOP("Codes", "marked eggs"),
    WeighPlan.EVERY_EGG: QT_TRANSLATE_NOOP("Codes", "every egg"),
    WeighPlan.WHOLE_TRAY: QT_TRANSLATE_NOOP("Codes", "the tray as one"),
    WeighPlan.NONE: QT_TRANSLATE_NOOP("Codes", "not at all"),
}
_PLACES = {
    ProbePlace.MACHINE: QT_TRANSLATE_NOOP("Codes", "In a machine"),
    ProbePlace.ROOM: QT_TRANSLATE_NOOP("Codes", "In the room"),
}
_QUANTITIES = {
    Quantity.HUMIDITY: QT_TRANSLATE_NOOP("Codes", "Humidity"),
    Quantity.TEMPERATURE: QT_TRANSLATE_NOOP("Codes", "Temperature"),
}
_CHECKS = {
    CheckMethod.SALT: QT_TRANSLATE_NOOP("Codes", "Salt test"),
    CheckMethod.REFERENCE: QT_TRANSLATE_NOOP("Codes", "Beside a reference"),
}
_SOURCES = {
    EggSource.OWN: QT_TRANSLATE_NOOP("Codes", "Own eggs"),
    EggSource.SHIPPED: QT_TRANSLATE_NOOP("Codes", "Shipped eggs"),
}
_SPECIES = {
    "hen": QT_TRANSLATE_NOOP("Codes", "Hen"),
    "bantam": QT_TRANSLATE_NOOP("Codes", "Bantam"),
    "turkey": QT_TRANSLATE_NOOP("Codes", "Turkey"),
    "duck": QT_TRANSLATE_NOOP("Codes", "Duck"),
    "muscovy": QT_TRANSLATE_NOOP("Codes", "Muscovy duck"),
    "goose": QT_TRANSLATE_NOOP("Codes", "Goose"),
    "guinea_fowl": QT_TRANSLATE_NOOP("Codes", "Guinea fowl"),
    "coturnix": QT_TRANSLATE_NOOP("Codes", "Coturnix quail"),
    "bobwhite": QT_TRANSLATE_NOOP("Codes", "Bobwhite quail"),
    "pheasant": QT_TRANSLATE_NOOP("Codes", "Pheasant"),
    "chukar": QT_TRANSLATE_NOOP("Codes", "Chukar"),
    "peafowl": QT_TRANSLATE_NOOP("Codes", "Peafowl"),
    "pigeon": QT_TRANSLATE_NOOP("Codes", "Pigeon"),
    "ostrich": QT_TRANSLATE_NOOP("Codes", "Ostrich"),
    "emu": QT_TRANSLATE_NOOP("Codes", "Emu"),
    "rhea": QT_TRANSLATE_NOOP("Codes", "Rhea"),
    "parrot": QT_TRANSLATE_NOOP("Codes", "Parrot"),
}


#: Every list of words, by the codes it names; a test holds that none is missing.
ALL_WORDS: Mapping[type[StrEnum], Mapping[Any, str]] = {
    Fate: _FATES,
    FindingCode: _FINDINGS,
    PhaseKind: _PHASES,
    DutyKind: _DUTIES,
    EventKind: _EVENTS,
    MachineKind: _MACHINES,
    HatchMark: _HATCH_MARKS,
    BreakOutResult: _BREAK_OUTS,
    Malposition: _MALPOSITIONS,
    BreakOutSign: _SIGNS,
    RemovalReason: _REMOVALS,
    Wick: _WICKS,
    WeighPlan: _WEIGH_PLANS,
    ProbePlace: _PLACES,
    Quantity: _QUANTITIES,
    CheckMethod: _CHECKS,
    EggSource: _SOURCES,
}


def word(code: StrEnum) -> str:
    """The word for any code of the trade."""
    return QCoreApplication.translate("Codes", ALL_WORDS[type(code)][code])


def in_sentence(text: str) -> str:
    """A word as it stands within a sentence: its first letter small, unless it is a numeral's."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def fate_word(fate: Fate) -> str:
    """What became of an egg."""
    return word(fate)


def finding_word(code: FindingCode) -> str:
    """What was seen in an egg."""
    return word(code)


def phase_word(kind: PhaseKind) -> str:
    """A phase of the incubation."""
    return word(kind)


def duty_word(kind: DutyKind) -> str:
    """What is to do."""
    return word(kind)


def event_word(kind: EventKind) -> str:
    """What happened."""
    return word(kind)


def machine_kind_word(kind: MachineKind) -> str:
    """How a machine's air moves."""
    return word(kind)


def hatch_mark_word(mark: HatchMark) -> str:
    """What was seen of an egg while it hatched."""
    return word(mark)


def break_out_word(result: BreakOutResult) -> str:
    """What an opened egg showed."""
    return word(result)


def malposition_word(code: Malposition) -> str:
    """How an embryo lay."""
    return word(code)


def sign_word(code: BreakOutSign) -> str:
    """What else an opened egg showed."""
    return word(code)


def removal_word(reason: RemovalReason) -> str:
    """Why an egg left the batch."""
    return word(reason)


def wick_word(wick: Wick) -> str:
    """How a wet bulb's wick meets the air."""
    return word(wick)


def species_word(code: str) -> str:
    """A species by its code; a breeder's own species is named as it was typed."""
    known = _SPECIES.get(code)
    return QCoreApplication.translate("Codes", known) if known else code.replace("_", " ").capitalize()
