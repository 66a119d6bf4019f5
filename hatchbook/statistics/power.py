"""How many batches it takes to tell a difference."""

from __future__ import annotations

import math

from hatchbook.statistics.comparison_results import LEVEL

MOST = 1_000_000


def batches_needed(
    mean: float,
    rho: float,
    eggs_per_batch: float,
    difference: float = 0.10,
    power: float = 0.8,
    alpha: float = LEVEL,
) -> int:
    """How many batches each of two groups needs, so that a difference is told with the chance `power`.

    The two groups lie half the difference below and above the mean. A batch has the variance p (1 - p)
    (1 + (n - 1) rho) / n (Donner & Klar 2000, Design and Analysis of Cluster Randomization Trials, chapter 5),
    and the test is Student's with the noncentral t distribution, one degree of freedom less than batches allow,
    as the comparison itself counts the spread. The default `alpha` is that below which a difference is called
    more than chance, so that the answer fits what the comparison will say.

    Args:
        mean: share of both together. difference: as a share, 0.1 is 10 points.
        rho: the spread; several eggs in a batch that hang together count as fewer.

    Returns:
        At least 2, at most `MOST`.

    Raises:
        ValueError: when a value can not be.
    """
    if not (0.0 <= mean <= 1.0 and 0.0 <= rho <= 1.0 and eggs_per_batch >= 1.0):
        raise ValueError("Mean and spread must be shares, and a batch has at least one egg.")
    if not (0.0 < difference < 1.0 and 0.0 < alpha < 1.0 and 0.0 < power < 1.0):
        raise ValueError("Difference, power and level must lie between 0 and 1.")
    middle = min(max(mean, difference / 2.0), 1.0 - difference / 2.0)
    variance = sum(
        share * (1.0 - share) * (1.0 + (eggs_per_batch - 1.0) * rho) / eggs_per_batch
        for share in (middle - difference / 2.0, middle + difference / 2.0)
    )
    low, high = 1, 2
    while high < MOST and _power(high, variance, difference, alpha) < power:
        low, high = high, high * 2
    while high - low > 1:
        between = (low + high) // 2
        if _power(between, variance, difference, alpha) < power:
            low = between
        else:
            high = between
    return min(high, MOST)


def _power(batches: int, variance: float, difference: float, alpha: float) -> float:
    """The chance of telling the difference with so many batches a group."""
    from scipy.special import nctdtr, ndtr, ndtri, stdtrit

    df = 2 * batches - 3
    if variance == 0.0:
        return 1.0
    shift = difference / math.sqrt(variance / batches)
    if df > 10_000 or shift > 30.0:
        return float(ndtr(shift + ndtri(alpha / 2.0)))
    return 1.0 - float(nctdtr(df, shift, stdtrit(df, 1.0 - alpha / 2.0)))
