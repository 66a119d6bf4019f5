"""A combo box of values with their words; it tells only what the breeder picks."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget


class ChoiceCombo(QComboBox):
    """Choices with a value each.

    Signals:
        picked: the value that the breeder chose.
    """

    picked = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._values: list[object] = []
        self.activated.connect(self._tell)

    def set_choices(self, choices: Iterable[tuple[object, str]]) -> None:
        """Other choices; the value that was shown stays if it is among them."""
        shown = self.value()
        self.clear()
        self._values = []
        for value, text in choices:
            self._values.append(value)
            self.addItem(text)
        self.show_value(shown)

    def value(self) -> object:
        """The value that is shown; None where there is none."""
        return self._values[self.currentIndex()] if self.currentIndex() >= 0 else None

    def show_value(self, value: object) -> None:
        """Shows a value."""
        self.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def explain(self, text: str) -> None:
        """Says what the value rests on."""
        self.setToolTip(text)
        self.setAccessibleDescription(text)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Rolling past does not change what the pointer happens to be over."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def _tell(self, index: int) -> None:
        self.picked.emit(self._values[index])
