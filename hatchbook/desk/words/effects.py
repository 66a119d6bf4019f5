"""What an event did to the humidity, and power cuts that were found in the curve, in words."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.numbers import duration_text, number, temperature
from hatchbook.figures.effects import EventEffect
from hatchbook.figures.temperature import CutFigures


def _tr(text: str) -> str:
    return QCoreApplication.translate("Effects", text)


def signed(value: float, decimals: int = 0) -> str:
    """A change with its sign: +6, −2."""
    text = number(value, decimals)
    return f"+{text}" if round(value, decimals) > 0 else text


def effect_sentence(effect: EventEffect) -> str:
    """Humidity +6 % in 2 h (+4 to +8); or that it can not be told from what it does by itself."""
    span = _tr("{low} to {high}").format(low=signed(effect.low), high=signed(effect.high))
    if effect.told_from_chance:
        text = _tr("humidity {change} % in {hours} h ({span})")
    else:
        text = _tr("no sure change of humidity in {hours} h: {change} % ({span})")
    hours = number(effect.settled_h, 0)
    return text.format(change=signed(effect.change), hours=hours, span=span)


def found_cut_sentence(cut: CutFigures) -> str:
    """Power off 1 h 50 min, down to 31.5 °C: found in the curve, not logged."""
    values = {"time": duration_text(cut.seconds), "lowest": temperature(cut.lowest_c)}
    if cut.until is None:
        text = _tr("Power off, down to {lowest} so far: found in the curve, not logged")
    elif cut.sure:
        text = _tr("Power off {time}, down to {lowest}: found in the curve, not logged")
    else:
        text = _tr("Power off {time} or lid open, down to {lowest}: found in the curve, not logged")
    return text.format(**values)
