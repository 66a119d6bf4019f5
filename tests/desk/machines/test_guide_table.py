"""The table of the guide: what its cells say, how one moves in it, what Enter does."""

from __future__ import annotations

from hatchbook.desk.machines.guide_delegate import CELL_ROLE
from hatchbook.desk.machines.guide_table import GuideTable, GuideTableModel
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.machines.guides import guide

_SPOKEN = Qt.ItemDataRole.AccessibleTextRole


def table(qtbot: QtBot) -> GuideTable:
    made = GuideTable()
    qtbot.addWidget(made)
    made.resize(700, 300)
    return made


def test_the_model_holds_together(qtbot: QtBot) -> None:
    model = GuideTableModel()
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    assert model.rowCount() == 0
    model.show_guide(guide())
    model.show_guide(guide(advised=(1, 0.25)))
    model.show_guide(guide(channels=5))
    assert (model.rowCount(), model.columnCount()) == (6, 5)
    model.show_guide(None)
    assert model.rowCount() == 0
    del tester


def test_each_cell_is_told_in_sentences(qtbot: QtBot) -> None:
    model = GuideTableModel()
    model.show_guide(guide())
    index = model.index(2, 2)
    assert "So it stands now. This is advised." in str(index.data(_SPOKEN))
    assert index.data(_SPOKEN) == index.data(Qt.ItemDataRole.ToolTipRole)
    assert str(index.data()).replace("\u00a0", " ") == "38 ± 2 %, not tried"
    assert index.data(CELL_ROLE).vent == 0.5
    assert model.headerData(0, Qt.Orientation.Horizontal) == "shut"
    assert model.headerData(2, Qt.Orientation.Horizontal) == "1/2"


def test_the_cursor_begins_on_the_advice_and_stays_while_numbers_change(qtbot: QtBot) -> None:
    shown = table(qtbot)
    shown.show_guide(guide(advised=(1, 0.75)))
    assert (shown.currentIndex().row(), shown.currentIndex().column()) == (1, 3)
    qtbot.keyClick(shown, Qt.Key.Key_Down)
    shown.show_guide(guide(advised=(3, 0.0)))
    assert (shown.currentIndex().row(), shown.currentIndex().column()) == (2, 3)


def test_enter_on_a_cell_asks_to_log_its_setting(qtbot: QtBot) -> None:
    shown = table(qtbot)
    shown.show_guide(guide())
    qtbot.keyClick(shown, Qt.Key.Key_Right)
    with qtbot.waitSignal(shown.setting_chosen) as told:
        qtbot.keyClick(shown, Qt.Key.Key_Return)
    assert told.args == [2, 0.75]


def test_the_table_is_as_high_as_its_rows(qtbot: QtBot) -> None:
    shown = table(qtbot)
    shown.show_guide(guide(channels=2))
    low = shown.height()
    shown.show_guide(guide(channels=6))
    assert shown.height() > low
    assert not shown.verticalScrollBar().isVisible()


def test_it_paints_narrow_and_wide_in_every_state(qtbot: QtBot) -> None:
    shown = table(qtbot)
    for one in (guide(), guide(advised=(3, 0.0)), guide(setting=None, advised=None), guide(wanted=None)):
        shown.show_guide(one)
        for width in (360, 800):
            shown.resize(width, shown.height())
            assert not shown.grab().isNull()
