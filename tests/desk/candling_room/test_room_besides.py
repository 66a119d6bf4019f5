"""What the room does besides the verdicts: notes, names, lid, light and hand; several trays, and no eggs at all."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk import settings
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from tests.desk.candling_room.conftest import House
from tests.desk.candling_room.kit import SET_AT, lid_events
from tests.desk.candling_room.test_room import egg, shown

ALIVE, CLEAR, DEAD = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD


def test_a_note_is_typed_in_place_and_its_enter_skips_nothing(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, "n")
    assert room.view.foot.is_typing
    house.qtbot.keyClicks(room.view.foot.entry, "jkl 7")
    house.qtbot.keyClick(room.view.foot.entry, Qt.Key.Key_Return)
    assert (egg(room), house.findings(), room.view.foot.is_typing) == (1, {}, False)
    (event,) = house.journal.events.of_egg(room.sitting.state.eggs[0].uid)
    assert event.text == "jkl 7"
    assert room.view.face.face.lines[-1] == "Noted: jkl 7"
    assert room.focusWidget() is room.view.tray
    house.press(room, "n")
    house.qtbot.keyClicks(room.view.foot.entry, "not this")
    house.qtbot.keyClick(room.view.foot.entry, Qt.Key.Key_Escape)
    assert room.isVisible()
    assert len(house.journal.events.of_egg(room.sitting.state.eggs[0].uid)) == 1


def test_who_candles_is_remembered(house: House) -> None:
    batch = house.set_batch(1, 3)
    room = house.open()
    house.press(room, Qt.Key.Key_F4)
    house.qtbot.keyClicks(room.view.foot.entry, "Ada")
    house.qtbot.keyClick(room.view.foot.entry, Qt.Key.Key_Return)
    assert "candled by Ada" in room.view.head.facts.text()
    house.press(room, "J", Qt.Key.Key_Escape)
    assert house.journal.candlings.of_batch(batch.uid)[0].by_whom == "Ada"
    assert house.context.settings.get(settings.OBSERVER) == "Ada"
    house.now[0] += 4 * 3600
    house.press(house.open(), "J")
    assert house.journal.candlings.of_batch(batch.uid)[1].by_whom == "Ada"


def test_the_lid_counts_and_warns_after_a_quarter_of_an_hour(house: House) -> None:
    batch = house.set_batch(2, 3)
    room = house.open()
    assert room.view.head.lid.text() == "Lid open under a minute"
    house.now[0] += 6 * 60
    house.press(room, "J")
    assert room.view.head.lid.text() == "Lid open 6\u00a0min"
    house.now[0] += 10 * 60
    house.press(room, "J")
    assert room.view.head.lid.text() == "Lid open 16\u00a0min: eggs cool"
    assert room.view.head.lid.ink == "warn"
    house.press(room, "h")
    assert room.view.head.lid.text() == "Lid shut after 16\u00a0min"
    assert room.view.foot.message.text() == "Lid shut after 16\u00a0min"
    assert lid_events(house.journal, batch) == [(SET_AT + 14 * 86_400, int(house.now[0]))]


def test_time_left_is_told_once_there_is_a_pace(house: House) -> None:
    house.set_batch(4, 5)
    house.pace = 20
    room = house.open()
    house.press(room, "J", "J")
    assert room.view.head.progress.text() == "2 of 20 done"
    house.press(room, "J")
    assert room.view.head.progress.text() == "3 of 20 done, about 6\u00a0min to go"


def test_order_hand_and_light_are_kept_for_the_next_time(house: House) -> None:
    house.set_batch(2, 3)
    room = house.open()
    house.press(room, Qt.Key.Key_F3, Qt.Key.Key_F2, "+", "+", "+", "-")
    house.press(room, "F")
    assert egg(room) == 4
    house.press(room, Qt.Key.Key_Escape)
    again = house.open()
    house.press(again, "F")
    assert house.findings() == {1: ALIVE, 4: ALIVE}
    assert again.view.head.light.text() == "Screen light 2 of 3"


def test_a_batch_that_is_not_set_yet_has_nothing_to_candle(house: House) -> None:
    house.set_batch(1, 3, day=-2.0)
    room = house.open()
    house.press(room, "J")
    assert house.findings() == {}
    assert room.view.foot.message.text() == "This batch is not set yet: there is nothing to candle."


def test_before_the_first_useful_day_the_room_says_so(house: House) -> None:
    house.set_batch(1, 3, day=3.0)
    assert house.open().view.foot.message.text() == "Little is to be seen before day 5."


def test_a_batch_without_eggs_can_be_left(house: House) -> None:
    house.set_batch(1, 1, empty=(0,))
    room = house.open()
    house.press(room, "J", Qt.Key.Key_Space, Qt.Key.Key_Left, "n", "1", Qt.Key.Key_Escape)
    assert room.view.face.face.title == "No eggs"
    house.press(room, Qt.Key.Key_Return)
    assert not room.isVisible()
    assert house.findings() == {}


def test_when_every_egg_is_out_there_is_nothing_to_end(house: House) -> None:
    batch = house.set_batch(1, 2)
    house.candle(7, {1: CLEAR, 2: DEAD})
    room = house.open()
    assert room.view.face.face.title == "No egg left"
    house.press(room, Qt.Key.Key_Return)
    assert not room.isVisible()
    assert len(house.journal.candlings.of_batch(batch.uid)) == 1


def test_several_trays_are_shown_one_at_a_time(house: House) -> None:
    batch = house.set_batch(1, 2)
    eggs = house.journal.eggs.of_batch(batch.uid)
    house.journal.eggs.replace(replace(eggs[1], tray=2, tray_column=1))
    room = house.open()
    assert (room.view.left.title.text(), room.view.face.face.title) == ("Tray 1", "1 A 1")
    house.press(room, "J")
    assert (room.view.left.title.text(), room.view.face.face.title) == ("Tray 2", "2 A 1")
    assert shown(room) == {}
    house.press(room, Qt.Key.Key_Backspace)
    assert room.view.left.title.text() == "Tray 1"


def test_eggs_without_a_place_have_a_tray_of_their_own(house: House) -> None:
    batch = house.set_batch(1, 2)
    for one in house.journal.eggs.of_batch(batch.uid)[1:]:
        house.journal.eggs.replace(replace(one, tray=None, tray_row=None, tray_column=None))
    room = house.open()
    house.press(room, "J")
    assert (room.view.left.title.text(), room.view.face.face.title) == ("Eggs without a place", "Egg 2")
    house.press(room, "K")
    assert house.findings() == {1: ALIVE, 2: CLEAR}
