"""Wall times and instants, above all where the clocks change."""

# ruff: noqa: DTZ001  # wall times have no zone of their own
from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hatchbook.trade.instants import (
    SkippedHour,
    UnknownZoneError,
    YearOutOfRangeError,
    day_number,
    from_local,
    from_local_shifted,
    is_repeated,
    season_of,
    to_local,
    zone_named,
)
from hypothesis import given
from hypothesis import strategies as st

LISBON = ZoneInfo("Europe/Lisbon")
NEW_YORK = ZoneInfo("America/New_York")
APIA = ZoneInfo("Pacific/Apia")

#: Changes of clocks in 2026: EU Directive 2000/84/EC (last Sundays of March and October, 01:00 UTC);
#: 15 U.S.C. 260a (second Sunday of March, first Sunday of November, 02:00 local time).
SKIPPED = [(datetime(2026, 3, 29, 1, 30), LISBON), (datetime(2026, 3, 8, 2, 30), NEW_YORK)]
REPEATED = [(datetime(2026, 10, 25, 1, 30), LISBON), (datetime(2026, 11, 1, 1, 30), NEW_YORK)]


def utc(*parts: int) -> int:
    return int(datetime(*parts, tzinfo=UTC).timestamp())  # type: ignore[misc,arg-type]


@pytest.mark.parametrize(
    ("wall", "zone", "at_s"),
    [
        (datetime(2026, 1, 15, 9, 0), LISBON, utc(2026, 1, 15, 9)),
        (datetime(2026, 7, 15, 9, 0), LISBON, utc(2026, 7, 15, 8)),
        (datetime(2026, 1, 15, 9, 0), NEW_YORK, utc(2026, 1, 15, 14)),
        (datetime(2026, 7, 15, 9, 0), NEW_YORK, utc(2026, 7, 15, 13)),
        # the last second before and the first after a change
        (datetime(2026, 3, 29, 0, 59, 59), LISBON, utc(2026, 3, 29, 0, 59, 59)),
        (datetime(2026, 3, 29, 2, 0), LISBON, utc(2026, 3, 29, 1)),
        (datetime(2026, 3, 8, 1, 59, 59), NEW_YORK, utc(2026, 3, 8, 6, 59, 59)),
        (datetime(2026, 3, 8, 3, 0), NEW_YORK, utc(2026, 3, 8, 7)),
    ],
)
def test_a_wall_time_and_its_instant(wall: datetime, zone: ZoneInfo, at_s: int) -> None:
    assert from_local(wall, zone) == at_s
    assert to_local(at_s, zone).replace(tzinfo=None) == wall
    assert from_local(wall, zone, fold=1) == at_s
    assert not is_repeated(wall, zone)


@pytest.mark.parametrize(("wall", "zone"), SKIPPED)
def test_a_skipped_hour_is_refused_with_both_readings(wall: datetime, zone: ZoneInfo) -> None:
    for fold in (0, 1):
        with pytest.raises(SkippedHour) as caught:
            from_local(wall, zone, fold)
        error = caught.value
        assert to_local(error.earlier, zone).replace(tzinfo=None) == wall - timedelta(hours=1)
        assert to_local(error.later, zone).replace(tzinfo=None) == wall + timedelta(hours=1)
        assert (error.wall, error.zone) == (wall, zone)
    assert str(error) == (
        f"There was no {wall:%H:%M} on {wall:%Y-%m-%d} in {zone.key}: the clocks were put forward over it."
    )
    assert not is_repeated(wall, zone)
    assert to_local(from_local_shifted(wall, zone), zone).replace(tzinfo=None) == wall + timedelta(hours=1)


@pytest.mark.parametrize(("wall", "zone"), REPEATED)
def test_a_repeated_hour_is_told_apart_by_its_fold(wall: datetime, zone: ZoneInfo) -> None:
    first, second = from_local(wall, zone, 0), from_local(wall, zone, 1)
    assert second - first == 3600
    assert is_repeated(wall, zone)
    assert [to_local(at_s, zone).fold for at_s in (first, second)] == [0, 1]
    assert to_local(first, zone).utcoffset() != to_local(second, zone).utcoffset()
    assert from_local_shifted(wall, zone) == first


def test_a_date_that_a_zone_skipped_is_moved_to_the_next() -> None:
    """Samoa had no 30 December 2011 (IANA time zone database, file australasia)."""
    wall = datetime(2011, 12, 30, 7, 30)
    with pytest.raises(SkippedHour):
        from_local(wall, APIA)
    assert to_local(from_local_shifted(wall, APIA), APIA).date() == date(2011, 12, 31)


@given(
    st.integers(utc(1905, 1, 1), utc(2200, 1, 1)),
    st.sampled_from(["Europe/Lisbon", "America/New_York", "Pacific/Apia", "Australia/Lord_Howe", "UTC"]),
)
def test_an_instant_comes_back_from_its_wall_time(at_s: int, name: str) -> None:
    zone = zone_named(name)
    local = to_local(at_s, zone)
    assert from_local(local.replace(tzinfo=None), zone, local.fold) == at_s


def test_parts_of_a_second_are_dropped() -> None:
    assert from_local(datetime(2026, 5, 1, 9, 0, 0, 999_999), LISBON) == utc(2026, 5, 1, 8)


def test_a_wall_time_with_a_zone_of_its_own_is_refused() -> None:
    with pytest.raises(ValueError, match="no zone of its own"):
        from_local(datetime(2026, 5, 1, tzinfo=UTC), LISBON)
    with pytest.raises(ValueError, match="fold is 0 or 1"):
        from_local(datetime(2026, 5, 1), LISBON, 2)


@pytest.mark.parametrize("at_s", [-(10**18), 10**18, utc(1, 6, 1), utc(9999, 1, 1)])
def test_an_instant_out_of_the_calendar_is_refused(at_s: int) -> None:
    with pytest.raises(YearOutOfRangeError, match="outside the years"):
        to_local(at_s, LISBON)


@pytest.mark.parametrize("year", [1, 9999])
def test_a_wall_time_at_the_edge_of_the_calendar_is_refused(year: int) -> None:
    with pytest.raises(YearOutOfRangeError):
        from_local(datetime(year, 6, 1), NEW_YORK)


@pytest.mark.parametrize(
    "name", ["", "Europe", "Nowhere/Here", "../Lisbon", "/etc/localtime", "a\0b", "x" * 300]
)
def test_a_zone_that_is_not_there_is_named(name: str) -> None:
    with pytest.raises(UnknownZoneError) as caught:
        zone_named(name)
    assert caught.value.name == name
    assert str(caught.value).startswith("There is no time zone")


def test_a_zone_is_found_by_its_name() -> None:
    assert zone_named("Europe/Lisbon").key == "Europe/Lisbon"


def test_day_1_and_a_half_is_36_hours_after_setting() -> None:
    """The example of the definition: at set + 36 h it is day 1.5."""
    assert day_number(1_000_000 + 36 * 3600, 1_000_000) == 1.5
    assert day_number(0, 86_400) == -1.0


@pytest.mark.parametrize(("wall", "zone"), SKIPPED + REPEATED)
def test_days_do_not_stretch_with_the_clocks(wall: datetime, zone: ZoneInfo) -> None:
    noon_before = from_local(wall.replace(hour=12, minute=0) - timedelta(days=1), zone)
    noon_after = from_local(wall.replace(hour=12, minute=0), zone)
    hours = 23 if (wall, zone) in SKIPPED else 25
    assert day_number(noon_after, noon_before) == hours / 24


@pytest.mark.parametrize(
    ("on", "first_month", "season"),
    [
        (date(2026, 1, 1), 1, 2026),
        (date(2026, 12, 31), 1, 2026),
        (date(2026, 9, 30), 10, 2025),
        (date(2026, 10, 1), 10, 2026),
        (date(2026, 1, 31), 2, 2025),
        (date(2026, 12, 1), 12, 2026),
    ],
)
def test_a_season_has_the_year_in_which_it_began(on: date, first_month: int, season: int) -> None:
    assert season_of(on, first_month) == season


@pytest.mark.parametrize("month", [0, 13, -1])
def test_a_season_begins_in_a_month(month: int) -> None:
    with pytest.raises(ValueError, match="from 1 to 12"):
        season_of(date(2026, 1, 1), month)
