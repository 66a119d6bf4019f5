"""The humidity row: bands and aims, readings, the mean that counts, and where holding takes it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import numpy as np
from PySide6.QtCore import QCoreApplication, QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter, QPolygonF

from hatchbook.desk.charts.drawing import (
    crisp,
    draw_aim,
    draw_band,
    draw_dot,
    draw_gaps,
    draw_single_readings,
    draw_title,
    draw_value_axis,
    vertical,
)
from hatchbook.desk.charts.humidity_labels import humidity_labels
from hatchbook.desk.charts.inks import HOLD_DASH, Inks
from hatchbook.desk.charts.labels import Room, paint_labels, place_labels
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.ranges import HUMIDITY_STEP, ticks
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.numbers import duration_text
from hatchbook.statistics.mean_path import mean_path
from hatchbook.trade.codes import EventKind, PhaseKind

_PATH_POINTS = 25
_FILL_TICK = 12.0
_TICK_ROOM = 22.0


class HumidityRow(CurveRow):
    """Readings thin, the running mean of the phase thick with a halo of paper, the hold line dashed."""

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        lines = tokens().lines
        self._readings = self.new_curve("water_raw", lines.reading, 10)
        self._halo = self.new_curve("page", lines.halo, 19, few_corners=True)
        self._mean = self.new_curve("water_deep", lines.mean, 20, few_corners=True)
        self._material: BatchMaterial | None = None
        self._zone: ZoneInfo | None = None
        self.said = ""

    def say(self, text: str) -> None:
        """A sentence in the middle of the row, where there is no curve."""
        self.said = text

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo) -> None:
        """Shows other curves."""
        self._material, self._zone = material, zone
        for curve, line in (
            (self._readings, material.humidity if material else None),
            (self._halo, material.mean if material else None),
            (self._mean, material.mean if material else None),
        ):
            curve.show(line, self.scale)
        if material is not None:
            self.set_range(*material.humidity_range)

    # ---------------------------------------------------------------- below the curves

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints bands, grid, aims and gaps."""
        material = self._material
        painter.save()
        painter.setClipRect(self.area)
        if material is not None:
            painter.setClipRect(self.plot)
            for phase in material.phases:
                role = "band2" if phase.kind is PhaseKind.LOCKDOWN else "band"
                band = phase.humidity_band
                draw_band(painter, inks, self, (phase.from_day, phase.to_day), (band.low, band.high), role)
            painter.setClipRect(self.area)
        room = self.plot.height()
        low, high = max(self.low, 0.0), min(self.high, 100.0)
        draw_value_axis(painter, inks, self, ticks(low, high, HUMIDITY_STEP, room, _TICK_ROOM))
        if material is not None:
            painter.setClipRect(self.plot)
            for phase in material.phases:
                days = (phase.from_day, phase.to_day)
                draw_aim(painter, inks, self, days, phase.humidity_band.aim, "water")
            draw_gaps(painter, inks, self, material.gaps)
            for still in material.curves.still:
                left, right = self.scale.px_of(still.start_at), self.scale.px_of(still.end_at)
                painter.fillRect(
                    QRectF(left, self.plot.top(), right - left, self.plot.height()), inks.colour("warn_fill")
                )
            painter.setPen(inks.pen("band_edge"))
            for phase in material.phases[1:]:
                vertical(painter, self.scale.px(phase.from_day), self.plot)
            self._draw_fills(painter, inks, material)
            line = material.humidity
            draw_single_readings(painter, inks, self, line.days, line.values, "water_raw")
        painter.restore()

    def _draw_fills(self, painter: QPainter, inks: Inks, material: BatchMaterial) -> None:
        """A short line at the bottom for each filling: what the curve does next is its doing."""
        painter.setPen(inks.pen("water", 1.2))
        for event in material.events:
            if event.kind is EventKind.WATER:
                x = crisp(self.scale.px_of(event.at))
                painter.drawLine(QLineF(x, self.plot.bottom() - _FILL_TICK, x, self.plot.bottom()))

    # ---------------------------------------------------------------- above the curves

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints the hold line, the way of the mean, now, and the labels."""
        material = self._material
        painter.save()
        painter.setClipRect(self.plot)
        path: list[QPointF] = []
        if material is not None:
            path = self._draw_hold(painter, inks, material)
            if self.scale.sees(self.scale.day_of(material.now)):
                painter.setPen(inks.pen("ink", tokens().lines.now))
                vertical(painter, self.scale.px_of(material.now), self.plot)
        painter.restore()
        title = draw_title(painter, inks, self, QCoreApplication.translate("Chart", "Humidity, % RH"))
        if material is not None:
            room = Room(self.plot.adjusted(1, 0, -1, 0), [title])
            paint_labels(
                painter, place_labels(humidity_labels(self, material, path, room, inks), room, inks), inks
            )

    def _draw_hold(self, painter: QPainter, inks: Inks, material: BatchMaterial) -> list[QPointF]:
        """The hold line and the way the mean takes if it is held; returns the points of that way."""
        phase, hold = material.running, material.held
        if phase is None or phase.humidity is None or hold is None:
            return []
        lines, scale = tokens().lines, self.scale
        held = hold.humidity
        now, end = scale.px_of(material.now), scale.px(hold.until_day)
        if now > self.plot.right() or end < self.plot.left():
            return []
        y = self.y_px(held)
        painter.setPen(inks.pen("page", lines.halo))
        painter.drawLine(QLineF(now, y, end, y))
        painter.setPen(inks.pen("water", lines.hold, HOLD_DASH))
        painter.drawLine(QLineF(now, y, end, y))
        hours = max(hold.until_day - scale.day_of(material.now), 0.0) * 24
        ahead = np.linspace(0.0, hours, _PATH_POINTS)
        means = mean_path(phase.humidity.mean, phase.elapsed_h, held, ahead)
        days = scale.day_of(material.now) + ahead / 24
        points = [
            QPointF(scale.px(day), self.y_px(mean))
            for day, mean in zip(days.tolist(), means.tolist(), strict=True)
        ]
        painter.setPen(inks.dots("water_deep", lines.mean_path))
        painter.drawPolyline(QPolygonF(points))
        draw_dot(painter, inks, points[-1], "water_deep", hollow=True)
        return points

    # ---------------------------------------------------------------- pointing

    def dots_at(self, index: int) -> list[tuple[QPointF, str]]:
        """Where the dots of a reading lie, with their colours: the reading and the mean."""
        material = self._material
        if material is None or not self.is_shown:
            return []
        at = int(material.curves.at[index])
        x = self.scale.px_of(at)
        found = ((float(material.curves.humidity[index]), "water"), (material.mean_at(at), "water_deep"))
        return [(QPointF(x, self.y_px(value)), role) for value, role in found if value == value]

    def tip(self, point: QPointF) -> str:
        """The gap under the pointer, or the stretch in which the probe stood still."""
        if self._material is None or self._zone is None or not self.plot.contains(point):
            return ""
        at = self.scale.set_at + self.scale.day(point.x()) * 86_400
        still = self._material.still_at(at)
        if still is not None:
            return QCoreApplication.translate(
                "Chart", "The same value for {time}: is the probe frozen, or cut off?\n{begin} to {end}"
            ).format(
                time=duration_text(still.seconds),
                begin=date_time(still.start_at, self._zone),
                end=date_time(still.end_at, self._zone),
            )
        gap = self._material.gap_at(at)
        if gap is None:
            return ""
        return QCoreApplication.translate(
            "Chart", "{time} without readings, not counted\n{begin} to {end}"
        ).format(
            time=duration_text(gap.end_at - gap.start_at),
            begin=date_time(gap.start_at, self._zone),
            end=date_time(gap.end_at, self._zone),
        )
