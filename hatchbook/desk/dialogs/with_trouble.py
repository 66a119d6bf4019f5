"""A field with room below it for what is wrong, said in words and by a red edge."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import Label


class WithTrouble(QWidget):
    """Holds one field; ``tell`` says what is wrong with it, an empty text that nothing is."""

    def __init__(
        self, field: QWidget, parent: QWidget | None = None, *, edged: QWidget | None = None
    ) -> None:
        """``edged``: which part of the field gets the red edge, where that is not the whole."""
        super().__init__(parent)
        self.field = field
        self._edged = edged if edged is not None else field
        self._line = Label("", role="caption", ink="bad", wraps=True)
        self._line.setVisible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(field)
        column.addWidget(self._line)
        self.setFocusProxy(field)

    def tell(self, text: str) -> None:
        """Says what is wrong."""
        if text == self.trouble():
            return
        self._line.setText(text)
        self._line.setVisible(bool(text))
        self._edged.setAccessibleDescription(text)
        show_edge(self._edged, bad=bool(text))
        if text and self.isVisible():
            announce(self._edged, text)

    def trouble(self) -> str:
        """What is said."""
        return self._line.text()


def show_edge(field: QWidget, *, bad: bool) -> None:
    """Gives a field the red edge of what can not be stored, or its own edge back."""
    edge = scheme_of(field).hex("bad")
    kind = type(field).__name__
    base = next((name for name in _BASES if field.inherits(name)), kind)
    field.setStyleSheet(f"{base} {{ border: 1.5px solid {edge}; padding: 3px 2px; }}" if bad else "")


_BASES = ("QLineEdit", "QComboBox", "QAbstractSpinBox", "QTableView")


def focus(field: QWidget) -> None:
    """Puts the focus into a field as the Tab key would, so that its ring shows and its text is chosen."""
    field.setFocus(Qt.FocusReason.TabFocusReason)
