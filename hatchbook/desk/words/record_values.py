"""Stored values as they are read: codes as words, numbers with their units, instants in the home zone."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum
from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.codes import in_sentence, species_word, word
from hatchbook.desk.words.dates import date_text, date_time_of_year
from hatchbook.desk.words.holding import salt_name
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN, mass, number, percent, plus_minus, temperature, vent_text
from hatchbook.figures.record_names import RecordNames
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    CheckMethod,
    DutyKind,
    EggSource,
    EventKind,
    FindingCode,
    HatchMark,
    MachineKind,
    Malposition,
    PhaseKind,
    ProbePlace,
    Quantity,
    RemovalReason,
    WeighPlan,
)
from hatchbook.trade.phases import ProgrammeError
from hatchbook.trade.programme import Programme

_CODES: dict[tuple[str, str], tuple[type[StrEnum], ...]] = {
    ("machine", "kind"): (MachineKind,),
    ("probe_placement", "place"): (ProbePlace,),
    ("probe_check", "quantity"): (Quantity,),
    ("probe_check", "method"): (CheckMethod,),
    ("batch", "weigh_plan"): (WeighPlan,),
    ("batch", "source"): (EggSource,),
    ("past_batch", "source"): (EggSource,),
    ("batch_phase", "kind"): (PhaseKind,),
    ("duty", "kind"): (DutyKind,),
    ("event", "kind"): (EventKind,),
    ("finding", "code"): (FindingCode,),
    ("hatching", "mark"): (HatchMark,),
    ("break_out", "result"): (BreakOutResult,),
    ("break_out_mark", "code"): (Malposition, BreakOutSign),
    ("removal", "reason"): (RemovalReason,),
}
_SEXES = {
    "male": QT_TRANSLATE_NOOP("RecordValues", "male"),
    "female": QT_TRANSLATE_NOOP("RecordValues", "female"),
}
_SETTINGS = {
    "time_zone": QT_TRANSLATE_NOOP("RecordValues", "Time zone"),
    "season_first_month": QT_TRANSLATE_NOOP("RecordValues", "First month of the season"),
    "is_demo": QT_TRANSLATE_NOOP("RecordValues", "Invented data"),
}
#: Which kind of record a field refers to.
_REFERS = {"machine": "machine", "probe": "probe", "pen": "pen", "dam": "pen_member", "batch": "batch"}
_FREE_TEXTS = frozenset({"note", "text", "remark", "shell_note"})
_YES_OR_NO = frozenset({"marked", "kept_though_odd"})


def _tr(text: str) -> str:
    return QCoreApplication.translate("RecordValues", text)


def _unit(text: str) -> Callable[[float], str]:
    return lambda value: _tr("{number} {unit}").format(number=_plain(value), unit=text)


_BY_ENDING: tuple[tuple[str, Callable[[float], str]], ...] = (
    ("_percent", percent),
    ("_g", mass),
    ("_mm", _unit("mm")),
    ("_ml", _unit("ml")),
    ("_cm2", _unit("cm²")),
    ("_m", _unit("m")),
)
_BY_FIELD: dict[str, Callable[[float], str]] = {
    "humidity": percent,
    "humidity_low": percent,
    "humidity_aim": percent,
    "humidity_high": percent,
    "temperature_c": temperature,
    "temperature_low_c": temperature,
    "temperature_aim_c": temperature,
    "temperature_high_c": temperature,
    "accuracy_humidity": lambda value: _tr("{half} %").format(half=plus_minus(value, 1)),
    "accuracy_temperature_c": lambda value: _tr("{half} °C").format(half=plus_minus(value, 1)),
    "vent": vent_text,
}


def value_text(
    kind: str, field: str, value: Any, row: Mapping[str, Any], names: RecordNames, zone: ZoneInfo
) -> str:
    """A stored value; a dash for none.

    Args:
        row: the whole record, since some values say what others mean.
    """
    if value is None or value == "":
        return NONE_SIGN
    if (kind, field) in _CODES:
        return _coded(_CODES[kind, field], str(value))
    if field in _REFERS:
        return names.name(_REFERS[field], str(value)) or _tr("one that is gone")
    if kind == "setting":
        return _setting(str(row.get("key", "")), str(value))
    if field == "programme":
        return programme_title(str(value))
    if field == "programme_code":
        return names.programme_coded(str(value)) or _tr("one that is gone")
    if isinstance(value, str):
        return _text(field, value)
    return _number(kind, field, value, row, zone)


def _number(kind: str, field: str, value: Any, row: Mapping[str, Any], zone: ZoneInfo) -> str:
    if field == "at" or field.endswith("_at"):
        return date_time_of_year(int(value), zone)
    if field in _YES_OR_NO:
        return _tr("yes") if value else _tr("no")
    if field == "season":
        return str(value)  # a year has no mark of thousands
    if kind == "probe_check" and field in ("reference_value", "shown_value"):
        return temperature(value) if row.get("quantity") == Quantity.TEMPERATURE.value else percent(value)
    if field in _BY_FIELD:
        return _BY_FIELD[field](value)
    for ending, text in _BY_ENDING:
        if field.endswith(ending):
            return text(value)
    return _plain(value)


def programme_of(definition: str) -> Programme | None:
    """A programme from the JSON that a record holds; None where it cannot be read."""
    try:
        return Programme.from_json(definition)
    except ProgrammeError:
        return None


def programme_title(definition: str) -> str:
    """The title of a programme from the JSON that a record holds."""
    programme = programme_of(definition)
    return _tr("one that cannot be read") if programme is None else programme.title


def setting_word(key: str) -> str:
    """A setting of the journal."""
    known = _SETTINGS.get(key)
    return _tr("Setting") if known is None else _tr(known)


def _coded(kinds: tuple[type[StrEnum], ...], value: str) -> str:
    for kind in kinds:
        if value in set(kind):
            return in_sentence(word(kind(value)))
    return _tr("unknown")


def _text(field: str, value: str) -> str:
    if field == "species":
        return in_sentence(species_word(value))
    if field == "sex" and value in _SEXES:
        return _tr(_SEXES[value])
    if field == "salt":
        return salt_name(value)
    if field in _FREE_TEXTS:
        return _tr("“{text}”").format(text=value)
    if field.endswith("_on"):
        return date_text(date.fromisoformat(value), "d MMM yyyy")
    return value


def _setting(key: str, value: str) -> str:
    if key == "season_first_month" and value.isdecimal():
        return QLocale().standaloneMonthName(int(value))
    return _tr("yes") if key == "is_demo" and value == "yes" else value


def _plain(value: float) -> str:
    return QLocale().toString(float(round(value, 2)), "g", 9) if value < 1e6 else number(value, 0)
