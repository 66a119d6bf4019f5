"""Tests that take each egg for a trial of its own, and the correction for making many.

Batches that differ among each other make these find differences that are chance; they are what the comparison of
groups becomes where the spread is nil, and what it is checked against.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.spread import counted


@dataclass(frozen=True)
class PlainTest:
    """A chi-square statistic, its degrees of freedom, and the chance of one as large."""

    statistic: float
    df: int
    p: float


def chi_square(hits: ArrayLike, trials: ArrayLike) -> PlainTest:
    """Pearson's test that all groups have one share; groups without trials are left out.

    Fleiss 1981, Statistical Methods for Rates and Proportions, chapter 9. Nothing or all hit: no difference.

    Raises:
        ValueError: when the counts can not be.
    """
    y, n = counted(hits, trials)
    share = y.sum() / n.sum() if n.size else 0.0
    if not 0.0 < share < 1.0:
        return PlainTest(0.0, max(n.size - 1, 0), 1.0)
    statistic = float(((y - n * share) ** 2 / (n * share * (1.0 - share))).sum())
    return PlainTest(statistic, n.size - 1, _beyond(statistic, n.size - 1))


def likelihood_ratio(hits: ArrayLike, trials: ArrayLike) -> PlainTest:
    """The likelihood-ratio test (G²) that all groups have one share.

    Agresti, An Introduction to Categorical Data Analysis, section 2.4.

    Raises:
        ValueError: when the counts can not be.
    """
    from scipy.special import xlogy

    y, n = counted(hits, trials)
    share = y.sum() / n.sum() if n.size else 0.0
    if not 0.0 < share < 1.0:
        return PlainTest(0.0, max(n.size - 1, 0), 1.0)
    terms = xlogy(y, y / (n * share)) + xlogy(n - y, (n - y) / (n * (1.0 - share)))
    statistic = max(2.0 * float(terms.sum()), 0.0)
    return PlainTest(statistic, n.size - 1, _beyond(statistic, n.size - 1))


def cochran_armitage(hits: ArrayLike, trials: ArrayLike, scores: ArrayLike) -> PlainTest:
    """The test for a trend of shares over scores.

    Armitage 1955, Biometrics 11:375-386, with N in the variance; Agresti's M² has N - 1. One score alone, nothing
    or all hit: no trend.

    Raises:
        ValueError: when the counts can not be, or there is not one score for each.
    """
    x = np.atleast_1d(np.asarray(scores, dtype=np.float64))
    kept = np.atleast_1d(np.asarray(trials)) > 0
    y, n = counted(hits, trials)
    if x.size != kept.size or not np.isfinite(x).all():
        raise ValueError("There must be one score for each group.")
    x = x[kept]
    if n.size == 0:
        return PlainTest(0.0, 1, 1.0)
    share = y.sum() / n.sum()
    x = x - (n * x).sum() / n.sum()
    variance = share * (1.0 - share) * float((n * x**2).sum())
    if variance <= 0.0:
        return PlainTest(0.0, 1, 1.0)
    statistic = float((x * (y - n * share)).sum() ** 2 / variance)
    return PlainTest(statistic, 1, _beyond(statistic, 1))


def fisher_exact(hits_a: int, trials_a: int, hits_b: int, trials_b: int) -> float:
    """The two-sided exact chance of two shares as unlike as these, where they are one.

    Tables no more likely than the one seen count (Fisher 1935; Agresti, section 2.6).

    Raises:
        ValueError: when the counts can not be.
    """
    from scipy.special import gammaln

    counted([hits_a, hits_b], [trials_a, trials_b])
    hits = hits_a + hits_b
    of_a = np.arange(max(0, hits - trials_b), min(hits, trials_a) + 1)

    def log_choose(n: int | np.ndarray, k: np.ndarray) -> np.ndarray:
        ways: np.ndarray = gammaln(n + 1.0) - gammaln(k + 1.0) - gammaln(n - k + 1.0)
        return ways

    log_p = log_choose(trials_a, of_a) + log_choose(trials_b, hits - of_a)
    p = np.exp(log_p - log_p.max())
    seen = p[of_a == hits_a]
    return min(float(p[p <= seen * (1.0 + 1e-7)].sum() / p.sum()), 1.0)


def holm(p_values: Sequence[float]) -> list[float]:
    """Holm's correction for several tests, in the order given (Holm 1979, Scand. J. Statist. 6:65-70)."""
    corrected = [0.0] * len(p_values)
    largest = 0.0
    for rank, place in enumerate(sorted(range(len(p_values)), key=p_values.__getitem__)):
        largest = max(largest, min((len(p_values) - rank) * p_values[place], 1.0))
        corrected[place] = largest
    return corrected


def _beyond(statistic: float, df: int) -> float:
    """The chance of a chi-square beyond; 1 without degrees of freedom."""
    from scipy.special import chdtrc

    return float(chdtrc(df, statistic)) if df > 0 else 1.0
