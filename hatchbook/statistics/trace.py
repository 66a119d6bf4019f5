"""The line through one probe's irregular readings, and everything that is read off it.

Between two readings not further apart than the longest bridge the value runs straight from one to the other
(trapezoid); a longer gap is unknown and nothing is made up for it. All means are integrals of that line over
the time known. The cumulative integrals are built once, so a window costs two binary searches however many
readings there are.

Instants are whole UTC seconds. A window `[start_s, end_s]` is in whole seconds too, its ends included.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.trade.instants import DAY_S

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

SPACINGS_BRIDGED = 3.0
SHORTEST_BRIDGE_S = 3_600.0
LONGEST_BRIDGE_S = 13 * 3_600.0


@dataclass(frozen=True, slots=True)
class Average:
    """What one window holds.

    mean: time-weighted mean of the time known. Where no time is known but readings stand alone in the
        window it is their plain mean, and `known_share` 0 says what that is worth; nan without any reading.
    known_share: known part of the window, 0 to 1 (0 for a window without length).
    known_s: known seconds.
    minimum, maximum: extremes of the line and of the readings inside the window; nan when there is nothing.
    count: readings inside the window.
    longest_bridge_s: the longest gap that was bridged, seconds.
    """

    mean: float
    known_share: float
    known_s: float
    minimum: float
    maximum: float
    count: int
    longest_bridge_s: float


@dataclass(frozen=True, slots=True)
class DailyMeans:
    """One row for each 24 hours from the window's start; the last may be cut short by its end.

    day: 0, 1, 2, ... since the window's start. start_s: the instant the day begins. mean: as in `Average`,
    nan where there is nothing. known_share: of the day, or of the part of the last day inside the window.
    known_s: known seconds.
    """

    day: IntArray
    start_s: IntArray
    mean: FloatArray
    known_share: FloatArray
    known_s: FloatArray


@dataclass(frozen=True, slots=True)
class RunningMean:
    """The mean from the window's start up to each reading inside it; gaps do not count."""

    at_s: IntArray
    mean: FloatArray


def longest_bridge(at_s: ArrayLike) -> float:
    """The longest gap that is bridged, seconds: three times the median spacing, at least 1 h, at most 13 h.

    So two readings a day by hand carry over a night, and a logger's silence shows. Readings of one instant
    count once. Fewer than two instants have no spacing; the answer is then the longest allowed.
    """
    spacing = np.diff(_instants(at_s))
    spacing = spacing[spacing > 0]
    if not spacing.size:
        return LONGEST_BRIDGE_S
    bridge = SPACINGS_BRIDGED * float(np.median(spacing))
    return min(max(bridge, SHORTEST_BRIDGE_S), LONGEST_BRIDGE_S)


class Trace:
    """One quantity of one probe over time; build it once, ask it often.

    at_s: whole UTC seconds, ascending; several readings of one instant share it with their mean, so that the
        answer does not depend on their order. values: as many numbers, nan where the quantity was not
        measured (dropped). longest_bridge_s: seconds; None takes `longest_bridge` of the readings given.
    Raises ValueError when instants run backwards, are no whole seconds, or do not match the values.

    Afterwards `at_s`, `values` hold one row an instant; `bridged[i]` says whether the line runs from row i to
    row i + 1.
    """

    def __init__(self, at_s: ArrayLike, values: ArrayLike, longest_bridge_s: float | None = None) -> None:
        at, measured = _readings(at_s, values)
        self._all_at, self._all_values = at, measured
        self.at_s, self.values = _one_row_an_instant(at, measured)
        self.longest_bridge_s = longest_bridge(self.at_s) if longest_bridge_s is None else longest_bridge_s
        if not self.longest_bridge_s > 0:
            raise ValueError("The longest gap to bridge must be longer than nothing.")
        # Windows have ends in parts of a second: searching whole ones for them would copy all rows every time.
        self._at = self.at_s.astype(np.float64)
        step = np.diff(self._at)
        self.bridged: NDArray[np.bool_] = step <= self.longest_bridge_s
        # Integrating the distance from one reading instead of the value keeps a constant exactly constant
        # and long sums precise.
        self._pivot = float(self.values[0]) if self.values.size else 0.0
        height = self.values - self._pivot
        self._height = height
        known = np.where(self.bridged, step, 0.0)
        self._known = np.concatenate(([0.0], np.cumsum(known)))
        self._area = np.concatenate(([0.0], np.cumsum(known * 0.5 * (height[1:] + height[:-1]))))
        self._sum = np.concatenate(([0.0], np.cumsum(height)))

    @classmethod
    def for_window(
        cls,
        at_s: ArrayLike,
        values: ArrayLike,
        start_s: float,
        end_s: float,
        longest_bridge_s: float | None = None,
    ) -> Self:
        """A trace whose bridge follows the spacing inside one phase (of all readings if it has under two)."""
        at, measured = _readings(at_s, values)
        if longest_bridge_s is None:
            inside = at[(at >= start_s) & (at <= end_s)]
            longest_bridge_s = longest_bridge(inside if inside.size and inside[0] < inside[-1] else at)
        return cls(at, measured, longest_bridge_s)

    def average(self, start_s: float, end_s: float) -> Average:
        """Mean, share of time known and extremes of a window; ValueError when it ends before it starts."""
        span = _span(start_s, end_s)
        mean, known = self._means(np.array([start_s], dtype=np.float64), np.array([end_s], dtype=np.float64))
        first = int(np.searchsorted(self._all_at, start_s, side="left"))
        stop = int(np.searchsorted(self._all_at, end_s, side="right"))
        edges = self._value_at(np.array([start_s, end_s], dtype=np.float64))
        seen = np.concatenate((self._all_values[first:stop], edges[~np.isnan(edges)]))
        return Average(
            mean=float(mean[0]),
            known_share=float(known[0]) / span if span else 0.0,
            known_s=float(known[0]),
            minimum=float(seen.min()) if seen.size else float("nan"),
            maximum=float(seen.max()) if seen.size else float("nan"),
            count=stop - first,
            longest_bridge_s=self.longest_bridge_s,
        )

    def share_inside(self, start_s: float, end_s: float, low: float, high: float) -> float:
        """Share (0 to 1) of a window's known time that the line spends in [low, high]; nan if none is known.

        Exact for straight lines: the part of a stretch inside the band is the part of its rise inside it.
        """
        _span(start_s, end_s)
        if not low <= high:
            raise ValueError("The low edge of the band lies above its high edge.")
        first = max(int(np.searchsorted(self.at_s, start_s, side="right")) - 1, 0)
        stop = int(np.searchsorted(self.at_s, end_s, side="left")) + 1
        at, value = self.at_s[first:stop].astype(np.float64), self.values[first:stop].copy()
        bridged = self.bridged[first : stop - 1]
        if at.size < 2:
            return float("nan")
        # The first and the last stretch are cut at the window. Where one is unknown its new end is nan, and
        # it does not count anyway.
        if at[0] < start_s:
            at[0], value[0] = start_s, self._value_at(np.array([start_s], dtype=np.float64))[0]
        if at[-1] > end_s:
            at[-1], value[-1] = end_s, self._value_at(np.array([end_s], dtype=np.float64))[0]
        seconds = np.diff(at)[bridged]
        known = float(seconds.sum())
        if known <= 0:
            return float("nan")
        begin, finish = value[:-1][bridged], value[1:][bridged]
        rise = np.abs(finish - begin)
        rise_inside = np.abs(np.clip(finish, low, high) - np.clip(begin, low, high))
        level = (begin >= low) & (begin <= high)
        share = np.where(rise > 0, rise_inside / np.where(rise > 0, rise, 1.0), level)
        return min(float((seconds * share).sum()) / known, 1.0)

    def daily_means(self, start_s: float, end_s: float) -> DailyMeans:
        """The mean of each 24 hours from `start_s`; no rows for a window without length."""
        span = _span(start_s, end_s)
        day = np.arange(int(np.ceil(span / DAY_S)), dtype=np.int64)
        begins = start_s + day.astype(np.float64) * DAY_S
        ends = np.minimum(begins + DAY_S, end_s)
        # A reading on the stroke belongs to the day that begins, and only to that.
        last = np.where(begins + DAY_S < end_s, np.nextafter(ends, begins), ends)
        mean, known = self._means(begins, ends, last)
        begins_s = np.rint(begins).astype(np.int64)
        return DailyMeans(
            day=day, start_s=begins_s, mean=mean, known_share=known / (ends - begins), known_s=known
        )

    def running_mean(self, start_s: float, end_s: float) -> RunningMean:
        """The mean from `start_s` up to each reading of the window."""
        _span(start_s, end_s)
        at = self.at_s[(self.at_s >= start_s) & (self.at_s <= end_s)]
        mean, _ = self._means(np.full(at.shape, float(start_s)), at.astype(np.float64))
        return RunningMean(at_s=at, mean=mean)

    def window_means(self, starts_s: ArrayLike, ends_s: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Mean (as in `Average`) and known seconds of many windows, both ends included; nan: nothing known."""
        starts, ends = np.asarray(starts_s, dtype=np.float64), np.asarray(ends_s, dtype=np.float64)
        if starts.shape != ends.shape or not np.all(ends >= starts):
            raise ValueError("Each window needs a begin and an end that is not before it.")
        return self._means(starts, ends)

    def step_means(self, edges_s: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Mean (as in `Average`) and known seconds of steps that follow each other: as `window_means`, in one go.

        Args:
            edges_s: the begin of the first step, and the end of each.
        """
        edges = np.asarray(edges_s, dtype=np.float64)
        if edges.size < 2 or not np.all(edges[1:] >= edges[:-1]):
            raise ValueError("Each step needs a begin and an end that is not before it.")
        known_until, area_until = self._integrals(edges)
        known, area = np.diff(known_until), np.diff(area_until)
        if known.all():
            return self._pivot + area / known, known
        return self._over_time_or_alone(edges[:-1], edges[1:], known, area), known

    def unknown_stretches(self, start_s: float, end_s: float) -> IntArray:
        """The stretches of a window about which nothing is known, shape (n, 2): begin and end, UTC seconds.

        Includes the time before the first and after the last reading. A reading that stands alone parts two.
        """
        _span(start_s, end_s)
        begin, finish = round(start_s), round(end_s)
        begins = np.concatenate(([begin], self.at_s[:-1][~self.bridged], self.at_s[-1:]))
        finishes = np.concatenate((self.at_s[:1], self.at_s[1:][~self.bridged], [finish]))
        stretches = np.stack((np.maximum(begins, begin), np.minimum(finishes, finish)), axis=1)
        return stretches[stretches[:, 1] > stretches[:, 0]].astype(np.int64)

    def _means(
        self, starts: FloatArray, ends: FloatArray, last: FloatArray | None = None
    ) -> tuple[FloatArray, FloatArray]:
        """Mean (as in `Average`) and known seconds of many windows at once.

        last: until when readings that stand alone belong to their window; None for its end.
        """
        known_before, area_before = self._integrals(starts)
        known_after, area_after = self._integrals(ends)
        known, area = known_after - known_before, area_after - area_before
        return self._over_time_or_alone(starts, ends if last is None else last, known, area), known

    def _over_time_or_alone(
        self, starts: FloatArray, last: FloatArray, known: FloatArray, area: FloatArray
    ) -> FloatArray:
        """The mean over the time known; where none is, of the readings that stand alone; nan without any."""
        first = np.searchsorted(self._at, starts, side="left")
        stop = np.searchsorted(self._at, last, side="right")
        count = stop - first
        alone = np.where(count > 0, (self._sum[stop] - self._sum[first]) / np.maximum(count, 1), np.nan)
        over_time = area / np.where(known > 0, known, 1.0)
        return self._pivot + np.where(known > 0, over_time, alone)

    def _integrals(self, instants: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Known seconds, and the area of the line above the pivot, from the first reading to each instant."""
        if self.at_s.size < 2:
            nothing = np.zeros(instants.shape)
            return nothing, nothing
        row, along, runs = self._locate(instants)
        height = self._height
        step = (self.at_s[row + 1] - self.at_s[row]).astype(np.float64)
        slope = (height[row + 1] - height[row]) / step
        known = self._known[row] + np.where(runs, along, 0.0)
        area = self._area[row] + np.where(runs, along * (height[row] + 0.5 * slope * along), 0.0)
        after = instants >= self.at_s[-1]
        return np.where(after, self._known[-1], known), np.where(after, self._area[-1], area)

    def _value_at(self, instants: FloatArray) -> FloatArray:
        """Where the line stands at each instant; nan where it does not run (a lone reading is no line)."""
        if self.at_s.size < 2:
            return np.full(instants.shape, np.nan)
        row, along, runs = self._locate(instants)
        begin, finish = self.values[row], self.values[row + 1]
        share = along / (self.at_s[row + 1] - self.at_s[row])
        runs &= instants <= self.at_s[-1]
        return np.where(runs, begin + (finish - begin) * share, np.nan)

    def _locate(self, instants: FloatArray) -> tuple[IntArray, FloatArray, NDArray[np.bool_]]:
        """For each instant the row before it, the seconds since that row, and whether the line runs there."""
        row = self._at.searchsorted(instants, side="right") - 1
        runs = row >= 0
        row = np.minimum(np.maximum(row, 0), self.at_s.size - 2)
        along = np.maximum(instants - self.at_s[row], 0.0)
        return row, along, runs & self.bridged[row]


def _span(start_s: float, end_s: float) -> float:
    span = float(end_s) - float(start_s)
    if not span >= 0:
        raise ValueError("The time asked for ends before it starts.")
    return span


def _instants(at_s: ArrayLike) -> IntArray:
    given = np.asarray(at_s)
    if given.size and given.dtype.kind not in "iuf":
        raise ValueError("The times of the readings must be whole seconds.")
    at = given.astype(np.int64) if given.dtype.kind != "f" or np.isfinite(given).all() else None
    if at is None or (given.dtype.kind == "f" and not np.array_equal(at, given)):
        raise ValueError("The times of the readings must be whole seconds.")
    if at.ndim != 1:
        raise ValueError("The times of the readings must stand in one row.")
    if np.any(at[1:] < at[:-1]):
        raise ValueError("The readings are not in the order of their times.")
    return at


def _readings(at_s: ArrayLike, values: ArrayLike) -> tuple[IntArray, FloatArray]:
    """Checked instants and values, those not measured left out."""
    at = _instants(at_s)
    value = np.asarray(values, dtype=np.float64)
    if value.shape != at.shape:
        raise ValueError("There must be one value for each time.")
    if np.isinf(value).any():
        raise ValueError("A reading is infinite.")
    measured = ~np.isnan(value)
    return (at, value) if measured.all() else (at[measured], value[measured])


def _one_row_an_instant(at: IntArray, value: FloatArray) -> tuple[IntArray, FloatArray]:
    first = np.flatnonzero(np.diff(at, prepend=at[:1] - 1))
    if first.size == at.size:
        return at, value
    count = np.diff(np.append(first, at.size))
    return at[first], np.add.reduceat(value, first) / count
