"""What can be done with the chosen eggs of a tray: each thing is one step, whatever the number of eggs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hatchbook.desk.dialogs.egg_sheet import EggSheet
from hatchbook.desk.egg.egg_note import EggNoteDialog
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.tray.move_to import MoveToDialog
from hatchbook.desk.tray.tray_menu import TrayMenu
from hatchbook.desk.words.history import step_sentence
from hatchbook.journal import Candling
from hatchbook.trade.codes import EventKind, Fate, FindingCode, HatchMark
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QContextMenuEvent
from PySide6.QtWidgets import QApplication, QDialog, QMenu
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, ZONE, Desk
from tests.desk.tray.conftest import lay_loose, places_of

Pane = Callable[[], SidePane]


def menu_for(side: SidePane, *numbers: int) -> TrayMenu:
    tray = side.tray
    by_number = {egg.egg.number: egg.egg.uid for egg in tray.tray.eggs()}
    if numbers:
        tray.choose(by_number[numbers[0]])
    tray.choose_all([by_number[number] for number in numbers])
    return TrayMenu(side.work, side)


def action(menu: QMenu, name: str) -> QAction:
    found = menu.findChild(QAction, name)
    assert found is not None, name
    return found


def offered(menu: QMenu) -> set[str]:
    return {found.objectName() for found in menu.findChildren(QAction)}


def titles(menu: QMenu) -> list[str]:
    return [one.text() for one in menu.actions() if not one.isEnabled() and not one.objectName()]


def last_step(desk: Desk) -> str:
    step = desk.door.next_undo()
    assert step is not None
    return step_sentence(step, ZONE)


def opened(kind: type[QDialog]) -> QDialog:
    return next(one for one in QApplication.topLevelWidgets() if isinstance(one, kind) and one.isVisible())


def chosen(side: SidePane) -> list[int]:
    return [egg.egg.number for egg in side.tray.chosen()]


# ---------------------------------------------------------------- verdicts


def test_a_verdict_on_several_eggs_is_one_step(desk: Desk, pane: Pane) -> None:
    side = pane()
    action(menu_for(side, 3, 7, 12), "verdict_clear").trigger()
    seen = {finding.egg: finding for finding in desk.journal.candlings.findings(desk.batch.uid)}
    assert {desk.eggs[number - 1].uid for number in (3, 7, 12)} == set(seen)
    assert all((one.code, one.at) == (FindingCode.CLEAR, NOW) for one in seen.values())
    assert last_step(desk) == "3 egg(s) candled"
    assert chosen(side) == [3, 7, 12]
    desk.door.undo()
    assert desk.journal.candlings.all() == []


def test_a_verdict_soon_after_another_belongs_to_the_same_candling(desk: Desk, pane: Pane) -> None:
    side = pane()
    action(menu_for(side, 1), "verdict_alive").trigger()
    desk.clock.at += 1800
    action(menu_for(side, 2), "verdict_clear").trigger()
    desk.clock.at += 5 * 3600
    action(menu_for(side, 3), "verdict_clear").trigger()
    assert len(desk.journal.candlings.of_batch(desk.batch.uid)) == 2


def test_hatch_marks_are_offered_when_eggs_can_hatch(desk: Desk, pane: Pane) -> None:
    side = pane()
    assert "verdict_hatched" not in offered(menu_for(side, 1))
    desk.clock.at = SET_AT + 19 * DAY
    desk.door.run(lambda journal: journal.eggs.replace(replace(desk.eggs[0], remark="late")))
    action(menu_for(side, 1, 2), "verdict_hatched").trigger()
    marks = desk.journal.hatchings.of_batch(desk.batch.uid)
    assert [(mark.mark, mark.at) for mark in marks] == [(HatchMark.HATCHED, desk.clock.at)] * 2
    desk.door.undo()
    assert desk.journal.hatchings.of_batch(desk.batch.uid) == []


def test_eggs_are_taken_out_of_the_batch_as_one_step(desk: Desk, pane: Pane) -> None:
    side = pane()
    action(menu_for(side, 4, 5), "verdict_broken").trigger()
    assert len(desk.journal.removals.of_batch(desk.batch.uid)) == 2
    desk.door.undo()
    assert desk.journal.removals.of_batch(desk.batch.uid) == []


def test_a_batch_that_is_planned_has_no_verdicts_yet(desk: Desk, pane: Pane) -> None:
    desk.clock.at = SET_AT - DAY
    menu = menu_for(pane(), 1)
    verdicts = [one for one in menu.findChildren(QMenu) if not one.isEnabled()]
    assert len(verdicts) == 2
    assert action(menu, "mark").isEnabled()


def test_in_a_closed_batch_only_notes_are_left_and_why_is_said(desk: Desk, pane: Pane) -> None:
    desk.journal.batches.close(desk.batch, NOW)
    menu = menu_for(pane(), 1)
    assert "Batch 26-05 is closed. Reopen it to change its eggs." in titles(menu)
    enabled = {
        name
        for name in ("mark", "note", "carry", "move_to", "take_off", "open")
        if action(menu, name).isEnabled()
    }
    assert enabled == {"note", "open"}


# ---------------------------------------------------------------- marking and choosing


def test_several_eggs_are_marked_for_weighing_and_unmarked_together(desk: Desk, pane: Pane) -> None:
    side = pane()
    mark = action(menu_for(side, 1, 2, 3), "mark")  # the first is marked already
    assert not mark.isChecked()
    mark.trigger()
    assert last_step(desk) == "2 egg(s) marked for weighing"
    mark = action(menu_for(side, 1, 2, 3), "mark")
    assert mark.isChecked()
    mark.trigger()
    assert last_step(desk) == "3 egg(s) no longer marked for weighing"


def test_all_eggs_of_the_same_fate_are_chosen(desk: Desk, pane: Pane) -> None:
    candling = Candling(desk.batch.uid, NOW - DAY)
    codes = {desk.eggs[n].uid: FindingCode.CLEAR for n in (1, 4, 9)}
    desk.journal.candlings.note_findings(candling, codes, candling.at)
    side = pane()
    alike = action(menu_for(side, 2), "choose_alike")
    assert alike.text() == "Choose all 3: clear"
    alike.trigger()
    assert chosen(side) == [2, 5, 10]
    action(menu_for(side, 2), f"choose_{Fate.SET}").trigger()
    assert len(chosen(side)) == 9
    action(menu_for(side), "choose_group").trigger()
    assert chosen(side) == [1, 5, 9]


def test_without_a_chosen_egg_eggs_can_be_chosen(desk: Desk, pane: Pane) -> None:
    side = pane()
    menu = menu_for(side)
    assert "verdict_clear" not in offered(menu)
    action(menu, "choose_all").trigger()
    assert len(chosen(side)) == 12


def test_the_menu_key_asks_for_the_menu_at_the_cursor(desk: Desk, pane: Pane, qtbot: QtBot) -> None:
    tray = pane().tray
    tray.choose(desk.eggs[5].uid)
    tray.menu_wanted.disconnect()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, QPoint(), QPoint())
    with qtbot.waitSignal(tray.menu_wanted) as wanted:
        QApplication.sendEvent(tray.viewport(), event)
    at = tray.viewport().mapFromGlobal(wanted.args[0])
    assert tray.indexAt(at) == tray.currentIndex()


def test_the_menu_key_means_the_egg_under_the_cursor_where_none_is_chosen(desk: Desk, pane: Pane) -> None:
    side = pane()
    side.tray.choose(desk.eggs[5].uid)
    side.tray.clearSelection()
    side.tray.menu_wanted.disconnect()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, QPoint(), QPoint())
    QApplication.sendEvent(side.tray.viewport(), event)
    assert chosen(side) == [6]


def test_carrying_begins_from_the_menu(desk: Desk, pane: Pane) -> None:
    side = pane()
    action(menu_for(side, 4), "carry").trigger()
    assert side.tray.hand.is_full


def test_eggs_are_taken_off_the_tray(desk: Desk, pane: Pane) -> None:
    lay_loose(desk, 2)
    side = pane()
    action(menu_for(side, 1, 2), "take_off").trigger()
    assert (places_of(desk)[1], places_of(desk)[2]) == (None, None)
    assert last_step(desk) == "egg 1 taken from A 1, without a place now"


# ---------------------------------------------------------------- what opens


def test_a_place_is_typed_and_what_lies_there_is_said(desk: Desk, pane: Pane, qtbot: QtBot) -> None:
    side = pane()
    action(menu_for(side, 1), "move_to").trigger()
    dialog = opened(MoveToDialog)
    assert isinstance(dialog, MoveToDialog)
    qtbot.keyClicks(dialog.place, "x 9")
    qtbot.keyClick(dialog.place, Qt.Key.Key_Return)
    assert dialog.line.trouble() == "There is no X 9: the last place is C 4."
    dialog.place.selectAll()
    qtbot.keyClicks(dialog.place, "nonsense")
    qtbot.keyClick(dialog.place, Qt.Key.Key_Return)
    assert dialog.line.trouble() == "“nonsense” is no place. Write it like C 2."
    dialog.place.selectAll()
    qtbot.keyClicks(dialog.place, "c4")
    assert dialog.says.text() == "Egg 12 lies there; the two change places."
    qtbot.keyClick(dialog.place, Qt.Key.Key_Return)
    assert (places_of(desk)[1], places_of(desk)[12]) == ((1, 3, 4), (1, 1, 1))


def test_several_eggs_need_room(desk: Desk, pane: Pane, qtbot: QtBot) -> None:
    side = pane()
    action(menu_for(side, 1, 2), "move_to").trigger()
    dialog = opened(MoveToDialog)
    assert isinstance(dialog, MoveToDialog)
    qtbot.keyClicks(dialog.place, "C 4")
    qtbot.keyClick(dialog.place, Qt.Key.Key_Return)
    assert dialog.line.trouble() == "There is no room for 2 egg(s) from C 4 on."
    dialog.reject()


def test_a_note_goes_to_every_chosen_egg(desk: Desk, pane: Pane, qtbot: QtBot) -> None:
    side = pane()
    action(menu_for(side, 2, 3), "note").trigger()
    dialog = opened(EggNoteDialog)
    assert isinstance(dialog, EggNoteDialog)
    qtbot.keyClick(dialog.text, Qt.Key.Key_Return)
    assert dialog.text_line.trouble() == "Write the note first."
    qtbot.keyClicks(dialog.text, "thin shell")
    qtbot.keyClick(dialog.text, Qt.Key.Key_Return)
    for number in (2, 3):
        (note,) = desk.journal.events.of_egg(desk.eggs[number - 1].uid)
        assert (note.kind, note.text, note.at) == (EventKind.NOTE, "thin shell", NOW)
    assert last_step(desk) == "note on 2 egg(s)"
    lines = [side.lines.lines.index(row).data() for row in range(side.lines.lines.rowCount())]
    assert "Eggs 2, 3: thin shell" in lines


def test_the_tray_follows_the_sheet_from_egg_to_egg(desk: Desk, pane: Pane, qtbot: QtBot) -> None:
    side = pane()
    action(menu_for(side, 5), "open").trigger()
    sheet = opened(EggSheet)
    assert isinstance(sheet, EggSheet)
    sheet.step(1)
    assert chosen(side) == [6]
    sheet.reject()
