"""Shares of batches on the logit scale, with the spread from batch to batch counted.

The means are fitted by quasi-likelihood: a batch of n eggs has the weight n / (1 + (n - 1) rho) (Williams 1982,
Appl. Statist. 31:144-148), for every possible spread at once; the spread is judged by the beta-binomial
likelihood around these means, as in `hatchbook.statistics.spread`. Designs are (batches, columns).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.spread import UNKNOWN, Counts, Floats, Spread, spread_of

_RIDGE = 1e-3
"""A normal prior of standard deviation 30 logits on each coefficient: finite where all of a column hatched."""
_LEAST_INFORMATION = 0.02
"""A coefficient with a standard error of more than 7 logits is not asked for by anything but the prior."""
_FARTHEST = 15.0  # logits
_LONGEST_STEP = 3.0


@dataclass(frozen=True)
class Fit:
    """A fit for each possible spread.

    Attributes:
        coefficients: (spreads, columns); shares: (spreads, batches).
        information: (spreads, columns, columns).
    """

    coefficients: Floats
    shares: Floats
    information: Floats


def expit(logits: Floats) -> Floats:
    """The shares of logits; beyond 15 they stay there."""
    shares: Floats = 1.0 / (1.0 + np.exp(-np.clip(logits, -_FARTHEST, _FARTHEST)))
    return shares


def fit(design: Floats, hits: Floats, trials: Floats, rho: Floats) -> Fit:
    """Fits the coefficients for each spread, by Newton's method with steps kept short."""
    worth = 1.0 / (1.0 + (trials - 1.0) * rho[:, None]).clip(min=1e-12)
    coefficients = np.zeros((rho.size, design.shape[1]))
    ridge = _RIDGE * np.eye(design.shape[1])
    for _ in range(200):
        shares = expit(coefficients @ design.T)
        information = (design.T * (worth * trials * shares * (1.0 - shares))[:, None, :]) @ design + ridge
        slope = (worth * (hits - trials * shares)) @ design - _RIDGE * coefficients
        step = np.linalg.solve(information, slope[:, :, None])[:, :, 0]
        farthest = np.abs(step @ design.T).max(axis=1, keepdims=True)
        step *= np.minimum(1.0, _LONGEST_STEP / np.maximum(farthest, _LONGEST_STEP))
        coefficients = coefficients + step
        if float(np.minimum(farthest, np.abs(step).max()).max()) < 1e-9:
            break
    shares = expit(coefficients @ design.T)
    information = (design.T * (worth * trials * shares * (1.0 - shares))[:, None, :]) @ design + ridge
    return Fit(coefficients, shares, information)


def log_likelihood(hits: Floats, trials: Floats, shares: Floats, rho: Floats) -> Floats:
    """The log likelihood (spreads,) around shares (spreads, batches), without the binomial coefficients."""
    from scipy.special import betaln

    p = np.clip(shares, 1e-12, 1.0 - 1e-12)
    result = (hits * np.log(p) + (trials - hits) * np.log1p(-p)).sum(axis=1)
    spread = rho > 1e-8
    size = (1.0 / rho[spread] - 1.0)[:, None]
    a, b = p[spread] * size, (1.0 - p[spread]) * size
    result[spread] = (betaln(a + hits, b + trials - hits) - betaln(a, b)).sum(axis=1)
    return np.asarray(result, dtype=np.float64)


def likelihood_ratio(small: Floats, large: Floats, hits: Counts, trials: Counts, rho: float) -> float:
    """The likelihood ratio of two designs at a spread, each fitted by quasi-likelihood; not below 0."""
    y, n, at = hits.astype(np.float64), trials.astype(np.float64), np.array([rho])
    low, high = (log_likelihood(y, n, fit(design, y, n, at).shares, at)[0] for design in (small, large))
    return max(2.0 * float(high - low), 0.0)


def basis(design: Floats) -> Floats:
    """Columns that span the same means without saying anything twice, orthogonal."""
    left, sizes, _ = np.linalg.svd(design, full_matrices=False)
    rank = int((sizes > 1e-9 * max(design.shape) * sizes[0]).sum()) if sizes.size else 0
    columns: Floats = left[:, :rank] * np.sqrt(design.shape[0])
    return columns


def spread_around(design: Floats, hits: Counts, trials: Counts, confidence: float) -> Spread:
    """The spread of batches around the means of a design.

    Weighed evenly in the variance of a batch, a little more cautious than within groups: means by quasi-likelihood
    and the expected information leave the spread a little too low, as simulation shows.
    """
    columns = basis(design)
    speaks = trials >= 2
    df = int(speaks.sum()) - columns.shape[1]
    if df < 1 or not 0 < hits.sum() < trials.sum():
        return UNKNOWN
    y, n = hits.astype(np.float64), trials.astype(np.float64)

    def log_weight(rho: Floats) -> Floats:
        fitted = fit(columns, y, n, rho)
        information = np.linalg.slogdet(fitted.information)[1]
        taken_out: Floats = log_likelihood(y, n, fitted.shares, rho) - 0.5 * information
        return taken_out

    return spread_of(log_weight, float(n[speaks].mean()), df, confidence, even_in=1.0)


@dataclass(frozen=True)
class Scores:
    """How strongly the batches ask for each of some columns beside a design, for each possible spread.

    Attributes:
        slopes: (spreads, columns); information: (spreads, columns, columns), what the design leaves of it.
        rank: how many of the columns say something that the design and the others do not.
    """

    slopes: Floats
    information: Floats
    rank: int

    def of_each(self) -> Floats:
        """The chi-square of each column alone, (spreads, columns); 0 where the design holds it already."""
        variance = np.diagonal(self.information, axis1=1, axis2=2)
        enough: NDArray[np.bool_] = variance > _LEAST_INFORMATION
        statistic: Floats = np.where(enough, self.slopes**2 / np.where(enough, variance, 1.0), 0.0)
        return statistic

    def of_all(self) -> tuple[Floats, int]:
        """The statistic of all columns together, (spreads,), and its degrees of freedom."""
        if self.rank == 0:
            return np.zeros(self.slopes.shape[0]), 0
        sizes, axes = np.linalg.eigh(self.information)
        along = np.einsum("tci,tc->ti", axes, self.slopes)[:, -self.rank :]
        sizes = sizes[:, -self.rank :]
        enough = sizes > _LEAST_INFORMATION
        statistic: Floats = np.where(enough, along**2 / np.where(enough, sizes, 1.0), 0.0).sum(axis=1)
        return statistic, self.rank


def scores(design: Floats, columns: Floats, hits: Counts, trials: Counts, rho: Floats) -> Scores:
    """The score test of columns beside a design (McCullagh & Nelder 1989, Generalized Linear Models, 9.4)."""
    y, n = hits.astype(np.float64), trials.astype(np.float64)
    null = fit(design, y, n, rho)
    worth = 1.0 / (1.0 + (n - 1.0) * rho[:, None]).clip(min=1e-12)
    weights = worth * n * null.shares * (1.0 - null.shares)
    slopes = (worth * (y - n * null.shares)) @ columns
    own = (columns.T * weights[:, None, :]) @ columns
    shared = (columns.T * weights[:, None, :]) @ design
    information = own - shared @ np.linalg.solve(null.information, np.swapaxes(shared, 1, 2))
    rank = basis(np.column_stack([design, columns])).shape[1] - basis(design).shape[1]
    return Scores(slopes, information, rank)


def widening(spread: Spread, variances: Floats, confidence: float) -> float:
    """How many standard errors at the most likely spread a range has on either side.

    The normal tails, averaged over the spreads, with a variance for each, hold what the confidence leaves.

    Args:
        variances: relative to that at the most likely spread, (spreads,).
    """
    from scipy.special import ndtr

    low, high = 0.0, 1e6
    for _ in range(80):
        middle = (low + high) / 2.0
        tail = float(spread.averaged(ndtr(-middle / np.sqrt(variances))))
        low, high = (middle, high) if tail > 0.5 - confidence / 2.0 else (low, middle)
    return high
