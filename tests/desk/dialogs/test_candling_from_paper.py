"""A candling entered from paper: lists of eggs, all alive but some, who candled and when."""

from __future__ import annotations

from hatchbook.desk import settings
from hatchbook.desk.dialogs.candling import CandlingDialog
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk
from tests.desk.dialogs.test_rounds import findings

ALIVE, CLEAR = FindingCode.ALIVE, FindingCode.CLEAR


def paper(desk: Desk, qtbot: QtBot) -> CandlingDialog:
    dialog = CandlingDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def chosen(dialog: CandlingDialog) -> list[int]:
    return [egg.egg.number for egg in dialog.tray.chosen()]


def type_list(dialog: CandlingDialog, qtbot: QtBot, text: str) -> None:
    dialog.eggs_typed.clear()
    qtbot.keyClicks(dialog.eggs_typed, text)


def test_all_are_alive_but_those_that_are_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    type_list(dialog, qtbot, "3, 7, C4")
    assert dialog.rest.text() == "&All are alive but these"
    dialog.rest.click()
    assert findings(desk) == {number: ALIVE for number in range(1, 12) if number not in (3, 7)}
    assert chosen(dialog) == [3, 7, 12]
    assert dialog.note.text() == "9 egg(s) alive. Now press what the chosen ones were."
    qtbot.keyClick(dialog.tray, "K")
    assert findings(desk)[3] is findings(desk)[7] is findings(desk)[12] is CLEAR
    assert dialog.progress.text() == "12 of 12 done"


def test_it_is_one_step_and_can_be_taken_back(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    type_list(dialog, qtbot, "1-3")
    dialog.rest.click()
    assert len(findings(desk)) == 9
    qtbot.keyClick(dialog.tray, Qt.Key.Key_Backspace)
    assert findings(desk) == {}


def test_letters_in_the_list_are_places_and_no_verdicts(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    type_list(dialog, qtbot, "j, k")
    qtbot.keyClick(dialog.eggs_typed, Qt.Key.Key_Return)
    assert findings(desk) == {}
    assert dialog.list.trouble() == "“j” is neither the number nor the place of an egg."
    type_list(dialog, qtbot, "b2-b4")
    assert dialog.list.trouble() == ""
    qtbot.keyClick(dialog.eggs_typed, Qt.Key.Key_Return)
    assert chosen(dialog) == [6, 7, 8]
    assert dialog.isVisible()


def test_what_is_no_egg_stores_nothing_and_stays_to_be_mended(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    type_list(dialog, qtbot, "3, 77")
    dialog.rest.click()
    assert findings(desk) == {}
    assert dialog.list.trouble() == "There is no egg 77: the numbers go from 1 to 12."
    assert dialog.eggs_typed.text() == "3, 77"


def test_it_is_stored_for_the_time_that_was_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    at = SET_AT + 7 * DAY
    dialog.at.set_instant(at)
    dialog.rest.click()
    (candling,) = desk.journal.candlings.of_batch(desk.batch.uid)
    assert candling.at == at
    assert {finding.at for finding in desk.journal.candlings.findings_of(candling.uid)} == {at}


def test_a_time_to_come_is_refused(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    dialog.at.set_instant(NOW + DAY)
    dialog.rest.click()
    assert findings(desk) == {}
    assert dialog.note.text() == "That time is still to come."


def test_who_candled_is_noted_and_remembered(desk: Desk, qtbot: QtBot) -> None:
    dialog = paper(desk, qtbot)
    qtbot.keyClicks(dialog.observer, "Ada")
    dialog.rest.click()
    qtbot.keyClick(dialog.observer, Qt.Key.Key_Return)
    assert desk.journal.candlings.of_batch(desk.batch.uid)[0].by_whom == "Ada"
    dialog.observer.setText("Ben")
    qtbot.keyClick(dialog.observer, Qt.Key.Key_Return)
    assert desk.journal.candlings.of_batch(desk.batch.uid)[0].by_whom == "Ben"
    assert desk.context.settings.get(settings.OBSERVER) == "Ben"


def test_the_window_opens_the_room_and_the_entry_from_paper(desk: Desk, qtbot: QtBot) -> None:
    from hatchbook.desk.candling_room.room import CandlingRoom
    from hatchbook.desk.window import MainWindow

    window = MainWindow(desk.context)
    qtbot.addWidget(window)
    window.show()
    window.actions_list["candle_from_paper"].trigger()
    (dialog,) = window.findChildren(CandlingDialog)
    dialog.reject()
    window.actions_list["candle"].trigger()
    (room,) = window.findChildren(CandlingRoom)
    qtbot.keyClick(room.view.tray, "J")
    qtbot.waitUntil(room.isFullScreen)
    qtbot.keyClick(room.view.tray, Qt.Key.Key_Escape)
    assert findings(desk) == {1: ALIVE}
    qtbot.waitUntil(lambda: not window.findChildren(CandlingRoom))
