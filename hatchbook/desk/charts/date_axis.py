"""An axis of dates, for readings that belong to no batch yet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.day_axis import round_hours
from hatchbook.desk.charts.drawing import crisp, horizontal
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.words.dates import clock_time, day_month, local

_TICK = 4.0
_AIR = 12.0
_HOUR_STEPS = (1, 2, 3, 6, 12)
_DAY_STEPS = (1, 2, 5, 7, 14, 28, 56, 112, 224, 448, 896)


class DateAxis(Row):
    """Midnights of the home zone with their dates; hours between them where there is room."""

    def __init__(self, scale: DayScale, zone: ZoneInfo) -> None:
        super().__init__(scale)
        self._zone = zone
        self._empty = True

    def show_days(self, zone: ZoneInfo, *, empty: bool) -> None:
        """Shows other days."""
        self._zone, self._empty = zone, empty

    def wanted_height(self, inks: Inks) -> float:
        """Room for ticks and a line."""
        return _TICK + inks.metrics(inks.small).height() + 1

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints ticks and dates."""
        painter.setPen(inks.pen("rule_strong"))
        horizontal(painter, self.area.top(), self.plot)
        if self._empty:
            return
        painter.setFont(inks.small)
        top, height = self.area.top() + _TICK, inks.metrics(inks.small).height()
        for at in self._places(inks):
            x, wall = self.scale.px_of(at), local(at, self._zone)
            midnight = (wall.hour, wall.minute) == (0, 0)
            text = day_month(at, self._zone) if midnight else clock_time(at, self._zone)
            painter.setPen(inks.pen("rule_strong"))
            painter.drawLine(QLineF(crisp(x), self.area.top(), crisp(x), top))
            width = inks.width(inks.small, text)
            if self.area.left() <= x - width / 2 and x + width / 2 <= self.area.right():
                painter.setPen(inks.colour("ink2"))
                painter.drawText(QRectF(x - width / 2, top, width, height), Qt.TextFlag.TextDontClip, text)

    def _places(self, inks: Inks) -> Iterator[int]:
        first, last = self.scale.at_of(self.scale.low), self.scale.at_of(self.scale.high)
        wide = inks.width(inks.small, "28 Mmm") + _AIR
        px = self.scale.px_per_day
        for hours in _HOUR_STEPS:
            if hours / 24 * px >= wide:
                return round_hours(first, last, hours, self._zone)
        days = next((days for days in _DAY_STEPS if days * px >= wide), _DAY_STEPS[-1])
        return midnights(first, last, days, self._zone)


def midnights(first_at: int, last_at: int, step: int, zone: ZoneInfo) -> Iterator[int]:
    """The instants at which every so many-th date begins."""
    day, last = local(first_at, zone).date() + timedelta(days=1), local(last_at, zone).date()
    while day <= last:
        yield int(datetime.combine(day, time(), tzinfo=zone).timestamp())
        day += timedelta(days=step)
