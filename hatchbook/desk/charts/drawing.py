"""What the rows with a value axis have in common: axis, grid, bands, aims, gaps, now, a few dots."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np
from PySide6.QtCore import QLineF, QLocale, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen

from hatchbook.desk.charts.inks import AIM_DASH, GAP_DASH, Inks
from hatchbook.desk.charts.material import Gap
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.words.numbers import number

DOT = 8.0
_TICK = 4.0
_TEXT_GAP = 3.0
_SPARSE_PX = 7.0
"""Readings further apart than this on average are marked one by one: most were taken by hand."""


def crisp(px: float) -> float:
    """The middle of a pixel, where a hairline is one pixel wide."""
    return round(px - 0.5) + 0.5


def vertical(painter: QPainter, x: float, area: QRectF) -> None:
    """A line from top to bottom."""
    painter.drawLine(QLineF(crisp(x), area.top(), crisp(x), area.bottom()))


def horizontal(painter: QPainter, y: float, area: QRectF) -> None:
    """A line from left to right."""
    painter.drawLine(QLineF(area.left(), crisp(y), area.right(), crisp(y)))


def draw_value_axis(painter: QPainter, inks: Inks, row: CurveRow, at: Sequence[float]) -> None:
    """The axis at the left with its ticks and numbers, and the grid lines across."""
    height = inks.metrics(inks.small).height()
    left, right = row.plot.left() - _TICK, row.plot.right()
    places = [(value, row.y_px(value)) for value in at]
    painter.setPen(inks.pen("rule"))
    painter.drawLines([QLineF(row.plot.left(), crisp(y), right, crisp(y)) for _value, y in places])
    painter.setPen(inks.pen("rule_strong"))
    painter.drawLines([QLineF(left, crisp(y), row.plot.left(), crisp(y)) for _value, y in places])
    vertical(painter, row.plot.left(), row.plot)
    painter.setFont(inks.small)
    painter.setPen(inks.colour("ink2"))
    for value, y in places:
        text = _tick_text(value)
        # The number of a tick at the very edge stands beside it rather than half outside.
        top = min(max(y - height / 2, row.area.top()), row.area.bottom() - height + 2)
        width = inks.width(inks.small, text)
        place = QRectF(left - _TEXT_GAP - width, top, width, height)
        painter.drawText(place, Qt.TextFlag.TextDontClip, text)


@lru_cache(256)
def _text_of(value: float, _locale: str) -> str:
    return number(value, 0)


def _tick_text(value: float) -> str:
    return _text_of(value, QLocale().name())


def draw_band(
    painter: QPainter,
    inks: Inks,
    row: CurveRow,
    days: tuple[float, float],
    band: tuple[float, float],
    role: str,
) -> None:
    """A band from one day to another and from one value to another."""
    left, right = row.scale.px(days[0]), row.scale.px(days[1])
    painter.fillRect(
        QRectF(QPointF(left, row.y_px(band[1])), QPointF(right, row.y_px(band[0]))), inks.colour(role)
    )


def draw_aim(
    painter: QPainter, inks: Inks, row: CurveRow, days: tuple[float, float], aim: float, role: str
) -> None:
    """The dashed line of an aim. Its dashes keep to the days, so that they do not crawl while panning."""
    painter.setPen(inks.pen(role, 1.0, AIM_DASH))
    y = crisp(row.y_px(aim))
    painter.drawLine(QLineF(row.scale.px(days[0]), y, row.scale.px(days[1]), y))


def draw_gaps(painter: QPainter, inks: Inks, row: CurveRow, gaps: Iterable[Gap]) -> None:
    """Plates where there are no readings."""
    for gap in gaps:
        left, right = row.scale.px_of(gap.start_at), row.scale.px_of(gap.end_at)
        if right < row.plot.left() or left > row.plot.right():
            continue
        painter.fillRect(QRectF(left, row.plot.top(), right - left, row.plot.height()), inks.colour("gap"))
        painter.setPen(inks.pen("rule_strong", 1.0, GAP_DASH))
        vertical(painter, left, row.plot)
        vertical(painter, right, row.plot)


def draw_title(painter: QPainter, inks: Inks, row: CurveRow, text: str, font: QFont | None = None) -> QRectF:
    """The name of what a row shows, at its upper left; returns where it stands."""
    font = inks.body_bold if font is None else font
    metrics = inks.metrics(font)
    place = QRectF(row.plot.left() + 5, row.area.top() + 2, inks.width(font, text), metrics.height())
    painter.fillRect(place.adjusted(-3, 0, 3, 0), inks.scheme.alpha("page", 0.82))
    painter.setFont(font)
    painter.setPen(inks.colour("ink"))
    painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextDontClip, text)
    return place


def draw_dot(
    painter: QPainter, inks: Inks, centre: QPointF, role: str, *, hollow: bool = False, size: float = DOT
) -> None:
    """A dot with an edge of paper; hollow for what has not come yet."""
    painter.setPen(QPen(inks.colour(role if hollow else "page"), 1.6 if hollow else 1.4))
    painter.setBrush(inks.colour("page" if hollow else role))
    painter.drawEllipse(centre, size / 2, size / 2)


def draw_single_readings(
    painter: QPainter,
    inks: Inks,
    row: CurveRow,
    days: np.ndarray,
    values: np.ndarray,
    role: str,
) -> None:
    """Marks readings one by one where they are few: a line alone would hide that."""
    first = int(np.searchsorted(days, row.scale.low))
    stop = int(np.searchsorted(days, row.scale.high))
    if not 0 < stop - first <= row.plot.width() / _SPARSE_PX:
        return
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(inks.colour(role))
    for day, value in zip(days[first:stop].tolist(), values[first:stop].tolist(), strict=True):
        if value == value:
            painter.drawEllipse(QPointF(row.scale.px(day), row.y_px(value)), 2.0, 2.0)
