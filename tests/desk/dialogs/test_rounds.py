"""Candling by one key an egg; every verdict is stored at once."""

from __future__ import annotations

from hatchbook.desk.dialogs.candling import CandlingDialog
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


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
