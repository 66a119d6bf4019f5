"""The batches of one group: their mean, and their spread by maximum likelihood."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.comparison_results import BetaBinomial
from hatchbook.statistics.effective import Effective, wilson_ranges
from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.spread import HIGHEST_RHO, Counts, Tally, counted, spread_within


def beta_binomial(hits: ArrayLike, trials: ArrayLike, confidence: float = 0.95) -> BetaBinomial:
    """The mean and the spread of the batches of one group.

    Mean, `rho` and `log_likelihood` are those of maximum likelihood; `rho_corrected`, both ranges and `pooled`
    count that the mean is estimated too (`hatchbook.statistics.spread`). The range of the mean is Wilson's with
    the counts that the batches are worth, averaged over the spreads that are possible.

    Args:
        hits, trials: whole numbers, one a batch; batches without trials are left out.

    Raises:
        ValueError: when the counts can not be, or the confidence is not between 0 and 1.
    """
    normal_quantile(confidence)
    y, n = counted(hits, trials)
    if n.size == 0:
        return BetaBinomial(None, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0, 0, 0, True, False, 0)
    group = np.zeros(n.size, dtype=np.int64)
    spread = spread_within(y, n, group, 1, confidence)
    for_range = spread.for_ranges
    lows, highs = wilson_ranges(Effective.of(y, n, group, 1, for_range.nodes), for_range, confidence)
    tally = Tally.of(y, n, group, 1)
    rho = most_likely_rho(tally) if spread.known else 0.0
    at = np.array([rho])
    mean = tally.best_means(at)
    log_likelihood = float(tally.log_likelihood(mean, at)[0, 0]) + log_coefficients(y, n)
    best = float(mean[0, 0])
    return BetaBinomial(
        mean=best,
        low=min(float(lows[0]), best),
        high=max(float(highs[0]), best),
        rho=rho,
        rho_corrected=spread.rho,
        rho_low=min(spread.low, rho),
        rho_high=max(spread.high, rho),
        log_likelihood=log_likelihood,
        batches=n.size,
        hits=int(y.sum()),
        trials=int(n.sum()),
        pooled=spread.pooled,
        spread_known=spread.known,
        df=spread.df,
    )


def most_likely_rho(tally: Tally) -> float:
    """The spread of maximum likelihood, the best mean of each group fitted with it; within about 1e-10.

    The likelihood over a grid even in the logarithm of the variance, drawn closer around its highest point.
    """
    scale = max(float((tally.hits + tally.misses).sum() / tally.above_trials[:, 0].sum()) - 1.0, 1.0)
    low, high = 0.0, math.log1p(scale * HIGHEST_RHO)
    for _ in range(10):
        at = np.linspace(low, high, 25)
        rho = np.minimum(np.expm1(at) / scale, HIGHEST_RHO)
        fit = tally.log_likelihood(tally.best_means(rho), rho).sum(axis=1)
        best = int(np.argmax(fit))
        low, high = at[max(best - 1, 0)], at[min(best + 1, at.size - 1)]
    return float(rho[best])


def log_coefficients(hits: Counts, trials: Counts) -> float:
    """The logarithm of the binomial coefficients of the batches, added up."""
    from scipy.special import gammaln

    return float((gammaln(trials + 1.0) - gammaln(hits + 1.0) - gammaln(trials - hits + 1.0)).sum())
