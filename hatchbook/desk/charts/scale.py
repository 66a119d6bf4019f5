"""The time axis that all rows of a chart share: days since a batch was set, and pixels."""

from __future__ import annotations

from hatchbook.trade.instants import DAY_S

NARROWEST_DAYS = 2 / 24
"""One cannot zoom in further: a logger has a handful of readings in two hours."""


class DayScale:
    """Maps days since setting to the pixels of a chart, and keeps the view inside what there is to show.

    ``low`` and ``high`` are the days at the left and right edge of the plot, ``left`` and ``right`` its pixels,
    ``px_per_day`` how wide a day is; they are changed by the methods only.
    """

    def __init__(self) -> None:
        self.set_at = 0
        self.first, self.last = 0.0, 1.0
        self.low, self.high = 0.0, 1.0
        self.left, self.right = 0.0, 1.0
        self.px_per_day = 1.0

    def lay(self, left: float, right: float) -> None:
        """The plot lies between these pixels."""
        self.left, self.right = left, max(right, left + 1)
        self._measure()

    def _look_at(self, low: float, span: float) -> None:
        self.low = min(max(low, self.first), self.last - span)
        self.high = self.low + span
        self._measure()

    def _measure(self) -> None:
        self.px_per_day = (self.right - self.left) / self.span

    @property
    def span(self) -> float:
        """Days in view."""
        return self.high - self.low

    @property
    def whole(self) -> float:
        """Days there are to show."""
        return self.last - self.first

    @property
    def is_whole(self) -> bool:
        """Whether everything is in view."""
        return self.span >= self.whole * (1 - 1e-9)

    def bound(self, set_at: int, first: float, last: float) -> None:
        """There is something to show from one day to another of a batch; the view is moved into it if need be."""
        self.set_at = set_at
        self.first, self.last = first, max(last, first + NARROWEST_DAYS)
        self.show(self.low, self.high)

    def show(self, low: float, high: float) -> None:
        """Shows a stretch of days, or the nearest to it that one may see."""
        span = min(max(high - low, min(NARROWEST_DAYS, self.whole)), self.whole)
        self._look_at(low + (high - low - span) / 2, span)

    def show_all(self) -> None:
        """Shows everything."""
        self._look_at(self.first, self.whole)

    def pan(self, days: float) -> None:
        """Moves the view, as far as there is something to show."""
        self._look_at(self.low + days, self.span)

    def zoom(self, factor: float, around: float) -> None:
        """Shows `factor` times as many days, with the day `around` staying where it is if it can."""
        span = min(max(self.span * factor, min(NARROWEST_DAYS, self.whole)), self.whole)
        share = (around - self.low) / self.span if self.span else 0.5
        self._look_at(around - share * span, span)

    def bring_in(self, day: float, margin: float = 0.08) -> bool:
        """Moves the view so that a day is in it and not at its very edge; False where it was already."""
        edge = margin * self.span
        before = self.low
        if day < self.low + edge:
            self.pan(day - edge - self.low)
        elif day > self.high - edge:
            self.pan(day + edge - self.high)
        return self.low != before

    def sees(self, day: float) -> bool:
        """Whether a day is in view."""
        return self.low <= day <= self.high

    def px(self, day: float) -> float:
        """The pixel of a day."""
        return self.left + (day - self.low) * self.px_per_day

    def day(self, px: float) -> float:
        """The day at a pixel."""
        return self.low + (px - self.left) / self.px_per_day

    def day_of(self, at: float) -> float:
        """The day of an instant, UTC seconds."""
        return (at - self.set_at) / DAY_S

    def at_of(self, day: float) -> int:
        """The instant of a day, UTC seconds."""
        return round(self.set_at + day * DAY_S)

    def px_of(self, at: float) -> float:
        """The pixel of an instant."""
        return self.px(self.day_of(at))
