"""The line that searches the batch list, and what stands there when there is nothing to show."""

from __future__ import annotations

from collections.abc import Callable

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.batch_model import BATCH_ROLE
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.widgets.labels import Label
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]


def shown(column: LeftColumn) -> list[str]:
    return [index.data(BATCH_ROLE).label for index in column.batches.list.batches.indices()]


def texts(column: LeftColumn) -> list[str]:
    return [label.text() for label in column.batches.findChildren(Label) if label.isVisible()]


def test_the_find_action_takes_the_cursor_into_the_line(
    qtbot: QtBot, column: LeftColumn, actions: Actions
) -> None:
    column.activateWindow()
    actions["find"].trigger()
    qtbot.waitUntil(column.batches.find_line.hasFocus)


def test_the_find_action_unfolds_the_column(qtbot: QtBot, column: LeftColumn, actions: Actions) -> None:
    folding = actions["fold_left"]
    folding.setChecked(False)
    folding.triggered.connect(lambda: column.setVisible(folding.isChecked()))
    column.hide()
    actions["find"].trigger()
    assert column.isVisible()
    assert folding.isChecked()


def test_typing_finds_by_pen(column: LeftColumn) -> None:
    QTest.keyClicks(column.batches.find_line, "brook pen")
    assert shown(column) == ["26-06", "26-04", "26-02", "25-09"]


def test_typing_finds_by_species(column: LeftColumn) -> None:
    QTest.keyClicks(column.batches.find_line, "duck")
    assert shown(column) == ["26-04"]


def test_a_note_is_found(column: LeftColumn, context: DeskContext, uid_of: UidOf) -> None:
    from dataclasses import replace

    batch = context.door.journal.batches.get(uid_of("26-01"))
    context.door.run(lambda journal: journal.batches.replace(replace(batch, note="Borrowed incubator")))
    QTest.keyClicks(column.batches.find_line, "borrowed")
    assert shown(column) == ["26-01"]


def test_enter_shows_the_first_one_found(column: LeftColumn, context: DeskContext, uid_of: UidOf) -> None:
    QTest.keyClicks(column.batches.find_line, "brook hens")
    QTest.keyClick(column.batches.find_line, Qt.Key.Key_Return)
    assert context.batch == uid_of("26-02")


def test_a_search_does_not_leave_the_shown_batch(
    qtbot: QtBot, column: LeftColumn, context: DeskContext, uid_of: UidOf
) -> None:
    changes: list[object] = []
    context.batch_chosen.connect(changes.append)
    QTest.keyClicks(column.batches.find_line, "pond")
    QTest.keyClick(column.batches.find_line, Qt.Key.Key_Escape)
    qtbot.wait(200)
    assert changes == []
    assert column.batches.list.chosen == uid_of("26-05")
    assert column.batches.list.currentIndex().data(BATCH_ROLE).label == "26-05"


def test_escape_clears_then_leaves(qtbot: QtBot, column: LeftColumn) -> None:
    line = column.batches.find_line
    column.activateWindow()
    line.setFocus()
    QTest.keyClicks(line, "pond")
    QTest.keyClick(line, Qt.Key.Key_Escape)
    assert line.text() == ""
    assert len(shown(column)) == 7
    QTest.keyClick(line, Qt.Key.Key_Escape)
    qtbot.waitUntil(column.batches.list.hasFocus)


def test_what_is_found_is_never_behind_a_fold(column: LeftColumn) -> None:
    batches = column.batches.list
    batches.collapseAll()
    QTest.keyClicks(column.batches.find_line, "yard")
    assert batches.isExpanded(batches.batches.index(0, 0))
    QTest.keyClick(column.batches.find_line, Qt.Key.Key_Escape)
    assert not batches.isExpanded(batches.batches.index(1, 0))


def test_nothing_found_is_said(column: LeftColumn) -> None:
    QTest.keyClicks(column.batches.find_line, "ostrich")
    assert texts(column) == ["No batch is found", "Esc shows all batches again."]
    column.focus_batches()
    QTest.keyClick(column.batches.find_line, Qt.Key.Key_Return)


def test_an_empty_journal_says_what_will_stand_here(column: LeftColumn, context: DeskContext) -> None:
    context.door.take(None)
    assert not column.has_batches
    assert column.first_batch is None
    assert texts(column)[0] == "No batches yet"
    assert not column.batches.find_line.isVisible()
