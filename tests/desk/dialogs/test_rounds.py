"""Candling, hatching and opening by one key an egg; every verdict is stored at once."""

from __future__ import annotations

from hatchbook.desk.dialogs.candling import CandlingDialog
from hatchbook.desk.dialogs.hatch import HatchDialog
from hatchbook.figures import batch_figures
from hatchbook.trade.codes import BreakOutSign, Fate, FindingCode
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk


def findings(desk: Desk) -> dict[int, FindingCode]:
    numbers = {egg.uid: egg.number for egg in desk.eggs}
    return {numbers[finding.egg]: finding.code for finding in desk.journal.candlings.findings(desk.batch.uid)}


def candling(desk: Desk, qtbot: QtBot) -> CandlingDialog:
    dialog = CandlingDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    return dialog


def test_one_key_an_egg_and_the_next_egg_follows(desk: Desk, qtbot: QtBot) -> None:
    dialog = candling(desk, qtbot)
    for key in "JJKU":
        qtbot.keyClick(dialog.tray, key)
    assert findings(desk) == {
        1: FindingCode.ALIVE,
        2: FindingCode.ALIVE,
        3: FindingCode.CLEAR,
        4: FindingCode.EARLY_DEAD,
    }
    assert dialog.progress.text() == "4 of 12 done"


def test_backspace_takes_back_as_often_as_wanted(desk: Desk, qtbot: QtBot) -> None:
    dialog = candling(desk, qtbot)
    for key in "JKL":
        qtbot.keyClick(dialog.tray, key)
    qtbot.keyClick(dialog.tray, Qt.Key.Key_Backspace)
    qtbot.keyClick(dialog.tray, Qt.Key.Key_Backspace)
    assert findings(desk) == {1: FindingCode.ALIVE}


def test_a_second_verdict_of_the_same_egg_replaces_the_first(desk: Desk, qtbot: QtBot) -> None:
    dialog = candling(desk, qtbot)
    qtbot.keyClick(dialog.tray, "J")
    dialog.tray.choose(desk.eggs[0].uid)
    qtbot.keyClick(dialog.tray, "K")
    assert findings(desk) == {1: FindingCode.CLEAR}


def test_the_rest_can_be_called_alive_at_once(desk: Desk, qtbot: QtBot) -> None:
    dialog = candling(desk, qtbot)
    qtbot.keyClick(dialog.tray, "K")
    dialog.rest.click()
    assert findings(desk)[1] is FindingCode.CLEAR
    assert list(findings(desk).values()).count(FindingCode.ALIVE) == 11


def test_a_candling_that_was_stopped_is_gone_on_with(desk: Desk, qtbot: QtBot) -> None:
    first = candling(desk, qtbot)
    qtbot.keyClick(first.tray, "J")
    first.accept()
    second = candling(desk, qtbot)
    qtbot.keyClick(second.tray, "K")
    assert len(desk.journal.candlings.of_batch(desk.batch.uid)) == 1
    assert findings(desk) == {1: FindingCode.ALIVE, 2: FindingCode.CLEAR}


def test_rates_appear_once_candled_and_hatched(desk: Desk, qtbot: QtBot) -> None:
    dialog = candling(desk, qtbot)
    qtbot.keyClick(dialog.tray, "K")
    dialog.rest.click()
    assert batch_figures(desk.journal, desk.batch.uid, NOW).rates.candled_fertility.hits == 11
    hatch = HatchDialog(desk.context, desk.batch, None)
    qtbot.addWidget(hatch)
    hatch.tray.choose(desk.eggs[1].uid)
    for _ in range(5):
        qtbot.keyClick(hatch.tray, "K")
    counts = batch_figures(desk.journal, desk.batch.uid, NOW).counts
    assert counts[Fate.HATCHED] == 5


def test_an_opened_egg_keeps_its_signs(desk: Desk, qtbot: QtBot) -> None:
    dialog = HatchDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    dialog.choose_subject("opened")
    dialog._signs._boxes[BreakOutSign.WET].setChecked(True)
    dialog.tray.choose(desk.eggs[0].uid)
    qtbot.keyClick(dialog.tray, "J")
    (opened,) = desk.journal.break_outs.of_batch(desk.batch.uid)
    assert [mark.code for mark in desk.journal.break_outs.marks(opened.uid)] == ["wet"]
    assert dialog._signs.ticked() == []


def test_several_eggs_are_chosen_at_once(desk: Desk, qtbot: QtBot) -> None:
    dialog = HatchDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    dialog.tray.choose(desk.eggs[0].uid)
    qtbot.keyClick(dialog.tray, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(dialog.tray, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert dialog.title.text() == "3 egg(s) chosen"
    qtbot.keyClick(dialog.tray, "K")
    assert len(desk.journal.hatchings.of_batch(desk.batch.uid)) == 3
    desk.door.undo()
    assert desk.journal.hatchings.of_batch(desk.batch.uid) == []
