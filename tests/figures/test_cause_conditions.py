"""What counts as a fact of how a batch was kept, and from where on it speaks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_view
from hatchbook.figures.cause_conditions import Kept, condition_facts
from hatchbook.figures.cause_results import Fact
from hatchbook.figures.effects import moved_by
from hatchbook.journal import Event
from hatchbook.trade.cause_codes import CauseCode, FactCode
from hatchbook.trade.causes import load_causes
from hatchbook.trade.codes import EventKind

DAY = 86_400
SET_AT = 1_777_917_600
NOW = SET_AT + 23 * DAY


def logged(hatchery: Any, humidity: Sequence[float] | float, step_s: int = 600) -> None:
    """Humidity in the days before lockdown; 65 % from then on."""
    at = np.arange(SET_AT, SET_AT + 21 * DAY, step_s)
    values = np.where(at < SET_AT + 18 * DAY, humidity, 65.0)
    hatchery.log(at, values, 37.6)


def facts(hatchery: Any, batch: Any) -> dict[FactCode, Fact]:
    figures, curves = batch_view(hatchery.journal, batch.uid, NOW)
    return {fact.code: fact for fact in condition_facts(Kept.of(hatchery.journal, figures, curves))}


@pytest.mark.parametrize(
    ("humidity", "off"), [(50.04, 0.0), (50.6, 0.6), (45.0, 0.0), (39.97, 0.0), (38.5, -1.5)]
)
def test_a_mean_is_judged_as_it_is_shown(hatchery: Any, humidity: float, off: float) -> None:
    batch = hatchery.add_batch()
    logged(hatchery, humidity)
    value = facts(hatchery, batch)[FactCode.HUMIDITY_BEFORE_LOCKDOWN].value
    assert value == pytest.approx(off, abs=0.05)
    if not off:
        assert value == 0.0


def test_a_mean_that_one_stray_reading_makes_tells_nothing(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at = np.arange(SET_AT, SET_AT + 21 * DAY, DAY // 2)
    values = np.where(at < SET_AT + 18 * DAY, 45.0, 65.0)
    values[at == SET_AT + 19 * DAY] = 20.0
    hatchery.log(at, values, 37.6)
    found = facts(hatchery, batch)
    assert found[FactCode.HUMIDITY_IN_LOCKDOWN].value is None
    assert found[FactCode.HUMIDITY_BEFORE_LOCKDOWN].value == 0.0


def test_hardly_over_the_band_speaks_neither_for_a_cause_nor_against_it(hatchery: Any) -> None:
    table = load_causes()
    entry = next(one for one in table.causes if one.code is CauseCode.TOO_HUMID)
    (rule,) = [rule for rule in entry.rules if rule.fact is FactCode.HUMIDITY_BEFORE_LOCKDOWN]
    assert not any(step.holds(0.4) for step in (*rule.speaks_for, *rule.speaks_against))
    assert any(step.holds(1.2) for step in rule.speaks_for)
    (rule,) = [rule for rule in entry.rules if rule.fact is FactCode.WEIGHT_LOSS]
    assert not any(step.holds(-0.01) for step in (*rule.speaks_for, *rule.speaks_against))


def test_that_a_pen_does_as_badly_elsewhere_counts_only_where_it_does_badly() -> None:
    table = load_causes()
    entry = next(one for one in table.causes if one.code is CauseCode.STOCK)
    (rule,) = [rule for rule in entry.rules if rule.fact is FactCode.PEN_ELSEWHERE]
    assert rule.supports


def test_what_moved_a_drift_is_what_came_with_it(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at = np.arange(SET_AT, SET_AT + 21 * DAY, 600)
    day = (at - SET_AT) / DAY
    noise = 0.3 * np.random.default_rng(2).standard_normal(at.size)
    wet = 45.0 + 3.0 * ((day > 2) & (day < 2.5)) + 12.0 * (day > 6)
    hatchery.log(at, np.where(day < 18, wet, 65.0) + noise, 37.6)
    early = Event(SET_AT + 2 * DAY, EventKind.WATER, machine=hatchery.machine.uid, channels_filled=2)
    vent = Event(SET_AT + 6 * DAY, EventKind.VENT, machine=hatchery.machine.uid, vent=0.25)
    for event in (early, vent):
        hatchery.journal.events.add(event)
    figures, curves = batch_view(hatchery.journal, batch.uid, NOW)
    assert set(curves.effects) == {early.uid, vent.uid}
    phase = figures.phases[0]
    assert phase.humidity is not None
    moved = moved_by(curves, phase, phase.humidity.since_s, 1.0)
    assert [effect.event for effect in moved] == [vent.uid]
    assert moved_by(curves, phase, None, 1.0)[0].event == vent.uid
    assert moved_by(curves, phase, phase.humidity.since_s, -1.0) == ()
    records = facts(hatchery, batch)[FactCode.HUMIDITY_BEFORE_LOCKDOWN].records
    assert [record.at for record in records] == sorted(record.at for record in records)
    assert vent.uid in {record.uid for record in records}
