"""What follows the pointer and the keys: a dashed line through all rows, and dots on the curves."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.drawing import DOT, crisp, draw_dot, vertical
from hatchbook.desk.charts.inks import POINTER_DASH, Inks
from hatchbook.desk.charts.row import POINTER, Layer


class PointerLine(Layer):
    """Hidden until something is pointed at."""

    def __init__(self) -> None:
        super().__init__(self._draw_line, POINTER)
        self._inks: Inks | None = None
        self._x = 0.0
        self._dots: list[tuple[QPointF, str]] = []
        self.setVisible(False)

    def dress(self, inks: Inks) -> None:
        """Takes other colours."""
        self._inks = inks
        self.update()

    def show_at(self, x: float, top: float, bottom: float, dots: list[tuple[QPointF, str]]) -> None:
        """Stands at a pixel, from one to another, with dots."""
        self._x, self._dots = x, dots
        # No wider than the dots, so that no more than this strip is painted anew.
        self.cover(QRectF(x - DOT, top, 2 * DOT, bottom - top))
        self.setVisible(True)
        self.update()

    def _draw_line(self, painter: QPainter) -> None:
        if self._inks is None:
            return
        painter.setPen(self._inks.pen("ink2", 1.0, POINTER_DASH))
        vertical(painter, crisp(self._x), self.boundingRect())
        for centre, role in self._dots:
            draw_dot(painter, self._inks, centre, role)
