"""What the probes in the room say, hour by hour and last."""

from __future__ import annotations

import numpy as np
from hatchbook.figures.room import room_air, room_series
from tests.figures.conftest import DAY, HOUR, SET_AT, Hatchery


def test_without_a_probe_in_the_room_nothing_is_known_of_its_air(hatchery: Hatchery) -> None:
    hatchery.log([SET_AT], [45.0], [37.5])
    assert room_air(hatchery.journal, SET_AT + HOUR) is None
    series = room_series(hatchery.journal, SET_AT, SET_AT + 3 * HOUR)
    assert np.isnan(series.humidity).all()
    assert np.isnan(series.temperature_c).all()


def test_the_latest_reading_in_the_room_until_the_instant_counts(hatchery: Hatchery) -> None:
    room = hatchery.add_probe("Wall", None)
    hatchery.log(
        [SET_AT, SET_AT + HOUR, SET_AT + 2 * HOUR], [50.0, 52.0, 54.0], [20.0, 20.5, 21.0], probe=room
    )
    air = room_air(hatchery.journal, SET_AT + HOUR)
    assert air is not None
    assert (air.at, air.temperature_c, air.humidity, air.probe_name) == (SET_AT + HOUR, 20.5, 52.0, "Wall")


def test_a_reading_with_both_values_goes_before_a_newer_one_with_one(hatchery: Hatchery) -> None:
    both, thermometer = hatchery.add_probe("Both", None), hatchery.add_probe("Thermometer", None)
    hatchery.log([SET_AT], [50.0], [20.0], probe=both, name="both.csv")
    hatchery.log([SET_AT + HOUR], temperature_c=[21.0], humidity=[np.nan], probe=thermometer, name="t.csv")
    air = room_air(hatchery.journal, SET_AT + DAY)
    assert air is not None
    assert air.probe_name == "Both"


def test_readings_taken_elsewhere_are_not_the_room(hatchery: Hatchery) -> None:
    room = hatchery.add_probe("Wanders", None)
    hatchery.journal.probes.move(room, machine=hatchery.machine.uid, at=SET_AT + HOUR)
    hatchery.log([SET_AT, SET_AT + 2 * HOUR], [50.0, 45.0], [20.0, 37.5], probe=room)
    air = room_air(hatchery.journal, SET_AT + DAY)
    assert air is not None
    assert air.at == SET_AT
    series = room_series(hatchery.journal, SET_AT, SET_AT + 4 * HOUR)
    assert series.humidity[0] == 50.0
    assert np.isnan(series.humidity[2:]).all()


def test_hourly_means_follow_the_line_through_the_readings(hatchery: Hatchery) -> None:
    room = hatchery.add_probe("Wall", None)
    hatchery.log(SET_AT + np.array([0, 1, 2]) * HOUR, [50.0, 52.0, 56.0], [20.0, 21.0, 22.0], probe=room)
    series = room_series(hatchery.journal, SET_AT - 5, SET_AT + 2 * HOUR + 5)
    assert series.at.tolist() == [SET_AT, SET_AT + HOUR]
    assert series.humidity.tolist() == [51.0, 54.0]
    assert series.temperature_c.tolist() == [20.5, 21.5]


def test_several_probes_in_the_room_count_together_where_they_know_the_hour(hatchery: Hatchery) -> None:
    first, second = hatchery.add_probe("First", None), hatchery.add_probe("Second", None)
    hatchery.log(
        SET_AT + np.arange(5) * HOUR, np.full(5, 50.0), np.full(5, 20.0), probe=first, name="one.csv"
    )
    hatchery.log(
        SET_AT + np.arange(3) * HOUR, np.full(3, 54.0), np.full(3, 22.0), probe=second, name="two.csv"
    )
    series = room_series(hatchery.journal, SET_AT, SET_AT + 4 * HOUR)
    assert series.humidity.tolist() == [52.0, 52.0, 52.0, 50.0]
    assert len(series) == 4


def test_a_stretch_shorter_than_an_hour_has_no_hours(hatchery: Hatchery) -> None:
    assert len(room_series(hatchery.journal, SET_AT + 5, SET_AT + HOUR)) == 0
