"""The number of an egg while it is typed, by hand or by a label scanner."""

from __future__ import annotations

_LONGEST = 5
_PAUSE_S = 2.0
"""After so long a digit begins another number (our choice); a scanner types all of them within milliseconds."""


class NumberEntry:
    """Digits that were typed since the entry was begun.

    ``origin``: the uid of the egg before the lamp when it was begun; there the way leads back.
    """

    def __init__(self) -> None:
        self.origin = ""
        self._text = ""
        self._typed_at = 0.0

    @property
    def text(self) -> str:
        """The digits so far; "" while no number is typed."""
        return self._text

    @property
    def number(self) -> int | None:
        """The number so far."""
        return int(self._text) if self._text else None

    def type(self, digit: str, at: float, origin: str) -> None:
        """One more digit, at an instant in seconds, with an egg before the lamp."""
        if not self._text:
            self.origin = origin
        if at - self._typed_at > _PAUSE_S or len(self._text) >= _LONGEST:
            self._text = ""
        self._text += digit
        self._typed_at = at

    def take_back(self) -> None:
        """One digit less."""
        self._text = self._text[:-1]

    def close(self) -> None:
        """The number is complete, or given up."""
        self._text = ""
