"""Where the hours of a hatch lie on the screen, and which of them are written down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from hatchbook.desk.words.dates import clock_time, day_month, local
from hatchbook.figures.hatch_curve import HOUR_S, HatchCurve

_BEFORE_H, _AFTER_H, _LONGEST_H = -24.0, 12.0, 240.0
_STEPS_H = (3, 6, 12, 24)


@dataclass(frozen=True)
class HourTick:
    """An hour that is written down: where, its clock time, and its date where a day begins."""

    x: float
    clock: str
    date: str


class HourScale:
    """Hours from the due time, below 0 before it: from a day before the hatch was due, or earlier where something
    happened earlier, to half a day after it, or to now."""

    def __init__(self, curve: HatchCurve, now: int, zone: ZoneInfo, plot: QRectF) -> None:
        self._due_at, self._zone, self._plot = curve.due_at, zone, plot
        happened = [hour.from_h for hour in curve.hours]
        # An hour typed wrongly by weeks must not squeeze the rest into nothing.
        self.first_h = max(min([_BEFORE_H, *(hour - 1.0 for hour in happened)]), -_LONGEST_H)
        last_h = max([_AFTER_H, *(hour + 2.0 for hour in happened)])
        now_h = self.hour_of(now)
        self.last_h = min(max(last_h, now_h + 1.0 if now_h < last_h + 24.0 else last_h), _LONGEST_H)

    def hour_of(self, at: int) -> float:
        """Hours from the due time of an instant."""
        return (at - self._due_at) / HOUR_S

    def x(self, hour: float) -> float:
        """Where an hour lies, held inside the plot."""
        share = (hour - self.first_h) / (self.last_h - self.first_h)
        return self._plot.left() + self._plot.width() * min(1.0, max(0.0, share))

    def ticks(self, metrics: QFontMetricsF) -> Iterator[HourTick]:
        """The hours to write down: as many as have room, on even hours of the clock on the wall."""
        wanted = metrics.horizontalAdvance("00:00") + 10
        an_hour = self._plot.width() / (self.last_h - self.first_h)
        step = next((step for step in _STEPS_H if step * an_hour >= wanted), _STEPS_H[-1])
        start = self._due_at + round(self.first_h * HOUR_S)
        wall = local(start, self._zone)
        at = start - wall.minute * 60 - wall.second
        named = False
        while at <= self._due_at + self.last_h * HOUR_S:
            hour = local(at, self._zone).hour
            if at >= start and hour % step == 0:
                # The first label has its date too, so that the day is known without counting.
                date = day_month(at, self._zone) if hour == 0 or not named else ""
                named = True
                yield HourTick(self.x(self.hour_of(at)), clock_time(at, self._zone), date)
            at += HOUR_S
