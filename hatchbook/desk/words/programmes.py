"""A programme in words: what it says of each thing, beside what others say."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.codes import phase_word
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN, number, percent, range_text, temperature, vent_text
from hatchbook.journal import UseCount
from hatchbook.trade.phases import PhaseTargets
from hatchbook.trade.programme import LossBase, LossEnd, Programme
from hatchbook.trade.programmes import PeriodNote
from hatchbook.trade.sources import About

_ENDS = {
    LossEnd.DAY: QT_TRANSLATE_NOOP("Programmes", "by day {day}"),
    LossEnd.LOCKDOWN: QT_TRANSLATE_NOOP("Programmes", "by lockdown on day {day}"),
    LossEnd.PIP: QT_TRANSLATE_NOOP("Programmes", "by the pip on day {day}"),
    LossEnd.HATCH: QT_TRANSLATE_NOOP("Programmes", "by the hatch on day {day}"),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Programmes", text, "", n)


def day_text(day: float) -> str:
    """A day as it is typed: 18, 9.5."""
    return QLocale().toString(round(day, 2), "g", 6)


def days_text(days: tuple[float, ...]) -> str:
    """Days in a row: 7, 14, 18."""
    return ", ".join(day_text(day) for day in days)


def value_lines(programme: Programme, about: About, unit: str = "C") -> tuple[str, ...]:
    """What a programme says of one thing, in a line or in one for each phase.

    Args:
        unit: of temperatures, C or F.
    """
    phases = programme.phases
    match about:
        case About.PERIOD:
            return (_tr("{days} days").format(days=day_text(programme.incubation_days)),)
        case About.HUMIDITY:
            return tuple(_of_phase(programme, phase, _humidity(phase)) for phase in phases)
        case About.TEMPERATURE:
            texts = [_warmth(phase, unit) for phase in phases]
            if len(set(texts)) == 1:
                return (texts[0],)
            return tuple(_of_phase(programme, phase, text) for phase, text in zip(phases, texts, strict=True))
        case About.LOCKDOWN:
            return (_tr("from day {day}").format(day=day_text(programme.lockdown_day)),)
        case About.TURNING:
            turned = [phase for phase in phases if phase.turns_per_day]
            if not turned:
                return (_tr("not turned"),)
            if len(turned) == 1:
                return (_tr("%n time(s) a day, until lockdown", turned[0].turns_per_day),)
            return tuple(
                _of_phase(programme, phase, _tr("%n time(s) a day", phase.turns_per_day)) for phase in turned
            )
        case About.CANDLING:
            return (_on_days(programme.candle_days),)
        case About.WEIGHING:
            return (_on_days(programme.weigh_days),)
        case About.LOSS:
            return _loss(programme)
        case About.VENT:
            vents = [vent_text(phase.vent_hint) for phase in phases if phase.vent_hint is not None]
            return (
                (_tr("{first} open, {last} in lockdown").format(first=vents[0], last=vents[-1]),)
                if vents
                else ()
            )
        case About.STILL_AIR:
            return (_still_air(programme, unit),)


def value_text(programme: Programme, about: About, unit: str = "C") -> str:
    """The same in one line."""
    return "; ".join(value_lines(programme, about, unit)) or NONE_SIGN


def period_text(period: PeriodNote) -> str:
    """How long one source says it lasts: 28 days, 29–31 days."""
    if period.low_days == period.high_days:
        return _tr("{days} days").format(days=day_text(period.low_days))
    whole = period.low_days == int(period.low_days) and period.high_days == int(period.high_days)
    return _tr("{days} days").format(days=range_text(period.low_days, period.high_days, 0 if whole else 2))


def used_sentence(uses: UseCount) -> str:
    """How many batches were set by an own programme, and that they stay as they are."""
    batches = uses.batches + uses.past_batches
    if not batches:
        return _tr("No batch was set by it yet.")
    return _tr("%n batch(es) set by it: they keep what they were set with.", batches)


def _of_phase(programme: Programme, phase: PhaseTargets, text: str) -> str:
    """A value with its phase, which is named by its days where there are several of its kind."""
    if sum(other.kind is phase.kind for other in programme.phases) > 1:
        days = _tr("Day {first} to {last}").format(
            first=day_text(phase.from_day), last=day_text(phase.to_day)
        )
        return _tr("{phase}: {value}").format(phase=days, value=text)
    return _tr("{phase}: {value}").format(phase=phase_word(phase.kind), value=text)


def _humidity(phase: PhaseTargets) -> str:
    low, aim, high = phase.humidity_low, phase.humidity_aim, phase.humidity_high
    band = range_text(low, high, 0 if low == round(low) and high == round(high) else 1)
    return _tr("{band} %, aim {aim}").format(band=band, aim=percent(aim, 0 if aim == round(aim) else 1))


def _warmth(phase: PhaseTargets, unit: str) -> str:
    return _tr("{aim}, from {low} to {high}").format(
        aim=temperature(phase.temperature_aim_c, 1, unit),
        low=temperature(phase.temperature_low_c, 1, unit),
        high=temperature(phase.temperature_high_c, 1, unit),
    )


def _on_days(days: tuple[float, ...]) -> str:
    return _tr("day {days}").format(days=days_text(days)) if days else _tr("on no day")


def _loss(programme: Programme) -> tuple[str, ...]:
    low, high, day = programme.loss_low_percent, programme.loss_high_percent, programme.loss_day
    if low is None or high is None or day is None:
        return (_tr("no target"),)
    decimals = 0 if low == round(low) and high == round(high) else 1
    end = _tr(_ENDS[programme.loss_end]).format(day=day_text(day))
    base = (
        _tr("of the weight when laid")
        if programme.loss_base is LossBase.LAID
        else _tr("of the weight when set")
    )
    return (_tr("{range} % {end}").format(range=range_text(low, high, decimals), end=end), base)


def _still_air(programme: Programme, unit: str) -> str:
    rise = programme.still_air_rise_c * (1.8 if unit == "F" else 1.0)
    return _tr("{rise} °{unit} warmer, at the height of the eggs' tops").format(rise=number(rise), unit=unit)
