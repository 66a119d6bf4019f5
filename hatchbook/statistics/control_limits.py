"""Where a single batch lies by chance, around a known mean with a known spread."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.comparison_results import BatchChance
from hatchbook.statistics.effective import Effective
from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.spread import HIGHEST_RHO, Floats, counted, spread_within


def control_limits(
    mean: float, rho: float, trials: ArrayLike, confidence: float = 0.95
) -> tuple[Floats, Floats]:
    """Between which shares a batch of so many eggs lies by chance: (low, high), of the shape of `trials`.

    The limits widen with the spread and narrow with the size. They are the exact beta-binomial ones, drawn
    between whole eggs (Spiegelhalter 2005, Stat. Med. 24:1185-1202, appendix): a batch lies below `low` just when
    one as low or lower has less than half the chance that the confidence leaves. Without trials: (0, 1).

    Raises:
        ValueError: when mean or spread are not shares, trials not whole numbers of at least 0.
    """
    _checked(mean, rho)
    normal_quantile(confidence)
    sizes = np.asarray(trials)
    if sizes.size == 0:
        return np.zeros(sizes.shape), np.ones(sizes.shape)
    if sizes.dtype.kind not in "iu" or sizes.min() < 0:
        raise ValueError("Eggs are counted in whole numbers.")
    tail = 0.5 - confidence / 2.0
    unique, where = np.unique(sizes, return_inverse=True)
    limits = np.array([_limits(mean, rho, int(size), tail) for size in unique])[where.reshape(sizes.shape)]
    return limits[..., 0], limits[..., 1]


def sigma_limits(mean: float, rho: float, trials: ArrayLike, sigmas: float = 3.0) -> tuple[Floats, Floats]:
    """The limits of a p-chart, mean ± sigmas standard deviations, kept between 0 and 1: (low, high).

    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.3.2, with 1 + (n - 1) rho for the spread. Too narrow on
    the long side where few eggs nearly all hatch: `control_limits` is exact.

    Raises:
        ValueError: when mean or spread are not shares.
    """
    _checked(mean, rho)
    sizes = np.asarray(trials, dtype=np.float64)
    variance = mean * (1.0 - mean) * (1.0 + (sizes - 1.0) * rho) / np.maximum(sizes, 1e-9)
    half = sigmas * np.sqrt(np.where(sizes > 0, variance, np.inf))
    return np.maximum(mean - half, 0.0), np.minimum(mean + half, 1.0)


def batch_chance(hits: int, trials: int, mean: float, rho: float) -> BatchChance:
    """How likely a batch as low, or as high, as this one is around a known mean and spread.

    Raises:
        ValueError: when the counts can not be, mean or spread are not shares.
    """
    _checked(mean, rho)
    counted([hits], [trials])
    chances = _chances(int(trials), np.array([mean]), np.array([rho]))[0]
    return _chance(float(chances[: hits + 1].sum()), float(chances[hits:].sum()))


def batch_among(hits: int, trials: int, other_hits: ArrayLike, other_trials: ArrayLike) -> BatchChance | None:
    """How likely a batch as low, or as high, as this one is among others, of which there are few.

    Averaged over the spreads and the means that the others leave possible, so that three batches before say less
    than thirty. None: too few others to say (their spread is not known).

    Raises:
        ValueError: when the counts can not be.
    """
    from scipy.special import betaincinv

    counted([hits], [trials])
    y, n = counted(other_hits, other_trials)
    group = np.zeros(n.size, dtype=np.int64)
    spread = spread_within(y, n, group, 1, 0.95)
    if not spread.known:
        return None
    worth = Effective.of(y, n, group, 1, spread.nodes)
    # Jeffreys' distribution of the mean, by the middles of ten parts that are equally likely
    middles = (np.arange(10) + 0.5) / 10.0
    means = betaincinv(worth.hits + 0.5, worth.trials - worth.hits + 0.5, middles)
    nodes = np.repeat(spread.nodes, middles.size).astype(np.float64)
    chances = _chances(int(trials), np.asarray(means, dtype=np.float64).ravel(), nodes).reshape(
        spread.nodes.size, middles.size, -1
    )
    average = spread.averaged(chances.mean(axis=1))
    return _chance(float(average[: hits + 1].sum()), float(average[hits:].sum()))


def _chance(low: float, high: float) -> BatchChance:
    low, high = min(low, 1.0), min(high, 1.0)
    return BatchChance(low, high, min(2.0 * min(low, high), 1.0))


@lru_cache(maxsize=4096)
def _limits(mean: float, rho: float, trials: int, tail: float) -> tuple[float, float]:
    """The limits of one size."""
    if trials == 0:
        return 0.0, 1.0
    chances = _chances(trials, np.array([mean]), np.array([rho]))[0]
    low = _lower(chances, tail) / trials
    high = 1.0 - _lower(chances[::-1], tail) / trials
    return min(max(low, 0.0), 1.0), min(max(high, 0.0), 1.0)


def _lower(chances: NDArray[np.float64], tail: float) -> float:
    """The count at which the lower tail is reached, between whole eggs."""
    up_to = np.cumsum(chances)
    first = min(int(np.searchsorted(up_to, tail)), chances.size - 1)
    return first - float((up_to[first] - tail) / max(chances[first], 1e-300))


def _chances(trials: int, mean: Floats, rho: Floats) -> Floats:
    """The chance of 0 ... trials hits for each mean with its spread: (means, trials + 1), each adding up to 1."""
    from scipy.special import betaln, gammaln, xlog1py, xlogy

    y = np.arange(trials + 1.0)
    ways = gammaln(trials + 1.0) - gammaln(y + 1.0) - gammaln(trials - y + 1.0)
    p, spread = mean[:, None], np.minimum(rho, HIGHEST_RHO)[:, None]
    log_chance = xlogy(y, p) + xlog1py(trials - y, -p)
    scatters = ((spread > 1e-8) & (p > 0.0) & (p < 1.0))[:, 0]
    size = 1.0 / spread[scatters] - 1.0
    a, b = p[scatters] * size, (1.0 - p[scatters]) * size
    log_chance[scatters] = betaln(a + y, b + trials - y) - betaln(a, b)
    chances = np.exp(ways + log_chance)
    total: Floats = chances / chances.sum(axis=1, keepdims=True)
    return total


def _checked(mean: float, rho: float) -> None:
    if not 0.0 <= mean <= 1.0:
        raise ValueError(f"The mean must be a share between 0 and 1, not {mean:g}.")
    if not 0.0 <= rho <= 1.0:
        raise ValueError(f"The spread must lie between 0 and 1, not {rho:g}.")
