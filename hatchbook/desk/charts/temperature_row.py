"""The temperature strip: readings and band; what leaves the strip is cut off and labelled."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QPointF, QRectF
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.drawing import (
    draw_band,
    draw_gaps,
    draw_single_readings,
    draw_title,
    draw_value_axis,
    horizontal,
    vertical,
)
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label, Room, paint_labels, place_labels
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.ranges import ticks
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.numbers import duration_text, temperature
from hatchbook.statistics.excursions import Excursion

_WORTH_A_LABEL_S = 1800
_FAR_OUT_C = 3.0
_TICK_ROOM = 15.0
_REACH = 6.0
_NAME_SHARE = 2.9


class TemperatureRow(CurveRow):
    """A low strip that always has the same range, so that half a degree always looks alike."""

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        self._readings = self.new_curve("heat", tokens().lines.reading, 10)
        self._material: BatchMaterial | None = None
        self._zone: ZoneInfo | None = None

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo) -> None:
        """Shows another curve."""
        self._material, self._zone = material, zone
        self._readings.show(material.temperature if material else None, self.scale)
        if material is not None:
            self.set_range(*material.temperature_range)

    def wanted_height(self, inks: Inks) -> float:
        """So high that the strip's name stands above the band."""
        name = inks.metrics(inks.body_bold).height() + 3
        return max(float(tokens().sizes.temperature_strip), round(name * _NAME_SHARE))

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints band, grid and gaps."""
        material = self._material
        painter.save()
        painter.setClipRect(self.plot)
        if material is not None:
            for phase in material.phases:
                band = phase.temperature_band
                days = (phase.from_day, phase.to_day)
                draw_band(painter, inks, self, days, (band.low, band.high), "heat_band")
        painter.setClipRect(self.area)
        inner = ticks(self.low + 0.4, self.high - 0.4, 1.0, self.plot.height(), _TICK_ROOM)
        draw_value_axis(painter, inks, self, inner)
        painter.setPen(inks.pen("rule"))
        horizontal(painter, self.area.top(), self.plot)
        if material is not None:
            painter.setClipRect(self.plot)
            draw_gaps(painter, inks, self, material.gaps)
            painter.setPen(inks.pen("band_edge"))
            for phase in material.phases[1:]:
                vertical(painter, self.scale.px(phase.from_day), self.plot)
            line = material.temperature
            draw_single_readings(painter, inks, self, line.days, line.values, "heat")
        painter.restore()

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints now, the title, and how far and how long it was off."""
        material = self._material
        if material is not None and self.scale.sees(self.scale.day_of(material.now)):
            painter.setPen(inks.pen("ink", tokens().lines.now))
            vertical(painter, self.scale.px_of(material.now), self.plot)
        title = draw_title(painter, inks, self, QCoreApplication.translate("Chart", "Temperature, °C"))
        if material is not None:
            room = Room(QRectF(self.plot), [title])
            placed = place_labels(self._labels(material, title, inks), room, inks)
            paint_labels(painter, placed, inks)

    def _labels(self, material: BatchMaterial, title: QRectF, inks: Inks) -> list[Label]:
        worst = sorted(material.excursions, key=material.severity, reverse=True)
        labels = []
        for rank, one in enumerate(worst):
            x = self.scale.px_of(one.extreme_s)
            outside = max(self.low - one.extreme, one.extreme - self.high)
            if not self.plot.left() <= x <= self.plot.right():
                continue
            if one.seconds < _WORTH_A_LABEL_S and outside < _FAR_OUT_C:
                continue
            text = QCoreApplication.translate("Chart", "{value} for {time}").format(
                value=temperature(one.extreme), time=duration_text(max(one.seconds, 60))
            )
            edge, along = self.plot.top() + 2, "below"
            if one.above:
                edge, along = self.plot.bottom() - 2, "above"
            places = [
                (QPointF(x, edge), "centre", along),
                (QPointF(x - _REACH, edge), "right", along),
                (QPointF(x + _REACH, edge), "left", along),
            ]
            if 0 < title.right() - x < title.width():
                places.append((QPointF(title.right() + 2 * _REACH, edge), "right", along))
            labels.append(
                Label([text, temperature(one.extreme)], "heat", inks.small, places, rank, over_data=True)
            )
        return labels

    def dots_at(self, index: int) -> list[tuple[QPointF, str]]:
        """Where the dot of a reading lies, with its colour."""
        material = self._material
        if material is None or not self.is_shown:
            return []
        value = float(material.curves.temperature_c[index])
        if value != value:
            return []
        held = min(max(value, self.low), self.high)
        return [(QPointF(self.scale.px_of(int(material.curves.at[index])), self.y_px(held)), "heat")]

    def tip(self, point: QPointF) -> str:
        """The excursion under the pointer."""
        material = self._material
        if material is None:
            return ""
        for one in material.excursions:
            left, right = self.scale.px_of(one.start_s), self.scale.px_of(one.end_s)
            if left - _REACH <= point.x() <= right + _REACH:
                return self._excursion_tip(one)
        return ""

    def _excursion_tip(self, one: Excursion) -> str:
        assert self._zone is not None
        edge = self.high if one.above else self.low
        if one.above:
            text = QCoreApplication.translate("Chart", "Up to {value} on {date}; above {edge} for {time}")
        else:
            text = QCoreApplication.translate("Chart", "Down to {value} on {date}; below {edge} for {time}")
        return text.format(
            value=temperature(one.extreme),
            date=date_time(one.extreme_s, self._zone),
            edge=temperature(edge),
            time=duration_text(max(one.seconds, 60)),
        )
