"""The check list of a batch's phases, in words."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import phase_word
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN, count_of, number, percent, temperature, vent_text
from hatchbook.desk.words.rates import loss_foot
from hatchbook.desk.words.temperature import (
    cuts_sentence,
    cuts_short,
    cuts_value,
    expectation_short,
    expectation_value,
    outside_text,
    shift_sentence,
)
from hatchbook.desk.words.verdicts import band_text, is_flagged, verdict_sentence
from hatchbook.desk.words.weights import reached_foot, weighed_to_target
from hatchbook.figures.effects import drift_event
from hatchbook.figures.results import BatchFigures, Curves, PhaseFigures
from hatchbook.figures.temperature import PhaseTemperature, TemperatureFigures
from hatchbook.journal import Event
from hatchbook.statistics.drift import DriftDirection, DriftVerdict, PhaseDrift
from hatchbook.trade.instants import DAY_S


@dataclass(frozen=True)
class CheckLine:
    """A subject, what it was, and what to say of it; ``state``: fine, flagged or unknown.

    ``more``: what else there is to it, for the tooltip.
    """

    subject: str
    value: str
    verdict: str
    state: str
    more: str = ""

    @property
    def flagged(self) -> bool:
        """Whether it asks for a look."""
        return self.state == "flagged"

    def sentence(self) -> str:
        """All of it in reading order."""
        return " ".join(part for part in (self.subject, self.value, self.verdict, self.more) if part)


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("PhaseChecks", text, "", n)


def check_lines(figures: BatchFigures, warmth: TemperatureFigures) -> list[CheckLine]:
    """Humidity and temperature of every phase, the weight lost, turnings, power cuts, when to expect the hatch."""
    lines = [_humidity(phase) for phase in figures.phases]
    weight, forecast = figures.weight, figures.forecast
    if forecast is not None and weighed_to_target(forecast):
        assert forecast.at_target is not None
        assert forecast.target is not None
        lines.append(_lost(forecast.target.day, forecast.at_target.value, *reached_foot(forecast)))
    elif weight is not None:
        lines.append(_lost(weight.day, weight.mean_loss_percent, *loss_foot(figures)))
    lines += [_temperature(*both) for both in zip(figures.phases, warmth.phases, strict=True)]
    due = sum(phase.turns_due for phase in figures.phases)
    if due:
        lines.append(_turned(sum(phase.turns_done for phase in figures.phases), due))
    lines.append(_power(warmth))
    if warmth.expectation:
        lines.append(_hatch(warmth))
    return lines


def _lost(day: float, percent_lost: float, foot: str, off: bool) -> CheckLine:
    """The weight lost, as the figure over the page has it."""
    subject = _tr("Weight lost, day {day}").format(day=number(day, 0))
    return CheckLine(subject, percent(percent_lost), foot, "flagged" if off else "fine")


def drift_marks(figures: BatchFigures, curves: Curves) -> list[tuple[int, str]]:
    """The moments from which a phase's humidity drifted: with what was done then, else with what it did."""
    marks = []
    for phase in figures.phases:
        drift = phase.humidity
        if drift is not None and drift.since_s is not None and is_flagged(drift):
            day = number((drift.since_s - figures.batch.set_at) / DAY_S, 0)
            event = drift_event(curves, phase)
            if event is None:
                words = _DRIFTS.get((drift.verdict, drift.direction)) or _DRIFTS[drift.verdict, None]
                marks.append((drift.since_s, _tr(words).format(day=day)))
            else:
                marks.append((drift.since_s, _done(event).format(day=day)))
    return marks


def _done(event: Event) -> str:
    """What moved the humidity, for the day from which on it drifted."""
    if event.vent is not None:
        return _tr("from day {day}: vent at {vent}").format(day="{day}", vent=vent_text(event.vent))
    if event.channels_filled is not None:
        return _tr("from day {day}: %n channel(s) filled", event.channels_filled)
    return _tr("from day {day}: water added")


_DRIFTS: dict[tuple[DriftVerdict, DriftDirection | None], str] = {
    (DriftVerdict.LOW, None): QT_TRANSLATE_NOOP("PhaseChecks", "from day {day}: under the band"),
    (DriftVerdict.HIGH, None): QT_TRANSLATE_NOOP("PhaseChecks", "from day {day}: over the band"),
    (DriftVerdict.SLIDING, DriftDirection.UP): QT_TRANSLATE_NOOP(
        "PhaseChecks", "from day {day}: sliding wetter"
    ),
    (DriftVerdict.SLIDING, DriftDirection.DOWN): QT_TRANSLATE_NOOP(
        "PhaseChecks", "from day {day}: sliding drier"
    ),
    (DriftVerdict.SWINGING, None): QT_TRANSLATE_NOOP("PhaseChecks", "from day {day}: swinging"),
}


#: From which share of turnings without an entry on the line is flagged (ours).
_TURNS_MISSING = 0.1


def _turned(done: int, due: int) -> CheckLine:
    """The turnings by what was logged: one without an entry may have been done all the same."""
    missing = max(due - done, 0)
    if not done:
        return CheckLine(_tr("Turned"), NONE_SIGN, _tr("no turning is logged, %n were due", due), "unknown")
    verdict = _tr("%n not logged", missing) if missing else _tr("all of them")
    state = "flagged" if missing > due * _TURNS_MISSING else "fine"
    return CheckLine(_tr("Turned"), count_of(min(done, due), due), verdict, state)


def _state(drift: PhaseDrift | None) -> str:
    if drift is None or math.isnan(drift.mean) or drift.verdict is DriftVerdict.TOO_LITTLE_KNOWN:
        return "unknown"
    return "flagged" if is_flagged(drift) else "fine"


def _humidity(phase: PhaseFigures) -> CheckLine:
    drift = phase.humidity
    value = NONE_SIGN if drift is None or math.isnan(drift.mean) else percent(drift.mean)
    state = _state(drift)
    verdict = verdict_sentence(drift, phase.humidity_band, phase.from_day)
    if state == "fine":
        verdict = _tr("in {band}").format(band=band_text(phase.humidity_band))
    return CheckLine(_tr("{phase}, humidity").format(phase=phase_word(phase.kind)), value, verdict, state)


def _temperature(phase: PhaseFigures, outside: PhaseTemperature) -> CheckLine:
    drift = phase.temperature
    value = NONE_SIGN if drift is None or math.isnan(drift.mean) else temperature(drift.mean)
    band = band_text(phase.temperature_band, 1)
    state = _state(drift)
    if state == "fine":
        verdict = _tr("in {band}").format(band=band)
    elif drift is not None and drift.verdict in (DriftVerdict.LOW, DriftVerdict.HIGH):
        verdict = _tr("outside {band}").format(band=band)
    elif drift is not None and drift.verdict is DriftVerdict.SLIDING:
        day = number(phase.from_day + (drift.since_day or 0), 0)
        if drift.direction is DriftDirection.UP:
            verdict = _tr("sliding warmer since day {day}, still in {band}").format(day=day, band=band)
        else:
            verdict = _tr("sliding cooler since day {day}, still in {band}").format(day=day, band=band)
    else:
        verdict = verdict_sentence(drift, phase.temperature_band, phase.from_day)
    if outside_text(outside):
        verdict = _tr("{verdict}; {outside}").format(verdict=verdict, outside=outside_text(outside))
    return CheckLine(_tr("{phase}, temperature").format(phase=phase_word(phase.kind)), value, verdict, state)


def _power(warmth: TemperatureFigures) -> CheckLine:
    state = "fine" if warmth.searched and not warmth.cuts else "unknown"
    if any(cut.sure for cut in warmth.cuts):
        state = "flagged"
    more = cuts_sentence(warmth) if warmth.cuts else ""
    return CheckLine(_tr("Power"), cuts_value(warmth.cuts), cuts_short(warmth), state, more)


def _hatch(warmth: TemperatureFigures) -> CheckLine:
    """Why the hatch was to be expected earlier or later: something to know, nothing to flag."""
    reasons = "; ".join(shift_sentence(shift) for shift in warmth.expectation)
    value = expectation_value(warmth)
    short = _tr("against fresh eggs") if value else expectation_short(warmth)
    short = short or _tr("earlier by one reason, later by another")
    return CheckLine(_tr("Hatch to expect"), value, short, "unknown", reasons)
