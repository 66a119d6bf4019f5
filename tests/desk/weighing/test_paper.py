"""Weights from paper: typed down, pasted, asked about, stored as one step."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.weighing.paper import PaperDialog
from hatchbook.desk.weighing.paper_model import LOST, REMARK, WEIGHT
from hatchbook.trade.codes import WeighPlan
from hatchbook.trade.units import Unit
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


@pytest.fixture
def dialog(desk: Desk, qtbot: QtBot) -> PaperDialog:
    """The list for the small journal, whose eggs weighed 60 g when set."""
    with desk.journal.step("test") as step:
        for egg in desk.eggs:
            step.replace(replace(egg, set_mass_g=60.0))
        step.replace(replace(desk.batch, weigh_plan=WeighPlan.MARKED))
    made = PaperDialog(desk.context, desk.journal.batches.get(desk.batch.uid), Unit.GRAM, None)
    qtbot.addWidget(made)
    return made


def stored(desk: Desk) -> list[float]:
    return [mass.mass_g for mass in desk.journal.weighings.masses(desk.batch.uid)]


def put(dialog: PaperDialog, row: int, text: str) -> None:
    dialog.model.setData(dialog.model.index(row, WEIGHT), text)


def cell(dialog: PaperDialog, row: int, column: int) -> str:
    return str(dialog.model.index(row, column).data())


def test_the_model_is_sound(dialog: PaperDialog) -> None:
    QAbstractItemModelTester(dialog.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    put(dialog, 0, "55.5")


def test_a_weight_shows_its_loss_beside_it_and_what_is_odd(dialog: PaperDialog) -> None:
    put(dialog, 0, "55.2")
    assert (cell(dialog, 0, LOST), cell(dialog, 0, REMARK)) == ("8.0\u00a0%", "")
    put(dialog, 1, "65")
    assert cell(dialog, 1, REMARK).startswith("heavier than before (60.0")
    put(dialog, 2, "much")
    assert "not a number" in cell(dialog, 2, REMARK)
    assert cell(dialog, 2, WEIGHT) == "much"


def test_a_pasted_column_goes_down_the_list_and_is_one_step(
    dialog: PaperDialog, desk: Desk, qtbot: QtBot
) -> None:
    QGuiApplication.clipboard().setText("1\t55.8\n2\t56,1\n3\t55.9\n")
    dialog.table.setCurrentIndex(dialog.model.index(1, WEIGHT))
    qtbot.keyClick(dialog.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert [cell(dialog, row, WEIGHT) for row in range(5)] == ["", "55.8", "56,1", "55.9", ""]
    assert dialog.store_button.text() == "Store 3 weight(s)"
    dialog.store()
    assert sorted(stored(desk)) == [55.8, 55.9, 56.1]
    (weighing,) = desk.journal.weighings.of_batch(desk.batch.uid)
    assert weighing.resolution_g == pytest.approx(0.1)
    desk.door.undo()
    assert stored(desk) == []


def test_a_weight_that_cannot_be_read_is_told_and_nothing_stored(dialog: PaperDialog, desk: Desk) -> None:
    put(dialog, 0, "55.8")
    put(dialog, 1, "5o.1")
    dialog.store()
    assert stored(desk) == []
    assert "not a number" in dialog.note.text()
    assert cell(dialog, 1, WEIGHT) == "5o.1"


def test_weights_that_cannot_well_be_right_are_asked_about_once(dialog: PaperDialog, desk: Desk) -> None:
    put(dialog, 0, "65")
    dialog.store()
    assert stored(desk) == []
    assert "cannot well be right" in dialog.note.text()
    dialog.store()
    assert stored(desk) == [65.0]
    (mass,) = desk.journal.weighings.masses(desk.batch.uid)
    assert mass.kept_though_odd


def test_another_day_makes_another_loss_odd(dialog: PaperDialog, desk: Desk) -> None:
    put(dialog, 0, "52")
    assert cell(dialog, 0, REMARK) == ""
    dialog.at.set_instant(desk.batch.set_at + 86_400)
    assert cell(dialog, 0, REMARK).startswith("lighter than can be")


def test_del_empties_a_cell_and_nothing_typed_stores_nothing(dialog: PaperDialog, qtbot: QtBot) -> None:
    put(dialog, 0, "55.8")
    dialog.table.setCurrentIndex(dialog.model.index(0, WEIGHT))
    qtbot.keyClick(dialog.table, Qt.Key.Key_Delete)
    assert cell(dialog, 0, WEIGHT) == ""
    assert not dialog.store_button.isEnabled()
