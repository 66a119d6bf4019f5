"""The calendar as a table model, without a window."""

from __future__ import annotations

from datetime import date, timedelta
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.left.calendar_model import DAY_ROLE, CalendarModel, DayCell, Stretch
from hatchbook.desk.left.duty_book import Month, first_weekday
from hatchbook.figures.results import CalendarFigures, DutyLine, Span
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

MAY = Month(2026, 5)
TODAY = date(2026, 5, 14)
LISBON = ZoneInfo("Europe/Lisbon")
ACCESSIBLE = Qt.ItemDataRole.AccessibleTextRole
# 2026-05-14 09:00 in Lisbon.
NINE = 1_778_745_600


def line(kind: DutyKind, batch: str = "own", label: str = "26-05", **values: object) -> DutyLine:
    return DutyLine(Duty(kind, NINE, batch, **values), label, overdue=False)  # type: ignore[arg-type]


FIGURES = CalendarFigures(
    duties={
        TODAY: (
            line(DutyKind.WEIGH),
            line(DutyKind.TURN),
            line(DutyKind.TURN),
            line(DutyKind.CANDLE, "other", "26-04"),
        )
    },
    marks={
        TODAY: (("other", DutyKind.CANDLE), ("own", DutyKind.WEIGH)),
        date(2026, 5, 21): (
            ("own", DutyKind.CANDLE),
            ("own", DutyKind.WEIGH),
            ("own", DutyKind.LOCKDOWN),
            ("other", DutyKind.HATCH),
        ),
        date(2026, 5, 10): ((None, DutyKind.OTHER), ("other", DutyKind.OTHER), ("third", DutyKind.OTHER)),
    },
    spans=(
        Span("own", "26-05", date(2026, 5, 3), date(2026, 5, 21), date(2026, 5, 24)),
        Span("other", "26-04", date(2026, 4, 20), date(2026, 5, 15), date(2026, 5, 18)),
    ),
)


@pytest.fixture
def model(qtbot: QtBot) -> CalendarModel:
    model = CalendarModel(TODAY)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    model.show_month(MAY, FIGURES, LISBON)
    model.show_batch("own")
    return model


def cell(model: CalendarModel, day: date) -> DayCell:
    found = model.index_of(day).data(DAY_ROLE)
    assert isinstance(found, DayCell)
    return found


# -------------------------------------------------------------------- months and weeks


@pytest.mark.parametrize(
    ("month", "weekday", "first"),
    [
        # From a wall calendar: 1 May 2026 is a Friday, 1 June a Monday, 1 February a Sunday.
        (MAY, 1, date(2026, 4, 27)),
        (MAY, 7, date(2026, 4, 26)),
        (Month(2026, 6), 1, date(2026, 6, 1)),
        (Month(2026, 2), 7, date(2026, 2, 1)),
        (Month(2026, 2), 1, date(2026, 1, 26)),
    ],
)
def test_the_first_day_shown_begins_the_week(month: Month, weekday: int, first: date) -> None:
    assert month.first_shown(weekday) == first


def test_six_weeks_hold_any_month() -> None:
    for number in range(1, 13 * 20):
        month = Month(2020, 1).moved(number)
        following = month.moved(1)
        last = date(following.year, following.month, 1) - timedelta(days=1)
        for weekday in range(1, 8):
            assert 0 <= (last - month.first_shown(weekday)).days < 42


@pytest.mark.parametrize(
    ("months", "expected"),
    [(1, Month(2026, 6)), (8, Month(2027, 1)), (-5, Month(2025, 12)), (-17, Month(2024, 12))],
)
def test_months_go_over_the_turn_of_the_year(months: int, expected: Month) -> None:
    assert MAY.moved(months) == expected


def test_the_week_begins_as_the_locale_says(qtbot: QtBot) -> None:
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    assert first_weekday() == 7
    model = CalendarModel(TODAY)
    assert model.day_at(0, 0) == date(2026, 4, 26)
    assert model.headerData(0, Qt.Orientation.Horizontal) == "Sun"
    QLocale.setDefault(QLocale(QLocale.Language.Portuguese, QLocale.Country.Brazil))
    model.show_month(MAY, FIGURES, LISBON)
    assert model.headerData(0, Qt.Orientation.Horizontal) != "Sun"


def test_weekdays_are_read_in_full(model: CalendarModel) -> None:
    assert model.headerData(0, Qt.Orientation.Horizontal) == "Mon"
    assert model.headerData(0, Qt.Orientation.Horizontal, ACCESSIBLE) == "Monday"


def test_a_day_is_found_where_it_stands(model: CalendarModel) -> None:
    index = model.index_of(TODAY)
    assert (index.row(), index.column()) == (2, 3)
    assert index.data() == "14"
    assert not model.index_of(date(2026, 8, 1)).isValid()
    assert not model.index_of(date(2026, 4, 26)).isValid()


# -------------------------------------------------------------------- what a day shows


def test_today_and_the_days_of_other_months_are_told_apart(model: CalendarModel) -> None:
    assert cell(model, TODAY).is_today
    assert not cell(model, date(2026, 5, 15)).is_today
    assert not cell(model, date(2026, 4, 30)).in_month
    model.show_today(date(2026, 5, 15))
    assert not cell(model, TODAY).is_today


def test_marks_of_the_chosen_batch_come_first_and_filled(model: CalendarModel) -> None:
    assert cell(model, TODAY).marks == ((DutyKind.WEIGH, True), (DutyKind.CANDLE, False))
    model.show_batch("other")
    assert cell(model, TODAY).marks == ((DutyKind.CANDLE, True), (DutyKind.WEIGH, False))


def test_more_than_three_duties_leave_two_marks_and_a_plus(model: CalendarModel) -> None:
    crowded = cell(model, date(2026, 5, 21))
    assert crowded.marks == ((DutyKind.CANDLE, True), (DutyKind.WEIGH, True))
    assert crowded.more
    assert not cell(model, TODAY).more


def test_the_same_kind_of_several_other_batches_is_one_mark(model: CalendarModel) -> None:
    assert cell(model, date(2026, 5, 10)).marks == ((DutyKind.OTHER, True), (DutyKind.OTHER, False))


@pytest.mark.parametrize(
    ("day", "stretch", "begins", "ends"),
    [
        (date(2026, 5, 2), Stretch.NONE, False, False),
        (date(2026, 5, 3), Stretch.TURNING, True, False),
        (date(2026, 5, 20), Stretch.TURNING, False, False),
        (date(2026, 5, 21), Stretch.LOCKDOWN, False, False),
        (date(2026, 5, 24), Stretch.LOCKDOWN, False, True),
        (date(2026, 5, 25), Stretch.NONE, False, False),
    ],
)
def test_the_line_follows_the_chosen_batch(
    model: CalendarModel, day: date, stretch: Stretch, begins: bool, ends: bool
) -> None:
    shown = cell(model, day)
    assert (shown.stretch, shown.begins, shown.ends) == (stretch, begins, ends)


def test_without_a_chosen_batch_there_is_no_line(model: CalendarModel) -> None:
    model.show_batch(None)
    assert cell(model, TODAY).stretch is Stretch.NONE


# -------------------------------------------------------------------- in words


def test_a_day_is_read_aloud_with_its_duties(model: CalendarModel) -> None:
    assert model.index_of(TODAY).data(ACCESSIBLE) == (
        "Thursday 14 May, today; 09:00, Weigh, batch 26-05; 09:00, Candle, batch 26-04; "
        "Turn 2 time(s), batch 26-05; 26-05 day 11; 26-04 day 24"
    )


def test_an_idle_day_says_so(model: CalendarModel) -> None:
    assert model.index_of(date(2026, 6, 2)).data(ACCESSIBLE) == "Tuesday 2 June; Nothing to do"


def test_lockdown_is_said(model: CalendarModel) -> None:
    said = model.index_of(date(2026, 5, 22)).data(ACCESSIBLE)
    assert said.endswith("26-05 in lockdown")


def test_the_tooltip_gives_each_duty_a_line(model: CalendarModel) -> None:
    tip = model.index_of(TODAY).data(Qt.ItemDataRole.ToolTipRole)
    assert tip.splitlines()[:2] == ["Thursday 14 May, today", "09:00, Weigh, batch 26-05"]
