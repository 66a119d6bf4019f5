"""A list to choose from whose choice counts once it is made: by keys when it is left, not at every step."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget


class ChoiceCombo(QComboBox):
    """Arrows and letters go through the choices; Enter or leaving the list makes the choice.

    The wheel scrolls what the list stands on: a choice made by it would be an accident.

    Signals:
        settled: another choice was made.
    """

    settled = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._by_key = False
        self._waits = False
        self.activated.connect(lambda _row: self._choose())

    def leave(self) -> None:
        """Makes the choice that keys have gone to."""
        if self._waits:
            self._waits = False
            self.settled.emit()

    def _choose(self) -> None:
        self._waits = True
        if not self._by_key:
            self.leave()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A key goes to a choice; Enter makes it."""
        self._by_key = True
        try:
            super().keyPressEvent(event)
        finally:
            self._by_key = False
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.leave()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leaving makes the choice; opening the list is not leaving it."""
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.leave()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Left to what is below."""
        event.ignore()
