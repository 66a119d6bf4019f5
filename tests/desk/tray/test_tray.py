"""The tray: a model that speaks, and eggs that move."""

from __future__ import annotations

from hatchbook.desk.tray.tray_model import EGG_ROLE, PLACE_ROLE, TrayModel
from hatchbook.desk.tray.tray_view import TrayView
from hatchbook.desk.words.eggs import place_name, row_letter
from hatchbook.figures import batch_figures
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk

SPOKEN = Qt.ItemDataRole.AccessibleTextRole


def shown(desk: Desk) -> TrayModel:
    model = TrayModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show_view(batch_figures(desk.journal, desk.batch.uid, NOW))
    return model


def test_rows_go_by_letters() -> None:
    assert [row_letter(row) for row in (1, 26, 27, 52, 53)] == ["A", "Z", "AA", "AZ", "BA"]
    assert place_name(3, 2) == "C 2"
    assert place_name(3, 2, 2, 3) == "2 C 2"


def test_every_place_of_the_tray_is_there(desk: Desk) -> None:
    model = shown(desk)
    assert (model.rowCount(), model.columnCount()) == (3, 4)
    egg = model.index(1, 2).data(EGG_ROLE)
    assert egg.egg.number == 7
    assert model.index(1, 2).data(PLACE_ROLE) == (1, 2, 3)


def test_an_egg_speaks_as_one_sentence(desk: Desk) -> None:
    model = shown(desk)
    text = model.index(1, 2).data(SPOKEN)
    assert text.startswith("B 3, egg 7, Orchard, laid 29 Apr; set, not looked into")


def test_an_empty_place_says_so(desk: Desk) -> None:
    egg = desk.eggs[0]
    desk.journal.eggs.remove(egg)
    model = shown(desk)
    assert model.index(0, 0).data(SPOKEN) == "A 1, empty"


def test_eggs_without_a_place_are_not_lost(desk: Desk) -> None:
    from dataclasses import replace

    desk.journal.eggs.replace(replace(desk.eggs[5], tray=None, tray_row=None, tray_column=None))
    model = shown(desk)
    found = [
        model.index(row, column).data(EGG_ROLE)
        for row in range(model.rowCount())
        for column in range(model.columnCount())
    ]
    assert sorted(egg.egg.number for egg in found if egg is not None) == list(range(1, 13))


def test_enter_opens_the_egg(desk: Desk, qtbot: QtBot) -> None:
    view = TrayView()
    qtbot.addWidget(view)
    view.tray.show_view(batch_figures(desk.journal, desk.batch.uid, NOW))
    view.choose(desk.eggs[3].uid)
    with qtbot.waitSignal(view.egg_opened) as opened:
        qtbot.keyClick(view, Qt.Key.Key_Return)
    assert opened.args[0].egg.number == 4
