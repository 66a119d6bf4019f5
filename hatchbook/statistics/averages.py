"""Averages of irregular readings, and the average to hold for the rest of a phase.

It is the average over a phase that counts, not the reading of the moment. The rules of the line through the
readings stand in `hatchbook.statistics.trace`. The functions here answer one question each; for several
questions about the same readings build one `Trace` and ask that.

`at_s` are whole UTC seconds in ascending order, `values` as many numbers with nan for "not measured". Without
`longest_bridge_s` the bridge follows the spacing of the readings inside the window (`longest_bridge`).
Readings outside the window take part as far as the line from them runs into it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import overload

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.trace import (
    Average,
    DailyMeans,
    FloatArray,
    IntArray,
    RunningMean,
    Trace,
    longest_bridge,
)

__all__ = [
    "Average",
    "DailyMeans",
    "HoldFromNow",
    "HoldReach",
    "RunningMean",
    "Trace",
    "daily_means",
    "hold_from_now",
    "hold_range",
    "longest_bridge",
    "running_mean",
    "share_inside",
    "time_weighted",
    "unknown_stretches",
]


def time_weighted(
    at_s: ArrayLike, values: ArrayLike, start_s: float, end_s: float, longest_bridge_s: float | None = None
) -> Average:
    """Mean, known share and extremes over [start_s, end_s]; see `Average`."""
    return Trace.for_window(at_s, values, start_s, end_s, longest_bridge_s).average(start_s, end_s)


def share_inside(
    at_s: ArrayLike,
    values: ArrayLike,
    start_s: float,
    end_s: float,
    low: float,
    high: float,
    longest_bridge_s: float | None = None,
) -> float:
    """Share (0 to 1) of the known time spent in the closed band [low, high]; nan when no time is known."""
    trace = Trace.for_window(at_s, values, start_s, end_s, longest_bridge_s)
    return trace.share_inside(start_s, end_s, low, high)


def daily_means(
    at_s: ArrayLike, values: ArrayLike, start_s: float, end_s: float, longest_bridge_s: float | None = None
) -> DailyMeans:
    """The mean of each 24 hours from `start_s` on; see `DailyMeans`."""
    return Trace.for_window(at_s, values, start_s, end_s, longest_bridge_s).daily_means(start_s, end_s)


def running_mean(
    at_s: ArrayLike, values: ArrayLike, start_s: float, end_s: float, longest_bridge_s: float | None = None
) -> RunningMean:
    """The mean from `start_s` up to each reading inside the window."""
    return Trace.for_window(at_s, values, start_s, end_s, longest_bridge_s).running_mean(start_s, end_s)


def unknown_stretches(
    at_s: ArrayLike, start_s: float, end_s: float, longest_bridge_s: float | None = None
) -> IntArray:
    """The gaps of the window, shape (n, 2), UTC seconds, with its unknown head and tail."""
    nothing = np.zeros(np.asarray(at_s).shape)
    trace = Trace.for_window(at_s, nothing, start_s, end_s, longest_bridge_s)
    return trace.unknown_stretches(start_s, end_s)


@overload
def hold_from_now(mean_so_far: float, elapsed_h: float, remaining_h: float, aim: float) -> float: ...
@overload
def hold_from_now(
    mean_so_far: FloatArray,
    elapsed_h: float | FloatArray,
    remaining_h: float | FloatArray,
    aim: float | FloatArray,
) -> FloatArray: ...
def hold_from_now(
    mean_so_far: float | FloatArray,
    elapsed_h: float | FloatArray,
    remaining_h: float | FloatArray,
    aim: float | FloatArray,
) -> float | FloatArray:
    """The average to hold for the rest of a phase so that the whole phase ends on its aim.

    (aim × whole length − mean so far × elapsed) / remaining; hours, and the unit of the mean. The answer may
    lie outside what is possible: `hold_range` says so. nan when time has gone and the mean is unknown.
    Raises ValueError when no time remains or the elapsed time is negative.
    """
    elapsed, remaining = np.asarray(elapsed_h, dtype=np.float64), np.asarray(remaining_h, dtype=np.float64)
    if not np.all(remaining > 0):
        raise ValueError("The phase is over: there is no time left to steer in.")
    if not np.all(elapsed >= 0):
        raise ValueError("The phase has not begun yet: the time gone cannot be negative.")
    target = np.asarray(aim, dtype=np.float64)
    gone = np.where(elapsed > 0, elapsed * (target - np.asarray(mean_so_far, dtype=np.float64)), 0.0)
    hold = target + gone / remaining
    return float(hold) if hold.ndim == 0 else hold


class HoldReach(StrEnum):
    """Whether the aim of a phase can still be reached."""

    REACHABLE = "reachable"
    TOO_DRY_TO_BE = "too_dry_to_be"  # it would take less than 0 %
    TOO_MOIST_TO_BE = "too_moist_to_be"  # it would take more than 100 %
    DRIER_THAN_EVER = "drier_than_ever"  # possible, but this machine has never held it
    MOISTER_THAN_EVER = "moister_than_ever"
    UNKNOWN = "unknown"  # nothing is known of the time gone


@dataclass(frozen=True, slots=True)
class HoldFromNow:
    """The relative humidity to hold for the rest of a phase, % RH.

    low, aim, high: the averages with which the phase ends on the low edge of its band, on its aim and on its
        high edge; they may lie outside what can be held.
    reach: whether `aim` can be held, and if not why.
    band_reachable: whether the phase can still end inside its band.
    to_hold: `aim`, or 0 or 100 where it lies beyond; to_hold_ends_on: the phase's mean if that is held.
    nearest: `aim`, or the nearest to it that this machine has ever held; ends_on: the phase's mean if that is held.
    reachable_low, reachable_high: what this machine has ever held.
    """

    low: float
    aim: float
    high: float
    reach: HoldReach
    band_reachable: bool
    to_hold: float
    to_hold_ends_on: float
    nearest: float
    ends_on: float
    reachable_low: float
    reachable_high: float

    @property
    def reachable(self) -> bool:
        """Whether the phase can still end on its aim."""
        return self.reach is HoldReach.REACHABLE


def hold_range(
    mean_so_far: float,
    elapsed_h: float,
    remaining_h: float,
    low: float,
    aim: float,
    high: float,
    reachable_low: float = 0.0,
    reachable_high: float = 100.0,
) -> HoldFromNow:
    """`hold_from_now` for the aim and both edges of the band, and whether it can be reached any more.

    reachable_low, reachable_high: the range this machine has ever held, % RH (0 to 100 when not known).
    Raises ValueError as `hold_from_now` does, and for a band or a range that is upside down.
    """
    if not low <= aim <= high:
        raise ValueError("The aim must lie between the low and the high edge of the band.")
    if not 0 <= reachable_low <= reachable_high <= 100:
        raise ValueError("The range a machine can hold must lie between 0 and 100 %, the lower value first.")
    to_low, to_aim, to_high = (
        hold_from_now(mean_so_far, elapsed_h, remaining_h, target) for target in (low, aim, high)
    )
    to_hold = min(max(to_aim, 0.0), 100.0) if to_aim == to_aim else to_aim
    nearest = min(max(to_aim, reachable_low), reachable_high) if to_aim == to_aim else to_aim
    gone = mean_so_far * elapsed_h if elapsed_h > 0 else 0.0
    whole = elapsed_h + remaining_h
    return HoldFromNow(
        low=to_low,
        aim=to_aim,
        high=to_high,
        reach=_reach(to_aim, reachable_low, reachable_high),
        band_reachable=to_low <= reachable_high and to_high >= reachable_low,
        to_hold=to_hold,
        to_hold_ends_on=(gone + to_hold * remaining_h) / whole,
        nearest=nearest,
        ends_on=(gone + nearest * remaining_h) / whole,
        reachable_low=reachable_low,
        reachable_high=reachable_high,
    )


def _reach(hold: float, reachable_low: float, reachable_high: float) -> HoldReach:
    if hold != hold:
        return HoldReach.UNKNOWN
    if hold < 0:
        return HoldReach.TOO_DRY_TO_BE
    if hold > 100:
        return HoldReach.TOO_MOIST_TO_BE
    if hold < reachable_low:
        return HoldReach.DRIER_THAN_EVER
    if hold > reachable_high:
        return HoldReach.MOISTER_THAN_EVER
    return HoldReach.REACHABLE
