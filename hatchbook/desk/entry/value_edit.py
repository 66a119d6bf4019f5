"""A field for a number with its unit, typed as the breeder writes it; what is wrong is said below it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.numbers import unit_sign
from hatchbook.desk.words.typing import number_sentence
from hatchbook.trade.units import NumberError, Typed, Unit, parse_typed


class ValueEdit(QWidget):
    """A number in a unit; empty is allowed unless the caller wants it.

    Signals:
        edited: the text was changed.
    """

    edited = Signal()

    def __init__(
        self, unit: Unit, name: str, *, below: float = 1000.0, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.below = below
        self.field = QLineEdit()
        self.field.setAccessibleName(name)
        self.field.setMaximumWidth(110)
        self._unit_label = QLabel()
        self._trouble = Label("", role="caption", ink="bad", wraps=True)
        self._trouble.setVisible(False)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.field)
        row.addWidget(self._unit_label)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self._trouble)
        self.setFocusProxy(self.field)
        self.set_unit(unit)
        self.field.textChanged.connect(self._changed)

    @property
    def unit(self) -> Unit:
        """The unit that is meant where none is typed."""
        return self._unit

    def set_unit(self, unit: Unit) -> None:
        """Means another unit from now on; what was typed stays."""
        self._unit = unit
        self._unit_label.setText(unit_sign(unit))

    def set_text(self, text: str) -> None:
        """Shows a text as if it had been typed."""
        self.field.setText(text)

    def is_empty(self) -> bool:
        """Whether nothing is typed."""
        return not self.field.text().strip()

    def typed(self) -> Typed | None:
        """What was typed; None where nothing is, or where it is no number, which is then said below."""
        if self.is_empty():
            return None
        try:
            return parse_typed(self.field.text(), self._unit, below=self.below)
        except NumberError as error:
            self.tell(number_sentence(error))
            return None

    def is_bad(self) -> bool:
        """Whether something is typed that is no number."""
        return not self.is_empty() and self.typed() is None

    def tell(self, text: str) -> None:
        """Says below the field what is wrong; empty when nothing is."""
        self._trouble.setText(text)
        self._trouble.setVisible(bool(text))
        edge = scheme_of(self).hex("bad")
        self.field.setStyleSheet(f"border: 1.5px solid {edge};" if text else "")

    def trouble(self) -> str:
        """What is said below the field."""
        return self._trouble.text()

    def _changed(self) -> None:
        self.tell("")
        self.edited.emit()
