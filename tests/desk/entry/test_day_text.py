"""Dates as breeders type them."""

from __future__ import annotations

from datetime import date

import pytest
from hatchbook.desk.entry.day_text import DayError, day_text, parse_day
from PySide6.QtCore import QLocale

NEAR = date(2026, 5, 25)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("17 May", date(2026, 5, 17)),
        ("17 may 2025", date(2025, 5, 17)),
        ("May 17", date(2026, 5, 17)),
        ("17.5.", date(2026, 5, 17)),
        ("17/5/26", date(2026, 5, 17)),
        ("17-5", date(2026, 5, 17)),
        (" 2026-05-17 ", date(2026, 5, 17)),
        ("17", date(2026, 5, 17)),
        ("25", date(2026, 5, 25)),
        # A lone day is one that has been.
        ("26", date(2026, 4, 26)),
        ("31", date(2026, 3, 31)),
        # A day and a month are those nearest to the date of setting, on either side.
        ("28 May", date(2026, 5, 28)),
        ("30 Dec", date(2025, 12, 30)),
    ],
)
def test_a_date_is_read_as_it_is_meant(text: str, expected: date) -> None:
    assert parse_day(text, NEAR) == expected


@pytest.mark.parametrize(
    "text", ["soon", "17 Maybe", "17 5 26 4", "a 17 May", "", "17 May May", "1/2/3/4", "12345"]
)
def test_what_is_no_date_is_said_with_an_example(text: str) -> None:
    with pytest.raises(DayError, match="17 May 2026"):
        parse_day(text, NEAR)


@pytest.mark.parametrize("text", ["31.4.", "0", "32", "2026-13-01", "30 Feb 2026", "29.2."])
def test_a_day_that_there_is_not_is_said(text: str) -> None:
    with pytest.raises(DayError, match="no day"):
        parse_day(text, NEAR)


def test_a_leap_day_is_one_where_there_is_one() -> None:
    assert parse_day("29.2.", date(2028, 3, 1)) == date(2028, 2, 29)


def test_day_and_month_stand_as_the_breeder_writes_them() -> None:
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    assert parse_day("5/4", NEAR) == date(2026, 5, 4)
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    assert parse_day("5.4.", NEAR) == date(2026, 4, 5)
    assert parse_day("5. Mai", NEAR) == date(2026, 5, 5)


@pytest.mark.parametrize("day", [date(2026, 5, 17), date(2025, 12, 30), date(2024, 2, 29)])
def test_what_is_shown_is_read_back(day: date) -> None:
    assert parse_day(day_text(day, NEAR), NEAR) == day
