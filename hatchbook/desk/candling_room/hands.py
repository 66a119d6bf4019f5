"""Which keys lie under which hand, and what each says: three layouts, mirrored so that fingers keep their meaning.

The index finger rests on "alive", the most frequent answer; on the number pad the middle finger, on the 5 with the
bump.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchbook.trade.codes import FindingCode


class Hand(StrEnum):
    """Where the hand rests that is free."""

    RIGHT = "right"
    LEFT = "left"
    PAD = "pad"


class Deed(StrEnum):
    """What a key does besides verdicts."""

    AS_LAST = "as_last"
    SKIP = "skip"
    TAKE_BACK = "take_back"
    LID = "lid"


@dataclass(frozen=True)
class VerdictPlace:
    """A key that gives a verdict: its place, what is usually printed on it, where it lies in key widths."""

    place: str
    printed: str
    code: FindingCode
    column: float
    row: int
    bump: bool = False


@dataclass(frozen=True)
class HandLayout:
    """The keys under one hand; ``deeds``: by place, in addition to Space, Enter and Backspace."""

    hand: Hand
    verdicts: tuple[VerdictPlace, ...]
    deeds: dict[str, Deed]
    lid_printed: str

    def verdict_at(self, place: str) -> FindingCode | None:
        """The verdict of a place, or None."""
        return next((key.code for key in self.verdicts if key.place == place), None)

    @property
    def columns(self) -> float:
        """How many key widths lie side by side."""
        return max(key.column for key in self.verdicts) + 1


_UPPER = (FindingCode.EARLY_DEAD, FindingCode.DEAD, FindingCode.CRACKED, FindingCode.ROTTEN)
_HOME = (FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.UNSURE)
#: On a keyboard the home row lies a quarter of a key to the right of the row above it.
_STAGGER = 0.25


def _letters(upper: str, home: str, first_column: int) -> tuple[VerdictPlace, ...]:
    """Keys given in the order of the codes above, whichever way they run."""
    step = 1 if first_column == 0 else -1
    keys = [
        VerdictPlace(f"Key{letter}", letter, code, first_column + step * at, 0)
        for at, (letter, code) in enumerate(zip(upper, _UPPER, strict=True))
    ]
    keys += [
        VerdictPlace(f"Key{letter}", letter, code, first_column + step * at + _STAGGER, 1, bump=at == 0)
        for at, (letter, code) in enumerate(zip(home, _HOME, strict=True))
    ]
    return tuple(keys)


_PAD = tuple(
    VerdictPlace(place, printed, code, column, row, bump=printed == "5")
    for place, printed, code, column, row in (
        ("Numpad7", "7", FindingCode.EARLY_DEAD, 0, 0),
        ("Numpad8", "8", FindingCode.DEAD, 1, 0),
        ("Numpad9", "9", FindingCode.CRACKED, 2, 0),
        ("NumpadAdd", "+", FindingCode.ROTTEN, 3, 0),
        ("Numpad4", "4", FindingCode.CLEAR, 0, 1),
        ("Numpad5", "5", FindingCode.ALIVE, 1, 1),
        ("Numpad6", "6", FindingCode.UNSURE, 2, 1),
    )
)

LAYOUTS: dict[Hand, HandLayout] = {
    Hand.RIGHT: HandLayout(Hand.RIGHT, _letters("UIOP", "JKL", 0), {"KeyH": Deed.LID}, "H"),
    # Tab and the key above it lie at the left where Enter and Backspace lie at the right.
    Hand.LEFT: HandLayout(
        Hand.LEFT,
        _letters("REWQ", "FDS", 3),
        {"Tab": Deed.SKIP, "Backquote": Deed.TAKE_BACK, "KeyG": Deed.LID},
        "G",
    ),
    Hand.PAD: HandLayout(
        Hand.PAD,
        _PAD,
        {"Numpad0": Deed.AS_LAST, "NumpadDecimal": Deed.TAKE_BACK, "NumpadMultiply": Deed.LID},
        "*",
    ),
}
"""The three layouts."""


def next_hand(hand: Hand) -> Hand:
    """The one that follows when the hands are changed."""
    hands = list(Hand)
    return hands[(hands.index(hand) + 1) % len(hands)]
