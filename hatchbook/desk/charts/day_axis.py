"""The axis at the bottom: days since setting, and under them dates, or the clock of the home zone."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.drawing import crisp, horizontal
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.words.dates import clock_time, day_month, local
from hatchbook.desk.words.numbers import number

_TICK = 4.0
_LEAST_AIR = 7.0
_CLOCK_BELOW_DAYS = 4.0
_DAY_STEPS = (1, 2, 3, 5, 7, 10, 14, 20, 30)
_HOUR_STEPS = (1, 2, 3, 6, 12, 24)


class DayAxis(Row):
    """A day is 24 hours since setting, whatever the clocks do; the dates are those of the home zone."""

    def __init__(self, scale: DayScale, zone: ZoneInfo, *, dates: bool = True) -> None:
        super().__init__(scale)
        self._lines = 2 if dates else 1
        self._zone = zone
        self._empty = True
        self._texts: dict[int, tuple[str, str]] = {}

    def show_days(self, zone: ZoneInfo, *, empty: bool) -> None:
        """Shows the days of another batch; of none while there is none."""
        self._zone, self._empty = zone, empty
        self._texts.clear()

    def _text(self, day: int) -> tuple[str, str]:
        """The number of a day and the date at its beginning."""
        if day not in self._texts:
            self._texts[day] = (number(day, 0), day_month(self.scale.at_of(day), self._zone))
        return self._texts[day]

    def wanted_height(self, inks: Inks) -> float:
        """Room for ticks and two lines, or one without dates."""
        return _TICK + self._lines * inks.metrics(inks.small).height() + 2

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints the line, the ticks and two lines of text."""
        painter.setPen(inks.pen("rule_strong"))
        horizontal(painter, self.area.top(), self.plot)
        if self._empty:
            return
        painter.setFont(inks.small)
        step, date_step = self._steps(inks)
        days = range(max(0, math.ceil(self.scale.low)), math.floor(self.scale.high) + 1)
        line = inks.metrics(inks.small).height()
        top = self.area.top() + _TICK
        painter.setPen(inks.pen("rule_strong"))
        places = [(day, crisp(self.scale.px(day))) for day in days]
        painter.drawLines([QLineF(x, self.area.top(), x, top) for _day, x in places])
        painter.setPen(inks.colour("ink2"))
        dates = self._lines == 2 and self.scale.span > _CLOCK_BELOW_DAYS
        for day, x in places:
            number_text, date_text = self._text(day)
            if day % step == 0:
                self._write(painter, inks, x, top, line, number_text)
            if dates and day % date_step == 0:
                self._write(painter, inks, x, top + line, line, date_text)
        if self._lines == 2 and not dates:
            self._draw_clock(painter, inks, top + line, line)

    def _draw_clock(self, painter: QPainter, inks: Inks, top: float, line: float) -> None:
        """Round hours of the clock on the wall; midnight shows its date."""
        first, last = self.scale.at_of(self.scale.low), self.scale.at_of(self.scale.high)
        wide = inks.width(inks.small, "28 Mmm") + _LEAST_AIR
        px_per_hour = self.scale.px_per_day / 24
        step = next((hours for hours in _HOUR_STEPS if hours * px_per_hour >= wide), _HOUR_STEPS[-1])
        for at in round_hours(first, last, step, self._zone):
            x = self.scale.px_of(at)
            wall = local(at, self._zone)
            midnight = (wall.hour, wall.minute) == (0, 0)
            text = day_month(at, self._zone) if midnight else clock_time(at, self._zone)
            painter.setPen(inks.colour("ink" if midnight else "ink2"))
            self._write(painter, inks, x, top, line, text)

    def _steps(self, inks: Inks) -> tuple[int, int]:
        """Every how many days a number fits, and every how many a date."""
        px = self.scale.px_per_day

        def step(text: str, multiple_of: int) -> int:
            wide = inks.width(inks.small, text) + _LEAST_AIR
            fitting = (days for days in _DAY_STEPS if days * px >= wide and days % multiple_of == 0)
            return next(fitting, _DAY_STEPS[-1])

        of_numbers = step("88", 1)
        return of_numbers, step("28 Mmm", of_numbers)

    def _write(self, painter: QPainter, inks: Inks, x: float, top: float, height: float, text: str) -> None:
        """Writes a text in the middle of a place, unless it would leave the row."""
        width = inks.width(inks.small, text)
        if self.area.left() <= x - width / 2 and x + width / 2 <= self.area.right():
            place = QRectF(x - width / 2, top, width, height)
            painter.drawText(place, Qt.TextFlag.TextDontClip, text)


def round_hours(first_at: int, last_at: int, step: int, zone: ZoneInfo) -> Iterator[int]:
    """Instants at which the clock on the wall shows a multiple of some hours, in the order of time.

    A wall time that the clock skips in spring has no instant; one that comes twice in autumn counts once.
    """
    day = local(first_at, zone).date() - timedelta(days=1)
    last = local(last_at, zone).date()
    while day <= last:
        for hour in range(0, 24, step):
            wall = datetime.combine(day, time(hour), tzinfo=zone)
            at = int(wall.timestamp())
            if first_at <= at <= last_at and local(at, zone).hour == hour:
                yield at
        day += timedelta(days=1)
