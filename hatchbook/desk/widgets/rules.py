"""Hairlines that part the regions of a sheet."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.widgets.themed import ThemedWidget


class _Rule(ThemedWidget):
    def __init__(self, *, strong: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._role = "rule_strong" if strong else "rule"

    def sizeHint(self) -> QSize:
        """As long as the place it fills, which it never stretches."""
        return QSize(1, 1)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """One even line."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.scheme.colour(self._role))


class HLine(_Rule):
    """A level line of 1 px; `strong` for the border of a region."""

    def __init__(self, *, strong: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(strong=strong, parent=parent)
        self.setFixedHeight(1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)


class VLine(_Rule):
    """An upright line of 1 px; `strong` for the border of a region."""

    def __init__(self, *, strong: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(strong=strong, parent=parent)
        self.setFixedWidth(1)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
