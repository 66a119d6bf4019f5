"""Eggs are moved on the tray: by key, by mouse, alone and several together; each time as one step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.theme.theme import wear_scheme
from hatchbook.desk.theme.tokens import SchemeName, load_scheme
from hatchbook.desk.tray.arranging_tray import ArrangingTray
from hatchbook.desk.tray.tray_model import EGG_ROLE
from hatchbook.desk.words.history import step_sentence
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, ZONE, Desk, set_batch
from tests.desk.tray.conftest import lay_loose, places_of, with_trays

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
LEFT = Qt.MouseButton.LeftButton


def choose(tray: ArrangingTray, *numbers: int) -> None:
    by_number = {egg.egg.number: egg.egg.uid for egg in tray.tray.eggs()}
    tray.choose(by_number[numbers[0]])
    tray.choose_all([by_number[number] for number in numbers])


def chosen(tray: ArrangingTray) -> list[int]:
    return [egg.egg.number for egg in tray.chosen()]


def point(tray: ArrangingTray, row: int, column: int) -> QPoint:
    return tray.visualRect(tray.tray.index(row, column)).center()


def mouse(tray: ArrangingTray, kind: QEvent.Type, at: QPoint, button: Qt.MouseButton = LEFT) -> None:
    viewport = tray.viewport()
    held = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseButtonRelease else LEFT
    event = QMouseEvent(
        kind,
        QPointF(at),
        QPointF(viewport.mapToGlobal(at)),
        Qt.MouseButton.NoButton if kind is QEvent.Type.MouseMove else button,
        held,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(viewport, event)


def drag(tray: ArrangingTray, start: QPoint, end: QPoint, *, drop: bool = True) -> None:
    mouse(tray, QEvent.Type.MouseButtonPress, start)
    mouse(tray, QEvent.Type.MouseMove, (start + end) / 2)
    mouse(tray, QEvent.Type.MouseMove, end)
    if drop:
        mouse(tray, QEvent.Type.MouseButtonRelease, end)


def last_step(desk: Desk) -> str:
    step = desk.door.next_undo()
    assert step is not None
    return step_sentence(step, ZONE)


def remove_eggs(desk: Desk, *numbers: int) -> None:
    for egg in desk.eggs:
        if egg.number in numbers:
            desk.journal.eggs.remove(egg)


# ---------------------------------------------------------------- by key


def test_ctrl_and_an_arrow_move_the_egg_and_the_cursor_goes_along(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    remove_eggs(desk, 2)
    tray = pane().tray
    choose(tray, 1)
    qtbot.keyClick(tray, Qt.Key.Key_Right, CTRL)
    assert places_of(desk)[1] == (1, 1, 2)
    assert last_step(desk) == "egg 1 moved from A 1 to A 2"
    assert chosen(tray) == [1]
    assert tray.currentIndex().data(EGG_ROLE).egg.number == 1
    desk.door.undo()
    assert places_of(desk)[1] == (1, 1, 1)
    assert chosen(tray) == [1]


def test_onto_an_egg_the_two_swap(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    choose(tray, 6)
    qtbot.keyClick(tray, Qt.Key.Key_Down, CTRL)
    assert (places_of(desk)[6], places_of(desk)[10]) == ((1, 3, 2), (1, 2, 2))
    assert last_step(desk) == "egg 6 moved from B 2 to C 2, egg 10 the other way"


def test_at_the_edge_nothing_moves(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    before = desk.door.next_undo()
    choose(tray, 1)
    qtbot.keyClick(tray, Qt.Key.Key_Up, CTRL)
    qtbot.keyClick(tray, Qt.Key.Key_Left, CTRL)
    assert desk.door.next_undo() == before


def test_several_eggs_shift_together_as_one_step(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    remove_eggs(desk, 9, 10)
    tray = pane().tray
    choose(tray, 5, 6)
    qtbot.keyClick(tray, Qt.Key.Key_Down, CTRL)
    assert (places_of(desk)[5], places_of(desk)[6]) == ((1, 3, 1), (1, 3, 2))
    assert last_step(desk) == "2 egg(s) moved"
    assert chosen(tray) == [5, 6]
    desk.door.undo()
    assert (places_of(desk)[5], places_of(desk)[6]) == ((1, 2, 1), (1, 2, 2))


def test_several_eggs_do_not_push_another_away(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    tray = pane().tray
    before = places_of(desk)
    choose(tray, 5, 6)
    qtbot.keyClick(tray, Qt.Key.Key_Down, CTRL)
    assert places_of(desk) == before
    assert not tray.hand.is_full


def test_an_egg_is_taken_up_carried_and_put_down(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    remove_eggs(desk, 12)
    side = pane()
    tray = side.tray
    choose(tray, 1)
    said: list[str] = []
    tray.said.connect(said.append)
    qtbot.keyClick(tray, "m")
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Down):
        qtbot.keyClick(tray, key)
    assert places_of(desk)[1] == (1, 1, 1)
    assert side._candled.text() == "egg 1 to C 4"
    qtbot.keyClick(tray, Qt.Key.Key_Return)
    assert places_of(desk)[1] == (1, 3, 4)
    assert said[2] == "egg 1 to A 3, egg 3 to A 1"
    assert said[-1] == ""
    assert side._candled.text() == "not candled yet"
    assert chosen(tray) == [1]


def test_esc_lets_the_egg_go(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    before = places_of(desk)
    choose(tray, 1)
    qtbot.keyClick(tray, "m")
    qtbot.keyClick(tray, Qt.Key.Key_Down)
    assert tray.currentIndex().row() == 1
    qtbot.keyClick(tray, Qt.Key.Key_Escape)
    assert not tray.hand.is_full
    assert places_of(desk) == before
    assert tray.currentIndex().data(EGG_ROLE).egg.number == 1


def test_an_egg_is_let_go_when_the_focus_leaves(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    side = pane()
    choose(side.tray, 1)
    qtbot.keyClick(side.tray, "m")
    assert side.tray.hand.is_full
    side.lines.setFocus()
    assert not side.tray.hand.is_full


def test_an_egg_without_a_place_is_carried_in_by_key(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    lay_loose(desk, 7)
    tray = pane().tray
    choose(tray, 7)
    qtbot.keyClick(tray, "m")
    qtbot.keyClick(tray, Qt.Key.Key_Return)  # it hovers over the first free place
    assert places_of(desk)[7] == (1, 2, 3)
    assert last_step(desk) == "egg 7 put into B 3"


def test_arrows_carry_over_the_heading_into_the_next_tray(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    with_trays(desk, 2)
    tray = pane().tray
    choose(tray, 9)
    qtbot.keyClick(tray, Qt.Key.Key_Down, CTRL)
    assert places_of(desk)[9] == (2, 1, 1)
    assert last_step(desk) == "egg 9 moved from 1 C 1 to 2 A 1"


def test_in_a_closed_batch_nothing_moves_and_why_is_said(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    desk.journal.batches.close(desk.batch, desk.context.now())
    tray = pane().tray
    before = places_of(desk)
    choose(tray, 1)
    qtbot.keyClick(tray, Qt.Key.Key_Right, CTRL)
    qtbot.keyClick(tray, "m")
    assert not tray.hand.is_full
    drag(tray, point(tray, 0, 0), point(tray, 2, 3))
    assert places_of(desk) == before


def test_eggs_of_another_batch_in_the_machine_keep_their_places(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    machine = desk.journal.machines.get(desk.batch.machine)
    desk.journal.machines.replace(replace(machine, tray_rows=4))
    other = set_batch(desk.journal, machine, "26-06", SET_AT + DAY)
    for egg in desk.journal.eggs.of_batch(other.uid):
        if egg.number > 1:
            desk.journal.eggs.remove(egg)
    (egg,) = desk.journal.eggs.of_batch(other.uid)
    desk.journal.eggs.move(egg, 1, 4, 1)
    side = pane()
    assert (
        side.tray.tray.index(3, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "D 1, an egg of another batch"
    )
    choose(side.tray, 9)
    qtbot.keyClick(side.tray, Qt.Key.Key_Down, CTRL)
    assert places_of(desk)[9] == (1, 3, 1)
    qtbot.keyClick(side.tray, "m")
    qtbot.keyClick(side.tray, Qt.Key.Key_Down)
    assert side._candled.text() == "an egg of another batch lies in D 1"
    assert not side.tray.grab().isNull()
    qtbot.keyClick(side.tray, Qt.Key.Key_Escape)


# ---------------------------------------------------------------- by mouse


def test_an_egg_is_dragged_to_a_free_place(desk: Desk, pane: Callable[[], SidePane]) -> None:
    remove_eggs(desk, 12)
    tray = pane().tray
    drag(tray, point(tray, 0, 0), point(tray, 2, 3))
    assert places_of(desk)[1] == (1, 3, 4)
    assert chosen(tray) == [1]


def test_dragged_onto_another_egg_they_swap(desk: Desk, pane: Callable[[], SidePane]) -> None:
    tray = pane().tray
    drag(tray, point(tray, 0, 0), point(tray, 2, 3))
    assert (places_of(desk)[1], places_of(desk)[12]) == ((1, 3, 4), (1, 1, 1))


def test_chosen_eggs_are_dragged_together(desk: Desk, pane: Callable[[], SidePane]) -> None:
    remove_eggs(desk, 9, 10, 11, 12)
    tray = pane().tray
    choose(tray, 5, 6, 7)
    drag(tray, point(tray, 1, 1), point(tray, 2, 2))
    places = places_of(desk)
    assert [places[number] for number in (5, 6, 7)] == [(1, 3, 2), (1, 3, 3), (1, 3, 4)]
    assert chosen(tray) == [5, 6, 7]
    assert last_step(desk) == "3 egg(s) moved"


def test_an_egg_that_is_not_chosen_is_dragged_alone(desk: Desk, pane: Callable[[], SidePane]) -> None:
    remove_eggs(desk, 12)
    tray = pane().tray
    choose(tray, 5, 6)
    drag(tray, point(tray, 0, 0), point(tray, 2, 3))
    assert (places_of(desk)[1], places_of(desk)[5]) == ((1, 3, 4), (1, 2, 1))


def test_while_eggs_are_dragged_the_tray_shows_what_would_come_of_it(
    desk: Desk, pane: Callable[[], SidePane]
) -> None:
    tray = pane().tray
    drag(tray, point(tray, 0, 0), point(tray, 2, 3), drop=False)
    eggs = {egg.egg.number: egg for egg in tray.tray.eggs()}
    target = tray.hand.preview((1, 3, 4), eggs[12])
    left = tray.hand.preview((1, 1, 1), eggs[1])
    assert (target.egg, target.is_target) == (eggs[1], True)
    assert (left.egg, left.is_target, left.is_left) == (eggs[12], False, False)
    mouse(tray, QEvent.Type.MouseButtonRelease, point(tray, 2, 3))


def test_dropped_outside_the_tray_nothing_moves(desk: Desk, pane: Callable[[], SidePane]) -> None:
    tray = pane().tray
    before = places_of(desk)
    drag(tray, point(tray, 0, 0), QPoint(-40, -40))
    assert places_of(desk) == before
    assert not tray.hand.is_full


def test_esc_ends_a_drag(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    before = places_of(desk)
    drag(tray, point(tray, 0, 0), point(tray, 2, 3), drop=False)
    qtbot.keyClick(tray, Qt.Key.Key_Escape)
    mouse(tray, QEvent.Type.MouseButtonRelease, point(tray, 2, 3))
    assert places_of(desk) == before


def test_a_shaky_click_moves_nothing(desk: Desk, pane: Callable[[], SidePane]) -> None:
    tray = pane().tray
    before = places_of(desk)
    drag(tray, point(tray, 0, 0), point(tray, 0, 0) + QPoint(2, 1))
    assert places_of(desk) == before
    assert chosen(tray) == [1]


def test_an_egg_without_a_place_is_dragged_in_and_out(desk: Desk, pane: Callable[[], SidePane]) -> None:
    lay_loose(desk, 7, 8)
    tray = pane().tray
    heading, loose = 3, 4
    drag(tray, point(tray, loose, 0), point(tray, 1, 2))
    assert places_of(desk)[7] == (1, 2, 3)
    drag(tray, point(tray, 0, 0), point(tray, heading, 0))
    assert places_of(desk)[1] is None
    assert last_step(desk) == "egg 1 taken from A 1, without a place now"


@pytest.mark.parametrize("name", ["light", "dark"])
def test_carried_eggs_are_painted_without_trouble(
    desk: Desk, pane: Callable[[], SidePane], name: SchemeName
) -> None:
    tray = pane().tray
    wear_scheme(tray, load_scheme(name))
    drag(tray, point(tray, 0, 0), point(tray, 2, 3), drop=False)
    assert not tray.grab().isNull()
    mouse(tray, QEvent.Type.MouseButtonRelease, QPoint(-40, -40))


# ---------------------------------------------------------------- choosing


def test_ctrl_a_chooses_every_egg_and_no_empty_place(
    desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot
) -> None:
    remove_eggs(desk, 3, 4)
    tray = pane().tray
    qtbot.keyClick(tray, Qt.Key.Key_A, CTRL)
    assert len(tray.chosen()) == len(tray.selectedIndexes()) == 10


def test_shift_and_arrows_choose_several(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    choose(tray, 1)
    qtbot.keyClick(tray, Qt.Key.Key_Right, SHIFT)
    qtbot.keyClick(tray, Qt.Key.Key_Down, SHIFT)
    assert chosen(tray) == [1, 2, 5, 6]


def test_typing_a_number_goes_to_that_egg(desk: Desk, pane: Callable[[], SidePane], qtbot: QtBot) -> None:
    tray = pane().tray
    qtbot.keyClicks(tray, "11")
    assert tray.currentIndex().data(EGG_ROLE).egg.number == 11


def test_eggs_stay_chosen_when_others_change(desk: Desk, pane: Callable[[], SidePane]) -> None:
    tray = pane().tray
    choose(tray, 2, 3)
    desk.door.run(lambda journal: journal.eggs.replace(replace(desk.eggs[7], remark="small")))
    assert chosen(tray) == [2, 3]
    desk.door.run(lambda journal: journal.eggs.move(desk.eggs[1], 1, 3, 1))
    assert chosen(tray) == [3, 2]
