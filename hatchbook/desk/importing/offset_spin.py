"""A box for an offset from UTC, in steps of a quarter of an hour."""

from __future__ import annotations

import re

from PySide6.QtGui import QValidator
from PySide6.QtWidgets import QSpinBox, QWidget

from hatchbook.desk.words.file_layout import offset_word

_FURTHEST = 14 * 60
_WRITTEN = re.compile(
    r"(?:UTC)?\s*(?P<sign>[+\-\u2212]?)\s*(?P<hours>\d{1,2})(?::(?P<minutes>[0-5]?\d))?", re.I
)


class OffsetSpin(QSpinBox):
    """Minutes east of Greenwich, written as UTC+1:00."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setRange(-_FURTHEST, _FURTHEST)
        self.setSingleStep(15)
        self.setKeyboardTracking(False)
        self.setAccessibleName(self.tr("Offset from UTC"))

    def textFromValue(self, value: int) -> str:
        """UTC+1:00."""
        return offset_word(value)

    def valueFromText(self, text: str) -> int:
        """Minutes from +1, 1:30, UTC−3."""
        found = _WRITTEN.fullmatch(text.strip())
        if found is None:
            return self.value()
        minutes = int(found["hours"]) * 60 + int(found["minutes"] or 0)
        return -minutes if found["sign"] in ("-", "\u2212") else minutes

    def validate(self, text: str, position: int) -> tuple[QValidator.State, str, int]:
        """Acceptable once it can be read."""
        whole = _WRITTEN.fullmatch(text.strip()) is not None
        state = QValidator.State.Acceptable if whole else QValidator.State.Intermediate
        return state, text, position
