"""Whether a phase drifted, in which direction and since which day.

Rules, in this order:

* less than half of the elapsed time known: there is a mean, but no verdict;
* the mean outside the band: `low` or `high`;
* the mean inside, but a two-sided tabular CUSUM of the daily means against the aim stands above its decision
  limit on the side on which the mean lies: `sliding`. A phase whose mean is on its way back to the aim (the
  breeder holds less now because it was too much before) is not sliding the other way;
* the mean inside, but less than half of the known time inside the band: `swinging`;
* otherwise `on aim`.

**The CUSUM.** Upper sum S(i) = max(0, S(i-1) + x(i) - aim - k), lower sum the same downwards; a sum above h
signals, and the run that led to it began after the sum was last 0. k is chosen about half way between the aim
and the mean that must not be (D. C. Montgomery & G. C. Runger, Applied Statistics and Probability for
Engineers, 3rd ed., equations 16-30 and 16-31; also NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3,
from memory). The mean that must not be is the edge of the band, so k is half the half band. sigma is taken as
half the half band too: the band is the aim ± 2 sigma in which the days of a well-kept phase lie. With
k = 1 sigma, h = 2.5 sigma gives a false signal once in 358 days on average, like a chart with three-sigma
limits, and finds a move to the edge in 3.2 days (computed by a Markov chain that also gives the textbooks' 168
and 465 days for k = 0.5 and h = 4 or 5). For hens (45 %, band 40-50) k is 2.5 and h 6.25 points: days less
than 2.5 points off never signal, days 4 points off after five days, days on the edge after three. A little
above or below does no harm.

**One stray reading never makes a drift.** A day counts at most 2 sigma (as if it lay on the edge of the
band), so that two bad days cannot signal, only three; winsorized CUSUM: D. M. Hawkins & D. H. Olwell,
Cumulative Sum Charts and Charting for Quality Improvement, 1998 (from memory). And a drift that is none once
a single far-off reading is replaced by the line between its neighbours is not given.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from hatchbook.statistics.trace import Average, DailyMeans, FloatArray, Trace
from hatchbook.trade.instants import DAY_S

KNOWN_NEEDED = 0.5  # of the elapsed time, for a verdict
INSIDE_NEEDED = 0.5  # of the known time, not to swing
DAY_KNOWN_NEEDED_S = 0.5 * DAY_S  # for a day to count in the CUSUM
SIGMAS_IN_BAND = 4.0
SLACK_SIGMAS = 1.0
DECISION_SIGMAS = 2.5
DAY_LIMIT_SIGMAS = 2.0


class DriftVerdict(StrEnum):
    """What became of a phase's average."""

    ON_AIM = "on_aim"
    LOW = "low"
    HIGH = "high"
    SLIDING = "sliding"
    SWINGING = "swinging"
    TOO_LITTLE_KNOWN = "too_little_known"


class DriftDirection(StrEnum):
    """To which side of its aim a phase drifted."""

    UP = "up"
    DOWN = "down"


@dataclass(frozen=True, slots=True)
class Cusum:
    """The two sums after each day, in the unit of the readings; a sum above `decision` signals.

    up, down: one value a day of `PhaseDrift.daily`; a day that does not count leaves them as they were.
    slack: k. decision: h.
    """

    up: FloatArray
    down: FloatArray
    slack: float
    decision: float


@dataclass(frozen=True, slots=True)
class PhaseDrift:
    """The verdict of a phase and the numbers it rests on.

    average: mean, known share and extremes of the elapsed part. share_inside: share of the known time inside
    the band (nan when none is known). direction: for low, high and sliding. since_day: for low, high and
    sliding the day it began, 0 for the phase's first 24 hours; since_s: the instant that day began, UTC
    seconds. stray_at_s: the instant of a single reading without which the verdict would be a drift no more,
    and for whose sake none was given; None otherwise.
    """

    verdict: DriftVerdict
    average: Average
    share_inside: float
    direction: DriftDirection | None
    since_day: int | None
    since_s: int | None
    daily: DailyMeans
    cusum: Cusum
    stray_at_s: int | None

    @property
    def mean(self) -> float:
        """Time-weighted mean of the known part of the elapsed time."""
        return self.average.mean

    @property
    def known_share(self) -> float:
        """Known share of the elapsed time, 0 to 1."""
        return self.average.known_share


@dataclass(frozen=True, slots=True)
class _Judgement:
    verdict: DriftVerdict
    average: Average
    share_inside: float
    direction: DriftDirection | None
    since_day: int | None
    daily: DailyMeans
    cusum: Cusum


def tabular_cusum(deviations: FloatArray, slack: float) -> FloatArray:
    """The upper sums max(0, S + deviation - slack), starting at 0; nan deviations leave the sum as it was."""
    walk = np.cumsum(np.where(np.isnan(deviations), 0.0, deviations - slack))
    return walk - np.minimum.accumulate(np.minimum(walk, 0.0))


def phase_verdict(trace: Trace, start_s: int, end_s: int, low: float, aim: float, high: float) -> PhaseDrift:
    """The verdict on the elapsed part [start_s, end_s] of a phase with the band [low, high] around `aim`.

    trace: the readings of one quantity (`Trace.for_window` with the phase's own ends gives the right bridge).
    Raises ValueError for a band without width or an aim outside it.
    """
    if not (low < high and low <= aim <= high):
        raise ValueError("A phase needs a band from a low to a high edge with its aim between them.")
    judged = _judge(trace, start_s, end_s, low, aim, high)
    verdict, direction, since_day, stray_at_s = judged.verdict, judged.direction, judged.since_day, None
    if direction is not None:
        stray = _most_pulling_stray(trace, start_s, end_s, high - low, direction)
        if stray is not None:
            without = _judge(_straightened(trace, stray), start_s, end_s, low, aim, high)
            if without.direction != direction:
                stray_at_s = int(trace.at_s[stray])
                if low <= judged.average.mean <= high:
                    verdict, direction, since_day = without.verdict, without.direction, without.since_day
                else:  # The mean is not inside, so nothing good can be said either.
                    verdict, direction, since_day = DriftVerdict.TOO_LITTLE_KNOWN, None, None
    return PhaseDrift(
        verdict=verdict,
        average=judged.average,
        share_inside=judged.share_inside,
        direction=direction,
        since_day=since_day,
        since_s=None if since_day is None else int(start_s + since_day * DAY_S),
        daily=judged.daily,
        cusum=judged.cusum,
        stray_at_s=stray_at_s,
    )


def _judge(trace: Trace, start_s: int, end_s: int, low: float, aim: float, high: float) -> _Judgement:
    """The verdict by the rules alone."""
    average = trace.average(start_s, end_s)
    inside = trace.share_inside(start_s, end_s, low, high)
    daily = trace.daily_means(start_s, end_s)
    cusum = _cusum(daily, low, aim, high)
    verdict, direction, since_day = DriftVerdict.ON_AIM, None, None
    if average.known_s <= 0 or average.known_share < KNOWN_NEEDED:
        verdict = DriftVerdict.TOO_LITTLE_KNOWN
    else:
        side = DriftDirection.UP if average.mean > aim else DriftDirection.DOWN
        run_began = _run_began(cusum.up if side is DriftDirection.UP else cusum.down, daily, cusum.decision)
        if average.mean < low or average.mean > high:
            verdict = DriftVerdict.HIGH if side is DriftDirection.UP else DriftVerdict.LOW
            direction = side
            since_day = _mean_left(trace, start_s, end_s, low, high, side) if run_began is None else run_began
        elif run_began is not None:
            verdict, direction, since_day = DriftVerdict.SLIDING, side, run_began
        elif inside < INSIDE_NEEDED:
            verdict = DriftVerdict.SWINGING
    return _Judgement(verdict, average, inside, direction, since_day, daily, cusum)


def _cusum(daily: DailyMeans, low: float, aim: float, high: float) -> Cusum:
    sigma = (high - low) / SIGMAS_IN_BAND
    slack, limit = SLACK_SIGMAS * sigma, DAY_LIMIT_SIGMAS * sigma
    away = np.where(_counted(daily), np.clip(daily.mean - aim, -limit, limit), np.nan)
    return Cusum(
        up=tabular_cusum(away, slack),
        down=tabular_cusum(-away, slack),
        slack=slack,
        decision=DECISION_SIGMAS * sigma,
    )


def _counted(daily: DailyMeans) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Days of which enough is known; a day just begun does not count yet."""
    return daily.known_s >= DAY_KNOWN_NEEDED_S


def _run_began(sums: FloatArray, daily: DailyMeans, decision: float) -> int | None:
    """The first day of the run that stands above the decision limit now; None when none does."""
    if not sums.size or sums[-1] <= decision:
        return None
    at_zero = np.flatnonzero(sums <= 0)
    return int(daily.day[at_zero[-1] + 1]) if at_zero.size else int(np.argmax(_counted(daily)))


def _mean_left(trace: Trace, start_s: int, end_s: int, low: float, high: float, side: DriftDirection) -> int:
    """The day on which the running mean left the band for good (day 0 when it was never inside)."""
    running = trace.running_mean(start_s, end_s)
    outside = running.mean > high if side is DriftDirection.UP else running.mean < low
    inside = np.flatnonzero(~outside)
    after = 0 if not inside.size else int(inside[-1]) + 1
    if after == 0:
        return 0
    left_s = int(running.at_s[after]) if after < running.at_s.size else end_s
    return max(0, (left_s - start_s - 1) // DAY_S)


def _most_pulling_stray(
    trace: Trace, start_s: int, end_s: int, band_width: float, direction: DriftDirection
) -> int | None:
    """The reading that alone pulls the mean furthest in `direction`, if it is stray; None if there is none.

    Stray is what lies further than the whole width of the band from the line between its neighbours.
    """
    if trace.at_s.size < 2:
        return None
    away = (trace.values - _between_neighbours(trace)) * (1.0 if direction is DriftDirection.UP else -1.0)
    pull = np.where(away > band_width, away * _seconds_carried(trace, start_s, end_s), 0.0)
    strongest = int(np.argmax(pull))
    return strongest if pull[strongest] > 0 else None


def _between_neighbours(trace: Trace) -> FloatArray:
    """For each reading where the line would run without it, from those neighbours it is bridged to."""
    at, value = trace.at_s.astype(np.float64), trace.values
    line = value.copy()
    left = np.concatenate(([False], trace.bridged))
    right = np.concatenate((trace.bridged, [False]))
    line[1:] = np.where(left[1:] & ~right[1:], value[:-1], line[1:])
    line[:-1] = np.where(right[:-1] & ~left[:-1], value[1:], line[:-1])
    share = (at[1:-1] - at[:-2]) / (at[2:] - at[:-2])
    across = value[:-2] + (value[2:] - value[:-2]) * share
    line[1:-1] = np.where(left[1:-1] & right[1:-1], across, line[1:-1])
    return line


def _seconds_carried(trace: Trace, start_s: int, end_s: int) -> FloatArray:
    """The integral over the window of each reading's share in the line (its tent between its neighbours)."""
    at = trace.at_s.astype(np.float64)
    step = np.diff(at)
    begin, finish = np.clip(at[:-1], start_s, end_s), np.clip(at[1:], start_s, end_s)
    rising = ((finish - at[:-1]) ** 2 - (begin - at[:-1]) ** 2) / (2 * step)
    falling = (finish - begin) - rising
    carried = np.zeros(at.shape)
    carried[1:] += np.where(trace.bridged, rising, 0.0)
    carried[:-1] += np.where(trace.bridged, falling, 0.0)
    return carried


def _straightened(trace: Trace, row: int) -> Trace:
    """The trace with one reading put on the line between its neighbours."""
    value = trace.values.copy()
    value[row] = _between_neighbours(trace)[row]
    return Trace(trace.at_s, value, trace.longest_bridge_s)
