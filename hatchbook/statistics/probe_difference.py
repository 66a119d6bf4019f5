"""Several probes in one air compared: by how much one differs from the others, and whether that grows.

Only hours in which both have readings are compared, each probe by the mean of its readings of that hour, so that a
logger and readings by hand go together. With three probes or more a probe is compared with the median of all, which
one wrong probe hardly moves; with two, with the other one: which of the two is wrong cannot be told.

A day's difference is the median of its hours, which a lid that was opened does not move. The difference is the mean
of the days with Student's interval (95 %); its change is Theil's slope, the median slope of all pairs of days, with
Sen's interval (P. K. Sen, J. Amer. Statist. Assoc. 63 (1968) 1379-1389), times the days between the first and the
last. Both intervals are stretched where neighbouring days resemble each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.intervals import normal_quantile
from hatchbook.trade.codes import Quantity
from hatchbook.trade.instants import DAY_S

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

DRIFTS_FROM = {Quantity.HUMIDITY: 2.0, Quantity.TEMPERATURE: 0.3}
"""A change against the others of this much within the days compared is a drift, % RH and °C, where its interval
leaves out 0 (our choice: as much as a checked probe may be off)."""
DAYS_FOR_CHANGE = 5
CONFIDENCE = 0.95
LARGEST_LIKENESS = 0.8
_HOUR_S = 3600


@dataclass(frozen=True, slots=True)
class ProbeDifference:
    """How a probe differs from the others, own less others, % RH or °C.

    difference, low, high: mean of the days and its 95 % interval; low and high are None for a single day.
    change, change_low, change_high: from the first day to the last; None with fewer than five days.
    hours, days: that were compared; span_days: between the first and the last of them.
    """

    quantity: Quantity
    difference: float
    low: float | None
    high: float | None
    change: float | None
    change_low: float | None
    change_high: float | None
    hours: int
    days: int
    span_days: int

    @property
    def drifting(self) -> bool:
        """Whether the change is large enough to matter and more than chance."""
        if self.change is None or self.change_low is None or self.change_high is None:
            return False
        sure = self.change_low > 0 or self.change_high < 0
        return sure and abs(self.change) >= DRIFTS_FROM[self.quantity]

    def apart(self, allowed: float) -> bool:
        """Whether it differs by more than is allowed, and surely so."""
        if self.low is None or self.high is None:
            return False
        return self.low > allowed or self.high < -allowed


def compare_probes(
    quantity: Quantity, probes: Sequence[tuple[IntArray, FloatArray]], start_at: int, end_at: int
) -> tuple[ProbeDifference | None, ...]:
    """Each probe against the others, in the order given; None for one without a common hour.

    Args:
        probes: instants (UTC seconds) and values of each, NaN where not measured.
        start_at: the begin of the stretch; days are 24 hours from it.
        end_at: its end.
    """
    hours = max(-(-(end_at - start_at) // _HOUR_S), 0)
    if len(probes) < 2 or hours == 0:
        return (None,) * len(probes)
    table = np.stack([_hourly(at, values, start_at, hours) for at, values in probes])
    known = ~np.isnan(table)
    together = known.sum(axis=0)
    return tuple(_compared(quantity, table, known, together, own) for own in range(len(probes)))


def _hourly(at: IntArray, values: FloatArray, start_at: int, hours: int) -> FloatArray:
    """The mean of the readings of each hour; NaN without any."""
    hour = (at - start_at) // _HOUR_S
    within = (hour >= 0) & (hour < hours) & ~np.isnan(values)
    count = np.bincount(hour[within], minlength=hours)
    total = np.bincount(hour[within], values[within], minlength=hours)
    return np.where(count > 0, total / np.maximum(count, 1), np.nan)


def _compared(
    quantity: Quantity, table: FloatArray, known: NDArray[np.bool_], together: IntArray, own: int
) -> ProbeDifference | None:
    hours = np.flatnonzero(known[own] & (together >= 2))
    if not hours.size:
        return None
    part = table[:, hours]
    of_two = together[hours] == 2
    # Of two, the sum of what is known less the own value is the other one.
    others = np.where(of_two, np.nansum(part, axis=0) - part[own], np.nanmedian(part, axis=0))
    difference = part[own] - others
    day = hours // (DAY_S // _HOUR_S)
    days = np.unique(day)
    daily = np.array([np.median(difference[day == one]) for one in days])
    low, high = _student(daily)
    change = _change(days, daily)
    return ProbeDifference(
        quantity=quantity,
        difference=float(daily.mean()),
        low=low,
        high=high,
        change=change[0],
        change_low=change[1],
        change_high=change[2],
        hours=int(hours.size),
        days=int(days.size),
        span_days=int(days[-1] - days[0]),
    )


def _student(daily: FloatArray) -> tuple[float | None, float | None]:
    if daily.size < 2:
        return None, None
    from scipy.special import stdtrit

    error = daily.std(ddof=1) / daily.size**0.5 * _stretched_by(daily)
    half = float(stdtrit(daily.size - 1, (1 + CONFIDENCE) / 2) * error)
    middle = float(daily.mean())
    return middle - half, middle + half


def _change(days: IntArray, daily: FloatArray) -> tuple[float | None, float | None, float | None]:
    """Theil's slope with Sen's interval, times the span."""
    count = days.size
    if count < DAYS_FOR_CHANGE:
        return None, None, None
    first, second = np.triu_indices(count, 1)
    slopes = np.sort((daily[second] - daily[first]) / (days[second] - days[first]))
    slope = float(np.median(slopes))
    spread = normal_quantile(CONFIDENCE) * (count * (count - 1) * (2 * count + 5) / 18) ** 0.5
    spread *= _stretched_by(daily - slope * days)
    low = max(int(np.floor((slopes.size - spread) / 2)), 0)
    high = min(int(np.ceil((slopes.size + spread) / 2)), slopes.size - 1)
    span = float(days[-1] - days[0])
    return slope * span, float(slopes[low]) * span, float(slopes[high]) * span


def _stretched_by(daily: FloatArray) -> float:
    """How much wider an interval must be since a day resembles the one before it (autoregression of order 1).

    The root of (1 + r) / (1 - r), with r from neighbouring days and Kendall's correction of its bias; at least 1.
    """
    deviations = daily - daily.mean()
    squares = float((deviations**2).sum())
    if daily.size < 4 or squares <= 0:
        return 1.0
    r = float((deviations[1:] * deviations[:-1]).sum()) / squares
    r = min(max(r + (1 + 3 * r) / daily.size, 0.0), LARGEST_LIKENESS)
    return float(((1 + r) / (1 - r)) ** 0.5)
