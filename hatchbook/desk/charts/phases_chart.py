"""The humidity of a finished batch at a glance: where it left its bands, since when, what each phase came to."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, Qt
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QSizePolicy

from hatchbook.desk.charts.canvas import Canvas
from hatchbook.desk.charts.day_axis import DayAxis
from hatchbook.desk.charts.drawing import draw_aim, draw_band, draw_gaps, draw_value_axis, vertical
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label, Room, paint_labels, place_labels
from hatchbook.desk.charts.lines import column_means
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.ranges import close_range, ticks
from hatchbook.desk.charts.readout_words import description
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.words.numbers import percent
from hatchbook.figures.results import Curves
from hatchbook.trade.codes import PhaseKind

Mark = tuple[int, str]

_TINT = 0.34
_DASH = (4.0, 3.0)
_AIR = 6.0
_TICK_ROOM = 20.0


class PhasesRow(CurveRow):
    """Bands, readings and means; what lies over or under a band is tinted."""

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        lines = tokens().lines
        self._readings = self.new_curve("water_raw", lines.reading, 10)
        self._mean = self.new_curve("water_deep", lines.mean, 20, few_corners=True)
        self._material: BatchMaterial | None = None
        self._marks: tuple[Mark, ...] = ()

    def show_material(self, material: BatchMaterial | None, marks: Sequence[Mark]) -> None:
        """Shows the curves of a batch and marks instants with their texts."""
        self._material, self._marks = material, tuple(marks)
        if material is not None:
            bands = [edge for phase in material.phases for edge in _edges(phase)]
            self.set_range(*close_range(material.curves.humidity, bands, 10.0))
        self._readings.show(material.humidity if material else None, self.scale)
        self._mean.show(material.mean if material else None, self.scale)

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints bands, grid, gaps, and the excess."""
        material = self._material
        if material is None:
            return
        painter.save()
        painter.setClipRect(self.plot)
        for phase in material.phases:
            role = "band2" if phase.kind is PhaseKind.LOCKDOWN else "band"
            draw_band(painter, inks, self, (phase.from_day, phase.to_day), _edges(phase), role)
        painter.setClipRect(self.area)
        draw_value_axis(painter, inks, self, ticks(self.low, self.high, 10.0, self.plot.height(), _TICK_ROOM))
        painter.setClipRect(self.plot)
        draw_gaps(painter, inks, self, material.gaps)
        for phase in material.phases:
            days = (phase.from_day, phase.to_day)
            draw_aim(painter, inks, self, days, phase.humidity_band.aim, "band_edge")
        self._draw_excess(painter, inks, material)
        painter.restore()

    def _draw_excess(self, painter: QPainter, inks: Inks, material: BatchMaterial) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(inks.scheme.alpha("bad_edge", _TINT))
        width = 1.0 / self.scale.px_per_day
        for phase in material.phases:
            line = material.humidity
            part = slice(*np.searchsorted(line.days, (phase.from_day, phase.to_day)))
            for days, values in column_means(line.days[part], line.values[part], width):
                for edge, outside in zip(_edges(phase), (np.minimum, np.maximum), strict=True):
                    beyond = outside(values, edge)
                    if np.all(beyond == edge):
                        continue
                    x = [self.scale.px(day) for day in days.tolist()]
                    points = [
                        QPointF(px, self.y_px(value)) for px, value in zip(x, beyond.tolist(), strict=True)
                    ]
                    y = self.y_px(edge)
                    painter.drawPolygon(QPolygonF([QPointF(x[0], y), *points, QPointF(x[-1], y)]))

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints the marks and the labels."""
        material = self._material
        if material is None:
            return
        painter.setPen(inks.pen("bad", 1.2, _DASH))
        for at, _text in self._marks:
            vertical(painter, self.scale.px_of(at), self.plot)
        room = Room(self.plot.adjusted(1, 0, 4, 0))
        paint_labels(painter, place_labels(self._labels(material, inks), room, inks), inks)

    def _labels(self, material: BatchMaterial, inks: Inks) -> list[Label]:
        labels = []
        for rank, (at, text) in enumerate(self._marks):
            x, top = self.scale.px_of(at), self.plot.top() + 1
            places = [
                (QPointF(x + _AIR, top + step), side, "below")
                for step in (0.0, 16.0, 32.0)
                for side in ("right", "left")
            ]
            places = [
                (QPointF(x - _AIR, point.y()) if side == "left" else point, side, along)
                for point, side, along in places
            ]
            labels.append(Label([text], "bad", inks.small_bold, places, rank, over_data=True))
        for phase in material.phases:
            if phase.humidity is None or not np.isfinite(phase.humidity.mean):
                continue
            mean = phase.humidity.mean
            x, y = self.scale.px(phase.to_day) - 3, self.y_px(mean)
            places = [
                (QPointF(x, y + 5), "left", "below"),
                (QPointF(x, y - 5), "left", "above"),
                (QPointF(x, self.y_px(phase.humidity_band.low) + 2), "left", "below"),
            ]
            labels.append(
                Label(
                    [percent(mean)], "water_deep", inks.small_bold, places, len(self._marks), over_data=True
                )
            )
        return labels


def _edges(phase: object) -> tuple[float, float]:
    band = phase.humidity_band  # type: ignore[attr-defined]
    return band.low, band.high


class PhasesChart(Canvas):
    """A small picture without interaction; its accessible description holds the same in words."""

    def __init__(self) -> None:
        scale = DayScale()
        self.row = PhasesRow(scale)
        self.axis = DayAxis(scale, ZoneInfo("UTC"), dates=False)
        super().__init__(scale, (self.row, self.axis))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(QCoreApplication.translate("Chart", "Humidity by phase"))

    def show_view(self, curves: Curves | None, zone: ZoneInfo, marks: Sequence[Mark] = ()) -> None:
        """Shows a batch; `marks` are instants (UTC seconds) with the texts that stand beside their lines."""
        material = None if curves is None else BatchMaterial(curves)
        if material is not None:
            self.scale_of_days.bound(material.set_at, material.first_day, material.last_day)
            self.scale_of_days.show_all()
        self.axis.show_days(zone, empty=material is None)
        self.row.show_material(material, marks)
        said = [description(material), *(text for _at, text in marks)]
        self.setAccessibleDescription(" ".join(part for part in said if part))
        self.lay_out()
