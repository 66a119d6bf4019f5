"""Batches in the order in which they were set, each with the limits of its size, parted by seasons."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QWidget

from hatchbook.desk.charts.batch_scatter import BatchScatter
from hatchbook.desk.charts.labels import Label
from hatchbook.desk.charts.point_material import PointCursor, PointMaterial
from hatchbook.desk.words.dates import season_word
from hatchbook.figures.comparison_results import BatchPoint

_NARROWEST_PX = 7.0
"""A batch gets at least so many pixels; what does not fit is reached by wheel and keys."""
_BAR_SHARE, _BAR_MOST = 0.68, 26.0
_LABEL_AIR = 12.0
_WHEEL = 120
_LOW_RANK = 5


class OrderChart(BatchScatter):
    """The share of each batch, oldest first; shows the newest where there are more than fit."""

    def __init__(self, cursor: PointCursor, parent: QWidget | None = None) -> None:
        self._first = 0
        self._known: PointMaterial | None = None
        name = QCoreApplication.translate("BatchCharts", "Batches in order with limits")
        super().__init__(cursor, name, parent)

    # ---------------------------------------------------------------- view

    def _fit(self) -> int:
        return max(3, int(self.plot().width() / _NARROWEST_PX))

    def shown(self, material: PointMaterial) -> range:
        """As many as fit."""
        count = len(material.points)
        first = min(max(self._first, 0), max(0, count - self._fit()))
        return range(first, min(count, first + self._fit()))

    def follow(self) -> None:
        """Brings the point into view; other material begins with its newest."""
        material = self.points.material
        if material is not self._known:
            self._known = material
            self._first = 0 if material is None else len(material.points)
        if material is not None and self.points.at is not None:
            shown = self.shown(material)
            if self.points.at < shown.start:
                self._first = self.points.at
            elif self.points.at >= shown.stop:
                self._first = self.points.at - self._fit() + 1
            else:
                self._first = shown.start
        super().follow()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Goes through the batches where there are more than fit."""
        material = self.points.material
        if material is None or len(material.points) <= self._fit():
            event.ignore()
            return
        turned = event.angleDelta().y() or event.angleDelta().x()
        self._first = self.shown(material).start - round(turned / _WHEEL * max(1, self._fit() // 10))
        self.update()
        event.accept()

    def _step_px(self, plot: QRectF, material: PointMaterial) -> float:
        return plot.width() / max(1, len(self.shown(material)))

    def x_of(self, at: int, point: BatchPoint, plot: QRectF) -> float:  # noqa: ARG002
        """By its place in the order."""
        material = self.points.material
        assert material is not None
        return plot.left() + (at - self.shown(material).start + 0.5) * self._step_px(plot, material)

    def order(self, material: PointMaterial) -> Sequence[int]:
        """As they were set."""
        return range(len(material.points))

    # ---------------------------------------------------------------- painting

    def draw_ground(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        """The limits of each batch, the mean, seasons, the line from batch to batch, their numbers."""
        inks = self.inks
        step = self._step_px(plot, material)
        half = min(step * _BAR_SHARE, _BAR_MOST) / 2
        shown = self.shown(material)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(inks.colour("band"))
        for at in shown:
            point = material.points[at]
            x = self.x_of(at, point, plot)
            top, bottom = self.y_of(point.limit_high, plot), self.y_of(point.limit_low, plot)
            painter.drawRect(QRectF(x - half, top, 2 * half, bottom - top))
        self.draw_mean(painter, plot, material)
        painter.setPen(inks.pen("rule_strong"))
        for at in self._season_starts(material)[1:]:
            x = round(plot.left() + (at - shown.start) * step) + 0.5
            painter.drawLine(QPointF(x, plot.top()), QPointF(x, plot.bottom() + 4))
        painter.setPen(inks.pen("water_raw", 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        line = [
            QPointF(self.x_of(at, material.points[at], plot), self.y_of(material.points[at].share, plot))
            for at in shown
        ]
        painter.drawPolyline(QPolygonF(line))
        self._draw_numbers(painter, plot, material)

    def _season_starts(self, material: PointMaterial) -> list[int]:
        shown = self.shown(material)
        points = material.points
        return [at for at in shown if at == shown.start or points[at].season != points[at - 1].season]

    def _draw_numbers(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        inks = self.inks
        painter.setFont(inks.small)
        painter.setPen(inks.colour("ink2"))
        height = inks.metrics(inks.small).height()
        free_from = plot.left() - 20
        for at in self.shown(material):
            text = material.points[at].label
            width = inks.width(inks.small, text)
            left = self.x_of(at, material.points[at], plot) - width / 2
            if left < free_from or left + width > self.width() - 1:
                continue
            painter.drawText(QRectF(left, plot.bottom() + 5, width, height), Qt.TextFlag.TextDontClip, text)
            free_from = left + width + _LABEL_AIR

    def ground_labels(self, plot: QRectF, material: PointMaterial) -> list[Label]:
        """The seasons, at the foot of their stretch."""
        inks = self.inks
        step, shown = self._step_px(plot, material), self.shown(material)
        starts = self._season_starts(material)
        labels = []
        for at, end in pairwise([*starts, shown.stop]):
            left = plot.left() + (at - shown.start) * step + 5
            text = season_word(material.points[at].season, material.first_month)
            if inks.width(inks.small, text) > (end - at) * step - 6:
                continue
            places = [
                (QPointF(left, plot.bottom() - 2), "right", "above"),
                (QPointF(left, plot.top() + 1), "right", "below"),
            ]
            labels.append(Label([text], "ink2", inks.small, places, _LOW_RANK, over_data=True))
        return labels
