"""Days of 24 hours under the dates and the clock of the home zone."""

from __future__ import annotations

import itertools
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.charts.date_axis import midnights
from hatchbook.desk.charts.day_axis import DayAxis, round_hours
from hatchbook.desk.charts.scale import DayScale
from PySide6.QtWidgets import QApplication

LISBON = ZoneInfo("Europe/Lisbon")


def at(*parts: int) -> int:
    return int(datetime(*parts, tzinfo=LISBON).timestamp())  # type: ignore[misc, arg-type]


def walls(instants: list[int]) -> list[str]:
    return [datetime.fromtimestamp(instant, LISBON).strftime("%d %H:%M") for instant in instants]


def test_round_hours_follow_the_clock_into_summer_time() -> None:
    # On 29 March 2026 the clocks in Lisbon go from 01:00 to 02:00.
    found = list(round_hours(at(2026, 3, 28, 18), at(2026, 3, 29, 12), 6, LISBON))
    assert walls(found) == ["28 18:00", "29 00:00", "29 06:00", "29 12:00"]
    assert [later - earlier for earlier, later in itertools.pairwise(found)] == [
        21600,
        18000,
        21600,
    ]


def test_an_hour_that_the_clock_skips_has_no_place() -> None:
    found = list(round_hours(at(2026, 3, 29, 0), at(2026, 3, 29, 4), 1, LISBON))
    assert walls(found) == ["29 00:00", "29 02:00", "29 03:00", "29 04:00"]


def test_an_hour_that_comes_twice_is_written_once() -> None:
    # On 25 October 2026 the clocks go from 02:00 back to 01:00.
    found = list(round_hours(at(2026, 10, 25, 0), at(2026, 10, 25, 4), 1, LISBON))
    assert walls(found) == ["25 00:00", "25 01:00", "25 02:00", "25 03:00", "25 04:00"]
    assert found == sorted(set(found))


def test_midnights_are_those_of_the_zone() -> None:
    found = list(midnights(at(2026, 3, 27, 12), at(2026, 3, 31, 12), 1, LISBON))
    assert walls(found) == ["28 00:00", "29 00:00", "30 00:00", "31 00:00"]


@pytest.mark.parametrize(
    ("hour", "expected"),
    [
        (9, ["27 Mar", "28 Mar", "29 Mar", "30 Mar"]),
        # Set at 23:30, day 2 begins at half past midnight of summer time: 29 March never carries a number.
        (23, ["27 Mar", "28 Mar", "30 Mar", "31 Mar"]),
    ],
)
def test_the_date_under_a_day_is_that_of_its_beginning(
    qapp: QApplication, hour: int, expected: list[str]
) -> None:
    scale = DayScale()
    scale.bound(at(2026, 3, 27, hour, 30), 0.0, 21.0)
    axis = DayAxis(scale, LISBON)
    assert [axis._text(day)[1] for day in range(4)] == expected
