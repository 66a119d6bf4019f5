"""The weight row: what the eggs have lost, each and on average, the corridor, and where they are heading.

Lost weight grows downwards: a curve above the corridor says too humid, as one above the band does.
"""

from __future__ import annotations

from collections.abc import Iterable
from zoneinfo import ZoneInfo

import numpy as np
from PySide6.QtCore import QCoreApplication, QLineF, QPointF
from PySide6.QtGui import QPainter, QPolygonF

from hatchbook.desk.charts.drawing import (
    draw_dot,
    draw_title,
    draw_value_axis,
    vertical,
)
from hatchbook.desk.charts.inks import HOLD_DASH, Inks
from hatchbook.desk.charts.labels import Room, paint_labels, place_labels
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.ranges import LOSS_STEP, ticks
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.charts.weight_labels import point_sentence, weight_labels
from hatchbook.desk.theme.tokens import tokens
from hatchbook.figures.weight_results import LossPath, LossTarget, WeighedPoint, WeightForecast

_TICK_ROOM = 20.0
_FAN, _MEAN, _AHEAD, _WHISKER = 0.8, 2.0, 1.6, 1.4
_CONE_SHARE = 0.22
_HELD_DASH = (1.5, 3.5)
_REACH = 7.0
_TITLE_AIR = 5.0
_Z = 1.96


class WeightRow(CurveRow):
    """The eggs as a fan of thin lines, their mean thick, the corridor behind them, the forecast as a cone."""

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        self._material: BatchMaterial | None = None
        self._zone: ZoneInfo | None = None
        self._fan: list[tuple[np.ndarray, np.ndarray]] = []
        self._head = 0.0

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo) -> None:
        """Shows other weights."""
        self._material, self._zone = material, zone
        weight = material.weight if material is not None else None
        self._fan = [] if weight is None else [_line_of(egg.points) for egg in weight.eggs if egg.points]
        if material is not None:
            self.low, self.high = material.loss_range

    @property
    def has_content(self) -> bool:
        """Whether there is a corridor or a weighing to show."""
        material = self._material
        return material is not None and (material.loss_target is not None or bool(self._points))

    def dress(self, inks: Inks) -> None:
        """Takes other colours, fonts and pens; the name of the row stands above its scale."""
        self._head = inks.metrics(inks.body_bold).height() + _TITLE_AIR
        super().dress(inks)

    def y_px(self, value: float) -> float:
        """The pixel of a loss, %."""
        top = self.plot.top() + self._head
        return top + (value - self.low) / (self.high - self.low) * (self.plot.bottom() - top)

    @property
    def _weight(self) -> WeightForecast | None:
        return None if self._material is None else self._material.weight

    @property
    def _points(self) -> tuple[WeighedPoint, ...]:
        return () if self._weight is None else self._weight.weighings

    # ---------------------------------------------------------------- painting

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints corridor, grid, fan and cone."""
        material = self._material
        painter.save()
        painter.setClipRect(self.plot)
        if material is not None and material.loss_target is not None:
            self._draw_corridor(painter, inks, material.loss_target)
        painter.setClipRect(self.area)
        marks = ticks(self.low, self.high, LOSS_STEP, self.plot.height(), _TICK_ROOM)
        draw_value_axis(painter, inks, self, marks)
        if material is not None:
            painter.setClipRect(self.plot)
            painter.setPen(inks.pen("band_edge"))
            for phase in material.phases[1:]:
                vertical(painter, self.scale.px(phase.from_day), self.plot)
            painter.setPen(inks.pen("weight_edge", _FAN))
            for days, losses in self._fan:
                painter.drawPolyline(self._polygon(days, losses))
            weight = self._weight
            if weight is not None and weight.path_ahead is not None:
                self._draw_cone(painter, inks, weight.path_ahead)
        painter.restore()

    def _draw_corridor(self, painter: QPainter, inks: Inks, target: LossTarget) -> None:
        """A wedge from the set weight to the loss wanted on the target's day, closed by a bar there."""
        left, right = self.scale.px(0.0), self.scale.px(target.day)
        top, bottom = self.y_px(target.low), self.y_px(target.high)
        painter.setPen(inks.pen("weight_band"))
        painter.setBrush(inks.colour("weight_band"))
        start = QPointF(left, self.y_px(0.0))
        painter.drawPolygon(QPolygonF([start, QPointF(right, top), QPointF(right, bottom)]))
        painter.setPen(inks.pen("weight_edge", 3.0))
        painter.drawLine(QLineF(right, top, right, bottom))

    def _draw_cone(self, painter: QPainter, inks: Inks, path: LossPath) -> None:
        edges = self._polygon(path.day, path.low)
        for point in reversed(self._polygon(path.day, path.high).toList()):
            edges.append(point)
        painter.setPen(inks.pen("weight_edge", 0.0))
        painter.setBrush(inks.scheme.alpha("weight", _CONE_SHARE))
        painter.drawPolygon(edges)

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints the mean, the forecast, now, and the labels."""
        material, weight = self._material, self._weight
        painter.save()
        painter.setClipRect(self.plot)
        if weight is not None:
            self._draw_forecast(painter, inks, weight)
            self._draw_mean(painter, inks, weight)
        if material is not None and self.scale.sees(self.scale.day_of(material.now)):
            painter.setPen(inks.pen("ink", tokens().lines.now))
            vertical(painter, self.scale.px_of(material.now), self.plot)
        painter.restore()
        title = draw_title(painter, inks, self, self._title())
        if material is not None:
            room = Room(self.plot.adjusted(1, 0, -1, 0), [title])
            paint_labels(painter, place_labels(weight_labels(self, material, inks), room, inks), inks)

    @staticmethod
    def _title() -> str:
        return QCoreApplication.translate("Chart", "Weight lost since set, %")

    def _draw_forecast(self, painter: QPainter, inks: Inks, weight: WeightForecast) -> None:
        held = None if self._material is None else self._material.path_held
        if held is not None:
            painter.setPen(inks.pen("water", _AHEAD, _HELD_DASH))
            painter.drawPolyline(self._polygon(held.day, held.mean))
        if weight.path_ahead is None:
            return
        painter.setPen(inks.pen("weight", _AHEAD, HOLD_DASH))
        painter.drawPolyline(self._polygon(weight.path_ahead.day, weight.path_ahead.mean))
        end = weight.at_target
        if end is not None and weight.target is not None:
            x = self.scale.px(weight.target.day)
            painter.setPen(inks.pen("weight", _WHISKER))
            painter.drawLine(QLineF(x, self.y_px(end.low), x, self.y_px(end.high)))
            draw_dot(painter, inks, QPointF(x, self.y_px(end.value)), "weight", hollow=True)

    def _draw_mean(self, painter: QPainter, inks: Inks, weight: WeightForecast) -> None:
        if not weight.weighings:
            return
        painter.setPen(inks.pen("weight", _MEAN))
        painter.drawPolyline(self._polygon(weight.path_so_far.day, weight.path_so_far.mean))
        for point in weight.weighings:
            centre = QPointF(self.scale.px(point.day), self.y_px(point.mean))
            if point.standard_error is not None:
                half = _Z * point.standard_error
                painter.setPen(inks.pen("weight", _WHISKER))
                ends = self.y_px(point.mean - half), self.y_px(point.mean + half)
                painter.drawLine(QLineF(centre.x(), ends[0], centre.x(), ends[1]))
            draw_dot(painter, inks, centre, "weight", hollow=point.odd)

    def _polygon(self, days: Iterable[float], losses: Iterable[float]) -> QPolygonF:
        return QPolygonF(
            [
                QPointF(self.scale.px(float(day)), self.y_px(float(loss)))
                for day, loss in zip(days, losses, strict=True)
            ]
        )

    # ---------------------------------------------------------------- pointing

    def dots_at(self, at: int) -> list[tuple[QPointF, str]]:
        """Where the dot of the loss at an instant lies, with its colour."""
        loss = None if self._material is None else self._material.loss_at(at)
        if loss is None or not self.is_shown:
            return []
        return [(QPointF(self.scale.px_of(at), self.y_px(loss)), "weight")]

    def tip(self, point: QPointF) -> str:
        """The weighing under the pointer."""
        if self._zone is None:
            return ""
        for one in self._points:
            centre = QPointF(self.scale.px(one.day), self.y_px(one.mean))
            if abs(centre.x() - point.x()) <= _REACH and abs(centre.y() - point.y()) <= 2 * _REACH:
                return point_sentence(one, self._zone)
        return ""


def _line_of(points: Iterable[tuple[float, float]]) -> tuple[np.ndarray, np.ndarray]:
    """The way of an egg from its set weight on: days and losses."""
    rows = np.array([(0.0, 0.0), *(point for point in points if point[0] > 0)])
    return rows[:, 0], rows[:, 1]
