"""Numbers with their units, as the breeder's locale writes them."""

from __future__ import annotations

import math

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.statistics.rates import Rate
from hatchbook.trade.units import Unit, fahrenheit_from_celsius, from_stored, vent_fraction

#: What stands where there is no number.
NONE_SIGN = "–"
_NB = "\u00a0"
_MINUS = "\u2212"


_UNIT_SIGNS = {
    Unit.CELSIUS: "°C",
    Unit.FAHRENHEIT: "°F",
    Unit.GRAM: "g",
    Unit.OUNCE: "oz",
    Unit.PERCENT: "%",
}


def unit_sign(unit: Unit) -> str:
    """The sign of a unit."""
    return _UNIT_SIGNS[unit]


def _tr(text: str) -> str:
    return QCoreApplication.translate("Numbers", text)


def number(value: float | None, decimals: int = 1) -> str:
    """A plain number; a dash where there is none."""
    if value is None or math.isnan(value):
        return NONE_SIGN
    # No "−0.0" for what rounds to nothing.
    rounded = round(value, decimals) + 0.0
    text = QLocale().toString(rounded, "f", decimals)
    return text.replace("-", _MINUS, 1) if rounded < 0 else text


def percent(value: float | None, decimals: int = 1) -> str:
    """Per cent of a value given in per cent: 48.0 %."""
    return number(value, decimals) + _NB + "%" if value is not None else NONE_SIGN


def share(value: float | None, decimals: int = 0) -> str:
    """Per cent of a share from 0 to 1: 86 %."""
    return NONE_SIGN if value is None else percent(value * 100, decimals)


def temperature(celsius: float | None, decimals: int = 1, unit: str = "C") -> str:
    """A temperature in °C, or in °F where ``unit`` is F."""
    if celsius is None or math.isnan(celsius):
        return NONE_SIGN
    value = fahrenheit_from_celsius(celsius) if unit == "F" else celsius
    return f"{number(value, decimals)}{_NB}°{unit}"


def mass(grams: float | None, decimals: int = 1) -> str:
    """A mass in grams."""
    return NONE_SIGN if grams is None else f"{number(grams, decimals)}{_NB}g"


def mass_in(grams: float | None, unit: Unit) -> str:
    """A mass in grams, or in ounces where those are chosen."""
    if grams is None:
        return NONE_SIGN
    decimals = 2 if unit is Unit.OUNCE else 1
    return f"{number(from_stored(grams, unit), decimals)}{_NB}{unit_sign(unit)}"


def typed_text(value: float | None, decimals: int = 3) -> str:
    """A number as it is typed into a field: no zeros behind it, no marks between thousands."""
    if value is None:
        return ""
    text = f"{round(value, decimals):.{decimals}f}".rstrip("0").rstrip(".")
    return text.replace(".", QLocale().decimalPoint())


def range_text(low: float, high: float, decimals: int = 0) -> str:
    """From low to high, without unit: 40–50."""
    return f"{number(low, decimals)}–{number(high, decimals)}"


def plus_minus(half_width: float, decimals: int = 0) -> str:
    """A half-width: ± 2."""
    return f"±{_NB}{number(half_width, decimals)}"


def count_of(hits: int, trials: int) -> str:
    """A count with its whole: 31 of 36."""
    locale = QLocale()
    return _tr("{hits} of {trials}").format(hits=locale.toString(hits), trials=locale.toString(trials))


def rate_text(rate: Rate) -> str:
    """A rate with its range: 86 % 71–94; a dash where nothing was counted."""
    if rate.estimate is None:
        return NONE_SIGN
    return f"{share(rate.estimate)} {range_text(rate.low * 100, rate.high * 100)}"


def duration_text(seconds: float) -> str:
    """A stretch of time in its two largest units: 6 d 19 h, 1 h 50 min, 12 min; below a minute in seconds."""
    minutes = round(abs(seconds) / 60)
    if seconds and not minutes:
        return _tr("{n} s").format(n=round(abs(seconds))).replace(" ", _NB)
    days, rest = divmod(minutes, 24 * 60)
    hours, left = divmod(rest, 60)
    if days:
        parts = [_tr("{n} d").format(n=days)] + ([_tr("{n} h").format(n=hours)] if hours else [])
    elif hours:
        parts = [_tr("{n} h").format(n=hours)] + ([_tr("{n} min").format(n=left)] if left else [])
    else:
        parts = [_tr("{n} min").format(n=left)]
    return " ".join(parts).replace(" ", _NB)


def vent_text(opening: float) -> str:
    """A vent's opening: shut, open, or the fraction it is open."""
    if opening <= 0:
        return _tr("shut")
    if opening >= 1:
        return _tr("open")
    fraction = vent_fraction(opening)
    return share(opening) if fraction is None else f"{fraction.numerator}/{fraction.denominator}"
