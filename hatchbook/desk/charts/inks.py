"""Pens and fonts of a chart in the colours of a scheme."""

from __future__ import annotations

import math
from enum import StrEnum

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPixmap

from hatchbook.desk.painting.marks import duty_mark, event_mark, paint_mark
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.trade.codes import DutyKind, EventKind

AIM_DASH = (6.0, 4.0)
HOLD_DASH = (7.0, 3.0)
PATH_DASH = (0.1, 2.2)
POINTER_DASH = (3.0, 3.0)
GAP_DASH = (1.0, 3.0)
_MARK_AIR = 1.0


class Inks:
    """What a chart is drawn with. Lengths are logical pixels; `ratio` device pixels to a logical one."""

    def __init__(self, scheme: Scheme, ratio: float) -> None:
        self.scheme = scheme
        self.ratio = ratio
        self.small = role_font(TypeRole.CAPTION)
        self.small_bold = role_font(TypeRole.CAPTION, bold=True)
        self.body = role_font(TypeRole.BODY)
        self.body_bold = role_font(TypeRole.BODY, bold=True)
        self._pens: dict[tuple[str, float, tuple[float, ...] | None], QPen] = {}
        self._metrics: dict[int, QFontMetricsF] = {}
        self._widths: dict[tuple[int, str], float] = {}
        self._marks: dict[tuple[StrEnum, float, str, bool], QPixmap] = {}

    def colour(self, role: str) -> QColor:
        """The colour of a role."""
        return self.scheme.colour(role)

    def pen(self, role: str, width: float = 1.0, dash: tuple[float, ...] | None = None) -> QPen:
        """A pen for what is painted in logical pixels; ``dash`` in pixels too. Do not change it."""
        key = (role, width, dash)
        if key not in self._pens:
            pen = QPen(self.scheme.colour(role), width)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            if dash is not None:
                pen.setDashPattern([length / width for length in dash])
            self._pens[key] = pen
        return self._pens[key]

    def dots(self, role: str, width: float) -> QPen:
        """A dotted pen with round dots as wide as the pen."""
        pen = QPen(self.scheme.colour(role), width)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setDashPattern(list(PATH_DASH))
        return pen

    def curve_pen(self, role: str, width: float) -> QPen:
        """A pen for a plotted curve. Those pens are cosmetic: they count device pixels."""
        pen = QPen(self.scheme.colour(role), width * self.ratio)
        pen.setCosmetic(True)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        return pen

    def draw_mark(
        self,
        painter: QPainter,
        kind: DutyKind | EventKind,
        centre: QPointF,
        size: float,
        role: str,
        *,
        filled: bool = True,
    ) -> None:
        """Draws the mark of a duty or an event on whole pixels. Each is painted once: there are many a frame."""
        key = (kind, size, role, filled)
        if key not in self._marks:
            self._marks[key] = self._painted_mark(kind, size, role, filled)
        half = size / 2 + _MARK_AIR
        painter.drawPixmap(QPointF(round(centre.x() - half), round(centre.y() - half)), self._marks[key])

    def _painted_mark(self, kind: DutyKind | EventKind, size: float, role: str, filled: bool) -> QPixmap:
        side = size + 2 * _MARK_AIR
        pixmap = QPixmap(math.ceil(side * self.ratio), math.ceil(side * self.ratio))
        pixmap.setDevicePixelRatio(self.ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        mark = duty_mark(kind) if isinstance(kind, DutyKind) else event_mark(kind)
        with QPainter(pixmap) as painter:
            middle = QPointF(side / 2, side / 2)
            paint_mark(painter, mark, middle, size, self.colour(role), filled=filled)
        return pixmap

    def metrics(self, font: QFont) -> QFontMetricsF:
        """The measures of one of the fonts above. They are asked for many times a frame, and kept."""
        key = id(font)
        if key not in self._metrics:
            self._metrics[key] = QFontMetricsF(font)
        return self._metrics[key]

    def width(self, font: QFont, text: str) -> float:
        """How wide a text is in one of the fonts above."""
        key = (id(font), text)
        if key not in self._widths:
            self._widths[key] = self.metrics(font).horizontalAdvance(text)
        return self._widths[key]
