"""The table of entries: what its keys do, and how wide its texts are."""

from __future__ import annotations

import pytest
from hatchbook.desk.widgets.entry_table import EntryTable
from PySide6.QtCore import Qt
from PySide6.QtGui import QStandardItem, QStandardItemModel
from pytestqt.qtbot import QtBot


@pytest.fixture
def table(qtbot: QtBot) -> EntryTable:
    made = EntryTable(row_height=24, head_height=26)
    model = QStandardItemModel(made)
    model.setHorizontalHeaderLabels(["A long title of a column", "What"])
    for text in ("a", "bb"):
        model.appendRow([QStandardItem(text), QStandardItem("done")])
    made.setModel(model)
    qtbot.addWidget(made)
    return made


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2])
def test_enter_and_f2_open_the_row_and_del_takes_it_away(
    table: EntryTable, qtbot: QtBot, key: Qt.Key
) -> None:
    table.setCurrentIndex(table.model().index(1, 0))
    with qtbot.waitSignal(table.opening_wanted):
        qtbot.keyClick(table, key)
    with qtbot.waitSignal(table.removal_wanted):
        qtbot.keyClick(table, Qt.Key.Key_Delete)


def test_without_a_row_under_the_cursor_nothing_is_opened(table: EntryTable, qtbot: QtBot) -> None:
    told: list[str] = []
    table.opening_wanted.connect(lambda: told.append("open"))
    table.removal_wanted.connect(lambda: told.append("remove"))
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Delete):
        qtbot.keyClick(table, key)
    assert told == []


def test_a_column_is_as_wide_as_its_longest_text_or_its_title(table: EntryTable) -> None:
    metrics = table.fontMetrics()
    assert table.widest(0) == metrics.horizontalAdvance("A long title of a column")
    assert table.widest(0, with_title=False) == metrics.horizontalAdvance("bb")
