"""The spread from batch to batch: what batches say of it, and how sure that is.

A batch of n eggs whose true share scatters around the mean p of its group with the spread rho (the correlation of
two eggs of one batch) is beta-binomial: with theta = rho / (1 - rho),

    P(y hits) = C(n, y) prod_{k<y} (p + k theta) prod_{k<n-y} (1 - p + k theta) / prod_{k<n} (1 + k theta)

(Griffiths 1973, Biometrics 29:637-648), binomial at rho = 0. So a group needs only how many of its batches had
more than k hits, misses and eggs, for each k; `Tally` holds that.

The maximum likelihood estimate of rho is too low with few batches a group, since the means are fitted too. What
is known of rho is therefore taken from the likelihood with the means taken out, -1/2 log |information| (Cox &
Reid 1987, J. R. Statist. Soc. B 49:1-39), and every chance and range is averaged over the spreads that are
possible, each weighed by that likelihood, evenly in the standard deviation of a batch, the root of 1 + (n - 1)
rho (Gelman 2006, Bayesian Anal. 1:515-533). For batches of normal scatter such an average is Student's t and
Fisher's F, with one degree of freedom less; where many batches say that the spread is nil it is the binomial.
Nothing is drawn at random.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.intervals import normal_quantile

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]

HIGHEST_RHO = 0.999
_COARSE, _NODES = 25, 41
_DROP = 18.0  # in log likelihood: what is less likely than exp(-18) of the best is left out
_CELLS = 1_000_000  # of an array at a time
ENOUGH_FOR_NIL = 5
"""With fewer batches that speak of the spread, less one a group, nil may well be chance."""


def counted(hits: ArrayLike, trials: ArrayLike) -> tuple[Counts, Counts]:
    """The counts of batches as whole numbers, checked; batches without trials are left out.

    Raises:
        ValueError: when the counts are not whole numbers with 0 <= hits <= trials, or not as many of one as of
            the other.
    """
    columns = []
    for values in (hits, trials):
        array = np.atleast_1d(np.asarray(values))
        if array.size == 0:
            array = array.astype(np.int64)
        if array.ndim != 1 or array.dtype.kind not in "iu":
            raise ValueError("Eggs are counted in whole numbers, one for each batch.")
        columns.append(array.astype(np.int64))
    y, n = columns
    if y.size != n.size:
        raise ValueError(f"There are {y.size} counts of hits for {n.size} batches.")
    wrong = np.flatnonzero((y < 0) | (n < 0) | (y > n))
    if wrong.size:
        raise ValueError(f"{y[wrong[0]]} of {n[wrong[0]]} eggs can not be.")
    return y[n > 0], n[n > 0]


class Tally:
    """The counts that the likelihood of each group needs.

    Attributes:
        hits, misses: totals of each group, shape (groups,).
        above_hits, above_misses, above_trials: batches of each group with more than k of them, (groups, largest).
    """

    def __init__(self, above_hits: Floats, above_misses: Floats, above_trials: Floats) -> None:
        self.above_hits, self.above_misses, self.above_trials = above_hits, above_misses, above_trials
        self.hits: Floats = above_hits.sum(axis=1)
        self.misses: Floats = above_misses.sum(axis=1)
        self._steps = np.arange(above_trials.shape[1], dtype=np.float64)

    @classmethod
    def of(cls, hits: Counts, trials: Counts, group: Counts, groups: int) -> Tally:
        """The tally of batches, each in the group of its number."""
        largest = int(trials.max(initial=1))
        return cls(*(_above(counts, group, groups, largest) for counts in (hits, trials - hits, trials)))

    def of_groups(self, members: NDArray[np.bool_]) -> Tally:
        """Groups put together: `members` (new groups, groups) says which."""
        return Tally(members @ self.above_hits, members @ self.above_misses, members @ self.above_trials)

    def log_likelihood(self, means: Floats, rho: Floats) -> Floats:
        """Of each group at its mean, without the binomial coefficients; means and result (spreads, groups)."""
        result = np.empty(means.shape)
        for part, k in self._parts(rho, means.shape[1]):
            p = means[part][:, :, None]
            of_hits = np.log(np.where(self.above_hits > 0, p + k, 1.0))
            of_misses = np.log(np.where(self.above_misses > 0, 1.0 - p + k, 1.0))
            result[part] = (
                _over_steps(self.above_hits, of_hits)
                + _over_steps(self.above_misses, of_misses)
                - np.log1p(k[:, 0]) @ self.above_trials.T
            )
        return result

    def information(self, means: Floats, rho: Floats) -> Floats:
        """Minus the second derivative by the mean; the means strictly between none and all."""
        return self._slope_and_bend(means, rho)[1]

    def best_means(self, rho: Floats) -> Floats:
        """The most likely mean of each group at each spread (spreads, groups); 1/2 without trials.

        The likelihood is concave in the mean: Newton's steps, kept inside a bracket that shrinks.
        """
        total = self.hits + self.misses
        start = np.where(total > 0, self.hits / np.maximum(total, 1.0), 0.5)
        means = np.broadcast_to(start, (rho.size, start.size)).copy()
        inner = (self.hits > 0) & (self.misses > 0)
        if not inner.any():
            return means
        x = means[:, inner]
        low, high = np.zeros(x.shape), np.ones(x.shape)
        for _ in range(100):
            slope, bend = self._slope_and_bend(x, rho, inner)
            low, high = np.where(slope > 0, x, low), np.where(slope > 0, high, x)
            step = x + slope / bend
            step = np.where((step >= low) & (step <= high), step, (low + high) / 2)
            moved = np.abs(step - x).max()
            x = step
            if moved < 1e-11:
                break
        means[:, inner] = x
        return means

    def _slope_and_bend(
        self, means: Floats, rho: Floats, which: NDArray[np.bool_] | None = None
    ) -> tuple[Floats, Floats]:
        """The first derivative of the log likelihood by the mean, and minus the second, of some groups."""
        hits = self.above_hits if which is None else self.above_hits[which]
        misses = self.above_misses if which is None else self.above_misses[which]
        slope, bend = np.empty(means.shape), np.empty(means.shape)
        for part, k in self._parts(rho, means.shape[1]):
            p = means[part][:, :, None]
            of_hits, of_misses = 1.0 / (p + k), 1.0 / (1.0 - p + k)
            slope[part] = _over_steps(hits, of_hits) - _over_steps(misses, of_misses)
            bend[part] = _over_steps(hits, of_hits**2) + _over_steps(misses, of_misses**2)
        return slope, bend

    def _parts(self, rho: Floats, groups: int) -> Iterator[tuple[slice, Floats]]:
        """The spreads in parts that are not too large, each with k theta (spreads, 1, k)."""
        theta = rho / (1.0 - rho)
        size = max(_CELLS // (groups * self._steps.size), 1)
        for start in range(0, rho.size, size):
            part = slice(start, start + size)
            yield part, theta[part, None, None] * self._steps


def _above(values: Counts, group: Counts, groups: int, largest: int) -> Floats:
    """How many values of each group are above k, for k = 0 ... largest - 1."""
    table = np.zeros((groups, largest + 1))
    np.add.at(table, (group, values), 1.0)
    return np.cumsum(table[:, ::-1], axis=1)[:, ::-1][:, 1:].copy()


def _over_steps(weights: Floats, values: Floats) -> Floats:
    """The weighted sum over k: (groups, k), (spreads, groups, k) -> (spreads, groups)."""
    total: Floats = np.einsum("gk,tgk->tg", weights, values)
    return total


@dataclass(frozen=True)
class Spread:
    """What is known of the spread.

    Attributes:
        rho: the most likely one; 0 where it is nil or can not be known.
        low, high: its range; (0, 1) where it can not be known.
        known: two batches of one group, with hits and misses, speak of it.
        df: how many batches speak of it, less one a group.
        nodes, weights: the spreads that are possible, and how much each counts; the weights add up to 1.
    """

    rho: float
    low: float
    high: float
    known: bool
    df: int
    nodes: Floats
    weights: Floats

    @classmethod
    def given(cls, rho: float) -> Spread:
        """A spread known from elsewhere.

        Raises:
            ValueError: when it is not at least 0 and below 1.
        """
        if not 0.0 <= rho < 1.0:
            raise ValueError(f"The spread must be at least 0 and below 1, not {rho:g}.")
        return cls(rho, rho, rho, True, 0, np.array([min(rho, HIGHEST_RHO)]), np.ones(1))

    @property
    def testable(self) -> bool:
        """Whether a test can be averaged over the spreads that are possible."""
        return self.known or self.nodes.size > 1

    @property
    def pooled(self) -> bool:
        """Nil or not known: the ranges are those of all eggs of a group together."""
        return self.rho == 0.0

    @property
    def at_best(self) -> Spread:
        """The same, as if the most likely spread were certain."""
        return replace(self, nodes=np.array([self.rho]), weights=np.ones(1))

    @property
    def for_ranges(self) -> Spread:
        """What ranges are averaged over: nil alone where it is not known, or nil and enough batches say so."""
        if self.rho == 0.0 and (self.df >= ENOUGH_FOR_NIL or not self.known):
            return self.at_best
        return self

    def averaged(self, values: Floats) -> Floats:
        """The average of values over the spreads, which are the first axis."""
        average: Floats = self.weights @ values
        return average


UNKNOWN = Spread(0.0, 0.0, 1.0, False, 0, np.zeros(1), np.ones(1))
"""The spread of which nothing is known, taken as nil."""


def _nothing_said(size: float) -> Spread:
    """Every spread is possible: where all or none hit in each group, a test is averaged over all."""
    scale = max(size - 1.0, 1.0)
    at = np.linspace(0.0, math.log1p(scale * HIGHEST_RHO), _NODES)
    weights = np.exp(at / 2.0)
    weights[[0, -1]] /= 2.0
    return replace(
        UNKNOWN, nodes=np.minimum(np.expm1(at) / scale, HIGHEST_RHO), weights=weights / weights.sum()
    )


def spread_within(hits: Counts, trials: Counts, group: Counts, groups: int, confidence: float) -> Spread:
    """What batches say of their common spread within groups, each batch in the group of its number."""
    speaks = trials >= 2
    batches = np.bincount(group[speaks], minlength=groups)
    total_hits, total = (np.bincount(group, counts, groups) for counts in (hits, trials))
    telling = (batches >= 2) & (total_hits > 0) & (total_hits < total)
    if not telling.any():
        return _nothing_said(float(trials[speaks].mean())) if (batches >= 2).any() else UNKNOWN
    chosen = telling[group]
    number = np.cumsum(telling) - 1
    tally = Tally.of(hits[chosen], trials[chosen], number[group[chosen]], int(telling.sum()))
    df = int((batches[telling] - 1).sum())
    return spread_of(within_groups(tally), float(trials[chosen & speaks].mean()), df, confidence)


def within_groups(tally: Tally) -> Callable[[Floats], Floats]:
    """The log weight of spreads within groups, each with hits and misses, that have means of their own."""

    def log_weight(rho: Floats) -> Floats:
        means = tally.best_means(rho)
        fit = tally.log_likelihood(means, rho).sum(axis=1)
        taken_out: Floats = fit - 0.5 * np.log(tally.information(means, rho)).sum(axis=1)
        return taken_out

    return log_weight


def spread_of(
    log_weight: Callable[[Floats], Floats], size: float, df: int, confidence: float, *, even_in: float = 0.5
) -> Spread:
    """What is known of the spread from the log weight of given spreads.

    The range is where twice the fall from the best is below the squared normal quantile.

    Args:
        size: eggs of an ordinary batch.
        df: how many batches speak of it, less what was fitted.
        even_in: the power of a batch's variance in which spreads are weighed evenly; 0.5 is its standard deviation.
    """
    scale = max(size - 1.0, 1.0)
    last = math.log1p(scale * HIGHEST_RHO)
    low, high, nodes = 0.0, last, _COARSE
    for _ in range(6):
        at = np.linspace(low, high, nodes)
        rho = np.minimum(np.expm1(at) / scale, HIGHEST_RHO)
        log_weights = log_weight(rho)
        likely = np.flatnonzero(log_weights > log_weights.max() - _DROP)
        low, high = at[max(likely[0] - 1, 0)], at[min(likely[-1] + 1, nodes - 1)]
        if nodes == _NODES and likely.size > _NODES // 2:
            break
        nodes = _NODES
    weights = np.exp(log_weights - log_weights.max() + even_in * at)  # the variance is exp(at)
    weights[[0, -1]] /= 2.0
    best, top = _peak(at, log_weights)
    # the root of the fall is nearly straight on either side of the best
    fall = np.sqrt(np.maximum(2.0 * (top - log_weights), 0.0))
    z = normal_quantile(confidence)
    under, over = at < best, at > best
    ends = (
        np.interp(-z, np.append(-fall[under], 0.0), np.append(at[under], best)),
        np.interp(z, np.append(0.0, fall[over]), np.append(best, at[over])),
    )
    from_rho, to_rho = (float(np.expm1(end) / scale) for end in ends)
    if ends[1] >= last:
        to_rho = 1.0
    return Spread(float(np.expm1(best) / scale), from_rho, to_rho, True, df, rho, weights / weights.sum())


def _peak(at: Floats, height: Floats) -> tuple[float, float]:
    """Where a curve known at even steps is highest, by the parabola through the best three, and how high."""
    best = int(np.argmax(height))
    if best in (0, at.size - 1):
        return float(at[best]), float(height[best])
    before, top, after = height[best - 1 : best + 2]
    shift = 0.5 * (before - after) / (before - 2.0 * top + after)
    return float(at[best] + shift * (at[1] - at[0])), float(top - 0.25 * (before - after) * shift)
