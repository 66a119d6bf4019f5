"""The marks of a machine's history: circles and squares with their bars, the dots of the temperature strip."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.words.numbers import number
from hatchbook.trade.codes import PhaseKind

if TYPE_CHECKING:
    from hatchbook.desk.charts.machine_history import HistoryItem

SHIFT = 0.19
"""How far, in slots, a phase stands from the middle of its batch."""
_HALF = 4.5
_AIR = 0.15
_LEAST_SPAN = 0.6


def _tr(text: str) -> str:
    return QCoreApplication.translate("MachineHistory", text)


def paint_shape(
    painter: QPainter, kind: PhaseKind, centre: QPointF, edge: QColor, fill: QColor, *, strong: bool = False
) -> None:
    """A circle for incubation, a square for lockdown."""
    half = _HALF + (1.5 if strong else 0.0)
    painter.setPen(QPen(edge, 2.4 if strong else 1.7))
    painter.setBrush(fill)
    if kind is PhaseKind.LOCKDOWN:
        painter.drawRect(QRectF(centre.x() - half, centre.y() - half, 2 * half, 2 * half))
    else:
        painter.drawEllipse(centre, half, half)


def paint_key(painter: QPainter, area: QRectF, scheme: Scheme) -> None:
    """Names the axis and the shapes: Mean humidity, %: ○ incubation □ lockdown, bars over most readings."""
    metrics = QFontMetricsF(painter.font())
    x, baseline = area.left() + 2, area.top() + metrics.ascent()
    pieces: list[tuple[str, PhaseKind | None]] = [
        (_tr("Mean humidity, %"), None),
        (_tr("incubation"), PhaseKind.INCUBATION),
        (_tr("lockdown"), PhaseKind.LOCKDOWN),
        (_tr("bars: 9 of 10 readings"), None),
    ]
    for text, kind in pieces:
        width = metrics.horizontalAdvance(text) + (16 if kind is not None else 0)
        if x + width > area.right():
            return
        if kind is not None:
            paint_shape(
                painter,
                kind,
                QPointF(x + 6, baseline - metrics.ascent() / 2 + 1),
                scheme.water_deep,
                scheme.page,
            )
            x += 16
        painter.setPen(scheme.ink2)
        painter.drawText(QPointF(x, baseline), text)
        x += metrics.horizontalAdvance(text) + 14


def paint_item(
    painter: QPainter,
    item: HistoryItem,
    x: float,
    y: Callable[[float], float],
    plot: QRectF,
    scheme: Scheme,
    taken: list[QRectF],
    *,
    strong: bool,
) -> None:
    """One phase: its bar, its mark, and the word for what left its band where there is room for it."""
    off = bool(item.off)
    edge = scheme.bad if off else scheme.water_deep
    painter.setPen(QPen(edge, 1.6))
    painter.drawLine(QLineF(x, y(item.low), x, y(item.high)))
    paint_shape(
        painter,
        item.phase.kind,
        QPointF(x, y(item.mean)),
        edge,
        scheme.bad if off else scheme.page,
        strong=strong,
    )
    if not off:
        return
    font = role_font(TypeRole.CAPTION, bold=True)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(item.off), metrics.height()
    middle = y(item.mean) - height / 2
    for left, top in (
        (x - _HALF - 5 - width, middle),
        (x + _HALF + 5, middle),
        (x - width / 2, y(item.high) - height - 2),
        (x - width / 2, y(item.low) + 3),
    ):
        place = QRectF(left, top, width, height)
        if plot.contains(place) and not any(place.intersects(other) for other in taken):
            taken.append(place)
            painter.setFont(font)
            painter.setPen(scheme.bad)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, item.off)
            painter.setFont(role_font(TypeRole.CAPTION))
            return


def paint_warmth(
    painter: QPainter,
    strip: QRectF,
    items: Sequence[tuple[HistoryItem, float]],
    slot_width: float,
    scheme: Scheme,
) -> None:
    """The mean temperature of each phase in its band; a diamond and another colour where it left that."""
    metrics = QFontMetricsF(painter.font())
    known = [(item, x) for item, x in items if not math.isnan(item.warmth)]
    bands = [item.phase.temperature_band for item, _x in items]
    low = min([band.low for band in bands] + [item.warmth for item, _x in known]) - _AIR
    high = max([band.high for band in bands] + [item.warmth for item, _x in known]) + _AIR
    if high - low < _LEAST_SPAN:
        middle = (high + low) / 2
        low, high = middle - _LEAST_SPAN / 2, middle + _LEAST_SPAN / 2

    # The dots keep below the title.
    tall = strip.height() - metrics.height()

    def y(value: float) -> float:
        return strip.bottom() - tall * (value - low) / (high - low)

    painter.setPen(QPen(scheme.rule_strong, 1.0))
    painter.drawLine(QLineF(strip.left(), round(strip.top()) + 0.5, strip.right(), round(strip.top()) + 0.5))
    shown = {(item.slot, item.phase.kind) for item, _x in items}
    for item, x in items:
        late = item.phase.kind is PhaseKind.LOCKDOWN
        middle = x - slot_width * (SHIFT if late else -SHIFT)
        # Half a slot, or the whole of it where the other phase has no readings.
        alone = (item.slot, PhaseKind.INCUBATION if late else PhaseKind.LOCKDOWN) not in shown
        left = middle if late and not alone else middle - slot_width / 2
        band = item.phase.temperature_band
        area = QRectF(left, y(band.high), slot_width * (1.0 if alone else 0.5) + 0.5, 0)
        area.setBottom(y(band.low))
        painter.fillRect(area, scheme.heat_band)
    for value in _two_ticks(low, high):
        place = QRectF(0, y(value) - metrics.height() / 2, strip.left() - 6, metrics.height())
        if place.top() < strip.top() - 2:
            continue
        painter.setPen(scheme.ink2)
        painter.drawText(place, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, number(value))
    for item, x in known:
        band = item.phase.temperature_band
        point = QPointF(x, y(item.warmth))
        painter.setPen(Qt.PenStyle.NoPen)
        if band.low <= item.warmth <= band.high:
            painter.setBrush(scheme.heat)
            painter.drawEllipse(point, 3.2, 3.2)
        else:
            painter.setBrush(scheme.bad)
            around = [QPointF(0, -5), QPointF(5, 0), QPointF(0, 5), QPointF(-5, 0)]
            painter.drawPolygon(QPolygonF([point + step for step in around]))
    title = _tr("Mean temperature, °C")
    plate = QRectF(strip.left() + 3, strip.top() + 1, metrics.horizontalAdvance(title) + 4, metrics.height())
    painter.fillRect(plate, scheme.alpha("page", 0.82))
    painter.setPen(scheme.ink2)
    painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, title)


def _two_ticks(low: float, high: float) -> list[float]:
    """Half degrees, at most three of them."""
    step = 0.5 if high - low < 1.6 else 1.0
    first = math.ceil(low / step - 1e-9)
    return [n * step for n in range(first, math.floor(high / step + 1e-9) + 1)][:3]
