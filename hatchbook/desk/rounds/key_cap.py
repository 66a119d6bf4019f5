"""A key as it is drawn beside what it does."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget


class KeyCap(ThemedWidget):
    """A letter in a small box; what it stands beside has the words, so that nothing is read out twice."""

    def __init__(self, letter: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._letter = letter
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """A square, or wider for a longer name."""
        metrics = QFontMetricsF(role_font(TypeRole.CAPTION, bold=True))
        side = metrics.height() + 3
        return QSize(round(max(side, metrics.horizontalAdvance(self._letter) + 9)), round(side))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The box and its letter."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            rect = QRectF(self.rect()).adjusted(0.6, 0.6, -0.6, -0.6)
            painter.setPen(QPen(self.scheme.rule_strong, 1.1))
            painter.setBrush(self.scheme.page)
            painter.drawRoundedRect(rect, 3, 3)
            painter.setFont(role_font(TypeRole.CAPTION, bold=True))
            painter.setPen(self.scheme.ink2)
            painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, self._letter)
