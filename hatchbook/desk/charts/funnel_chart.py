"""Batches by their size: small ones scatter more, and the band says how much."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QWidget

from hatchbook.desk.charts.batch_scatter import BatchScatter
from hatchbook.desk.charts.labels import Label
from hatchbook.desk.charts.point_material import PointCursor, PointMaterial
from hatchbook.desk.words.comparison_table import size_unit
from hatchbook.desk.words.numbers import number, share
from hatchbook.figures.comparison_results import BatchPoint

_DASH = (5.0, 4.0)
_TICK_ROOM = 46.0
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_EDGE_SHARE = 0.06
_LOW_RANK = 5
_UNIT_GAP = 6.0
_STUB = 6.0
"""A limit of which less than these pixels would be seen is left out."""


def _tr(text: str) -> str:
    return QCoreApplication.translate("BatchCharts", text)


class FunnelChart(BatchScatter):
    """The share of each batch against its eggs."""

    def __init__(self, cursor: PointCursor, parent: QWidget | None = None) -> None:
        super().__init__(cursor, _tr("Funnel plot of batches"), parent)

    def _ends(self, material: PointMaterial) -> tuple[float, float]:
        sizes = [point.trials for point in material.points] or [1, material.limits.sizes[-1]]
        air = max(1.0, (max(sizes) - min(sizes)) * _EDGE_SHARE)
        return max(0.0, min(sizes) - air), max(sizes) + air

    def _x(self, size: float, plot: QRectF, material: PointMaterial) -> float:
        low, high = self._ends(material)
        return plot.left() + (size - low) / (high - low) * plot.width()

    def x_of(self, at: int, point: BatchPoint, plot: QRectF) -> float:  # noqa: ARG002
        """By the eggs of the batch."""
        material = self.points.material
        assert material is not None
        return self._x(point.trials, plot, material)

    def order(self, material: PointMaterial) -> Sequence[int]:
        """From the smallest batch to the largest."""
        return sorted(
            range(len(material.points)),
            key=lambda at: (material.points[at].trials, material.points[at].share),
        )

    def draw_ground(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        """The band of 19 in 20, the dashed limits of 998 in 1000, the mean, the axis of sizes."""
        limits, inks = material.limits, self.inks
        painter.save()
        painter.setClipRect(plot)
        x = [self._x(size, plot, material) for size in limits.sizes]
        upper = [QPointF(px, self.y_of(at, plot)) for px, at in zip(x, limits.high, strict=True)]
        lower = [QPointF(px, self.y_of(at, plot)) for px, at in zip(x, limits.low, strict=True)]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(inks.colour("band"))
        painter.drawPolygon(QPolygonF([*upper, *reversed(lower)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(inks.pen("band_edge", 1.2, _DASH))
        for edge in (limits.far_low, limits.far_high):
            line = [QPointF(px, self.y_beyond(at, plot)) for px, at in zip(x, edge, strict=True)]
            heights = [point.y() for point in line]
            if max(heights) > plot.top() and min(heights) < plot.bottom() - _STUB:
                painter.drawPolyline(QPolygonF(line))
        self.draw_mean(painter, plot, material)
        painter.restore()
        self._draw_sizes(painter, plot, material)

    def _draw_sizes(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        inks = self.inks
        low, high = self._ends(material)
        step = next((one for one in _STEPS if plot.width() * one / (high - low) >= _TICK_ROOM), _STEPS[-1])
        painter.setFont(inks.small)
        height = inks.metrics(inks.small).height()
        unit = size_unit(material.kind)
        wide = inks.width(inks.small, unit)
        painter.setPen(inks.colour("ink2"))
        free_until = plot.right() - wide
        painter.drawText(QRectF(free_until, plot.bottom() + 5, wide, height), Qt.TextFlag.TextDontClip, unit)
        at = step * (int(low // step) + 1)
        while at <= high:
            x = round(self._x(at, plot, material)) + 0.5
            painter.setPen(inks.pen("rule_strong"))
            painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + 4))
            text = number(at, 0)
            width = inks.width(inks.small, text)
            painter.setPen(inks.colour("ink2"))
            if x + width / 2 < free_until - _UNIT_GAP:
                place = QRectF(x - width / 2, plot.bottom() + 5, width, height)
                painter.drawText(place, Qt.TextFlag.TextDontClip, text)
            at += step

    def ground_labels(self, plot: QRectF, material: PointMaterial) -> list[Label]:
        """All with their mean; what band and dashes are."""
        limits, inks = material.limits, self.inks
        right = plot.right() - 4
        mean = self.y_of(limits.mean, plot)
        labels = [
            Label(
                [_tr("all {rate}").format(rate=share(limits.mean))],
                "water_deep",
                inks.small_bold,
                [
                    (QPointF(right, mean - 2), "left", "above"),
                    (QPointF(right, mean + 2), "left", "below"),
                    (QPointF(plot.left() + 6, mean - 2), "right", "above"),
                ],
                _LOW_RANK,
                over_data=True,
            )
        ]
        smallest, high = self._ends(material)
        first = min(range(len(limits.sizes)), key=lambda n: abs(limits.sizes[n] - smallest))
        at = max(range(len(limits.sizes)), key=lambda n: limits.sizes[n] if limits.sizes[n] <= high else -1)
        inner = self.y_of(limits.low[at], plot)
        upper = self.y_of(limits.high[at], plot)
        outer = self.y_of(limits.far_low[at], plot)
        labels.append(
            Label(
                [_tr("19 of 20 batches lie in the band"), _tr("19 of 20")],
                "ink2",
                inks.small,
                [
                    (QPointF(right, inner - 3), "left", "above"),
                    (QPointF(right, upper + 3), "left", "below"),
                    (QPointF(plot.left() + 6, self.y_of(limits.low[first], plot) - 8), "right", "above"),
                    (QPointF(plot.left() + 6, upper + 6), "right", "below"),
                ],
                _LOW_RANK + 1,
                over_data=True,
            )
        )
        if outer < plot.bottom() - 4:
            labels.append(
                Label(
                    [_tr("998 of 1000")],
                    "ink2",
                    inks.small,
                    [
                        (QPointF(right, outer + 2), "left", "below"),
                        (QPointF(right, outer - 2), "left", "above"),
                    ],
                    _LOW_RANK + 2,
                    over_data=True,
                )
            )
        return labels
