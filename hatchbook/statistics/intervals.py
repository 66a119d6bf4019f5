"""Ranges for proportions of few eggs, and for the difference of two of them.

The normal interval is unreliable for small numbers (Brown, Cai & DasGupta 2001, Stat. Sci. 16:101-133), so
Wilson's is used throughout. The egg is the trial here; where batches differ among each other these ranges are too
narrow, and `hatchbook.statistics.comparison` counts that.
"""

from __future__ import annotations

import math
import operator
from functools import lru_cache
from statistics import NormalDist

NORMAL_95 = 1.959964
"""`normal_quantile` of 0.95."""


@lru_cache(maxsize=16)
def normal_quantile(confidence: float) -> float:
    """The two-sided standard normal quantile: 1.959964 for 0.95.

    Raises:
        ValueError: when `confidence` does not lie between 0 and 1.
    """
    if not 0.0 < confidence < 1.0:
        raise ValueError(f"The confidence must lie between 0 and 1, not {confidence:g}.")
    return NormalDist().inv_cdf(0.5 + confidence / 2.0)


def wilson(hits: int, trials: int, confidence: float = 0.95) -> tuple[float, float]:
    """Wilson's score interval of a proportion, as shares between 0 and 1.

    Method 3 of Newcombe 1998, Stat. Med. 17:857-872. Without any trial nothing is known: (0.0, 1.0).

    Raises:
        ValueError: when the counts are not whole numbers with 0 <= hits <= trials, or the confidence is not
            between 0 and 1.
    """
    hits, trials = _counts(hits, trials)
    z2 = normal_quantile(confidence) ** 2
    if trials == 0:
        return 0.0, 1.0
    centre = (2 * hits + z2) / (2 * (trials + z2))
    # hits * (trials - hits) / trials is n p q; an exact 0 at both ends, so that they come out as 0 and 1.
    half = math.sqrt(z2) * math.sqrt(z2 + 4 * hits * (trials - hits) / trials) / (2 * (trials + z2))
    low = 0.0 if hits == 0 else max(0.0, centre - half)
    high = 1.0 if hits == trials else min(1.0, centre + half)
    return low, high


def newcombe_difference(
    hits_a: int, trials_a: int, hits_b: int, trials_b: int, confidence: float = 0.95
) -> tuple[float, float, float]:
    """Difference of two proportions a - b with its range: (difference, low, high), between -1 and 1.

    Method 10 of Newcombe 1998, Stat. Med. 17:873-890: the distances of each Wilson limit from its estimate, squared
    and added. When one side has no trial the difference is NaN and the range (-1.0, 1.0).

    Raises:
        ValueError: as `wilson`.
    """
    low_a, high_a = wilson(hits_a, trials_a, confidence)
    low_b, high_b = wilson(hits_b, trials_b, confidence)
    if trials_a == 0 or trials_b == 0:
        return math.nan, -1.0, 1.0
    share_a, share_b = hits_a / trials_a, hits_b / trials_b
    difference = share_a - share_b
    low = difference - math.hypot(share_a - low_a, high_b - share_b)
    high = difference + math.hypot(high_a - share_a, share_b - low_b)
    return difference, max(-1.0, low), min(1.0, high)


def _counts(hits: int, trials: int) -> tuple[int, int]:
    """The counts as plain integers (numpy's are taken too), checked."""
    try:
        hits, trials = operator.index(hits), operator.index(trials)
    except TypeError:
        raise ValueError(f"Eggs are counted in whole numbers, not {hits!r} of {trials!r}.") from None
    if hits < 0 or trials < 0:
        raise ValueError(f"A count can not be below 0: {hits} of {trials}.")
    if hits > trials:
        raise ValueError(f"{hits} of {trials} is more than there are.")
    return hits, trials
