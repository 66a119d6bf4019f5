"""Reads a key as what it means in the candling room."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from hatchbook.desk.candling_room.hands import Deed, HandLayout
from hatchbook.desk.candling_room.places import KeyPlaces
from hatchbook.desk.candling_room.round_state import Direction
from hatchbook.trade.codes import FindingCode


class Command(StrEnum):
    """What a key asks of the room itself."""

    NOTE = "note"
    OBSERVER = "observer"
    HAND = "hand"
    ORDER = "order"
    BRIGHTER = "brighter"
    DIMMER = "dimmer"
    STOP = "stop"


@dataclass(frozen=True)
class Digit:
    """A digit of an egg's number."""

    text: str


Pressed = FindingCode | Deed | Direction | Command | Digit

_PLAIN: dict[Qt.Key, Pressed] = {
    Qt.Key.Key_Space: Deed.AS_LAST,
    Qt.Key.Key_Return: Deed.SKIP,
    Qt.Key.Key_Enter: Deed.SKIP,
    Qt.Key.Key_Backspace: Deed.TAKE_BACK,
    Qt.Key.Key_Left: Direction.LEFT,
    Qt.Key.Key_Right: Direction.RIGHT,
    Qt.Key.Key_Up: Direction.UP,
    Qt.Key.Key_Down: Direction.DOWN,
    Qt.Key.Key_Escape: Command.STOP,
    Qt.Key.Key_F2: Command.HAND,
    Qt.Key.Key_F3: Command.ORDER,
    Qt.Key.Key_F4: Command.OBSERVER,
    Qt.Key.Key_Plus: Command.BRIGHTER,
    Qt.Key.Key_Equal: Command.BRIGHTER,
    Qt.Key.Key_Minus: Command.DIMMER,
}
_FREE = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


class KeyReader:
    """Reads keys by their place; learns on the way what is printed on them, where the layout is another.

    Args:
        places: tells where a key lies.
    """

    def __init__(self, places: KeyPlaces) -> None:
        self._places = places
        self.printed: dict[str, str] = {}

    def read(self, event: QKeyEvent, layout: HandLayout) -> Pressed | None:
        """What a key means under a hand; None where it means nothing. Only arrows may be held down."""
        if event.matches(QKeySequence.StandardKey.Undo):
            return None if event.isAutoRepeat() else Deed.TAKE_BACK
        if event.modifiers() & ~_FREE:
            return None
        pressed = self._meaning(event, layout)
        return None if event.isAutoRepeat() and not isinstance(pressed, Direction) else pressed

    def _meaning(self, event: QKeyEvent, layout: HandLayout) -> Pressed | None:
        place = self._places.place(event)
        if place.startswith("Key") and event.text().isalpha():
            self.printed[place] = event.text().upper()
        verdict = layout.verdict_at(place)
        if verdict is not None:
            return verdict
        if place in layout.deeds:
            return layout.deeds[place]
        if place == "KeyN":
            return Command.NOTE
        if place.startswith(("Digit", "Numpad")) and place[-1:].isdigit():
            return Digit(place[-1])
        return _PLAIN.get(Qt.Key(event.key()))
