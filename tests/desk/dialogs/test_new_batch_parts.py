"""The parts of the dialog without a window: tables of typed cells, the plan along its rail, the tray."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.dialogs.cells import CHOICES_ROLE, GHOST_ROLE, TROUBLE_ROLE, CellModel, Column
from hatchbook.desk.dialogs.edit_table import EditTable
from hatchbook.desk.dialogs.pen_rows import EGGS, LAID, PenRowsModel
from hatchbook.desk.dialogs.phase_rows import PhaseRowsModel
from hatchbook.desk.dialogs.plan_list import PlanList, PlanModel
from hatchbook.desk.dialogs.tray_preview import TrayPreview, TrayPreviewModel
from hatchbook.figures.planning import BatchDraft, PenRow, plan_draft
from hatchbook.journal import Machine, Pen
from hatchbook.trade.codes import PhaseKind, WeighPlan
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_programmes, programme_named
from hatchbook.trade.units import Unit
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, SET_AT, Desk

SET_ON = date(2026, 5, 3)


@pytest.fixture
def tested(qapp: QApplication) -> Callable[[QAbstractItemModel], QAbstractItemModelTester]:
    """Watches a model for breaches of the rules of Qt's models; each is a warning, which fails the test."""
    mode = QAbstractItemModelTester.FailureReportingMode.Warning
    return lambda model: QAbstractItemModelTester(model, mode)


def pens_model() -> PenRowsModel:
    return PenRowsModel([Pen("Brook pen", letter="B"), Pen("Old pen", until_on="2025-01-01")], lambda: SET_ON)


# ---------------------------------------------------------------- cells


def test_the_table_of_pens_keeps_the_rules(tested: Any) -> None:
    model = pens_model()
    watch = tested(model)
    model.setData(model.index(0, 0), "Brook pen")
    model.setData(model.index(1, 0), "Lower yard")
    model.setData(model.index(1, EGGS), "many")
    model.remove_row(0)
    model.ask()
    model.set_texts([["a", "1", "", ""]])
    assert model.rowCount() == 2
    del watch


def test_typing_where_more_is_asked_for_makes_a_row(qapp: QApplication) -> None:
    model = pens_model()
    assert model.index(0, 0).data() == "Add a pen…"
    assert model.index(0, 0).data(GHOST_ROLE) is True
    assert not model.flags(model.index(0, 1)) & Qt.ItemFlag.ItemIsEnabled
    assert model.setData(model.index(0, 0), "  ") is False
    assert model.rowCount() == 1
    edits: list[None] = []
    model.edited.connect(lambda: edits.append(None))
    assert model.setData(model.index(0, 0), " Brook pen ") is True
    assert model.texts() == [["Brook pen", "", "", "B"]]
    assert model.rowCount() == 2
    assert len(edits) == 1


def test_only_pens_in_use_are_offered(qapp: QApplication) -> None:
    model = pens_model()
    assert model.index(0, 0).data(CHOICES_ROLE) == ["Brook pen"]
    assert model.index(0, EGGS).data(CHOICES_ROLE) is None


def test_a_cell_speaks_with_its_column_and_its_trouble(qapp: QApplication) -> None:
    model = pens_model()
    model.set_texts([["Brook pen", "many", "", ""]])
    cell = model.index(0, EGGS)
    assert cell.data(TROUBLE_ROLE) == "“many” is not a number of eggs."
    spoken = cell.data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "Eggs: many. “many” is not a number of eggs."
    assert model.index(0, LAID).data(Qt.ItemDataRole.AccessibleTextRole) == "Oldest laid: nothing entered"
    assert cell.data(Qt.ItemDataRole.ToolTipRole) == "“many” is not a number of eggs."


@pytest.mark.parametrize("programme", load_programmes(), ids=lambda programme: programme.code)
@pytest.mark.parametrize("unit", [Unit.CELSIUS, Unit.FAHRENHEIT])
def test_phases_that_were_not_touched_come_back_exactly(
    tested: Any, programme: Programme, unit: Unit
) -> None:
    model = PhaseRowsModel(unit)
    watch = tested(model)
    model.show_phases(programme.phases)
    assert model.phases() == programme.phases
    assert model.first_trouble() is None
    del watch


def test_lockdown_has_no_turnings_to_type(qapp: QApplication) -> None:
    model = PhaseRowsModel(Unit.CELSIUS)
    hen = programme_named("hen")
    assert hen is not None
    model.show_phases(hen.phases)
    last = len(model.columns) - 1
    assert hen.phases[1].kind is PhaseKind.LOCKDOWN
    assert model.flags(model.index(0, last)) & Qt.ItemFlag.ItemIsEditable
    assert not model.flags(model.index(1, last)) & Qt.ItemFlag.ItemIsEditable
    assert not model.flags(model.index(0, 0)) & Qt.ItemFlag.ItemIsEditable


# ---------------------------------------------------------------- keys in a table


@pytest.fixture
def table(qtbot: QtBot) -> tuple[QWidget, EditTable, QLineEdit]:
    """A table of two columns with a field behind it."""
    model = CellModel((Column("Name"), Column("Ring")), ghost="Add one…")
    model.set_texts([["Anna", "1"], ["Bertha", "2"]])
    window = QWidget()
    qtbot.addWidget(window)
    view, behind = EditTable(model, "Birds"), QLineEdit()
    rows = QVBoxLayout(window)
    rows.addWidget(view)
    rows.addWidget(behind)
    model.setParent(view)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    view.setFocus(Qt.FocusReason.TabFocusReason)
    return window, view, behind


def key(*keys: Qt.Key) -> None:
    for one in keys:
        widget = QApplication.focusWidget()
        assert widget is not None
        QTest.keyClick(widget, one)
        QApplication.processEvents()


def at(view: EditTable) -> tuple[int, int]:
    return view.currentIndex().row(), view.currentIndex().column()


def test_tab_goes_through_cells_only_while_one_is_edited(table: tuple[QWidget, EditTable, QLineEdit]) -> None:
    _, view, behind = table
    key(Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is behind
    view.setFocus()
    key(Qt.Key.Key_F2, Qt.Key.Key_Tab)
    assert at(view) == (0, 1)
    assert view.state() == EditTable.State.EditingState
    key(Qt.Key.Key_Tab, Qt.Key.Key_Tab, Qt.Key.Key_Tab)
    assert at(view) == (2, 0)
    key(Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is behind
    assert view.cells.texts() == [["Anna", "1"], ["Bertha", "2"]]


def test_tab_goes_backwards_too(table: tuple[QWidget, EditTable, QLineEdit]) -> None:
    _, view, _ = table
    key(Qt.Key.Key_Down, Qt.Key.Key_F2)
    editor = QApplication.focusWidget()
    assert editor is not None
    QTest.keyClick(editor, Qt.Key.Key_Backtab)
    QApplication.processEvents()
    assert at(view) == (0, 1)


def test_enter_edits_and_stores_without_leaving(table: tuple[QWidget, EditTable, QLineEdit]) -> None:
    _, view, _ = table
    key(Qt.Key.Key_Return)
    assert view.state() == EditTable.State.EditingState
    key(Qt.Key.Key_End, Qt.Key.Key_B, Qt.Key.Key_Return)
    assert view.state() == EditTable.State.NoState
    assert view.cells.texts()[0] == ["Annab", "1"]
    assert at(view) == (0, 0)


def test_escape_leaves_a_cell_as_it_was(table: tuple[QWidget, EditTable, QLineEdit]) -> None:
    window, view, _ = table
    key(Qt.Key.Key_B, Qt.Key.Key_Escape)
    assert view.cells.texts()[0] == ["Anna", "1"]
    assert window.isVisible()


def test_del_takes_a_row_away_and_leaves_the_one_that_asks(
    table: tuple[QWidget, EditTable, QLineEdit],
) -> None:
    _, view, _ = table
    key(Qt.Key.Key_Delete, Qt.Key.Key_Delete)
    assert view.cells.texts() == []
    key(Qt.Key.Key_Delete)
    assert view.cells.rowCount() == 1
    assert at(view) == (0, 0)


# ---------------------------------------------------------------- the plan and the tray


def planned(desk: Desk, **fields: Any) -> BatchDraft:
    hen = programme_named("hen")
    assert hen is not None
    rows = (PenRow("Brook pen", 5, None, "B"), PenRow("", 2))
    given = {"machine": Machine("New", 2, 4), "machine_is_new": True, "rows": rows}
    return BatchDraft(**{"programme": hen, "set_at": SET_AT, **given, **fields})


def test_the_plan_speaks_date_by_date(desk: Desk, tested: Any) -> None:
    model = PlanModel()
    watch = tested(model)
    draft = planned(desk)
    model.show_plan(plan_draft(desk.journal, draft, NOW), ZoneInfo("Europe/Lisbon"), "12", "C")
    spoken = [model.index(row, 0).data(Qt.ItemDataRole.AccessibleTextRole) for row in range(model.rowCount())]
    assert spoken[0].startswith("Sun 3 May, 09:00, Set, weigh 12; mean humidity 40–50 %, aim 45")
    assert spoken[2] == "Sun 10 May, day 7, Candle, weigh 12"
    assert spoken[-2].startswith("Fri 22 May, day 19, Lockdown; mean humidity 60–70 %")
    assert spoken[-1] == "Sun 24 May, day 21, Hatch due"
    shares = [line.share for line in model.lines()]
    assert sum(shares) == pytest.approx(1.0)
    assert [line.in_lockdown for line in model.lines()][-2:] == [True, True]
    del watch


def test_the_rail_fills_the_height_there_is(desk: Desk, qtbot: QtBot) -> None:
    view = PlanList()
    qtbot.addWidget(view)
    view.resize(360, 400)
    view.plan.show_plan(plan_draft(desk.journal, planned(desk), NOW), ZoneInfo("UTC"), "", "F")
    view.show()
    last = view.visualRect(view.plan.index(view.plan.rowCount() - 1, 0))
    assert view.viewport().height() * 0.9 < last.bottom() <= view.viewport().height()
    assert not view.verticalScrollBar().isVisible()
    assert not view.grab().isNull()


def test_the_tray_speaks_place_by_place(desk: Desk, tested: Any) -> None:
    model = TrayPreviewModel()
    watch = tested(model)
    draft = planned(desk, weigh_plan=WeighPlan.MARKED, marked=1)
    plan = plan_draft(desk.journal, draft, NOW)
    model.show_eggs(draft.machine, draft.rows, plan.eggs, {(1, 2, 4)})
    spoken = [
        model.index(row, column).data(Qt.ItemDataRole.AccessibleTextRole)
        for row in range(2)
        for column in range(4)
    ]
    assert spoken == [
        "A 1, egg 1, B, Brook pen",
        "A 2, egg 2, B, Brook pen",
        "A 3, egg 3, B, Brook pen",
        "A 4, egg 4, B, Brook pen, marked for weighing",
        "B 1, egg 5, B, Brook pen",
        "B 2, egg 6",
        "B 3, egg 7",
        "B 4, an egg of another batch",
    ]
    model.show_eggs(None, (), (), ())
    assert model.rowCount() == 0
    del watch


@pytest.mark.parametrize(("rows", "columns"), [(1, 4), (6, 7), (60, 60)])
def test_a_row_of_the_tray_always_fits(desk: Desk, qtbot: QtBot, rows: int, columns: int) -> None:
    view = TrayPreview()
    qtbot.addWidget(view)
    view.resize(360, 100)
    view.tray.show_eggs(Machine("m", rows, columns), (), (), ())
    view.show()
    assert view.columnWidth(0) * columns <= view.viewport().width()
    assert view.height() <= 192
    assert not view.grab().isNull()
