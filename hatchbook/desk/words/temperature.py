"""Time outside the band, power cuts, and when the hatch is to be expected, in words."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import duration_text, number, temperature
from hatchbook.figures.temperature import CutFigures, PhaseTemperature, TemperatureFigures
from hatchbook.trade.hatch_time import HatchShift, HatchShiftCode

#: Hours outside the band that are worth telling.
_WORTH_TELLING_H = 1.0


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Temperature", text, "", n)


def outside_text(phase: PhaseTemperature) -> str:
    """Below it 6 h, above it 2 h; "" where it was hardly ever outside."""
    parts = []
    if phase.below_h >= _WORTH_TELLING_H:
        parts.append(_tr("below it {time}").format(time=duration_text(round(phase.below_h) * 3600)))
    if phase.above_h >= _WORTH_TELLING_H:
        parts.append(_tr("above it {time}").format(time=duration_text(round(phase.above_h) * 3600)))
    return listed(parts)


def cuts_value(cuts: tuple[CutFigures, ...]) -> str:
    """How long the power was off in all; "" where that is not known."""
    seconds = sum(cut.seconds for cut in cuts)
    return duration_text(seconds) if seconds else ""


def cuts_sentence(figures: TemperatureFigures) -> str:
    """1 cut, down to 31.5 °C; or that there was none, and how that is known."""
    cuts = figures.cuts
    if not cuts:
        if figures.searched:
            return _tr("no cut, logged or found")
        return _tr("no cut is logged")
    text = _tr("%n cut(s)", len(cuts))
    lows = [cut.lowest_c for cut in cuts if cut.lowest_c is not None]
    if lows:
        text = _tr("{cuts}, down to {lowest}").format(cuts=text, lowest=temperature(min(lows)))
    found = [cut for cut in cuts if cut.found]
    if not found:
        return text
    if len(found) < len(cuts):
        return _tr("{cuts}; %n found in the curve, not logged", len(found)).format(cuts=text)
    if not any(cut.sure for cut in found):
        return _tr("{cuts}: found in the curve, or the lid was open").format(cuts=text)
    return _tr("{cuts}: found in the curve, not logged").format(cuts=text)


def cuts_short(figures: TemperatureFigures) -> str:
    """The same in a few words: to 31.5 °C, not logged; the length stands beside it."""
    cuts = figures.cuts
    lows = [cut.lowest_c for cut in cuts if cut.lowest_c is not None]
    if len(cuts) != 1 or not lows:
        return _tr("%n cut(s)", len(cuts)) if cuts else cuts_sentence(figures)
    if cuts[0].found:
        text = _tr("to {lowest}, not logged") if cuts[0].sure else _tr("to {lowest}, or the lid open")
    else:
        text = _tr("down to {lowest}")
    return text.format(lowest=temperature(lows[0]))


def _stored(shift: HatchShift) -> str:
    return _tr("eggs kept {days} days on average: about {hours} h later than fresh ones (published)").format(
        days=number(shift.value), hours=number(shift.hours, 0)
    )


def _stored_long(_shift: HatchShift) -> str:
    return _tr("eggs kept longer than 7 days hatch later still, by how much is not published")


def _stored_rule(shift: HatchShift) -> str:
    return _tr("by a rule of thumb (from memory) an hour a day: {hours} h later").format(
        hours=number(shift.hours, 0)
    )


_SHIFTS: dict[HatchShiftCode, Callable[[HatchShift], str]] = {
    HatchShiftCode.STORED: _stored,
    HatchShiftCode.STORED_LONG: _stored_long,
    HatchShiftCode.STORED_RULE: _stored_rule,
    HatchShiftCode.WARM: lambda shift: _tr(
        "{off} °C over the band: earlier (published, without hours)"
    ).format(off=number(shift.value)),
    HatchShiftCode.COOL: lambda shift: _tr(
        "{off} °C under the band: later (published, without hours)"
    ).format(off=number(-shift.value)),
    HatchShiftCode.COOLED: lambda shift: _tr("{time} without heat: later (published, without hours)").format(
        time=duration_text(shift.value * 3600)
    ),
}


def shift_sentence(shift: HatchShift) -> str:
    """Why the hatch is to be expected earlier or later, and how good that is."""
    return _SHIFTS[shift.code](shift)


def shift_source(shift: HatchShift) -> str:
    """Who says so; "" for what is from memory."""
    return shift.source


def expectation_short(figures: TemperatureFigures) -> str:
    """About 8 h later than of fresh eggs; earlier, later; "" where nothing is to be said."""
    shifts = figures.expectation
    hours = next((shift.hours for shift in shifts if shift.code is HatchShiftCode.STORED), None)
    others = {shift.later for shift in shifts if shift.hours is None}
    if hours is not None and False not in others:
        return _tr("about {hours} h later than of fresh eggs").format(hours=number(hours, 0))
    if others == {True}:
        return _tr("later than usual")
    if others == {False} and hours is None:
        return _tr("earlier than usual")
    return ""


def expectation_value(figures: TemperatureFigures) -> str:
    """+8 h; "" where no hours are published, or where something speaks the other way."""
    shift = next((shift for shift in figures.expectation if shift.code is HatchShiftCode.STORED), None)
    if shift is None or not expectation_short(figures):
        return ""
    return _tr("+{hours} h").format(hours=number(shift.hours, 0))


def running_sentences(figures: TemperatureFigures) -> list[str]:
    """What the facts of a running batch say of its warmth: cuts nobody logged, and the hatch."""
    found = [cut for cut in figures.cuts if cut.found and cut.sure]
    sentences = []
    if found:
        text = _tr("%n power cut(s) found in the curve, not logged: {time}", len(found))
        sentences.append(text.format(time=duration_text(sum(cut.seconds for cut in found))))
    expected = expectation_short(figures)
    if expected:
        sentences.append(_tr("Hatch expected {when}").format(when=expected))
    return sentences
