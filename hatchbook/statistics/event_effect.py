"""What one thing done to a machine did to its humidity.

The mean of the settled hours before is compared with that of the settled hours after: up to two hours before it,
and up to two hours from two hours after it on (by then the air of a tabletop machine has settled; our choice).
Nothing else may have happened within, nor so shortly before that its own effect had not settled.

A humidity that nobody touches moves too, with the room and the day. How far, is read off the same curve: the same
difference, taken at every hour at which nothing happened, shows how large it comes out by itself. The 95 % range
follows from that spread by Student's distribution, with one degree of freedom for each piece of quiet time as
long as the windows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.trace import FloatArray, Trace

LONGEST_S = 2 * 3600
SHORTEST_S = 3600
SETTLES_S = 2 * 3600
KNOWN_NEEDED = 0.75  # of each window
QUIET_NEEDED = 4
"""With fewer pieces of quiet time the spread below is taken."""
SPREAD_UNKNOWN = 2.5
"""% RH: what such a difference scatters by where the curve does not tell (our choice)."""
_QUIET_STEP_S = 3600


@dataclass(frozen=True, slots=True)
class Effect:
    """Mean humidity before and after, % RH, and the change with its 95 % range.

    settled_h: hours from the event to the beginning of the window after it. quiet: pieces of quiet time the
    range rests on; 0: none, a customary spread was taken.
    """

    before: float
    after: float
    low: float
    high: float
    settled_h: float
    quiet: int

    @property
    def change(self) -> float:
        """By how much it went up, points of % RH."""
        return self.after - self.before


def effect_of(
    trace: Trace, at_s: float, others: ArrayLike, start_s: float, end_s: float, confidence: float = 0.95
) -> Effect | None:
    """The effect of what was done at an instant; None where other things overlap or readings lack.

    Args:
        trace: of the humidity.
        others: all else that moves it, shape (n, 2): begin and end, UTC seconds.
        start_s, end_s: the stretch of time in which the machine stood under the same conditions.
    """
    stretches = _stretches(others)
    begins, ends = stretches[:, 0], stretches[:, 1]
    if bool(((begins <= at_s) & (ends >= at_s)).any()):
        return None
    settled_since = max(float(start_s), float(ends[ends < at_s].max(initial=-math.inf)) + SETTLES_S)
    undisturbed_until = min(float(end_s), float(begins[begins > at_s].min(initial=math.inf)))
    before_s = min(LONGEST_S, at_s - settled_since)
    after_s = min(LONGEST_S, undisturbed_until - at_s - SETTLES_S)
    if min(before_s, after_s) < SHORTEST_S:
        return None
    mean = _contrast(trace, np.array([at_s], dtype=np.float64), before_s, after_s)
    if np.isnan(mean[0, 0]):
        return None
    spread, quiet = _quiet_spread(trace, stretches, at_s, before_s, after_s, start_s, end_s)
    before, after = float(mean[0, 0]), float(mean[1, 0])
    half = spread * student_quantile(quiet, confidence)
    change = after - before
    return Effect(before, after, change - half, change + half, SETTLES_S / 3600, quiet)


def student_quantile(df: int, confidence: float = 0.95) -> float:
    """The two-sided quantile of Student's distribution, for df of 4 or more; 0 or fewer: the normal one.

    Expansion in 1/df (Abramowitz & Stegun, Handbook of Mathematical Functions, 26.7.5); within 0.4 % from df 4 on.
    """
    z = normal_quantile(confidence)
    if df <= 0:
        return z
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    return z + first / df + second / df**2 + third / df**3


def _stretches(others: ArrayLike) -> FloatArray:
    found = np.asarray(others, dtype=np.float64)
    return found.reshape(-1, 2)


def _contrast(trace: Trace, instants: FloatArray, before_s: float, after_s: float) -> FloatArray:
    """Mean before and mean after each instant, shape (2, n); nan where too little of a window is known."""
    # A reading on the stroke is already the event's: the window before ends with the second before it.
    windows = (
        (instants - before_s, instants - 1, before_s - 1),
        (instants + SETTLES_S, instants + SETTLES_S + after_s, after_s),
    )
    means = np.full((2, instants.size), np.nan)
    for row, (begins, ends, seconds) in enumerate(windows):
        mean, known = trace.window_means(begins, ends)
        means[row] = np.where(known >= KNOWN_NEEDED * seconds, mean, np.nan)
    return np.where(np.isnan(means).any(axis=0), np.nan, means)


def _quiet_spread(
    trace: Trace,
    stretches: FloatArray,
    at_s: float,
    before_s: float,
    after_s: float,
    start_s: float,
    end_s: float,
) -> tuple[float, int]:
    """The root mean square of the difference where nothing happened, and on how many pieces of time it rests."""
    length = before_s + SETTLES_S + after_s
    instants = np.arange(start_s + before_s, end_s - SETTLES_S - after_s, _QUIET_STEP_S, dtype=np.float64)
    quiet = np.ones(instants.shape, dtype=np.bool_)
    for begin, end in [*stretches.tolist(), [at_s, at_s]]:
        quiet &= (instants + SETTLES_S + after_s < begin) | (instants - before_s > end + SETTLES_S)
    means = _contrast(trace, instants[quiet], before_s, after_s)
    differences = (means[1] - means[0])[~np.isnan(means[0])]
    pieces = int(differences.size * _QUIET_STEP_S / length)
    if pieces < QUIET_NEEDED:
        return SPREAD_UNKNOWN, 0
    return float(np.sqrt(np.mean(differences**2))), pieces
