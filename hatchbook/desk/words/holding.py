"""Machines, probes and pens in words: what uses them, where a probe hangs, what its checks showed."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import percent, plus_minus, temperature
from hatchbook.journal import ProbeCheck, ProbePlacement, UseCount
from hatchbook.trade.codes import CheckMethod, ProbePlace, Quantity
from hatchbook.trade.salts import SALT_SOURCE, FixedPoint, Salt

_SALTS = {
    Salt.SODIUM_CHLORIDE: QT_TRANSLATE_NOOP("Holding", "Table salt, NaCl"),
    Salt.MAGNESIUM_CHLORIDE: QT_TRANSLATE_NOOP("Holding", "Magnesium chloride, MgCl₂"),
    Salt.LITHIUM_CHLORIDE: QT_TRANSLATE_NOOP("Holding", "Lithium chloride, LiCl"),
    Salt.POTASSIUM_CARBONATE: QT_TRANSLATE_NOOP("Holding", "Potassium carbonate, K₂CO₃"),
    Salt.SODIUM_BROMIDE: QT_TRANSLATE_NOOP("Holding", "Sodium bromide, NaBr"),
    Salt.POTASSIUM_IODIDE: QT_TRANSLATE_NOOP("Holding", "Potassium iodide, KI"),
    Salt.POTASSIUM_CHLORIDE: QT_TRANSLATE_NOOP("Holding", "Potassium chloride, KCl"),
    Salt.POTASSIUM_SULPHATE: QT_TRANSLATE_NOOP("Holding", "Potassium sulphate, K₂SO₄"),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Holding", text, "", n)


def used_sentence(uses: UseCount) -> str:
    """Why a record cannot be deleted, and what to do instead."""
    parts = []
    if uses.batches:
        parts.append(_tr("%n batch(es)", uses.batches))
    if uses.past_batches:
        parts.append(_tr("%n past batch(es)", uses.past_batches))
    if uses.eggs and not uses.batches:
        parts.append(_tr("%n egg(s)", uses.eggs))
    if uses.readings:
        parts.append(_tr("%Ln reading(s)", uses.readings))
    if uses.events:
        parts.append(_tr("%n event(s)", uses.events))
    if uses.probes:
        parts.append(_tr("%n probe(s)", uses.probes))
    return _tr("It is used by {what}; retire it instead.").format(what=", ".join(parts))


def use_line(uses: UseCount) -> str:
    """What a record is used by, for information; "" where by nothing."""
    parts = []
    if uses.batches:
        parts.append(_tr("%n batch(es)", uses.batches))
    if uses.past_batches:
        parts.append(_tr("%n past batch(es)", uses.past_batches))
    if uses.eggs:
        parts.append(_tr("%n egg(s)", uses.eggs))
    if uses.readings:
        parts.append(_tr("%Ln reading(s)", uses.readings))
    return ", ".join(parts)


def place_name(placement: ProbePlacement, machine_name: str) -> str:
    """Where a probe hangs."""
    return _tr("the room") if placement.place is ProbePlace.ROOM else machine_name


def stay_line(placement: ProbePlacement, machine_name: str, zone: ZoneInfo) -> str:
    """A stay of a probe: Dairy machine, since Sun 3 May 2026 09:00."""
    place = place_name(placement, machine_name)
    begin = date_time_of_year(placement.from_at, zone)
    if placement.until_at is None:
        return _tr("{place}, since {begin}").format(place=place, begin=begin)
    return _tr("{place}, {begin} to {end}").format(
        place=place, begin=begin, end=date_time_of_year(placement.until_at, zone)
    )


def salt_name(code: str) -> str:
    """A salt by its formula; one that the table does not have is named as it was stored."""
    return _tr(_SALTS[Salt(code)]) if code in set(Salt) else code


def check_method(check: ProbeCheck) -> str:
    """How a probe was checked."""
    if check.method is CheckMethod.SALT:
        name = salt_name(check.salt)
        if check.temperature_c is None:
            return name
        return _tr("{salt}, at {warmth}").format(salt=name, warmth=temperature(check.temperature_c, 0))
    return _tr("beside a reference")


def checked_value(value: float, quantity: Quantity) -> str:
    """A value of a check with its unit."""
    return percent(value) if quantity is Quantity.HUMIDITY else temperature(value)


def off_by(check: ProbeCheck) -> str:
    """By how much a probe showed too much (+) or too little."""
    off = check.shown_value - check.reference_value
    text = checked_value(off, check.quantity)
    return f"+{text}" if round(off, 1) > 0 else text


def fixed_point_line(point: FixedPoint) -> str:
    """What the air over a salt has, with the source: 75.3 % ± 0.2 at 25 °C (OIML R 121 (1996), table 1)."""
    return _tr("{humidity} {half}, by {source}").format(
        humidity=percent(point.humidity), half=plus_minus(point.uncertainty, 1), source=SALT_SOURCE
    )
