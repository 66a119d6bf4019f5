"""Facts of how a batch was kept: humidity, weight, warmth, turning, age of the eggs, vent and lid."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from hatchbook.figures.cause_results import Fact, RecordRef
from hatchbook.figures.corrections import CHECK_HOLDS_S
from hatchbook.figures.effects import moved_by
from hatchbook.figures.egg_age import age_when_set, egg_ages
from hatchbook.figures.results import Band, BatchFigures, Curves, PhaseFigures
from hatchbook.figures.temperature import TemperatureFigures, temperature_figures
from hatchbook.journal import Batch, Event, Journal
from hatchbook.statistics.averages import time_weighted
from hatchbook.statistics.drift import KNOWN_NEEDED, DriftVerdict, PhaseDrift
from hatchbook.trade.cause_codes import FactCode, FactKind
from hatchbook.trade.codes import EggSource, EventKind, PhaseKind, Quantity
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.stages import HEN_INCUBATION_DAYS

EARLY_HEN_DAYS = 4.0
"""The first days, whose warmth the table of signs asks for; scaled to other species."""
_MOST_RECORDS = 4
_MOSTLY = 0.5
_TARGET_WITHIN_DAYS = 1.5
_NOT_SURELY = 0.01
"""Stands for a loss outside its corridor of which the range reaches into it."""
_CONDITION = FactKind.CONDITION


@dataclass(frozen=True)
class Kept:
    """A batch with all that its conditions are read from."""

    journal: Journal
    figures: BatchFigures
    curves: Curves
    warmth: TemperatureFigures

    @classmethod
    def of(cls, journal: Journal, figures: BatchFigures, curves: Curves) -> Kept:
        """The same, from figures and curves."""
        warmth = temperature_figures(figures, curves, journal.zone)
        return cls(journal, figures, curves, warmth)

    @property
    def batch(self) -> Batch:
        """The batch itself."""
        return self.figures.batch

    def phase(self, kind: PhaseKind) -> PhaseFigures | None:
        """The phase of a kind."""
        return next((phase for phase in self.figures.phases if phase.kind is kind), None)


def condition_facts(kept: Kept) -> Iterator[Fact]:
    """Every fact of how the batch was kept; those that are not known have no value."""
    before, lockdown = kept.phase(PhaseKind.INCUBATION), kept.phase(PhaseKind.LOCKDOWN)
    yield _humidity(kept, FactCode.HUMIDITY_BEFORE_LOCKDOWN, before)
    yield _humidity(kept, FactCode.HUMIDITY_IN_LOCKDOWN, lockdown)
    yield weight_loss(kept)
    yield _checked(kept, FactCode.HYGROMETER_CHECKED, Quantity.HUMIDITY)
    yield _checked(kept, FactCode.THERMOMETER_CHECKED, Quantity.TEMPERATURE)
    yield _early_warmth(kept, before)
    yield _temperature(FactCode.TEMPERATURE_BEFORE_LOCKDOWN, before)
    yield _temperature(FactCode.TEMPERATURE_IN_LOCKDOWN, lockdown)
    yield _without_heat(kept)
    yield _lid_open(kept, lockdown)
    yield _vent_shut(kept, lockdown)
    yield from _turning(kept)
    yield from _ages(kept)
    shipped = kept.batch.source is EggSource.SHIPPED
    yield Fact(FactCode.SHIPPED, _CONDITION, float(shipped))


def off_band(value: float, band: Band) -> float:
    """How far a value, as it is shown, lies over (+) or under (−) a band; 0 inside."""
    return value - band.high if value > band.high else min(value - band.low, 0.0)


def known_drift(drift: PhaseDrift | None) -> PhaseDrift | None:
    """The same where enough is known of it; None else, and where a single stray reading makes its mean."""
    if drift is None or math.isnan(drift.mean) or drift.verdict is DriftVerdict.TOO_LITTLE_KNOWN:
        return None
    return drift


def _humidity(kept: Kept, code: FactCode, phase: PhaseFigures | None) -> Fact:
    drift = None if phase is None else known_drift(phase.humidity)
    if phase is None or drift is None:
        return Fact(code, _CONDITION, None)
    off = off_band(round(drift.mean, 1), phase.humidity_band)
    values = {"mean": drift.mean, "low": phase.humidity_band.low, "high": phase.humidity_band.high}
    return Fact(code, _CONDITION, off, values, _moved_it(kept, phase, drift, off))


def _moved_it(kept: Kept, phase: PhaseFigures, drift: PhaseDrift, off: float) -> tuple[RecordRef, ...]:
    """Since when it drifted, and the events that moved the humidity that way since then; in the order of time."""
    records = []
    if drift.since_s is not None:
        day = (drift.since_s - kept.batch.set_at) / DAY_S
        records.append(RecordRef("instant", "", drift.since_s, {"since": True, "day": day}))
    if off:
        events = {event.uid: event for event in kept.curves.events}
        for effect in moved_by(kept.curves, phase, drift.since_s, off)[: _MOST_RECORDS - 1]:
            records.append(_event_ref(events[effect.event], kept.curves.events, effect.change))
    return tuple(sorted(records, key=lambda record: record.at))


def _event_ref(event: Event, events: tuple[Event, ...], change: float | None = None) -> RecordRef:
    before = [
        other.vent
        for other in events
        if other.kind is EventKind.VENT and other.vent is not None and other.at < event.at
    ]
    values = {
        "kind": str(event.kind),
        "text": event.text,
        "channels_filled": event.channels_filled,
        "water_ml": event.water_ml,
        "vent": event.vent,
        "vent_before": before[-1] if before and event.kind is EventKind.VENT else None,
        "seconds": None if event.ends_at is None else event.ends_at - event.at,
        "change": change,
    }
    return RecordRef("event", event.uid, event.at, values)


def weight_loss(kept: Kept) -> Fact:
    """What the eggs lost against their corridor, by the end of the range that is nearer to it."""
    code, figures, batch = FactCode.WEIGHT_LOSS, kept.figures, kept.batch
    low, high = batch.loss_low_percent, batch.loss_high_percent
    loss = _loss(figures)
    if loss is None or low is None or high is None:
        return Fact(code, _CONDITION, None)
    value, least, most, day, eggs = loss
    outside = least - high if least > high else min(most - low, 0.0)
    if not outside and not low <= round(value, 1) <= high:
        outside = math.copysign(_NOT_SURELY, value - low)
    weighings = kept.journal.weighings.of_batch(batch.uid)
    last = [one for one in weighings if one.at <= kept.figures.now][-1:]
    records = tuple(
        RecordRef("weighing", one.uid, one.at, {"eggs": eggs, "loss_percent": value}) for one in last
    )
    values = {"loss": value, "least": least, "most": most, "low": low, "high": high, "day": day}
    return Fact(code, _CONDITION, outside, values, records)


def _loss(figures: BatchFigures) -> tuple[float, float, float, float, int] | None:
    """Loss by the day of the target with its range, that day, and of how many eggs; weighings only."""
    forecast = figures.forecast
    if forecast is not None and forecast.at_target is not None and forecast.target is not None:
        if forecast.weighed_eggs or forecast.weighings:
            at = forecast.at_target
            return at.value, at.low, at.high, forecast.target.day, forecast.weighed_eggs
        return None
    weight, day = figures.weight, figures.batch.loss_day
    if weight is None or day is None or abs(weight.day - day) > _TARGET_WITHIN_DAYS or weight.since_day:
        return None
    half = 1.96 * (weight.standard_error or 0.0)
    loss = weight.mean_loss_percent
    return loss, loss - half, loss + half, weight.day, weight.eggs


def _checked(kept: Kept, code: FactCode, quantity: Quantity) -> Fact:
    probe = kept.journal.probes.by_name(kept.figures.probe_name) if kept.figures.probe_name else None
    if probe is None:
        return Fact(code, _CONDITION, None)
    end_at = kept.figures.phases[-1].end_at
    near = [
        check
        for check in kept.journal.probes.checks(probe.uid)
        if check.quantity is quantity
        and kept.batch.set_at - CHECK_HOLDS_S <= check.at <= end_at + CHECK_HOLDS_S
    ]
    return Fact(code, _CONDITION, 1.0 if near else None)


def _early_warmth(kept: Kept, phase: PhaseFigures | None) -> Fact:
    code, curves = FactCode.TEMPERATURE_EARLY, kept.curves
    days = EARLY_HEN_DAYS * kept.batch.incubation_days / HEN_INCUBATION_DAYS
    until = kept.batch.set_at + round(days * DAY_S)
    if phase is None or not curves.at.size or until > kept.figures.now:
        return Fact(code, _CONDITION, None)
    average = time_weighted(curves.at, curves.temperature_c, kept.batch.set_at, until)
    if average.known_share < KNOWN_NEEDED:
        return Fact(code, _CONDITION, None)
    aim = phase.temperature_band.aim
    values = {"mean": average.mean, "aim": aim, "days": days}
    return Fact(code, _CONDITION, average.mean - aim, values)


def _temperature(code: FactCode, phase: PhaseFigures | None) -> Fact:
    drift = None if phase is None else known_drift(phase.temperature)
    if phase is None or drift is None:
        return Fact(code, _CONDITION, None)
    band = phase.temperature_band
    values = {"mean": drift.mean, "low": band.low, "high": band.high}
    return Fact(code, _CONDITION, off_band(round(drift.mean, 1), band), values)


def _without_heat(kept: Kept) -> Fact:
    """Hours without heat; not known where nobody logged a cut and no curve could show one."""
    warmth = kept.warmth
    if not warmth.cuts and not warmth.searched:
        return Fact(FactCode.WITHOUT_HEAT, _CONDITION, None)
    records = []
    events = {event.uid: event for event in kept.curves.events}
    for cut in warmth.cuts:
        if cut.event:
            records.append(_event_ref(events[cut.event], kept.curves.events))
        else:
            values = {"seconds": cut.seconds, "lowest_c": cut.lowest_c, "sure": cut.sure}
            records.append(RecordRef("instant", "", cut.at, values))
    lows = [cut.lowest_c for cut in warmth.cuts if cut.lowest_c is not None]
    told: dict[str, Any] = {
        "hours": warmth.cold_h,
        "cuts": len(warmth.cuts),
        "lowest_c": min(lows, default=None),
    }
    return Fact(FactCode.WITHOUT_HEAT, _CONDITION, warmth.cold_h, told, tuple(records))


def _lid_open(kept: Kept, phase: PhaseFigures | None) -> Fact:
    """Hours the lid stood open in lockdown, as logged; not known where no lid was ever logged with an end."""
    lids = [
        event for event in kept.curves.events if event.kind is EventKind.LID and event.ends_at is not None
    ]
    if phase is None or not lids:
        return Fact(FactCode.LID_OPEN_IN_LOCKDOWN, _CONDITION, None)
    inside = [lid for lid in lids if phase.start_at <= lid.at < phase.end_at]
    hours = sum((lid.ends_at or lid.at) - lid.at for lid in inside) / 3600
    longest = sorted(inside, key=lambda lid: lid.at - (lid.ends_at or lid.at))[:_MOST_RECORDS]
    records = tuple(_event_ref(lid, kept.curves.events) for lid in longest)
    values = {"hours": hours, "times": len(inside)}
    return Fact(FactCode.LID_OPEN_IN_LOCKDOWN, _CONDITION, hours, values, records)


def _vent_shut(kept: Kept, phase: PhaseFigures | None) -> Fact:
    """Hours the vent was shut in lockdown; not known where nobody noted how it stood."""
    code = FactCode.VENT_SHUT_IN_LOCKDOWN
    moves = [event for event in kept.curves.events if event.kind is EventKind.VENT and event.vent is not None]
    if phase is None or not any(move.at <= phase.start_at for move in moves):
        return Fact(code, _CONDITION, None)
    end_at = min(phase.end_at, kept.figures.now)
    shut, records = 0, []
    for move, following in zip(moves, [*moves[1:], None], strict=True):
        since = max(move.at, phase.start_at)
        until = min(end_at, end_at if following is None else following.at)
        if move.vent == 0.0 and until > since:
            shut += until - since
            records.append(_event_ref(move, kept.curves.events))
    return Fact(code, _CONDITION, shut / 3600, {"hours": shut / 3600}, tuple(records[:_MOST_RECORDS]))


def _turning(kept: Kept) -> Iterator[Fact]:
    phases = kept.figures.phases
    due, done = sum(phase.turns_due for phase in phases), sum(phase.turns_done for phase in phases)
    a_day = max((phase.turns_per_day for phase in phases), default=0)
    missed = max(due - done, 0)
    values = {"missed": missed, "due": due, "done": min(done, due)}
    share = missed / due if due and done else None
    yield Fact(FactCode.TURNS_MISSED, _CONDITION, share, values)
    yield Fact(FactCode.TURNS_A_DAY, _CONDITION, float(a_day) if a_day else None, {"turns": a_day})


def _ages(kept: Kept) -> Iterator[Fact]:
    eggs = [egg.egg for egg in kept.figures.eggs]
    ages = egg_ages(eggs, kept.batch.set_at, kept.journal.zone)
    if ages is None or ages.known < _MOSTLY * ages.eggs:
        yield Fact(FactCode.AGE_MEAN, _CONDITION, None)
        yield Fact(FactCode.AGE_OLDEST, _CONDITION, None)
        return
    each = [(age_when_set(egg, kept.batch.set_at, kept.journal.zone), egg) for egg in eggs]
    oldest = [egg for age, egg in each if age == ages.oldest][:_MOST_RECORDS]
    records = tuple(
        RecordRef("egg", egg.uid, kept.batch.set_at, {"number": egg.number, "age_days": ages.oldest})
        for egg in oldest
    )
    yield Fact(FactCode.AGE_MEAN, _CONDITION, ages.mean, {"days": ages.mean, "known": ages.known})
    yield Fact(FactCode.AGE_OLDEST, _CONDITION, float(ages.oldest), {"days": ages.oldest}, records)
