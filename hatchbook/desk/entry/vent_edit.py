"""A field for how far a vent is open: the usual openings to choose from, others typed as one says them."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from hatchbook.desk.words.numbers import vent_text
from hatchbook.trade.units import NumberError, parse_vent

_OPENINGS = (0.0, 0.25, 1 / 3, 0.5, 2 / 3, 0.75, 1.0)


class VentEdit(QComboBox):
    """``line`` is the field in which it is typed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.line = QLineEdit()
        self.setLineEdit(self.line)
        for opening in _OPENINGS:
            self.addItem(vent_text(opening), opening)

    def show_opening(self, opening: float) -> None:
        """Shows an opening, 0 shut to 1 open."""
        self.setCurrentText(vent_text(opening))

    def opening(self) -> float | None:
        """What is chosen or typed; None where it is no opening of a vent."""
        text = self.currentText().strip()
        for row in range(self.count()):
            if self.itemText(row).casefold() == text.casefold():
                return float(self.itemData(row))
        try:
            return parse_vent(text)
        except NumberError:
            return None

    def trouble(self) -> str:
        """What is to be typed instead of what cannot be read."""
        return self.tr("A vent is shut, open, or open by a part such as 1/2 or 30 %.")
