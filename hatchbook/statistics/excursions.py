"""Stretches of time in which a line through readings leaves a range: how far, and for how long."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.trace import FloatArray, Trace


@dataclass(frozen=True, slots=True)
class Excursion:
    """One stretch outside a range, instants in UTC seconds.

    extreme: the value furthest out, in the unit of the readings, and extreme_s when it was read. above: whether
    it lies above the range. start_s, end_s: when the line crossed the edge of the range; where it begins or ends
    at a gap, the first or the last reading outside.
    """

    start_s: float
    end_s: float
    extreme: float
    extreme_s: int
    above: bool

    @property
    def seconds(self) -> float:
        """How long it lasted; 0 for a reading that stands alone between gaps."""
        return self.end_s - self.start_s


def excursions(
    at_s: ArrayLike, values: ArrayLike, low: float, high: float, longest_bridge_s: float | None = None
) -> tuple[Excursion, ...]:
    """The stretches in which the line through the readings runs outside [low, high], in the order of time.

    The line is that of `Trace`, with its bridge. Raises ValueError for a range that is upside down, and as
    `Trace` does.
    """
    if not low <= high:
        raise ValueError("The low edge of the range lies above its high edge.")
    trace = Trace(at_s, values, longest_bridge_s)
    side = np.where(trace.values < low, -1, np.where(trace.values > high, 1, 0))
    if not side.any():
        return ()
    # A run goes on while neighbours lie on the same side and the line runs between them.
    joined = (side[1:] == side[:-1]) & trace.bridged
    begins = np.flatnonzero(np.concatenate(([True], ~joined)))
    stops = np.append(begins[1:], side.size)
    return tuple(
        _excursion(trace, int(begin), int(stop), low, high)
        for begin, stop in zip(begins, stops, strict=True)
        if side[begin]
    )


def time_outside(trace: Trace, start_s: float, end_s: float, low: float, high: float) -> tuple[float, float]:
    """How long the line ran below and above [low, high] within a window: seconds of the time known.

    Exact for the straight lines between readings. Raises ValueError as `Trace.share_inside`.
    """
    known = trace.average(start_s, end_s).known_s
    if known <= 0:
        return 0.0, 0.0
    below = 1.0 - trace.share_inside(start_s, end_s, low, np.inf)
    above = 1.0 - trace.share_inside(start_s, end_s, -np.inf, high)
    return below * known, above * known


def _excursion(trace: Trace, begin: int, stop: int, low: float, high: float) -> Excursion:
    run: FloatArray = trace.values[begin:stop]
    above = bool(run[0] > high)
    edge = high if above else low
    furthest = begin + int(run.argmax() if above else run.argmin())
    last = stop - 1
    start = float(trace.at_s[begin])
    if begin > 0 and trace.bridged[begin - 1]:
        start = _crossing(trace, begin - 1, edge)
    end = float(trace.at_s[last])
    if stop < trace.values.size and trace.bridged[last]:
        end = _crossing(trace, last, edge)
    return Excursion(start, end, float(trace.values[furthest]), int(trace.at_s[furthest]), above)


def _crossing(trace: Trace, row: int, edge: float) -> float:
    """When the line from a row to the next one crosses an edge that lies between their values."""
    begin, finish = float(trace.values[row]), float(trace.values[row + 1])
    at, step = float(trace.at_s[row]), float(trace.at_s[row + 1] - trace.at_s[row])
    return at + step * (edge - begin) / (finish - begin)
