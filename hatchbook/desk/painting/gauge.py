"""A gauge: one figure on its scale, with the band it should lie in and the aim.

A filled dot is how it stands, an open dot what it is heading for, a triangle what lies outside by more
than chance; a bar through the mark is how far it may be off.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto

from PySide6.QtCore import QLocale, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from hatchbook.desk.theme.tokens import Scheme

_MARGIN = 8.0
_BAND_HALF = 5.0
_RAIL_AT = 11.0
_DOT = 4.6
_OPEN_DOT = 4.0
_LABELS_AT = 15.0


class MarkKind(Enum):
    """What a mark on a gauge stands for."""

    NOW = auto()
    FORECAST = auto()
    LOW = auto()
    HIGH = auto()


@dataclass(frozen=True)
class GaugeMark:
    """A mark, and the ends of its bar if it has one; all in the unit of the scale."""

    value: float
    low: float | None = None
    high: float | None = None
    kind: MarkKind = MarkKind.NOW


@dataclass(frozen=True)
class GaugeScale:
    """What a gauge shows marks against; values in the unit of the figure.

    `reference` is a dashed line, for instance all batches of the species. ValueError when the scale has no
    length.
    """

    low: float
    high: float
    ticks: tuple[float, ...] = ()
    band: tuple[float, float] | None = None
    aim: float | None = None
    reference: float | None = None
    role: str = "water"
    band_role: str = "band"

    def __post_init__(self) -> None:
        if not self.high > self.low:
            raise ValueError("A gauge needs a scale from a lower to a higher value")


def gauge_height(font: QFont, scale: GaugeScale | None) -> int:
    """The height in px a gauge needs with tick labels in this font."""
    if scale is None or not scale.ticks:
        return round(2 * _RAIL_AT)
    return round(_LABELS_AT + QFontMetricsF(font).height())


def paint_gauge(
    painter: QPainter,
    rect: QRectF,
    scale: GaugeScale,
    marks: Sequence[GaugeMark],
    scheme: Scheme,
    font: QFont,
    locale: QLocale,
) -> None:
    """Paint the gauge into `rect`. A mark beyond the scale becomes an arrow head at its end."""
    gauge = _Gauge(painter, rect, scale, scheme)
    painter.save()
    painter.setClipRect(rect, Qt.ClipOperation.IntersectClip)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    gauge.rail()
    gauge.labels(font, locale)
    for mark in marks:
        gauge.bar(mark)
    for mark in marks:
        gauge.mark(mark)
    painter.restore()


class _Gauge:
    """One painting of a gauge: where values lie, and the pieces."""

    def __init__(self, painter: QPainter, rect: QRectF, scale: GaugeScale, scheme: Scheme) -> None:
        self.painter, self.rect, self.scale, self.scheme = painter, rect, scale, scheme
        self.start = rect.left() + _MARGIN
        self.length = max(1.0, rect.width() - 2 * _MARGIN)
        self.y = rect.top() + _RAIL_AT + 0.5

    def x(self, value: float) -> float:
        """Where a value lies, held inside the scale."""
        share = (value - self.scale.low) / (self.scale.high - self.scale.low)
        return self.start + self.length * min(1.0, max(0.0, share))

    def rail(self) -> None:
        scheme, scale, painter = self.scheme, self.scale, self.painter
        top = self.y - _BAND_HALF
        if scale.band is not None:
            left, right = self.x(scale.band[0]), self.x(scale.band[1])
            painter.fillRect(QRectF(left, top, right - left, 2 * _BAND_HALF), scheme.colour(scale.band_role))
        painter.setPen(QPen(scheme.rule_strong, 1.0))
        painter.drawLine(QPointF(self.start, self.y), QPointF(self.start + self.length, self.y))
        bottom = self.y + _BAND_HALF
        if scale.aim is not None:
            painter.setPen(QPen(scheme.colour(scale.role), 1.2))
            painter.drawLine(QPointF(self.x(scale.aim), top), QPointF(self.x(scale.aim), bottom))
        if scale.reference is not None:
            x = self.x(scale.reference)
            pen = QPen(scheme.ink2, 1.2)
            pen.setDashPattern([2.0, 1.5])
            painter.setPen(pen)
            painter.drawLine(QPointF(x, top - 2), QPointF(x, bottom + 2))

    def labels(self, font: QFont, locale: QLocale) -> None:
        """Tick labels; one that would touch its neighbour is left out."""
        metrics = QFontMetricsF(font)
        self.painter.setFont(font)
        self.painter.setPen(self.scheme.ink3)
        free_from = self.rect.left() - 1.0
        top = self.rect.top() + _LABELS_AT
        for value in self.scale.ticks:
            text = locale.toString(float(value), "g", 6)
            width = metrics.horizontalAdvance(text)
            left = self.x(value) - width / 2
            left = min(max(left, self.rect.left()), self.rect.right() - width)
            if left < free_from:
                continue
            self.painter.drawText(QPointF(left, top + metrics.ascent()), text)
            free_from = left + width + 4.0

    def bar(self, mark: GaugeMark) -> None:
        low = mark.value if mark.low is None else mark.low
        high = mark.value if mark.high is None else mark.high
        if high > low:
            pen = QPen(self._colour(mark), 2.0)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            self.painter.setPen(pen)
            self.painter.drawLine(QPointF(self.x(low), self.y), QPointF(self.x(high), self.y))

    def mark(self, mark: GaugeMark) -> None:
        painter, centre = self.painter, QPointF(self.x(mark.value), self.y)
        colour = self._colour(mark)
        if not self.scale.low <= mark.value <= self.scale.high:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour)
            painter.drawPolygon(_arrow_head(centre, 5.0 if mark.value > self.scale.high else -5.0))
        elif mark.kind is MarkKind.NOW:
            painter.setPen(QPen(self.scheme.page, 1.2))
            painter.setBrush(colour)
            painter.drawEllipse(centre, _DOT, _DOT)
        elif mark.kind is MarkKind.FORECAST:
            painter.setPen(QPen(colour, 1.7))
            painter.setBrush(self.scheme.page)
            painter.drawEllipse(centre, _OPEN_DOT, _OPEN_DOT)
        else:
            painter.setPen(QPen(self.scheme.page, 1.2))
            painter.setBrush(colour)
            painter.drawPolygon(_triangle(centre, 5.0 if mark.kind is MarkKind.HIGH else -5.0))

    def _colour(self, mark: GaugeMark) -> QColor:
        outside = mark.kind in (MarkKind.LOW, MarkKind.HIGH)
        return self.scheme.colour("bad" if outside else self.scale.role)


def _triangle(centre: QPointF, up: float) -> QPolygonF:
    """Point up for a positive size, point down for a negative one."""
    wide = abs(up) * 1.05
    return QPolygonF(
        [
            centre + QPointF(-wide, up * 0.75),
            centre + QPointF(wide, up * 0.75),
            centre + QPointF(0, -up),
        ]
    )


def _arrow_head(centre: QPointF, right: float) -> QPolygonF:
    """Point right for a positive size, left for a negative one."""
    return QPolygonF(
        [
            centre + QPointF(-right * 0.2, -5),
            centre + QPointF(-right * 0.2, 5),
            centre + QPointF(right * 1.2, 0),
        ]
    )
