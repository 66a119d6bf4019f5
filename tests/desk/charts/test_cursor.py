"""What is pointed at."""

from __future__ import annotations

import pytest
from hatchbook.desk.charts.cursor import ChartCursor
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.scale import DayScale
from hatchbook.figures.results import Curves

DAY = 86_400


@pytest.fixture
def cursor(sample: Curves) -> ChartCursor:
    material = BatchMaterial(sample)
    scale = DayScale()
    scale.lay(40, 840)
    scale.bound(material.set_at, material.first_day, material.last_day)
    scale.show_all()
    cursor = ChartCursor(scale)
    cursor.take(material)
    return cursor


def test_it_snaps_to_the_nearest_reading(cursor: ChartCursor, sample: Curves) -> None:
    cursor.point_at(sample.start_at + 5 * DAY + 70)
    assert cursor.index is not None
    assert cursor.at == sample.at[cursor.index]


def test_in_a_gap_and_in_the_future_there_is_no_reading(cursor: ChartCursor, sample: Curves) -> None:
    for day in (2.85, 15.0):
        cursor.point_at(sample.start_at + round(day * DAY))
        assert cursor.index is None
        assert cursor.at == sample.start_at + round(day * DAY)


def test_the_first_key_begins_at_the_last_reading_in_view(cursor: ChartCursor, sample: Curves) -> None:
    cursor.step(-1)
    assert cursor.index == sample.at.size - 1
    cursor.step(-1)
    assert cursor.index == sample.at.size - 2


def test_steps_end_at_the_ends(cursor: ChartCursor, sample: Curves) -> None:
    cursor.go_to_reading(0)
    cursor.step(-1)
    assert cursor.index == 0
    cursor.go_to_last()
    cursor.step(1)
    assert cursor.index == sample.at.size - 1


def test_a_day_is_24_hours(cursor: ChartCursor, sample: Curves) -> None:
    cursor.go_to_reading(0)
    cursor.step_day(1)
    assert cursor.at == sample.start_at + DAY


def test_stepping_out_of_a_gap_reaches_the_reading_beside_it(cursor: ChartCursor, sample: Curves) -> None:
    cursor.point_at(sample.start_at + round(2.85 * DAY))
    cursor.step(1)
    assert cursor.at is not None
    assert cursor.at >= sample.start_at + round(3.07 * DAY)
    cursor.step(-1)
    assert cursor.at <= sample.start_at + round(2.63 * DAY)


def test_events_follow_each_other_both_ways(cursor: ChartCursor) -> None:
    cursor.next_event(1)
    first = cursor.of_event
    cursor.next_event(1)
    assert cursor.of_event is not None
    assert first is not None
    assert cursor.of_event.at > first.at
    cursor.next_event(-1)
    assert cursor.of_event == first
    cursor.next_event(-1)
    assert cursor.of_event == first


def test_the_next_event_is_the_one_after_the_reading(cursor: ChartCursor, sample: Curves) -> None:
    cursor.point_at(sample.start_at + round(6.0 * DAY))
    cursor.next_event(1)
    assert cursor.of_event is not None
    assert cursor.of_event.uid == "power0"


def test_it_stays_where_it_is_when_the_batch_has_new_readings(cursor: ChartCursor, sample: Curves) -> None:
    cursor.point_at(sample.start_at + 5 * DAY)
    at = cursor.at
    cursor.take(BatchMaterial(sample), same_batch=True)
    assert cursor.at == at
    cursor.take(BatchMaterial(sample))
    assert cursor.at is None


def test_without_readings_keys_do_nothing(cursor: ChartCursor) -> None:
    cursor.take(None)
    cursor.step(1)
    cursor.step_day(1)
    cursor.go_to_last()
    cursor.next_event(1)
    assert cursor.at is None
