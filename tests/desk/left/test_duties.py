"""The duties of the chosen day by mouse and keyboard, over a journal."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.left.duties import DutiesPane
from hatchbook.desk.left.duties_model import DONE_ROLE, LINE_ROLE
from hatchbook.desk.left.duty_list import DutyList
from hatchbook.desk.widgets.labels import Label
from hatchbook.figures.results import DutyLine
from hatchbook.journal import DiskFullError, Event, Journal
from hatchbook.trade.codes import DutyKind, EventKind
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def pane(column: LeftColumn) -> DutiesPane:
    model = column.duties.list.duties
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    column.activateWindow()
    column.focus_duties()
    return column.duties


@pytest.fixture
def duties(pane: DutiesPane) -> DutyList:
    return pane.list


def line_at(duties: DutyList, row: int) -> DutyLine:
    line = duties.duties.index(row).data(LINE_ROLE)
    assert isinstance(line, DutyLine)
    return line


def row_of(duties: DutyList, kind: DutyKind, label: str) -> int:
    rows = range(duties.duties.rowCount())
    return next(
        row
        for row in rows
        if (line_at(duties, row).duty.kind, line_at(duties, row).batch_label) == (kind, label)
    )


def turned(context: DeskContext, uid: str) -> list[Event]:
    events = context.door.journal.events.all()
    return [event for event in events if event.kind is EventKind.TURNED and event.batch == uid]


# -------------------------------------------------------------------- what stands there


def test_the_duties_of_today_stand_by_time(duties: DutyList, pane: DutiesPane) -> None:
    times = [line_at(duties, row).duty.due_at for row in range(duties.duties.rowCount())]
    assert times == sorted(times)
    assert pane.title.text() == "Thursday 14 May"
    assert pane.progress.text() == f"2 of {len(times)} done"


def test_the_cursor_begins_on_the_first_open_one(qtbot: QtBot, duties: DutyList) -> None:
    qtbot.waitUntil(duties.hasFocus)
    assert duties.currentIndex() == duties.duties.first_open()
    assert duties.currentIndex().data(DONE_ROLE) is False


def test_the_first_open_one_is_in_view_however_low_the_pane(
    qtbot: QtBot, column: LeftColumn, context: DeskContext
) -> None:
    column.resize(250, 609)
    context.choose_day(date(2026, 5, 15))
    context.choose_day(date(2026, 5, 14))
    listed = column.duties.list
    qtbot.waitUntil(lambda: listed.viewport().rect().contains(listed.visualRect(listed.duties.first_open())))


def test_an_overdue_duty_is_marked_in_words(duties: DutyList) -> None:
    weigh = duties.duties.index(row_of(duties, DutyKind.WEIGH, "26-05"))
    assert str(weigh.data(Qt.ItemDataRole.AccessibleTextRole)).endswith("overdue")


def test_another_day_shows_its_own(duties: DutyList, pane: DutiesPane, context: DeskContext) -> None:
    context.choose_day(date(2026, 5, 24))
    assert pane.title.text() == "Sunday 24 May"
    assert [line_at(duties, row).duty.kind for row in range(duties.duties.rowCount())] == [DutyKind.HATCH]


def test_a_day_without_duties_says_so(pane: DutiesPane, context: DeskContext) -> None:
    context.choose_day(date(2025, 1, 1))
    shown = [label.text() for label in pane.findChildren(Label) if label.isVisible()]
    assert "Nothing to do on this day." in shown
    assert pane.title.text() == "Wed 1 Jan 2025"
    assert pane.progress.text() == ""


def test_a_long_date_gives_way_in_a_narrow_column(
    qtbot: QtBot, column: LeftColumn, context: DeskContext
) -> None:
    context.choose_day(date(2026, 9, 23))
    column.duties.resize(150, 120)
    assert column.duties.title.text() == "Wed 23 Sep"
    column.duties.resize(400, 120)
    assert column.duties.title.text() == "Wednesday 23 September"


def test_without_a_journal_nothing_can_be_added(pane: DutiesPane, context: DeskContext) -> None:
    context.door.take(None)
    assert pane.list.duties.rowCount() == 0
    assert not pane.add.isEnabled()
    pane.add_duty()


# -------------------------------------------------------------------- ticking


def test_space_ticks_logs_a_turning_and_undo_takes_both_back(
    duties: DutyList, pane: DutiesPane, context: DeskContext, uid_of: UidOf
) -> None:
    before = len(turned(context, uid_of("26-05")))
    row = next(
        row
        for row in range(duties.duties.rowCount())
        if line_at(duties, row).duty.kind is DutyKind.TURN
        and line_at(duties, row).batch_label == "26-05"
        and line_at(duties, row).duty.done_at is None
    )
    duties.setCurrentIndex(duties.duties.index(row))
    done_before = duties.duties.done
    QTest.keyClick(duties, Qt.Key.Key_Space)
    assert line_at(duties, row).duty.done_at == context.now()
    assert pane.progress.text().startswith(f"{done_before + 1} of ")
    assert duties.currentIndex().row() == row
    assert len(turned(context, uid_of("26-05"))) == before + 1
    context.door.undo()
    assert line_at(duties, row).duty.done_at is None
    assert pane.progress.text().startswith(f"{done_before} of ")
    assert len(turned(context, uid_of("26-05"))) == before


def test_space_again_unticks(duties: DutyList, context: DeskContext) -> None:
    row = duties.currentIndex().row()
    QTest.keyClick(duties, Qt.Key.Key_Space)
    assert line_at(duties, row).duty.done_at is not None
    QTest.keyClick(duties, Qt.Key.Key_Space)
    assert line_at(duties, row).duty.done_at is None


def test_a_click_on_the_box_ticks_and_beside_it_does_not(duties: DutyList) -> None:
    index = duties.duties.first_open()
    rect = duties.visualRect(index)
    QTest.mouseClick(duties.viewport(), LEFT, pos=rect.center())
    assert index.data(DONE_ROLE) is False
    box = QPoint(rect.left() + 18, rect.center().y())
    QTest.mouseClick(duties.viewport(), LEFT, pos=box)
    assert index.data(DONE_ROLE) is True
    QTest.mouseClick(duties.viewport(), LEFT, pos=box)
    assert index.data(DONE_ROLE) is False


def test_a_quick_second_click_on_the_box_takes_the_tick_away(duties: DutyList, context: DeskContext) -> None:
    index, batch = duties.duties.first_open(), context.batch
    rect = duties.visualRect(index)
    box = QPoint(rect.left() + 18, rect.center().y())
    QTest.mouseClick(duties.viewport(), LEFT, pos=box)
    QTest.mouseDClick(duties.viewport(), LEFT, pos=box)
    QTest.mouseRelease(duties.viewport(), LEFT, pos=box)
    assert index.data(DONE_ROLE) is False
    assert context.batch == batch


def test_a_refused_tick_stays_open(
    qtbot: QtBot, duties: DutyList, context: DeskContext, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_args: object) -> None:
        raise DiskFullError("The disk is full.")

    monkeypatch.setattr(context.door.journal.duties, "tick", full)
    with qtbot.waitSignal(context.door.refused):
        QTest.keyClick(duties, Qt.Key.Key_Space)
    assert duties.currentIndex().data(DONE_ROLE) is False


def test_in_a_journal_for_reading_nothing_is_ticked(
    duties: DutyList, pane: DutiesPane, context: DeskContext
) -> None:
    path = context.door.journal.path
    context.door.take(None)
    context.door.take(Journal.open(path, read_only=True))
    duties.setCurrentIndex(duties.duties.first_open())
    QTest.keyClick(duties, Qt.Key.Key_Space)
    assert duties.currentIndex().data(DONE_ROLE) is False
    assert not pane.add.isEnabled()


def test_a_tick_elsewhere_shows_here(duties: DutyList, context: DeskContext) -> None:
    line = line_at(duties, row_of(duties, DutyKind.WEIGH, "26-05"))
    context.door.run(lambda journal: journal.duties.tick(line.duty, context.now()))
    assert line_at(duties, row_of(duties, DutyKind.WEIGH, "26-05")).duty.done_at == context.now()


# -------------------------------------------------------------------- going to the batch, menu


def test_enter_shows_the_batch_of_a_duty(duties: DutyList, context: DeskContext, uid_of: UidOf) -> None:
    duties.setCurrentIndex(duties.duties.index(row_of(duties, DutyKind.CANDLE, "26-04")))
    QTest.keyClick(duties, Qt.Key.Key_Return)
    assert context.batch == uid_of("26-04")


def test_a_double_click_shows_the_batch(duties: DutyList, context: DeskContext, uid_of: UidOf) -> None:
    index = duties.duties.index(row_of(duties, DutyKind.CANDLE, "26-04"))
    duties.scrollTo(index)
    where = duties.visualRect(index).center()
    QTest.mouseClick(duties.viewport(), LEFT, pos=where)
    QTest.mouseDClick(duties.viewport(), LEFT, pos=where)
    assert context.batch == uid_of("26-04")


def test_the_menu_of_a_planned_duty_does_not_remove_it(duties: DutyList) -> None:
    menu = duties.menu_for(line_at(duties, row_of(duties, DutyKind.WEIGH, "26-05")))
    entries = {action.text(): action for action in menu.actions() if not action.isSeparator()}
    assert list(entries) == ["Tick", "Show batch 26-05", "Add duty…", "Remove duty"]
    assert not entries["Remove duty"].isEnabled()
    entries["Tick"].trigger()
    assert line_at(duties, row_of(duties, DutyKind.WEIGH, "26-05")).duty.done_at is not None


def test_ones_own_duty_is_removed_by_key_and_menu(duties: DutyList, context: DeskContext) -> None:
    def own() -> list[str]:
        lines = [line_at(duties, row).duty for row in range(duties.duties.rowCount())]
        return [duty.text for duty in lines if duty.kind is DutyKind.OTHER]

    row = row_of(duties, DutyKind.OTHER, "")
    duties.setCurrentIndex(duties.duties.index(row))
    QTest.keyClick(duties, Qt.Key.Key_Delete)
    assert own() == []
    context.door.undo()
    assert own() == ["Fill lockdown channels"]
    menu = duties.menu_for(line_at(duties, row_of(duties, DutyKind.OTHER, "")))
    next(action for action in menu.actions() if action.text() == "Remove duty").trigger()
    assert own() == []


def test_del_leaves_a_planned_duty(duties: DutyList) -> None:
    before = duties.duties.rowCount()
    duties.setCurrentIndex(duties.duties.index(row_of(duties, DutyKind.WEIGH, "26-05")))
    QTest.keyClick(duties, Qt.Key.Key_Delete)
    assert duties.duties.rowCount() == before


def test_the_duties_action_finds_a_place_on_an_empty_day(
    qtbot: QtBot, column: LeftColumn, context: DeskContext, actions: Actions
) -> None:
    column.activateWindow()
    context.choose_day(date(2025, 1, 1))
    column.focus_duties()
    qtbot.waitUntil(column.duties.add.hasFocus)
