"""How far the round is: one cell an egg, in the order in which they are gone through."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.widgets.themed import ThemedWidget

_HEIGHT, _THIN = 16, 8
_WIDEST, _GAP = 34.0, 3.0


class ProgressCells(ThemedWidget):
    """Done cells shine, the egg under the lamp stands out by its height, the others are dim."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._done: tuple[bool, ...] = ()
        self._current = -1
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_progress(self, done: Sequence[bool], current: int, spoken: str) -> None:
        """Shows which cells are done, and which one the lamp is on (−1: none); ``spoken`` says it in words."""
        self.setAccessibleName(spoken)
        if (tuple(done), current) != (self._done, self._current):
            self._done, self._current = tuple(done), current
            self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(400, _HEIGHT)

    def minimumSizeHint(self) -> QSize:
        """Cells may get very thin."""
        return QSize(120, _HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The cells."""
        if not self._done:
            return
        scheme, count = self.scheme, len(self._done)
        step = min(self.width() / count, _WIDEST + _GAP)
        gap = _GAP if step >= 4 * _GAP else step / 5
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, step < 2 * _GAP)
            for at, done in enumerate(self._done):
                current = at == self._current
                height = _HEIGHT if current else _THIN
                cell = QRectF(at * step, (_HEIGHT - height) / 2, step - gap, height)
                painter.fillRect(cell, scheme.focus if current else scheme.ink2 if done else scheme.rule)
