"""The gauge as a widget."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale, gauge_height, paint_gauge
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget


class Gauge(ThemedWidget):
    """Marks on a scale with its band and aim. What it shows must also be said in words beside it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scale: GaugeScale | None = None
        self._marks: tuple[GaugeMark, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_gauge(self, scale: GaugeScale | None, marks: Sequence[GaugeMark] = ()) -> None:
        """Show marks on a scale; None leaves the place empty."""
        self._scale = scale
        self._marks = tuple(marks)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """As high as rail and tick labels."""
        return QSize(180, gauge_height(role_font(TypeRole.CAPTION), self._scale))

    def minimumSizeHint(self) -> QSize:
        """Narrow, but not too narrow to tell values apart."""
        return QSize(90, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The gauge."""
        if self._scale is None:
            return
        with QPainter(self) as painter:
            font = role_font(TypeRole.CAPTION)
            paint_gauge(
                painter, QRectF(self.rect()), self._scale, self._marks, self.scheme, font, self.locale()
            )
