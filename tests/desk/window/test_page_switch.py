"""The window's three pages: switched by key, each built when it is first wanted, a batch always one step away."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import shiboken6
from hatchbook.desk.page_switch import Page
from hatchbook.desk.theme.theme import SchemeChoice, current_theme
from hatchbook.desk.window import MainWindow
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Iterator[MainWindow]:
    """The main window over the small journal, shown."""
    shown = MainWindow(desk.context)
    qtbot.addWidget(shown)
    shown.show()
    qtbot.waitExposed(shown)
    yield shown
    shown.close()


def press(window: MainWindow, key: Qt.Key) -> None:
    QTest.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)


def test_a_key_shows_each_page_and_its_button_is_pressed(window: MainWindow) -> None:
    switch = window.switch
    assert switch.shown is Page.JOURNAL
    press(window, Qt.Key.Key_2)
    assert (switch.shown, window.pages.currentWidget()) == (Page.SEASONS, switch.seasons)
    assert window.actions_list["page_seasons"].isChecked()
    press(window, Qt.Key.Key_3)
    assert (switch.shown, window.pages.currentWidget()) == (Page.MACHINES, switch.machines)
    press(window, Qt.Key.Key_1)
    assert (switch.shown, window.pages.currentWidget()) == (Page.JOURNAL, window.batch_pages)
    assert not window.actions_list["page_machines"].isChecked()


def test_a_batch_that_is_opened_elsewhere_is_shown_in_its_journal(window: MainWindow, desk: Desk) -> None:
    window.switch.show_machines()
    window.switch.machines.batch_opened.emit(desk.batch.uid)
    assert window.pages.currentWidget() is window.batch_pages
    assert desk.context.batch == desk.batch.uid


def test_choosing_a_batch_leaves_the_machines_but_stays_beside_the_seasons(
    window: MainWindow, desk: Desk
) -> None:
    window.switch.show_seasons()
    desk.context.choose_batch(None)
    desk.context.choose_batch(desk.batch.uid)
    assert window.switch.shown is Page.SEASONS
    window.switch.show_machines()
    desk.context.choose_batch(None)
    desk.context.choose_batch(desk.batch.uid)
    assert window.pages.currentWidget() is window.batch_pages


def test_a_part_of_the_batchs_page_brings_the_page_with_it(window: MainWindow, qtbot: QtBot) -> None:
    window.switch.show_seasons()
    window.actions_list["go_tray"].trigger()
    assert window.pages.currentWidget() is window.batch_pages
    assert window.batch_pages.journal_page.side.tray.hasFocus()


def test_undo_while_another_page_is_shown_leaves_that_page(window: MainWindow, desk: Desk) -> None:
    desk.door.run(lambda journal: journal.batches.close(desk.batch, desk.context.now()))
    window.switch.show_machines()
    desk.door.undo()
    assert window.switch.shown is Page.MACHINES


def test_without_a_journal_there_is_nothing_to_compare(window: MainWindow) -> None:
    window.files.close_journal()
    window.batch_actions.update_enabled()
    assert not window.actions_list["page_seasons"].isEnabled()
    assert not window.actions_list["page_machines"].isEnabled()


def test_colours_change_on_every_page_with_what_was_built_on_it(
    window: MainWindow, desk: Desk, qtbot: QtBot
) -> None:
    """Once a change of colours spoke to an action that Python had lost hold of, and ended the program."""
    desk.door.run(lambda journal: journal.batches.close(desk.batch, desk.context.now()))
    for show in (window.switch.show_seasons, window.switch.show_machines, window.switch.show_journal):
        show()
        desk.door.undo()
        desk.door.redo()
        qtbot.wait(20)
        for name in ("scheme_dark", "scheme_light"):
            window.actions_list[name].trigger()
            qtbot.wait(1)
            assert shiboken6.isValid(window.left.batches.find_line.actions()[0])
    current_theme().choose(SchemeChoice.SYSTEM)
