"""The water and vent guide of a machine, from its journal."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import Any

import pytest
from hatchbook.figures.guide import advised_setting, machine_guide, machine_guide_model
from hatchbook.figures.guide_results import GuideCell, MachineGuide, RoomAir, RoomAirFrom, WantedFrom
from hatchbook.journal import Machine, RecordMissingError
from hatchbook.statistics.moisture import relative_humidity
from hatchbook.trade.codes import EventKind, PhaseKind
from tests.figures.conftest import DAY, HOUR, SET_AT, Hatchery
from tests.figures.guide_machine import ROOM_C, GuideMachine

BETWEEN = 30 * DAY
NOW = SET_AT + 10 * DAY
TYPED = RoomAir(ROOM_C, float(relative_humidity(ROOM_C, 1.17)), RoomAirFrom.TYPED)
SETTINGS = (
    ((0.0, 2, 0.5), (7.0, 3, 0.75), (18.0, 4, 0.25)),
    ((0.0, 3, 0.5), (9.0, 2, 0.25), (18.0, 4, 0.25)),
    ((0.0, 2, 0.75), (10.0, 3, 0.5), (18.0, 4, 0.25)),
    ((0.0, 2, 0.5), (10.0, 1, 0.25), (18.0, 3, 0.25)),
)


def with_history(hatchery: Hatchery, *, room: bool = True) -> GuideMachine:
    """Four closed batches, one a month, with a probe in the room."""
    probe = hatchery.add_probe("room", None) if room else None
    machine = GuideMachine(hatchery, probe)
    for back, settings in zip(range(4, 0, -1), SETTINGS, strict=True):
        machine.batch(SET_AT - back * BETWEEN, settings, room_kpa=1.17 + 0.05 * (back % 3 - 1))
    return machine


def cell(guide: MachineGuide, channels: int, vent: float) -> GuideCell:
    return guide.cells[channels][guide.vents.index(vent)]


def test_each_setting_is_expected_to_give_what_it_gives(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    for channels, vent in itertools.product((1, 2, 3, 4), (0.25, 0.5, 0.75)):
        truth = machine.humidity(channels, vent, 1.17)
        found = cell(guide, channels, vent).humidity
        assert found.low <= truth <= found.high
        assert found.value == pytest.approx(truth, abs=2.0)


def test_hours_of_evidence_stand_with_the_setting_and_its_batches(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    tried = cell(guide, 2, 0.5)
    assert 0.7 * (7 + 10 + 10) * 24 < tried.hours <= (7 + 10 + 10) * 24
    assert tried.batches == ("26-05", "26-04", "26-01")
    assert (cell(guide, 4, 1.0).hours, cell(guide, 4, 1.0).batches) == (0, ())
    assert tried.humidity.half_width < cell(guide, 4, 1.0).humidity.half_width
    assert guide.enough
    assert guide.hours == pytest.approx(sum(one.hours for row in guide.cells for one in row))


def test_what_is_wanted_and_the_nearest_setting(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    batch = machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert guide.wanted is not None
    assert guide.advised is not None
    assert (guide.wanted.batch, guide.wanted.phase) == (batch.uid, PhaseKind.INCUBATION)
    others = [one.humidity.value for row in guide.cells for one in row]
    nearest = min(abs(value - guide.wanted.humidity) for value in others)
    off = abs(guide.advised.humidity.value - guide.wanted.humidity)
    assert guide.nearest_off == pytest.approx(off)
    assert off <= nearest + 2.5
    assert guide.setting == (2, 0.5)
    assert guide.setting_since == SET_AT
    assert guide.now_cell is cell(guide, 2, 0.5)


def test_fits_names_the_phases_whose_band_a_setting_meets(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    bands = {PhaseKind.INCUBATION: (40, 50), PhaseKind.LOCKDOWN: (60, 70)}
    for one in itertools.chain(*guide.cells):
        met = tuple(kind for kind, (low, high) in bands.items() if low <= one.humidity.value <= high)
        assert one.fits == met


def test_in_lockdown_the_vent_is_never_shut(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=18.5, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, SET_AT + 18 * DAY + 12 * HOUR, TYPED)
    assert guide.wanted is not None
    assert guide.advised is not None
    assert (guide.wanted.origin, guide.wanted.humidity) == (WantedFrom.LOCKDOWN, 65)
    assert guide.advised.vent > 0
    assert [one.allowed for one in guide.cells[4]] == [vent > 0 for vent in guide.vents]


def test_the_air_of_the_room_alone_is_told(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    model = machine_guide_model(hatchery.journal, machine.uid, NOW)
    typed = model.guide(RoomAir(20.0, 50.0, RoomAirFrom.TYPED))
    assert typed.room_only == pytest.approx(18.1, abs=0.1)
    assert typed.machine_c == pytest.approx(37.5, abs=0.05)
    damp = model.guide(RoomAir(25.0, 60.0, RoomAirFrom.TYPED))
    for dry_cell, damp_cell in zip(itertools.chain(*typed.cells), itertools.chain(*damp.cells), strict=True):
        assert damp_cell.humidity.value > dry_cell.humidity.value


def test_a_fresh_reading_of_the_room_is_taken_and_an_old_one_is_not(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    fresh = machine_guide(hatchery.journal, machine.uid, NOW)
    assert (fresh.room.origin, fresh.room.probe_name) == (RoomAirFrom.READING, "room")
    old = machine_guide(hatchery.journal, machine.uid, NOW + 3 * DAY)
    assert old.room.origin is RoomAirFrom.ASSUMED
    assert cell(old, 2, 0.5).humidity.half_width > cell(fresh, 2, 0.5).humidity.half_width


def test_without_any_room_probe_the_history_still_counts_but_ranges_are_wider(hatchery: Hatchery) -> None:
    machine = with_history(hatchery, room=False)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert guide.stretches > 4
    assert machine_guide(hatchery.journal, machine.uid, NOW).room.origin is RoomAirFrom.ASSUMED
    truth = machine.humidity(2, 0.5, 1.17)
    found = cell(guide, 2, 0.5).humidity
    assert found.low <= truth <= found.high
    assert found.half_width < 6


def test_a_machine_without_history_gives_a_wide_range(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    assert (guide.stretches, guide.hours, guide.enough) == (0, 0, False)
    assert (guide.setting, guide.now_cell, guide.wanted, guide.advised) == (None, None, None, None)
    assert guide.vents == (0.0, 0.25, 0.5, 0.75, 1.0)
    assert len(guide.cells) == 5
    middle = cell(guide, 2, 0.5).humidity
    assert 7 <= middle.half_width <= 15
    assert 35 <= middle.value <= 52


def test_a_machine_of_which_even_the_channels_are_unknown(hatchery: Hatchery) -> None:
    other = hatchery.add_machine("Bare one")
    assert len(machine_guide(hatchery.journal, other.uid, NOW).cells) == 4


def test_with_a_single_setting_ever_used_the_others_stay_wide(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    for back in (3, 2, 1):
        machine.batch(SET_AT - back * BETWEEN)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert cell(guide, 2, 0.5).humidity.half_width < 5
    assert cell(guide, 4, 0.25).humidity.half_width > 5


def test_more_channels_than_there_are_tell_nothing(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.batch(SET_AT, ((0.0, 2, 0.5), (5.0, 9, 0.5)), days=10.0, fills=(), close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert len(guide.cells) == 5
    assert guide.impossible_fillings == 1
    assert guide.setting is None
    assert guide.now_cell is None
    assert guide.hours <= 5 * 24


def test_unlogged_settings_tell_nothing(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.batch(SET_AT, days=10.0, close=False, log_settings=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert (guide.stretches, guide.setting) == (0, None)
    assert guide.advised is not None


def test_a_filling_of_an_earlier_batch_does_not_stand_for_this_one(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.event(SET_AT - 20 * DAY, EventKind.WATER, channels_filled=2)
    machine.event(SET_AT - 20 * DAY, EventKind.VENT, vent=0.5)
    machine.batch(SET_AT, days=10.0, close=False, log_settings=False)
    assert machine_guide(hatchery.journal, machine.uid, NOW, TYPED).stretches == 0


def test_the_vent_as_it_stands_has_a_column(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.batch(SET_AT, ((0.0, 2, 0.6),), days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert guide.vents == (0.0, 0.25, 0.5, 0.6, 0.75, 1.0)
    assert guide.now_cell is cell(guide, 2, 0.6)


def test_a_dry_and_a_damp_day_are_the_room_s_own(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    dry, damp = guide.weather
    assert (dry.code, damp.code) == ("dry", "damp")
    assert dry.room_only < guide.room_only < damp.room_only
    assert dry.humidity.value < damp.humidity.value
    assert {dry.room.origin, damp.room.origin} == {RoomAirFrom.READING}


def test_without_a_room_probe_dry_and_damp_days_are_assumed(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    assert [effect.room.origin for effect in guide.weather] == [RoomAirFrom.ASSUMED] * 2


def test_a_dry_run_is_checked_against_the_room(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.dry_run(SET_AT - 2 * HOUR, 1.17)
    machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    (run,) = guide.dry_runs
    assert run.at == SET_AT - 2 * HOUR
    assert run.expected == pytest.approx(18.1, abs=0.5)
    assert run.measured - run.expected == pytest.approx(0.3, abs=0.5)
    assert guide.cells[0][2].hours == 0


def test_a_dry_run_of_which_the_room_is_unknown_cannot_be_checked(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.dry_run(SET_AT - 20 * DAY, 1.17)
    machine.batch(days=10.0, close=False)
    assert machine_guide(hatchery.journal, machine.uid, NOW).dry_runs == ()


def test_a_dry_run_counts_before_any_batch(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.dry_run(SET_AT, 1.17)
    machine.log_room(SET_AT - DAY, SET_AT + 3 * HOUR, 1.17)
    guide = machine_guide(hatchery.journal, machine.uid, SET_AT + 2 * HOUR)
    (run,) = guide.dry_runs
    assert run.expected == pytest.approx(18.1, abs=0.5)
    assert (guide.stretches, guide.hours, guide.enough) == (0, 0, False)
    without = machine_guide(hatchery.journal, machine.uid, SET_AT - HOUR, guide.room)
    assert cell(guide, 0, 0.5).humidity.half_width < cell(without, 0, 0.5).humidity.half_width


def test_a_machine_that_does_not_exist(hatchery: Hatchery) -> None:
    with pytest.raises(RecordMissingError):
        machine_guide(hatchery.journal, "nowhere", NOW)


def test_the_advised_setting_of_a_batch_alone(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    batch = machine.batch(days=10.0, close=False)
    guide = machine_guide(hatchery.journal, machine.uid, NOW)
    assert advised_setting(hatchery.journal, batch.uid, NOW) == guide.advised


def test_a_batch_that_is_over_wants_nothing(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    batch = machine.batch(SET_AT - BETWEEN)
    assert advised_setting(hatchery.journal, batch.uid, NOW) is None


def test_two_batches_in_a_machine_can_each_be_asked_for(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery, hatchery.add_probe("room", None))
    machine.batch(days=10.0, close=False)
    later = hatchery.add_batch(
        SET_AT + 4 * DAY, phases={"humidity_low": 30.0, "humidity_aim": 33.0, "humidity_high": 36.0}
    )
    model = machine_guide_model(hatchery.journal, machine.uid, NOW)
    assert len(model.batches) == 2
    first, second = (model.guide(TYPED, batch) for batch in model.batches)
    assert first.wanted is not None
    assert second.wanted is not None
    assert {first.wanted.batch, second.wanted.batch} == set(model.batches)
    assert model.batches[0] == later.uid


def test_a_planned_batch_is_served_with_its_aim(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    batch = hatchery.add_batch(NOW + 5 * DAY)
    guide = machine_guide(hatchery.journal, machine.uid, NOW, TYPED)
    assert guide.wanted is not None
    assert (guide.wanted.batch, guide.wanted.origin, guide.wanted.humidity) == (batch.uid, WantedFrom.AIM, 45)


def test_progress_is_told_and_can_end_the_work(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    told: list[float] = []
    machine_guide_model(hatchery.journal, machine.uid, NOW, told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0

    class StoppedError(Exception):
        pass

    def stop(_share: float) -> None:
        raise StoppedError

    machine.event(NOW - HOUR, EventKind.LID)
    with pytest.raises(StoppedError):
        machine_guide_model(hatchery.journal, machine.uid, NOW, stop)


def test_a_model_is_kept_until_something_is_changed(hatchery: Hatchery) -> None:
    machine = GuideMachine(hatchery)
    machine.batch(days=10.0, close=False)
    journal = hatchery.journal
    first = machine_guide_model(journal, machine.uid, NOW)
    assert machine_guide_model(journal, machine.uid, NOW + 60) is first
    assert machine_guide_model(journal, machine.uid, NOW + HOUR) is not first
    machine.event(NOW, EventKind.VENT, vent=0.25)
    changed = machine_guide_model(journal, machine.uid, NOW + 60)
    assert changed.guide().setting == (2, 0.25)
    journal.undo()
    assert machine_guide_model(journal, machine.uid, NOW + 60).guide().setting == (2, 0.5)


def test_the_guide_reads_as_plain_values(hatchery: Hatchery, as_json: Callable[[Any], Any]) -> None:
    machine = with_history(hatchery)
    machine.batch(days=10.0, close=False)
    plain = as_json(machine_guide(hatchery.journal, machine.uid, NOW))
    assert plain["cells"][2][2]["channels"] == 2
    assert plain["wanted"]["phase"] == "incubation"


def test_another_machine_s_batches_tell_nothing_of_this_one(hatchery: Hatchery) -> None:
    machine = with_history(hatchery)
    other: Machine = hatchery.add_machine("Red one")
    assert machine_guide(hatchery.journal, other.uid, NOW).hours == 0
    assert machine.uid != other.uid
