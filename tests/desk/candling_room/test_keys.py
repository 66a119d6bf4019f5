"""Keys by their place: every hand, other layouts by scan codes, and what a held key does."""

from __future__ import annotations

import pytest
from hatchbook.desk.candling_room.hands import LAYOUTS, Deed, Hand, next_hand
from hatchbook.desk.candling_room.keyboard import Command, Digit, KeyReader
from hatchbook.desk.candling_room.places import KeyPlaces
from hatchbook.desk.candling_room.round_state import Direction
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from tests.desk.candling_room.conftest import House

ALIVE, CLEAR, UNSURE = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.UNSURE
EARLY, DEAD, CRACKED, ROTTEN = (
    FindingCode.EARLY_DEAD,
    FindingCode.DEAD,
    FindingCode.CRACKED,
    FindingCode.ROTTEN,
)
pytestmark = pytest.mark.usefixtures("qapp")
NONE, PAD = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier

#: Numbers of keys in linux/input-event-codes.h (Linux 6.1): KEY_U 22, KEY_I 23, KEY_O 24, KEY_P 25, KEY_J 36, …
EVDEV = {
    Hand.RIGHT: {22: EARLY, 23: DEAD, 24: CRACKED, 25: ROTTEN, 36: ALIVE, 37: CLEAR, 38: UNSURE},
    # KEY_R 19, KEY_E 18, KEY_W 17, KEY_Q 16, KEY_F 33, KEY_D 32, KEY_S 31
    Hand.LEFT: {19: EARLY, 18: DEAD, 17: CRACKED, 16: ROTTEN, 33: ALIVE, 32: CLEAR, 31: UNSURE},
    # KEY_KP7 71, KEY_KP8 72, KEY_KP9 73, KEY_KPPLUS 78, KEY_KP5 76, KEY_KP4 75, KEY_KP6 77
    Hand.PAD: {71: EARLY, 72: DEAD, 73: CRACKED, 78: ROTTEN, 76: ALIVE, 75: CLEAR, 77: UNSURE},
}


def key(
    code: int = 0,
    text: str = "",
    key: Qt.Key = Qt.Key.Key_unknown,
    modifiers: Qt.KeyboardModifier = NONE,
    *,
    repeated: bool = False,
) -> QKeyEvent:
    return QKeyEvent(QEvent.Type.KeyPress, key, modifiers, code, 0, 0, text, repeated, 1)


def letter(text: str, modifiers: Qt.KeyboardModifier = NONE) -> QKeyEvent:
    return key(0, text, Qt.Key(ord(text.upper())), modifiers)


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize(("platform", "offset"), [("xcb", 8), ("wayland", 8), ("windows", 0)])
def test_every_hand_finds_its_keys_by_scan_code(hand: Hand, platform: str, offset: int) -> None:
    reader = KeyReader(KeyPlaces(platform))
    for number, code in EVDEV[hand].items():
        assert reader.read(key(number + offset, "ж"), LAYOUTS[hand]) is code
    verdicts = {place.code for place in LAYOUTS[hand].verdicts}
    assert verdicts == set(FindingCode) == set(EVDEV[hand].values())


@pytest.mark.parametrize(
    ("layout", "printed"),
    [
        # What the places of J K L U I O P print: Dvorak, Colemak, Russian, Greek.
        ("Dvorak", "htngcrl"),
        ("Colemak", "neiluy;"),
        ("Russian", "олдгшщз"),
        ("Greek", "ξκλθιοπ"),
    ],
)
def test_another_layout_keeps_the_places_and_shows_its_letters(
    house: House, layout: str, printed: str
) -> None:
    house.set_batch(2, 4)
    room = house.open(platform="xcb")
    for number, text in zip((36, 37, 38, 22, 23, 24, 25), printed, strict=True):
        house.scan(room, number + 8, text)
    assert list(house.findings().values()) == [ALIVE, CLEAR, UNSURE, EARLY, DEAD, CRACKED, ROTTEN]
    caps = {shown.place.place: shown.printed for shown in room.view.keys.all()}
    wanted = [text.upper() if text.isalpha() else "P" for text in printed]
    places = ("KeyJ", "KeyK", "KeyL", "KeyU", "KeyI", "KeyO", "KeyP")
    assert caps == dict(zip(places, wanted, strict=True))


def test_where_the_place_is_known_the_letter_alone_gives_no_verdict(house: House) -> None:
    """On Dvorak the letter J lies at the place of C."""
    house.set_batch(1, 3)
    room = house.open(platform="xcb")
    house.scan(room, 46 + 8, "j", Qt.Key.Key_J)
    assert house.findings() == {}


def test_a_keyboard_that_counts_its_keys_in_another_way_is_read_by_its_letters() -> None:
    reader = KeyReader(KeyPlaces("xcb"))
    assert reader.read(key(200, "j", Qt.Key.Key_J), LAYOUTS[Hand.RIGHT]) is ALIVE
    assert reader.read(key(200, "", Qt.Key.Key_F2), LAYOUTS[Hand.RIGHT]) is Command.HAND


def test_signs_beside_the_letters_keep_their_place_whatever_is_printed_on_them() -> None:
    """On Dvorak the letter S lies right of L, where others have a semicolon."""
    reader = KeyReader(KeyPlaces("xcb"))
    assert reader.read(key(39 + 8, "s", Qt.Key.Key_S), LAYOUTS[Hand.LEFT]) is None
    assert reader.read(key(12 + 8, "-", Qt.Key.Key_Minus), LAYOUTS[Hand.LEFT]) is Command.DIMMER


def test_digits_are_found_where_shift_would_be_needed_for_them(house: House) -> None:
    """A French keyboard prints & é " on its row of digits, and a label scanner presses the same keys."""
    house.set_batch(3, 4)
    room = house.open(platform="xcb")
    for number, text in ((2, "&"), (3, "é")):
        house.scan(room, number + 8, text)
    house.scan(room, 28 + 8, "\r", Qt.Key.Key_Return)
    house.scan(room, 36 + 8, "j", Qt.Key.Key_J)
    assert house.findings() == {12: ALIVE}


@pytest.mark.parametrize(
    ("hand", "letters"), [(Hand.RIGHT, "jkluiop"), (Hand.LEFT, "fdsrewq"), (Hand.PAD, "546789+")]
)
def test_without_scan_codes_the_letters_count(hand: Hand, letters: str) -> None:
    reader = KeyReader(KeyPlaces("offscreen"))
    codes = (ALIVE, CLEAR, UNSURE, EARLY, DEAD, CRACKED, ROTTEN)
    modifiers = PAD if hand is Hand.PAD else NONE
    for text, code in zip(letters, codes, strict=True):
        assert reader.read(letter(text, modifiers), LAYOUTS[hand]) is code
        if hand is not Hand.PAD:
            assert reader.read(letter(text.upper()), LAYOUTS[hand]) is code


def test_the_number_pad_works_without_num_lock() -> None:
    reader = KeyReader(KeyPlaces("offscreen"))
    for pressed, code in (
        (Qt.Key.Key_Clear, ALIVE),
        (Qt.Key.Key_Left, CLEAR),
        (Qt.Key.Key_Right, UNSURE),
        (Qt.Key.Key_Home, EARLY),
        (Qt.Key.Key_Up, DEAD),
        (Qt.Key.Key_PageUp, CRACKED),
        (Qt.Key.Key_Insert, Deed.AS_LAST),
        (Qt.Key.Key_Delete, Deed.TAKE_BACK),
    ):
        assert reader.read(key(0, "", pressed, PAD), LAYOUTS[Hand.PAD]) is code
    assert reader.read(key(0, "", Qt.Key.Key_Left), LAYOUTS[Hand.PAD]) is Direction.LEFT


def test_arrows_stay_arrows_where_they_are_counted_to_the_number_pad() -> None:
    """As on Apple's keyboards (Qt documentation of Qt::KeypadModifier)."""
    reader = KeyReader(KeyPlaces("cocoa"))
    for hand in Hand:
        assert reader.read(key(1, "", Qt.Key.Key_Left, PAD), LAYOUTS[hand]) is Direction.LEFT


def test_arrows_of_windows_are_not_taken_for_the_number_pad() -> None:
    """They have the codes of the pad with the bit for keys that came later."""
    reader = KeyReader(KeyPlaces("windows"))
    arrow = key(0x14B, "", Qt.Key.Key_Left)
    assert reader.read(arrow, LAYOUTS[Hand.PAD]) is Direction.LEFT
    assert reader.read(key(0x4B, "4", Qt.Key.Key_4, PAD), LAYOUTS[Hand.PAD]) is CLEAR


def test_space_enter_and_backspace_have_twins_under_each_hand() -> None:
    reader = KeyReader(KeyPlaces("xcb"))
    for hand, twins in (
        (Hand.RIGHT, {35: Deed.LID}),
        (Hand.LEFT, {15: Deed.SKIP, 41: Deed.TAKE_BACK, 34: Deed.LID}),
        (Hand.PAD, {82: Deed.AS_LAST, 83: Deed.TAKE_BACK, 55: Deed.LID}),
    ):
        for number, deed in twins.items():
            assert reader.read(key(number + 8), LAYOUTS[hand]) is deed
        for pressed, deed in (
            (Qt.Key.Key_Space, Deed.AS_LAST),
            (Qt.Key.Key_Return, Deed.SKIP),
            (Qt.Key.Key_Enter, Deed.SKIP),
            (Qt.Key.Key_Backspace, Deed.TAKE_BACK),
        ):
            assert reader.read(key(0, "", pressed), LAYOUTS[hand]) is deed


def test_digits_of_the_row_are_numbers_and_those_of_the_pad_only_under_another_hand() -> None:
    reader = KeyReader(KeyPlaces("offscreen"))
    for hand in Hand:
        assert reader.read(letter("7"), LAYOUTS[hand]) == Digit("7")
    assert reader.read(letter("7", PAD), LAYOUTS[Hand.RIGHT]) == Digit("7")
    assert reader.read(letter("7", PAD), LAYOUTS[Hand.PAD]) is EARLY
    assert reader.read(letter("1", PAD), LAYOUTS[Hand.PAD]) == Digit("1")


def test_a_key_held_down_is_one_verdict(house: House) -> None:
    house.set_batch(2, 3)
    room = house.open(platform="xcb")
    house.scan(room, 44, "j")
    for _ in range(5):
        house.scan(room, 44, "j", repeated=True)
        house.scan(room, 0, "\b", Qt.Key.Key_Backspace, repeated=True)
        house.scan(room, 0, " ", Qt.Key.Key_Space, repeated=True)
    assert house.findings() == {1: ALIVE}
    house.scan(room, 0, "", Qt.Key.Key_Right, repeated=True)
    assert room.sitting.state.current is not None
    assert room.sitting.state.current.number == 3


def test_keys_with_ctrl_or_alt_are_no_verdicts_but_undo_takes_back(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    house.press(room, "J")
    for modifier in (Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier):
        house.qtbot.keyClick(room.view.tray, "J", modifier)
    assert house.findings() == {1: ALIVE}
    house.qtbot.keyClick(room.view.tray, "Z", Qt.KeyboardModifier.ControlModifier)
    assert house.findings() == {}


def test_the_room_asks_for_hand_order_light_note_and_name() -> None:
    reader = KeyReader(KeyPlaces("offscreen"))
    commands = {
        Qt.Key.Key_F2: Command.HAND,
        Qt.Key.Key_F3: Command.ORDER,
        Qt.Key.Key_F4: Command.OBSERVER,
        Qt.Key.Key_Plus: Command.BRIGHTER,
        Qt.Key.Key_Equal: Command.BRIGHTER,
        Qt.Key.Key_Minus: Command.DIMMER,
        Qt.Key.Key_Escape: Command.STOP,
        Qt.Key.Key_N: Command.NOTE,
    }
    for hand in (Hand.RIGHT, Hand.LEFT):
        for pressed, command in commands.items():
            assert reader.read(key(0, "", pressed), LAYOUTS[hand]) is command
    assert reader.read(key(0, "", Qt.Key.Key_F9), LAYOUTS[Hand.RIGHT]) is None


@pytest.mark.parametrize("hand", Hand)
def test_keys_are_drawn_as_they_lie(hand: Hand) -> None:
    """No two on one place; J a quarter of a key to the right of U, as on every keyboard; the bump under alive."""
    layout = LAYOUTS[hand]
    places = [(key.column, key.row) for key in layout.verdicts]
    assert len(set(places)) == len(places)
    (bump,) = [key.code for key in layout.verdicts if key.bump]
    assert bump is ALIVE
    at = {key.printed: (key.column, key.row) for key in layout.verdicts}
    upper, home = {"right": "UJ", "left": "RF", "pad": "85"}[hand]
    stagger = 0.0 if hand is Hand.PAD else 0.25
    assert at[home] == (at[upper][0] + stagger, at[upper][1] + 1)


def test_f2_goes_round_the_three_hands(house: House) -> None:
    house.set_batch(2, 3)
    room = house.open()
    assert next_hand(next_hand(next_hand(Hand.RIGHT))) is Hand.RIGHT
    house.press(room, "J", Qt.Key.Key_F2, "F", "J", Qt.Key.Key_F2)
    house.qtbot.keyClick(room.view.tray, "4", PAD)
    house.press(room, Qt.Key.Key_F2, "L")
    assert house.findings() == {1: ALIVE, 2: ALIVE, 3: CLEAR, 4: UNSURE}


def test_the_left_hand_skips_and_takes_back_where_the_right_hand_does(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open(platform="xcb")
    house.press(room, Qt.Key.Key_F2)
    house.scan(room, 33 + 8, "f")
    house.scan(room, 15 + 8, "\t", Qt.Key.Key_Tab)
    house.scan(room, 32 + 8, "d")
    assert house.findings() == {1: ALIVE, 3: CLEAR}
    house.scan(room, 41 + 8, "", Qt.Key.Key_Dead_Circumflex)
    assert house.findings() == {1: ALIVE}
