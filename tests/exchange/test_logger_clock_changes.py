"""The hour that autumn repeats and the hour that spring skips, in logger files with local times."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hatchbook.exchange.logger_file import (
    LayoutField,
    LayoutHints,
    RejectReason,
    RepeatedHour,
    TimeMeaning,
)

from .conftest import ReadText


def walk(zone: str, start: str, step_min: int, count: int) -> tuple[list[int], list[str]]:
    """Instants at even steps, and how a clock in the zone shows them."""
    first = int(datetime.fromisoformat(start).timestamp())
    instants = [first + 60 * step_min * step for step in range(count)]
    return instants, [f"{datetime.fromtimestamp(at, ZoneInfo(zone)):%Y-%m-%d %H:%M:%S}" for at in instants]


def as_file(shown: list[str]) -> str:
    rows = (f"{when},{37 + place % 7 / 10:.1f},{50 + place % 9}" for place, when in enumerate(shown))
    return "time,temp,hum\n" + "\n".join(rows) + "\n"


ZONES = ("Europe/Lisbon", "America/New_York", "Australia/Lord_Howe", "America/Santiago")


@pytest.mark.parametrize(
    ("zone", "step_min"),
    [
        (zone, step)
        for zone in ZONES
        for step in (1, 7, 10, 30, 60)
        # There the clocks change by half an hour: an hourly logger shows no time twice.
        if (zone, step) != ("Australia/Lord_Howe", 60)
    ],
)
def test_a_year_of_local_time_comes_back_as_the_instants_it_was_written_from(
    read_text: ReadText, zone: str, step_min: int
) -> None:
    changes = [
        start
        for day in range(365)
        if datetime.fromtimestamp(start := 1_767_225_600 + day * 86_400, ZoneInfo(zone)).utcoffset()
        != datetime.fromtimestamp(start + 86_400, ZoneInfo(zone)).utcoffset()
    ]
    assert len(changes) == 2
    for change in changes:
        count = 3 * 1440 // step_min
        start = datetime.fromtimestamp(change - 86_400, ZoneInfo("UTC")).isoformat()
        instants, shown = walk(zone, start, step_min, count)
        table = read_text(as_file(shown), zone=zone)
        assert table.at.tolist() == instants
        assert table.rejected == ()


def test_the_repeated_hour_is_read_from_a_file_written_newest_first(read_text: ReadText) -> None:
    instants, shown = walk("Europe/Lisbon", "2026-10-24T22:00:00+00:00", 10, 60)
    table = read_text(as_file(shown[::-1]), zone="Europe/Lisbon")
    assert table.newest_first
    assert table.at.tolist() == instants


def test_bad_lines_within_the_repeated_hour_do_not_confuse_it(read_text: ReadText) -> None:
    instants, shown = walk("Europe/Lisbon", "2026-10-24T22:00:00+00:00", 10, 60)
    lines = as_file(shown).splitlines()
    bad = [index for index, when in enumerate(shown) if when.startswith("2026-10-25 01:3")]
    for index in bad:
        lines[index + 1] = f"{shown[index]},--,--"
    table = read_text("\n".join(lines) + "\n", zone="Europe/Lisbon")
    assert len(bad) == 2
    assert table.at.tolist() == [at for index, at in enumerate(instants) if index not in bad]


def test_times_the_clock_skipped_are_rejected_and_the_clock_is_asked(read_text: ReadText) -> None:
    start = datetime(2026, 3, 28, 23)  # noqa: DTZ001 - a clock that nobody changes
    shown = [f"{start + timedelta(minutes=30 * step):%Y-%m-%d %H:%M:%S}" for step in range(12)]
    table = read_text(as_file(shown), zone="Europe/Lisbon")
    assert [line.text[:16] for line in table.rejected] == ["2026-03-29 01:00", "2026-03-29 01:30"]
    assert {line.reason for line in table.rejected} == {RejectReason.SKIPPED_HOUR}
    assert LayoutField.TIME_MEANING in table.undecided
    winter_time = LayoutHints(time_meaning=TimeMeaning.FIXED_OFFSET, offset_minutes=0)
    assert read_text(as_file(shown), zone="Europe/Lisbon", hints=winter_time).rejected == ()


def one_pass() -> list[str]:
    """A clock that runs through 01:00 to 02:00 once only, though its zone repeats the hour."""
    start = datetime(2026, 10, 24, 23)  # noqa: DTZ001 - as above
    return [f"{start + timedelta(minutes=20 * step):%Y-%m-%d %H:%M:%S}" for step in range(12)]


def test_a_single_pass_that_joins_both_ways_is_asked(read_text: ReadText) -> None:
    table = read_text(as_file(one_pass()), zone="Europe/Lisbon")
    assert LayoutField.REPEATED_HOUR in table.undecided
    second = read_text(
        as_file(one_pass()), zone="Europe/Lisbon", hints=LayoutHints(repeated_hour=RepeatedHour.SECOND)
    )
    repeated = [index for index, when in enumerate(one_pass()) if when.startswith("2026-10-25 01")]
    assert len(repeated) == 3
    shifts = {int(second.at[index] - table.at[index]) for index in repeated}
    assert shifts == {3600}
    assert LayoutField.REPEATED_HOUR not in second.undecided


@pytest.mark.parametrize(("kept", "shift"), [(slice(0, 9), 0), (slice(6, 12), 3600)])
def test_a_single_pass_is_read_by_the_side_on_which_it_joins(
    read_text: ReadText, kept: slice, shift: int
) -> None:
    shown = one_pass()[kept]
    table = read_text(as_file(shown), zone="Europe/Lisbon")
    summer = ZoneInfo("Europe/Lisbon")
    for when, at in zip(shown, table.at.tolist(), strict=True):
        if when.startswith("2026-10-25 01"):
            first_pass = datetime.fromisoformat(when).replace(tzinfo=summer).timestamp()
            assert at - first_pass == shift
    assert LayoutField.REPEATED_HOUR not in table.undecided
