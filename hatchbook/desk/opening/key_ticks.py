"""Things that may be seen besides: ticked by their keys or by mouse."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QWidget

from hatchbook.desk.rounds.key_cap import KeyCap


class KeyTicks(QWidget):
    """Check boxes in columns, each with its key.

    Signals:
        changed: the breeder ticked something, or took a tick away; the program's own ticking does not send it.
    """

    changed = Signal()

    def __init__(
        self, ticks: Sequence[tuple[StrEnum, str, str]], columns: int, parent: QWidget | None = None
    ) -> None:
        """``ticks``: code, key and word of each."""
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(3)
        self._boxes: dict[StrEnum, QCheckBox] = {}
        self._by_key: dict[str, QCheckBox] = {}
        rows = -(-len(ticks) // columns)
        for position, (code, key, word) in enumerate(ticks):
            column, row = divmod(position, rows)
            box = QCheckBox(word)
            # A click leaves the keyboard on the eggs.
            box.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            box.setAccessibleName(word)
            box.setAccessibleDescription(self.tr("Key {key}").format(key=key))
            box.clicked.connect(self.changed)
            grid.addWidget(KeyCap(key), row, 2 * column, Qt.AlignmentFlag.AlignVCenter)
            grid.addWidget(box, row, 2 * column + 1)
            grid.setColumnStretch(2 * column + 1, 1)
            self._boxes[code] = box
            self._by_key[key] = box

    def ticked(self) -> list[StrEnum]:
        """The codes that are ticked."""
        return [code for code, box in self._boxes.items() if box.isChecked()]

    def show_ticked(self, codes: Collection[str]) -> None:
        """Ticks these codes and no others."""
        for code, box in self._boxes.items():
            box.setChecked(code in codes)

    def toggle(self, key: str) -> bool:
        """Ticks or unticks by its key; False where it is no key of these."""
        box = self._by_key.get(key)
        if box is None:
            return False
        box.click()
        return True
