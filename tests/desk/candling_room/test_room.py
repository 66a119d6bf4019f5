"""The room by its keys: what is pressed is stored, and shown as it is stored."""

from __future__ import annotations

import random

import pytest
from hatchbook.desk.candling_room.room import CandlingRoom
from hatchbook.desk.candling_room.tray_model import CELL_ROLE, CellState
from hatchbook.journal import DiskFullError, Pen, Removal
from hatchbook.trade.codes import DutyKind, Fate, FindingCode, RemovalReason
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog
from tests.desk.candling_room.conftest import House
from tests.desk.candling_room.kit import SET_AT, lid_events

ALIVE, CLEAR, DEAD, UNSURE = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD, FindingCode.UNSURE
LETTERS = {
    "J": ALIVE,
    "K": CLEAR,
    "L": UNSURE,
    "U": FindingCode.EARLY_DEAD,
    "I": DEAD,
    "O": FindingCode.CRACKED,
    "P": FindingCode.ROTTEN,
}


def shown(room: CandlingRoom) -> dict[int, Fate]:
    """What the tray paints of the eggs that were candled now."""
    model = room.view.tray.eggs
    cells = [
        model.index(row, column).data(CELL_ROLE)
        for row in range(model.rowCount())
        for column in range(model.columnCount())
    ]
    return {cell.egg.number: cell.fate for cell in cells if cell is not None and cell.state is CellState.DONE}


def agree(house: House, room: CandlingRoom) -> None:
    """Tray, counts and progress on the screen are what the journal holds."""
    stored = house.findings()
    assert shown(room) == {number: room.sitting.fate_of(code) for number, code in stored.items()}
    for key in room.view.keys.all():
        assert key.count == list(stored.values()).count(key.place.code)
    assert room.view.head.progress.text().startswith(f"{len(stored)} of {room.sitting.state.total} done")


def egg(room: CandlingRoom) -> int:
    assert room.sitting.state.current is not None
    return room.sitting.state.current.number


def test_a_whole_candling_of_120_eggs_with_takings_back(house: House) -> None:
    batch = house.set_batch(10, 12)
    room = house.open()
    rng = random.Random(7)
    expected: dict[int, FindingCode] = {}
    given: list[int] = []
    while len(expected) < 120:
        number, letter = egg(room), rng.choice("JJJJJJKLUIOP")
        assert number not in expected
        house.press(room, letter)
        expected[number] = LETTERS[letter]
        given.append(number)
        if rng.random() < 0.15:
            for _ in range(min(rng.randint(1, 4), len(given))):
                house.press(room, Qt.Key.Key_Backspace)
                number = given.pop()
                del expected[number]
                assert egg(room) == number
        if len(expected) % 10 == 0:
            assert house.findings() == expected
            agree(house, room)
    assert house.findings() == expected
    agree(house, room)
    assert room.view.face.face.title == "All done"
    assert len(lid_events(house.journal, batch)) == 1
    house.press(room, Qt.Key.Key_Return)
    assert not room.isVisible()
    (candling,) = house.journal.candlings.of_batch(batch.uid)
    assert candling.ended_at == house.now[0]
    (duty,) = [duty for duty in house.journal.duties.of_batch(batch.uid) if duty.done_at is not None]
    assert (duty.kind, duty.day) == (DutyKind.CANDLE, 14.0)


def test_what_lies_behind_the_room_hears_of_it_once_when_it_closes(house: House) -> None:
    house.set_batch(2, 3)
    room = house.open()
    house.press(room, "J", "J", "K")
    assert house.told == []
    house.press(room, Qt.Key.Key_Escape)
    (change,) = house.told
    assert change.kinds == {"candling", "finding", "event"}
    house.context.door.undo()
    assert len(house.told) == 2


@pytest.mark.parametrize("leave", ["close", "reject", "accept"])
def test_however_the_room_is_left_the_door_is_open_again(house: House, leave: str) -> None:
    house.set_batch(2, 3)
    room = house.open()
    house.press(room, "J")
    getattr(room, leave)()
    house.context.door.run(lambda journal: journal.pens.add(Pen("South")))
    assert len(house.told) == 2


def test_space_is_as_last_time_and_the_key_that_it_stands_for_is_marked(house: House) -> None:
    house.set_batch(1, 3)
    house.candle(7, {1: UNSURE, 2: ALIVE})
    room = house.open()
    assert room.view.hints.hint("Space").does == "as last time: unsure"
    assert room.view.face.face.lines[0] == "On day 7: unsure"
    house.press(room, Qt.Key.Key_Space, Qt.Key.Key_Space, Qt.Key.Key_Space)
    assert house.findings() == {1: UNSURE, 2: ALIVE}
    assert room.sitting.state.verdicts.keys() == {
        one.uid for one in house.journal.eggs.of_batch(room.sitting.batch.uid)[:2]
    }
    assert room.view.foot.message.text() == "A 3 was not candled before: press its verdict."
    assert room.view.face.face.lines[0] == "not candled before"


def test_enter_skips_and_the_skipped_egg_comes_again(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, Qt.Key.Key_Return, "J", "J")
    assert egg(room) == 1
    house.press(room, Qt.Key.Key_Return)
    assert room.view.foot.message.text() == "It is the only egg left."
    assert room.isVisible()
    house.press(room, "K", Qt.Key.Key_Enter)
    assert not room.isVisible()
    assert house.findings() == {1: CLEAR, 2: ALIVE, 3: ALIVE}


def test_a_number_leads_to_its_egg_as_it_is_typed_and_a_verdict_closes_it(house: House) -> None:
    house.set_batch(3, 4)
    room = house.open()
    house.press(room, "1")
    assert egg(room) == 1
    house.press(room, "2")
    assert egg(room) == 12
    house.press(room, "K")
    assert house.findings() == {12: CLEAR}
    house.press(room, "3", Qt.Key.Key_Return)
    assert (egg(room), room.isVisible()) == (3, True)
    house.press(room, "J")
    assert (egg(room), house.findings()) == (4, {12: CLEAR, 3: ALIVE})


def test_a_label_scanner_types_digits_and_enter(house: House) -> None:
    house.set_batch(3, 4)
    room = house.open()
    for number in (11, 2, 7):
        house.press(room, *str(number), Qt.Key.Key_Return, "J")
    assert house.findings() == {11: ALIVE, 2: ALIVE, 7: ALIVE}


def test_a_number_that_no_egg_has_takes_no_verdict(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, "J", "3", "3")
    assert room.view.foot.message.text() == "There is no egg 33 in this batch."
    assert (room.view.face.face.title, egg(room)) == ("33", 2)
    house.press(room, "J", Qt.Key.Key_Space)
    assert house.findings() == {1: ALIVE}
    house.press(room, Qt.Key.Key_Backspace)
    assert (egg(room), room.view.face.face.title) == (3, "A 3")
    house.press(room, Qt.Key.Key_Backspace)
    assert (egg(room), house.findings()) == (2, {1: ALIVE})
    house.press(room, "9", Qt.Key.Key_Escape)
    assert (room.isVisible(), egg(room), room.view.face.face.title) == (True, 2, "A 2")


def test_arrows_and_the_pointer_lead_to_another_egg(house: House) -> None:
    house.set_batch(2, 3)
    room = house.open()
    house.press(room, Qt.Key.Key_Down, Qt.Key.Key_Right)
    assert egg(room) == 5
    tray = room.view.tray
    place = tray.visualRect(tray.eggs.index(0, 2)).center()
    house.qtbot.mouseClick(tray.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert egg(room) == 3
    house.press(room, "U")
    assert house.findings() == {3: FindingCode.EARLY_DEAD}


def test_verdicts_can_be_clicked_on(house: House) -> None:
    house.set_batch(1, 2)
    room = house.open()
    house.qtbot.mouseClick(room.view.keys.key(DEAD), Qt.MouseButton.LeftButton)
    house.qtbot.mouseClick(room.view.hints.hint("Backspace"), Qt.MouseButton.LeftButton)
    house.qtbot.mouseClick(room.view.keys.key(CLEAR), Qt.MouseButton.LeftButton)
    assert house.findings() == {1: CLEAR}
    assert room.focusWidget() is room.view.tray


def test_an_egg_can_be_gone_back_to_when_all_are_done(house: House) -> None:
    house.set_batch(1, 2)
    room = house.open()
    house.press(room, "J", "J", Qt.Key.Key_Left)
    assert room.view.face.face.title == "A 1"
    assert room.view.face.face.lines[0] == "Now: alive"
    house.press(room, "K")
    assert room.view.face.face.title == "All done"
    assert room.view.face.face.lines[0] == "1 alive, 1 clear"
    assert house.findings() == {1: CLEAR, 2: ALIVE}


def test_stopped_and_gone_on_with(house: House) -> None:
    batch = house.set_batch(2, 3)
    room = house.open()
    house.press(room, "J", "K", Qt.Key.Key_Escape)
    assert room.result() == QDialog.DialogCode.Rejected
    assert house.journal.candlings.of_batch(batch.uid)[0].ended_at is None
    house.now[0] += 3600
    again = house.open()
    assert again.view.foot.message.text() == "The candling goes on: 2 egg(s) are done."
    assert egg(again) == 3
    agree(house, again)
    house.press(again, *"JJJJ", Qt.Key.Key_Return)
    assert len(house.journal.candlings.of_batch(batch.uid)) == 1


def test_what_another_screen_stored_stays(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, "J")
    house.context.door.run(lambda journal: journal.pens.add(Pen("South")))
    house.press(room, Qt.Key.Key_Backspace)
    assert room.view.foot.message.text() == (
        "The latest entry is not of this candling (pen South added): it is left alone."
    )
    assert house.findings() == {1: ALIVE}
    assert house.journal.pens.by_name("South") is not None


def test_eggs_that_left_take_no_verdict_and_say_why(house: House) -> None:
    batch = house.set_batch(1, 3)
    first = house.journal.eggs.of_batch(batch.uid)[0]
    house.journal.removals.note(batch.uid, [Removal(first.uid, SET_AT + 100, RemovalReason.TAKEN_OUT_ALIVE)])
    room = house.open()
    assert egg(room) == 2
    house.press(room, Qt.Key.Key_Left, "J")
    assert house.findings() == {}
    assert room.view.foot.message.text() == "A 1 has left the batch (taken out): no verdict is stored."


def test_a_contradiction_is_told_at_once(house: House) -> None:
    house.set_batch(1, 2)
    house.candle(7, {1: ALIVE, 2: ALIVE})
    room = house.open()
    house.press(room, "K")
    assert room.view.foot.message.text() == (
        "A 1: clear. Candled clear after an embryo had been seen in it. Look again?"
    )
    assert room.view.foot.message.ink == "warn"


def test_a_rotten_egg_comes_with_its_caution(house: House) -> None:
    house.set_batch(1, 2)
    room = house.open()
    assert room.view.keys.key(FindingCode.ROTTEN).hint == "bag it first"
    house.press(room, "P")
    assert "bag it before you lift it" in room.view.foot.message.text()


def test_what_could_not_be_stored_is_said_and_not_shown(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, "J")

    def full(*_: object, **__: object) -> None:
        raise DiskFullError("full", path=house.journal.path)

    monkeypatch.setattr(house.journal.candlings, "note_finding", full)
    house.press(room, "K")
    assert room.view.foot.message.text().startswith("The disk is full.")
    assert (egg(room), house.findings()) == (2, {1: ALIVE})
    agree(house, room)
