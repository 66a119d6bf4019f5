"""How much water a day evaporates, and when the channels fall dry."""

from __future__ import annotations

import pytest
from hatchbook.figures.guide import machine_guide, machine_guide_model
from hatchbook.journal import Channel
from hatchbook.trade.codes import EventKind
from tests.figures.conftest import DAY, SET_AT, Hatchery
from tests.figures.guide_machine import GuideMachine

NOW = SET_AT + 10 * DAY


def test_the_next_fill_follows_from_volume_and_evaporation(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    fill, water = guide.next_fill, guide.water_ml_a_day
    assert fill is not None
    assert fill.days is not None
    assert water is not None
    assert fill.origin == "model"
    assert fill.filled_at == SET_AT + 8 * DAY
    assert fill.days.value == pytest.approx(2 * 240 / water.value)
    assert fill.at == fill.filled_at + round(fill.days.value * DAY)
    assert fill.days.low < fill.days.value < fill.days.high


def test_amounts_that_were_filled_up_narrow_it(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(days=10.0, close=False, fills=())
    before = machine_guide(hatchery.journal, machine.uid, NOW).water_ml_a_day
    for day in (2, 4, 6, 8):
        machine.event(SET_AT + day * DAY, EventKind.WATER, channels_filled=2, water_ml=180.0)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    after, fill = guide.water_ml_a_day, guide.next_fill
    assert before is not None
    assert after is not None
    assert fill is not None
    assert after.value == pytest.approx(90, rel=0.25)
    assert after.high / after.low < before.high / before.low
    assert fill.origin == "dried"


def test_channels_that_fell_dry_tell_what_they_hold(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(SET_AT - 30 * DAY, ((0.0, 2, 0.5),), days=12.0, fills=(), dry_from_day=3.0)
    machine.batch(days=10.0, close=False)
    model = machine_guide_model(hatchery.journal, machine.uid, NOW)
    (dry,) = model.history.fallen_dry
    assert dry.channels == 2
    assert dry.days == pytest.approx(3.0, abs=0.3)
    fill = model.guide().next_fill
    assert fill is not None
    assert fill.days is not None
    assert fill.origin == "dried"
    assert fill.days.value == pytest.approx(3.0, abs=0.5)
    assert fill.days.low < 3.0 < fill.days.high


def test_the_time_after_they_fell_dry_is_no_evidence(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(SET_AT - 30 * DAY, ((0.0, 2, 0.5),), days=12.0, fills=(), dry_from_day=3.0)
    assert machine_guide(hatchery.journal, machine.uid, NOW).hours < 3 * 24


def test_without_a_known_volume_it_is_unknown(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    for channel in hatchery.journal.machines.channels(machine.uid):
        hatchery.journal.machines.replace_channel(
            Channel(channel.machine, channel.position, "", None, None, channel.uid)
        )
    machine.batch(days=10.0, close=False)
    fill = machine_guide(hatchery.journal, machine.uid, NOW).next_fill
    assert fill is not None
    assert (fill.origin, fill.at, fill.days) == ("unknown", None, None)


def test_without_water_there_is_nothing_to_fill(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(settings=((0.0, 0, 0.5),), days=10.0, fills=(), close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    assert guide.now_cell is not None
    assert (guide.next_fill, guide.water_ml_a_day) == (None, None)
