"""Whether batches get better or worse from season to season, or with the age of the eggs."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.comparison_results import Trend
from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.logit_model import expit, fit, likelihood_ratio, scores, spread_around, widening
from hatchbook.statistics.spread import Spread, counted


def trend(
    hits: ArrayLike,
    trials: ArrayLike,
    at: ArrayLike,
    confidence: float = 0.95,
    *,
    rho: float | None = None,
) -> Trend | None:
    """The trend of batches over their scores; None: too few to say.

    A straight line on the logit scale with a common spread around it, so that seasons which leave the line widen
    the spread too. The chance is that of the score test, averaged over the spreads that are possible; with a
    spread of 0 it is the Cochran-Armitage test.

    Args:
        hits, trials: whole numbers, one a batch.
        at: the score of each batch, e.g. its season; what one step is, the slope says of.
        rho: a spread known from elsewhere; None: estimated around the line.

    Raises:
        ValueError: when the counts can not be, or there is not one score for each batch.
    """
    from scipy.special import chdtrc

    normal_quantile(confidence)
    x = np.atleast_1d(np.asarray(at, dtype=np.float64))
    kept = np.atleast_1d(np.asarray(trials)) > 0
    y, n = counted(hits, trials)
    if x.size != kept.size or not np.isfinite(x).all():
        raise ValueError("There must be one score for each batch.")
    x = x[kept]
    if n.size == 0 or x.min() == x.max() or not 0 < y.sum() < n.sum():
        return None
    unit = float(x.max() - x.min())
    centred = (x - float((n * x).sum() / n.sum())) / unit
    one = np.ones((x.size, 1))
    line = np.column_stack([one, centred])
    spread = spread_around(line, y, n, confidence) if rho is None else Spread.given(rho)
    if not spread.known:
        return None
    asked = scores(one, centred[:, None], y, n, spread.nodes).of_each()[:, 0]
    chance = float(spread.averaged(chdtrc(1, asked)))
    if rho is None:
        best = np.array([spread.rho])
        at_best = float(scores(one, centred[:, None], y, n, best).of_each()[0, 0])
        ratio = likelihood_ratio(one, line, y, n, spread.rho)
        chance = max(chance, float(spread.averaged(chdtrc(1, asked * (ratio / max(at_best, 1e-12))))))
    for_range = spread.for_ranges
    fitted = fit(line, y.astype(np.float64), n.astype(np.float64), np.append(spread.rho, for_range.nodes))
    variance = np.linalg.inv(fitted.information)[:, 1, 1]
    constant, slope = fitted.coefficients[0]
    half = widening(for_range, variance[1:] / variance[0], confidence) * float(np.sqrt(variance[0]))
    middle = float(expit(np.array([constant]))[0])
    points = middle * (1.0 - middle) / unit
    ends = expit(constant + slope * np.array([centred.min(), centred.max()]))
    return Trend(
        slope=float(slope) / unit,
        slope_low=float(slope - half) / unit,
        slope_high=float(slope + half) / unit,
        points=float(slope) * points,
        points_low=float(slope - half) * points,
        points_high=float(slope + half) * points,
        from_score=float(x.min()),
        to_score=float(x.max()),
        from_mean=float(ends[0]),
        to_mean=float(ends[1]),
        p=min(chance, 1.0),
        rho=spread.rho,
        df=spread.df,
        batches=int(n.size),
    )
