"""The day on which an embryo died, typed or stepped through with the signs of each day below it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.opening.day_signs import DaySignsView
from hatchbook.desk.rounds.key_cap import KeyCap
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.words.numbers import number
from hatchbook.desk.words.openings import open_days_text
from hatchbook.desk.words.typing import number_sentence
from hatchbook.trade.embryo import DaySigns
from hatchbook.trade.units import NumberError, parse_number

_WIDTH = 64


class DayField(QWidget):
    """Empty where the day cannot be told. ↑ and ↓ go by whole days, from the days that the candlings leave open.

    Signals:
        day_changed: the day is another one, typed, stepped or chosen by its signs.
        day_left: the breeder has done with it: left the field, or chose a day in the list.
    """

    day_changed = Signal()
    day_left = Signal()

    def __init__(self, days: Sequence[DaySigns], note: str, parent: QWidget | None = None) -> None:
        """``days``: the signs to choose from; ``note``: whose they are."""
        super().__init__(parent)
        self._span: tuple[float, float] | None = None
        self._latest = days[-1].day if days else math.inf
        self.field = QLineEdit()
        self.field.setFixedWidth(_WIDTH)
        self.field.setAccessibleName(self.tr("Day on which it died"))
        self.field.setPlaceholderText("–")
        self.setFocusProxy(self.field)
        self.signs = DaySignsView(days)
        self._by_candling = ElidedLabel("", "caption", "ink2")
        self._trouble = Label("", "caption", "bad", wraps=True)
        self._trouble.setVisible(False)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(KeyCap("A"))
        row.addWidget(Label(self.tr("Age, day"), bold=True))
        row.addWidget(self.field)
        row.addWidget(self._by_candling, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(row)
        column.addWidget(self._trouble)
        column.addWidget(self.signs, 1)
        column.addWidget(Label(note, "caption", "ink2", wraps=True))
        self.field.textEdited.connect(lambda _text: self._changed())
        self.field.editingFinished.connect(self.day_left)
        self.field.installEventFilter(self)
        self.signs.day_wanted.connect(self._choose)

    def day(self) -> float | None:
        """The day in days since setting; None where none is typed, or none that can be, which is said below."""
        text = self.field.text().strip()
        if not text:
            return None
        try:
            day = parse_number(text, below=1000)
        except NumberError as error:
            self._tell(number_sentence(error))
            return None
        if not 0 <= day <= self._latest:
            self._tell(self.tr("A day lies between 0 and {last}.").format(last=number(self._latest, 0)))
            return None
        return day

    def is_bad(self) -> bool:
        """Whether something is typed that is no day."""
        return bool(self.field.text().strip()) and self.day() is None

    def show_day(self, day: float | None, span: tuple[float, float] | None, latest: float) -> None:
        """Shows a day, the days that are open (None: any), and the latest there can be."""
        self._span, self._latest = span, latest
        self.field.setText("" if day is None else f"{round(day, 1):g}")
        self._by_candling.setText("" if span is None else open_days_text(*span))
        self._tell("")
        self.signs.show_day(day, span)

    def step(self, days: int) -> None:
        """Goes by whole days; from nothing to the first (up) or the last (down) of the open days."""
        day = self.day()
        first, last = self._span if self._span is not None else (0.0, self._latest)
        if day is not None:
            day = math.floor(day) + days if days > 0 or day == int(day) else math.floor(day)
        else:
            day = math.ceil(first) if days > 0 else math.floor(last)
        self._write(min(max(day, 0), math.floor(self._latest)))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """↑ and ↓ in the field."""
        pressed = (
            event.key() if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress else None
        )
        if watched is self.field and pressed in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.step(1 if pressed == Qt.Key.Key_Up else -1)
            return True
        return super().eventFilter(watched, event)

    def _choose(self, day: float) -> None:
        self._write(day)
        self.day_left.emit()

    def _write(self, day: float) -> None:
        self.field.setText(f"{round(day, 1):g}")
        self._changed()

    def _changed(self) -> None:
        self._tell("")
        self.signs.show_day(self.day(), self._span)
        self.day_changed.emit()

    def _tell(self, text: str) -> None:
        self._trouble.setText(text)
        self._trouble.setVisible(bool(text))
        edge = scheme_of(self).hex("bad")
        self.field.setStyleSheet(f"border: 1.5px solid {edge};" if text else "")
