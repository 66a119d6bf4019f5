"""The calendar by mouse and keyboard, over a journal."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left import duty_book
from hatchbook.desk.left.calendar import CalendarPane
from hatchbook.desk.left.calendar_grid import CalendarGrid, same_day
from hatchbook.desk.left.calendar_model import DAY_ROLE, DayCell, Stretch
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.left.duty_book import Month
from hatchbook.desk.left.legend import DutyLegend
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.journal import Duty, Event
from hatchbook.trade.codes import DutyKind, EventKind
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]
LEFT = Qt.MouseButton.LeftButton
TODAY = date(2026, 5, 14)
# 2026-05-12 10:00 in Lisbon.
TEN_ON_THE_12TH = 1_778_576_400


@pytest.fixture
def pane(column: LeftColumn) -> CalendarPane:
    column.focus_calendar()
    return column.calendar


@pytest.fixture
def grid(pane: CalendarPane) -> CalendarGrid:
    return pane.grid


def title(pane: CalendarPane) -> str:
    return pane.findChildren(ElidedLabel)[0].text()


def place(grid: CalendarGrid, day: date) -> QPoint:
    return grid.visualRect(grid.days.index_of(day)).center()


def cell(grid: CalendarGrid, day: date) -> DayCell:
    found = grid.days.index_of(day).data(DAY_ROLE)
    assert isinstance(found, DayCell)
    return found


# -------------------------------------------------------------------- keys


@pytest.mark.parametrize(
    ("key", "day"),
    [
        (Qt.Key.Key_Left, date(2026, 5, 13)),
        (Qt.Key.Key_Right, date(2026, 5, 15)),
        (Qt.Key.Key_Up, date(2026, 5, 7)),
        (Qt.Key.Key_Down, date(2026, 5, 21)),
        (Qt.Key.Key_PageUp, date(2026, 4, 14)),
        (Qt.Key.Key_PageDown, date(2026, 6, 14)),
        (Qt.Key.Key_End, date(2026, 5, 31)),
    ],
)
def test_a_key_moves_the_chosen_day(grid: CalendarGrid, context: DeskContext, key: Qt.Key, day: date) -> None:
    QTest.keyClick(grid, key)
    assert context.day == day


def test_arrows_go_over_the_end_of_a_month(
    pane: CalendarPane, grid: CalendarGrid, context: DeskContext
) -> None:
    context.choose_day(date(2026, 5, 31))
    QTest.keyClick(grid, Qt.Key.Key_Right)
    assert context.day == date(2026, 6, 1)
    assert title(pane) == "June 2026"


def test_home_is_today(pane: CalendarPane, grid: CalendarGrid, context: DeskContext) -> None:
    context.choose_day(date(2024, 2, 29))
    assert title(pane) == "February 2024"
    QTest.keyClick(grid, Qt.Key.Key_Home)
    assert context.day == TODAY
    assert title(pane) == "May 2026"


def test_enter_goes_to_the_duties(qtbot: QtBot, column: LeftColumn, grid: CalendarGrid) -> None:
    column.activateWindow()
    QTest.keyClick(grid, Qt.Key.Key_Return)
    qtbot.waitUntil(column.duties.list.hasFocus)


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2024, 3, 31), -1, date(2024, 2, 29)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 5, 14), -12, date(2025, 5, 14)),
    ],
)
def test_the_same_day_of_a_shorter_month_is_its_last(day: date, months: int, expected: date) -> None:
    assert same_day(day, months) == expected


# -------------------------------------------------------------------- mouse


def test_a_click_chooses_a_day(grid: CalendarGrid, context: DeskContext) -> None:
    QTest.mouseClick(grid.viewport(), LEFT, pos=place(grid, date(2026, 5, 7)))
    assert context.day == date(2026, 5, 7)


def test_a_click_on_a_day_of_another_month_turns_the_page(
    pane: CalendarPane, grid: CalendarGrid, context: DeskContext
) -> None:
    QTest.mouseClick(grid.viewport(), LEFT, pos=place(grid, date(2026, 6, 3)))
    assert context.day == date(2026, 6, 3)
    assert title(pane) == "June 2026"


def test_a_double_click_logs_on_the_day_of_the_first_click(
    grid: CalendarGrid, context: DeskContext, actions: Actions
) -> None:
    logged: list[date] = []
    actions["log_event"].triggered.connect(lambda: logged.append(context.day))
    where = place(grid, date(2026, 6, 3))
    QTest.mouseClick(grid.viewport(), LEFT, pos=where)
    QTest.mouseDClick(grid.viewport(), LEFT, pos=where)
    assert logged == [date(2026, 6, 3)]


def test_paging_leaves_the_chosen_day_and_today_returns(
    pane: CalendarPane, grid: CalendarGrid, context: DeskContext
) -> None:
    pane.after.click()
    pane.after.click()
    assert title(pane) == "July 2026"
    assert context.day == TODAY
    assert not grid.currentIndex().isValid()
    pane.today.click()
    assert title(pane) == "May 2026"
    pane.before.click()
    assert title(pane) == "April 2026"


def test_the_today_action_returns_to_the_month(pane: CalendarPane, actions: Actions) -> None:
    pane.before.click()
    actions["go_today"].trigger()
    assert title(pane) == "May 2026"


def test_focus_returns_to_the_chosen_day(column: LeftColumn, pane: CalendarPane, grid: CalendarGrid) -> None:
    for _ in range(3):
        pane.after.click()
    column.focus_calendar()
    assert title(pane) == "May 2026"
    assert grid.currentIndex() == grid.days.index_of(TODAY)


# -------------------------------------------------------------------- what it shows


def test_the_chosen_batch_has_filled_marks_and_a_line(
    grid: CalendarGrid, context: DeskContext, uid_of: UidOf
) -> None:
    duties = context.door.journal.duties.of_batch(uid_of("26-05"))
    (due,) = [duty.due_at for duty in duties if duty.kind is DutyKind.LOCKDOWN]
    lockdown = datetime.fromtimestamp(due, context.zone).date()
    assert (DutyKind.LOCKDOWN, True) in cell(grid, lockdown).marks
    assert cell(grid, lockdown).stretch is Stretch.LOCKDOWN
    context.choose_batch(uid_of("26-04"))
    assert (DutyKind.LOCKDOWN, False) in cell(grid, lockdown).marks


def test_a_new_duty_gets_its_mark(grid: CalendarGrid, context: DeskContext) -> None:
    day = date(2026, 5, 12)
    assert cell(grid, day).marks == ()
    duty = Duty(DutyKind.OTHER, TEN_ON_THE_12TH, text="Buy salt")
    context.door.run(lambda journal: journal.duties.add(duty))
    assert cell(grid, day).marks == ((DutyKind.OTHER, True),)
    context.door.undo()
    assert cell(grid, day).marks == ()


def test_a_month_is_asked_for_once_until_a_duty_changes(
    pane: CalendarPane, context: DeskContext, uid_of: UidOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[date] = []
    real = duty_book.calendar_figures

    def counted(journal: object, first: date, last: date, now: int) -> object:
        asked.append(first)
        return real(journal, first, last, now)  # type: ignore[arg-type]

    monkeypatch.setattr(duty_book, "calendar_figures", counted)
    pane.after.click()
    pane.before.click()
    pane.after.click()
    context.choose_day(date(2026, 5, 20))
    assert asked == [date(2026, 6, 1)]
    event = Event(context.now(), EventKind.NOTE, batch=uid_of("26-05"), text="warm today")
    context.door.run(lambda journal: journal.events.add(event))
    assert len(asked) == 1
    duty = context.door.journal.duties.all()[0]
    context.door.run(lambda journal: journal.duties.tick(duty, context.now()))
    assert len(asked) == 2


def test_months_far_away_are_shown_without_trouble(pane: CalendarPane, grid: CalendarGrid) -> None:
    pane.show_month(Month(2300, 2))
    assert title(pane) == "February 2300"
    pane.show_month(Month(9999, 12))
    assert title(pane) == "February 2300"


def test_without_a_journal_the_days_are_empty(grid: CalendarGrid, context: DeskContext) -> None:
    context.door.take(None)
    assert all(cell(grid, date(2026, 5, day)).marks == () for day in range(1, 32))


def test_every_day_has_its_words_and_the_grid_its_name(grid: CalendarGrid) -> None:
    assert grid.accessibleName() == "Calendar of duties"
    for row in range(6):
        for column in range(7):
            assert grid.days.index(row, column).data(Qt.ItemDataRole.AccessibleTextRole)


def test_the_key_of_the_marks_is_told(column: LeftColumn) -> None:
    legend = column.calendar.findChildren(DutyLegend)[0]
    assert [word for _kind, word in legend.entries()] == ["candle", "weigh", "lock", "hatch", "turn"]
    assert "Filled marks are of the chosen batch" in legend.accessibleDescription()
