"""What water and vent did to the humidity of a batch."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_curves
from hatchbook.figures.effects import EventEffect, event_effects
from hatchbook.journal import Duty, Event
from hatchbook.trade.codes import DutyKind, EventKind

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600


def logged(hatchery: Any, day: float, kind: EventKind, **fields: Any) -> Event:
    event = Event(SET_AT + round(day * DAY), kind, machine=hatchery.machine.uid, **fields)
    hatchery.journal.events.add(event)
    return event


def readings(hatchery: Any, steps: list[tuple[float, float]], days: float = 21.0) -> None:
    """Humidity that goes up by a step on each day given, within half an hour or so."""
    at = np.arange(SET_AT, SET_AT + int(days * DAY), 600)
    values = 42.0 + 0.5 * np.random.default_rng(1).standard_normal(at.size)
    for day, step in steps:
        since = np.maximum(at - SET_AT - day * DAY, 0) / HOUR
        values = values + step * (1 - np.exp(-since / 0.4)) * (since > 0)
    hatchery.log(at, values, 37.5)


def effects(hatchery: Any, batch: Any, days: float = 21.0) -> dict[str, EventEffect]:
    return event_effects(batch_curves(hatchery.journal, batch.uid, SET_AT + int(days * DAY)))


def test_a_vent_that_was_closed_further_made_it_moister(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    vent = logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    readings(hatchery, [(5.0, 6.0)])
    found = effects(hatchery, batch)
    assert set(found) == {vent.uid}
    effect = found[vent.uid]
    assert effect.change == pytest.approx(6.0, abs=0.5)
    assert effect.low < 6.0 < effect.high
    assert effect.told_from_chance
    assert effect.settled_h == 2.0


def test_what_changed_nothing_is_not_told_from_chance(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    water = logged(hatchery, 5.0, EventKind.WATER, channels_filled=2)
    readings(hatchery, [])
    assert not effects(hatchery, batch)[water.uid].told_from_chance


def test_two_things_done_together_have_no_effect_of_their_own(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    logged(hatchery, 5.01, EventKind.WATER, channels_filled=3)
    readings(hatchery, [(5.0, 6.0)])
    assert effects(hatchery, batch) == {}


def test_a_candling_in_between_spoils_it_and_a_turning_does_not(hatchery: Any) -> None:
    candled = SET_AT + 5 * DAY + HOUR
    duty = Duty(DutyKind.CANDLE, candled, done_at=candled)
    batch = hatchery.add_batch(duties=[duty])
    logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    untouched = logged(hatchery, 9.0, EventKind.VENT, vent=0.5)
    logged(hatchery, 9.05, EventKind.TURNED)
    readings(hatchery, [(5.0, 6.0), (9.0, -5.0)])
    assert set(effects(hatchery, batch)) == {untouched.uid}


def test_the_move_to_lockdown_in_the_same_machine_is_told(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    water = logged(hatchery, 18.0, EventKind.WATER, channels_filled=4)
    readings(hatchery, [(18.0, 18.0)])
    assert effects(hatchery, batch)[water.uid].change == pytest.approx(18.0, abs=0.6)


def test_without_readings_there_is_nothing_to_tell(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    assert effects(hatchery, batch) == {}


def test_the_effects_read_as_json(hatchery: Any, as_json: Callable[[Any], Any]) -> None:
    batch = hatchery.add_batch()
    vent = logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    readings(hatchery, [(5.0, 6.0)])
    plain = as_json(effects(hatchery, batch)[vent.uid])
    assert plain["change"] == pytest.approx(6.0, abs=0.5)


def test_the_curves_tell_effects_and_cuts_once(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    vent = logged(hatchery, 5.0, EventKind.VENT, vent=0.25)
    readings(hatchery, [(5.0, 6.0)])
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT + 21 * DAY)
    assert set(curves.effects) == {vent.uid}
    assert curves.effects is curves.effects
    assert curves.cuts is curves.cuts
