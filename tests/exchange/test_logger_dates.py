"""Dates and times of logger files: forms, the order of day and month, clocks of 12 and 24 hours, offsets."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hatchbook.exchange.logger_file import (
    Basis,
    DateForm,
    DateOrder,
    HourClock,
    LayoutField,
    LayoutHints,
    RejectReason,
    TimeMeaning,
)

from .conftest import ReadText

NINE = 1_777_798_800  # 2026-05-03 09:00:00 UTC (date -u)


def seconds(*parts: int) -> int:
    return int(datetime(*parts, tzinfo=UTC).timestamp())  # type: ignore[misc,arg-type]


@pytest.mark.parametrize(
    "when",
    [
        "2026-05-03 09:00",
        "2026-05-03 09:00:00",
        "2026-05-03T09:00:00",
        "2026-05-03T09:00:00.123",
        "2026-05-03 09:00:00,999",
        "2026-05-03T09:00:00Z",
        "2026-05-03T09:00:00.5Z",
        "2026-05-03T11:00:00+02:00",
        "2026-05-03 11:00:00+0200",
        "2026-05-03 11:00 +02",
        "2026-05-03T04:15:00-04:45",
        "2026-05-03 09:00 UTC",
        "2026/05/03 09:00",
        "2026.05.03 09:00",
        "2026-5-3 9:0",
        "2026-5-3 9:0:0",
        "20260503 090000",
        "20260503T090000Z",
        "20260503090000",
        "202605030900",
        "2026-05-03_09:00:00",
        "3 May 2026 09:00",
        "3-May-26 9:00",
        "03-MAY-2026 9:00 AM",
        "May 3, 2026 9:00:00 am",
        "2026-May-03 09:00",
        "3. Mai 2026 09:00",
        "Sunday, 3 May 2026 09:00",
        "So 3. Mai 2026 09:00",
        "9:00 a.m. 3 May 2026",
        " 2026-05-03  09:00 ",
        "1777798800",
        "1777798800.9",
        "1777798800123",
    ],
)
def test_a_date_that_can_be_read_in_one_way_is_read(read_text: ReadText, when: str) -> None:
    table = read_text(f"time;temp;hum\n{when};37.6;52.1\n")
    assert table.at.tolist() == [NINE]
    assert not table.undecided


def test_a_spreadsheets_days_are_read_and_asked_about(read_text: ReadText) -> None:
    # 2026-05-03 is 46145 days after 1899-12-30; 0.375 days are nine hours.
    table = read_text("time;temp\n46145,375;37,6\n46145,3819444444;37,6\n")
    assert table.layout.date_form is DateForm.SPREADSHEET_DAYS
    assert table.at.tolist() == [NINE, NINE + 600]
    assert LayoutField.DATE_FORM in table.undecided


def test_date_and_time_may_stand_in_two_columns(read_text: ReadText) -> None:
    table = read_text("37.6,09:00:00,52,03/05/2026\n37.6,09:10:00,52,13/05/2026\n")
    assert table.at.tolist() == [seconds(2026, 5, 3, 9), seconds(2026, 5, 13, 9, 10)]


def test_a_time_column_may_do_without_colons(read_text: ReadText) -> None:
    table = read_text("date;time;temp\n20260503;0900;37.6\n20260503;0910;37.6\n")
    assert table.at.tolist() == [NINE, NINE + 600]


@pytest.mark.parametrize(
    ("first", "second", "order", "day_of_first"),
    [
        ("12/05/2026", "13/05/2026", DateOrder.DAY_MONTH_YEAR, (2026, 5, 12)),
        ("05/12/2026", "05/13/2026", DateOrder.MONTH_DAY_YEAR, (2026, 5, 12)),
        ("12.05.26", "13.05.26", DateOrder.DAY_MONTH_YEAR, (2026, 5, 12)),
        ("5-12-26", "5-13-26", DateOrder.MONTH_DAY_YEAR, (2026, 5, 12)),
        ("31-12-30", "31-12-31", DateOrder.YEAR_MONTH_DAY, (2031, 12, 30)),
        ("26/05/31", "26/06/01", DateOrder.YEAR_MONTH_DAY, (2026, 5, 31)),
    ],
)
def test_the_order_is_decided_by_a_day_that_no_other_order_has(
    read_text: ReadText, first: str, second: str, order: DateOrder, day_of_first: tuple[int, int, int]
) -> None:
    table = read_text(f"time;temp\n{first} 09:00;37.6\n{second} 09:00;37.6\n")
    assert table.at[0] == seconds(*day_of_first, 9)
    assert table.guess(LayoutField.DATE_ORDER).basis is Basis.VALUES
    assert table.layout.date_order is order


def test_one_telling_day_at_the_end_of_a_long_file_decides(read_text: ReadText) -> None:
    start = datetime(2026, 1, 1, tzinfo=UTC)
    instants = [start + timedelta(minutes=20 * step) for step in range(72 * 12 + 1)]
    assert instants[-1].day == 13
    assert all(instant.day <= 12 for instant in instants[:-1])
    text = "\n".join(f"{instant:%m/%d/%Y %H:%M},37.6" for instant in instants)
    table = read_text("time,temp\n" + text + "\n")
    assert table.layout.date_order is DateOrder.MONTH_DAY_YEAR
    assert not table.undecided
    assert table.at.tolist() == [int(instant.timestamp()) for instant in instants]


@pytest.mark.parametrize(
    ("form", "likely", "other"),
    [
        ("%d/%m/%Y", DateOrder.DAY_MONTH_YEAR, DateOrder.MONTH_DAY_YEAR),
        ("%m/%d/%Y", DateOrder.MONTH_DAY_YEAR, DateOrder.DAY_MONTH_YEAR),
    ],
)
def test_when_no_day_is_above_12_the_order_is_asked_and_the_smoother_one_proposed(
    read_text: ReadText, form: str, likely: DateOrder, other: DateOrder
) -> None:
    instants = [datetime(2026, 5, 3, 9, tzinfo=UTC) + timedelta(hours=hour) for hour in range(100)]
    text = "time,temp\n" + "".join(f"{instant:{form} %H:%M},37.6\n" for instant in instants)
    table = read_text(text)
    assert LayoutField.DATE_ORDER in table.undecided
    assert table.guess(LayoutField.DATE_ORDER).others == (other.value,)
    assert table.layout.date_order is likely
    assert table.at.tolist() == [int(instant.timestamp()) for instant in instants]
    answered = read_text(text, hints=LayoutHints(date_order=likely))
    assert LayoutField.DATE_ORDER not in answered.undecided


def test_the_other_order_can_be_chosen(read_text: ReadText) -> None:
    text = "time,temp\n03/05/2026 09:00,37.6\n"
    day_first = read_text(text, hints=LayoutHints(date_order=DateOrder.DAY_MONTH_YEAR))
    month_first = read_text(text, hints=LayoutHints(date_order=DateOrder.MONTH_DAY_YEAR))
    assert day_first.at.tolist() == [NINE]
    assert month_first.at.tolist() == [seconds(2026, 3, 5, 9)]


@pytest.mark.parametrize(
    ("written", "hour"),
    [
        ("12:05 AM", 0),
        ("1:05 AM", 1),
        ("11:05 a.m.", 11),
        ("12:05 PM", 12),
        ("1:05 pm", 13),
        ("11:05 p.\u00a0m.", 23),
    ],
)
def test_twelve_hour_clocks_are_read(read_text: ReadText, written: str, hour: int) -> None:
    table = read_text(f"time;temp\n2026-05-03 {written};37.6\n")
    assert table.layout.hour_clock is HourClock.TWELVE
    assert table.at.tolist() == [seconds(2026, 5, 3, hour, 5)]


def test_marks_beside_24_hour_times_are_passed_over(read_text: ReadText) -> None:
    table = read_text("time;temp\n2026-05-03 11:05 AM;37.6\n2026-05-03 13:05 PM;37.6\n")
    assert table.layout.hour_clock is HourClock.TWENTY_FOUR
    assert table.at.tolist() == [seconds(2026, 5, 3, 11, 5), seconds(2026, 5, 3, 13, 5)]


def test_a_twelve_hour_time_without_a_mark_is_rejected(read_text: ReadText) -> None:
    table = read_text("time;temp\n2026-05-03 11:05 AM;37.6\n2026-05-03 11:15;37.6\n")
    assert [line.reason for line in table.rejected] == [RejectReason.IMPOSSIBLE_TIME]


@pytest.mark.parametrize(
    ("when", "reason"),
    [
        ("2026-02-29 09:00", RejectReason.IMPOSSIBLE_DATE),
        ("2026-04-31 09:00", RejectReason.IMPOSSIBLE_DATE),
        ("2026-13-01 09:00", RejectReason.IMPOSSIBLE_DATE),
        ("2026-00-10 09:00", RejectReason.IMPOSSIBLE_DATE),
        ("0000-00-00 00:00", RejectReason.IMPOSSIBLE_DATE),
        ("2026-05-03 24:01", RejectReason.IMPOSSIBLE_TIME),
        ("2026-05-03 23:60", RejectReason.IMPOSSIBLE_TIME),
        ("2026-05-03 09:00:60", RejectReason.IMPOSSIBLE_TIME),
        ("2026-05-03", RejectReason.NO_TIME),
        ("03:00", RejectReason.NO_DATE),
        ("yesterday", RejectReason.NO_DATE),
        ("", RejectReason.NO_DATE),
    ],
)
def test_a_date_that_does_not_exist_is_rejected_with_its_reason(
    read_text: ReadText, when: str, reason: RejectReason
) -> None:
    table = read_text(f"time;temp\n2026-05-03 09:00;37.6\n{when};37.6\n2026-05-03 09:20;37.6\n")
    assert [(line.number, line.text, line.reason) for line in table.rejected] == [(3, f"{when};37.6", reason)]


def test_midnight_may_be_written_as_24_hours(read_text: ReadText) -> None:
    assert read_text("time;temp\n2026-02-28 24:00;37.6\n").at.tolist() == [seconds(2026, 3, 1)]


def test_the_29th_of_february_exists_in_leap_years(read_text: ReadText) -> None:
    assert read_text("time;temp\n29.02.2028 09:00;37.6\n").at.tolist() == [seconds(2028, 2, 29, 9)]


def test_written_offsets_count_unless_another_clock_is_chosen(read_text: ReadText) -> None:
    text = "time;temp\n2026-05-03T11:00:00+02:00;37.6\n2026-05-03T11:10:00+02:00;37.6\n"
    table = read_text(text, zone="America/New_York")
    assert table.layout.time_meaning is TimeMeaning.IN_FILE
    assert table.at.tolist() == [NINE, NINE + 600]
    as_home = read_text(text, zone="America/New_York", hints=LayoutHints(time_meaning=TimeMeaning.HOME_ZONE))
    assert as_home.at[0] == seconds(2026, 5, 3, 15)


def test_a_line_without_the_offset_that_the_others_have_is_rejected(read_text: ReadText) -> None:
    table = read_text("time;temp\n2026-05-03T09:00Z;37.6\n2026-05-03T09:10Z;37.6\n2026-05-03T09:20;37.6\n")
    assert [line.reason for line in table.rejected] == [RejectReason.NO_OFFSET]


@pytest.mark.parametrize(
    ("name", "meaning", "minutes"),
    [
        ("Time (UTC)", TimeMeaning.UTC, 0),
        ("Date Time, GMT+02:00", TimeMeaning.FIXED_OFFSET, 120),
        ("Time UTC-4:30", TimeMeaning.FIXED_OFFSET, -270),
        ("Time", TimeMeaning.HOME_ZONE, 0),
    ],
)
def test_a_clock_named_in_the_header_is_used(
    read_text: ReadText, name: str, meaning: TimeMeaning, minutes: int
) -> None:
    table = read_text(f'"{name}";temp\n2026-05-03 09:00;37.6\n', zone="Asia/Tokyo")
    assert (table.layout.time_meaning, table.layout.offset_minutes) == (meaning, minutes)
    home = 540 if meaning is TimeMeaning.HOME_ZONE else minutes
    assert table.at.tolist() == [NINE - home * 60]
