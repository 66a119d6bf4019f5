"""What comes in with a file: the curves of humidity and temperature, before anything is stored."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.canvas import Canvas
from hatchbook.desk.charts.date_axis import DateAxis
from hatchbook.desk.charts.drawing import (
    draw_gaps,
    draw_single_readings,
    draw_title,
    draw_value_axis,
    horizontal,
)
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.lines import Floats, Instants, Line, broken_line
from hatchbook.desk.charts.material import Gap
from hatchbook.desk.charts.ranges import close_range, ticks
from hatchbook.desk.charts.row import CurveRow
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.numbers import duration_text
from hatchbook.statistics.averages import longest_bridge
from hatchbook.trade.instants import DAY_S

if TYPE_CHECKING:
    from hatchbook.exchange.loggers.table import Gap as Silence

_EMPTY = Line(np.empty(0), np.empty(0))
_TICK_ROOM = 18.0
_MARGIN = 0.01


@dataclass(frozen=True)
class _Quantity:
    """What a row shows: its colour, the step of its axis, and what makes its name."""

    role: str
    step: float
    title: Callable[[], str]


_HUMIDITY = _Quantity("water", 10.0, lambda: QCoreApplication.translate("Chart", "Humidity, % RH"))
_TEMPERATURE = _Quantity("heat", 1.0, lambda: QCoreApplication.translate("Chart", "Temperature, °C"))


class PreviewRow(CurveRow):
    """One quantity over its own range, everything in sight: outliers are what one looks for here."""

    def __init__(self, scale: DayScale, quantity: _Quantity) -> None:
        super().__init__(scale)
        self._quantity = quantity
        self._curve = self.new_curve(quantity.role, tokens().lines.reading, 10)
        self._line = _EMPTY
        self._bounds = (0.0, quantity.step)
        self._gaps: tuple[Gap, ...] = ()
        self._zone: ZoneInfo | None = None

    def show_line(self, line: Line, gaps: tuple[Gap, ...], zone: ZoneInfo) -> None:
        """Shows other readings."""
        self._line, self._gaps, self._zone = line, gaps, zone
        self._bounds = close_range(line.values, (), self._quantity.step, everything=True)
        self._curve.show(line, self.scale)

    def place(self, area: QRectF) -> None:
        """Lays the row out with room for its name above the curve."""
        super().place(area)
        if self.inks is not None and self.is_shown:
            name = self.inks.metrics(self.inks.small_bold).height() + 3
            low, high = self._bounds
            room = max(area.height() - name, name)
            self.set_range(low, low + (high - low) * (room + name) / room)

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints grid and gaps."""
        painter.save()
        painter.setClipRect(self.area)
        if self._line.days.size:
            room = self.plot.height()
            draw_value_axis(painter, inks, self, ticks(*self._bounds, self._quantity.step, room, _TICK_ROOM))
        painter.setPen(inks.pen("rule"))
        horizontal(painter, self.area.top(), self.plot)
        painter.setClipRect(self.plot)
        draw_gaps(painter, inks, self, self._gaps)
        draw_single_readings(painter, inks, self, self._line.days, self._line.values, self._quantity.role)
        painter.restore()

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints the name, and that there is nothing."""
        draw_title(painter, inks, self, self._quantity.title(), inks.small_bold)
        if not self._line.days.size:
            painter.setFont(inks.small)
            painter.setPen(inks.colour("ink2"))
            text = QCoreApplication.translate("Chart", "none in this file")
            painter.drawText(QRectF(self.plot), Qt.AlignmentFlag.AlignCenter, text)

    def tip(self, point: QPointF) -> str:
        """The gap under the pointer."""
        at = self.scale.at_of(self.scale.day(point.x()))
        gap = next((gap for gap in self._gaps if gap.start_at < at < gap.end_at), None)
        if gap is None or self._zone is None:
            return ""
        return QCoreApplication.translate("Chart", "{time} without readings\n{begin} to {end}").format(
            time=duration_text(gap.end_at - gap.start_at),
            begin=date_time(gap.start_at, self._zone),
            end=date_time(gap.end_at, self._zone),
        )


class ReadingsPreview(Canvas):
    """Two small plots over one axis of dates; the wheel and the mouse do nothing."""

    def __init__(self) -> None:
        scale = DayScale()
        self.humidity = PreviewRow(scale, _HUMIDITY)
        self.temperature = PreviewRow(scale, _TEMPERATURE)
        self.axis = DateAxis(scale, ZoneInfo("UTC"))
        super().__init__(scale, (self.humidity, self.temperature, self.axis))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(QCoreApplication.translate("Chart", "Preview of the readings"))
        self.gaps: tuple[Gap, ...] = ()

    def show_readings(
        self,
        at: Instants,
        temperature_c: Floats,
        humidity: Floats,
        zone: ZoneInfo,
        gaps: Sequence[Silence] | None = None,
    ) -> None:
        """Shows readings in the order of time.

        Args:
            at: instants, UTC seconds.
            temperature_c: °C, NaN where not measured.
            humidity: % RH, NaN where not measured.
            zone: whose dates the axis shows.
            gaps: the silences of the logger; None finds those that no average bridges.
        """
        if gaps is None:
            self.gaps = _gaps_between(at)
        else:
            self.gaps = tuple(Gap(gap.start_s, gap.end_s) for gap in gaps)
        unknown = np.array([(gap.start_at, gap.end_at) for gap in self.gaps], dtype=np.int64).reshape(-1, 2)
        first, last = (int(at[0]), int(at[-1])) if at.size else (0, DAY_S)
        days = max(last - first, 3600) / DAY_S
        self.scale_of_days.bound(first, -_MARGIN * days, (1 + _MARGIN) * days)
        self.scale_of_days.show_all()
        self.axis.show_days(zone, empty=not at.size)
        for row, values in ((self.humidity, humidity), (self.temperature, temperature_c)):
            row.show_line(broken_line(at, values, unknown, first), self.gaps, zone)
        self.setAccessibleDescription(self._description(at, zone))
        self.lay_out()

    def _description(self, at: Instants, zone: ZoneInfo) -> str:
        if not at.size:
            return QCoreApplication.translate("Chart", "There are no readings.")
        text = QCoreApplication.translate("Chart", "Readings from {begin} to {end}.").format(
            begin=date_time(int(at[0]), zone), end=date_time(int(at[-1]), zone)
        )
        if not self.gaps:
            return text
        gaps = QCoreApplication.translate("Chart", "%n gap(s), the longest of {time}.", "", len(self.gaps))
        longest = max(gap.end_at - gap.start_at for gap in self.gaps)
        return " ".join((text, gaps.format(time=duration_text(longest))))


def _gaps_between(at: Instants) -> tuple[Gap, ...]:
    """The stretches between readings that no average bridges."""
    if at.size < 2:
        return ()
    wide = np.flatnonzero(np.diff(at) > longest_bridge(at))
    return tuple(Gap(int(at[row]), int(at[row + 1])) for row in wide.tolist())
