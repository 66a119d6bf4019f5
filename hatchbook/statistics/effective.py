"""Counts that are worth as much as eggs that do not hang together, and the ranges and chances they give."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.spread import Counts, Floats, Spread, Tally


@dataclass(frozen=True)
class Effective:
    """Counts that are worth as much as eggs that did not hang together: of each group at each possible spread.

    A batch of n eggs counts n / (1 + (n - 1) rho) eggs (Donald & Donner 1987, Stat. Med. 6:491-499; Rao & Scott
    1992, Biometrics 48:577-585). Shape (spreads, groups).
    """

    hits: Floats
    trials: Floats

    @classmethod
    def of(cls, hits: Counts, trials: Counts, group: Counts, groups: int, rho: Floats) -> Effective:
        """The effective counts of batches, each in its group."""
        by_group = np.zeros((2, rho.size, groups))
        worth = 1.0 / (1.0 + (trials - 1.0) * rho[:, None])
        for row, counts in enumerate((hits, trials)):
            for node in range(rho.size):
                by_group[row, node] = np.bincount(group, worth[node] * counts, groups)
        return cls(by_group[0], by_group[1])

    @property
    def share(self) -> Floats:
        """The share of each group; 1/2 without trials."""
        share: Floats = np.where(self.trials > 0, self.hits / np.maximum(self.trials, 1e-300), 0.5)
        return np.clip(share, 0.0, 1.0)

    def of_groups(self, members: NDArray[np.bool_]) -> Effective:
        """Groups put together: `members` (new groups, groups) says which."""
        return Effective(self.hits @ members.T, self.trials @ members.T)


def wilson_ranges(counts: Effective, spread: Spread, confidence: float) -> tuple[Floats, Floats]:
    """The range of each group's mean, (low, high): Wilson's at each spread, averaged over the spreads.

    The tails on each side, averaged, hold half of what the confidence leaves. Without trials: (0, 1).
    """
    from scipy.special import ndtr

    share, trials = counts.share, counts.trials
    tail = 0.5 - confidence / 2.0
    normal_quantile(confidence)

    def beyond(x: Floats, side: float) -> Floats:
        with np.errstate(divide="ignore", invalid="ignore"):
            z = (share - x) * np.sqrt(trials / (x * (1.0 - x)))
        return spread.averaged(ndtr(-side * z))

    ends = []
    for side in (1.0, -1.0):
        middle = spread.averaged(share)
        outer = np.full(middle.shape, 0.0 if side > 0 else 1.0)
        inner = middle
        for _ in range(40):
            x = (outer + inner) / 2.0
            out = beyond(x, side) < tail
            outer, inner = np.where(out, x, outer), np.where(out, inner, x)
        ends.append(outer)
    low, high = ends
    hits, misses = counts.hits.max(axis=0), (counts.trials - counts.hits).max(axis=0)
    return np.where(hits <= 0, 0.0, low), np.where(misses <= 1e-12, 1.0, high)


def square_and_add(
    a: tuple[Floats, Floats, Floats], b: tuple[Floats, Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """The difference a - b of means, each given as (mean, low, high), and its range (Newcombe 1998, method 10).

    The ranges count the spread, and so does this (Zou & Donner 2008, Stat. Med. 27:1693-1702).
    """
    difference = a[0] - b[0]
    low = difference - np.hypot(a[0] - a[1], b[2] - b[0])
    high = difference + np.hypot(a[2] - a[0], b[0] - b[1])
    return difference, np.maximum(low, -1.0), np.minimum(high, 1.0)


def best_fits(tally: Tally, spread: Spread) -> Floats:
    """The log likelihood of each group at its best mean, for each possible spread: (spreads, groups)."""
    return tally.log_likelihood(tally.best_means(spread.nodes), spread.nodes)


def chance_of_two(apart: Floats, together: Floats, a: Effective, b: Effective, spread: Spread) -> Floats:
    """The chance of as large a difference of two means where there is none; of many pairs at once.

    The more cautious of the likelihood-ratio test and the score test (the 2 x 2 chi-square of the effective
    counts), each averaged over the possible spreads: the first is too bold where nearly all hatch, the second
    where one mishap makes the scatter.

    Args:
        apart, together: log likelihoods with a mean for each of the two and with one for both, (spreads, pairs).
    """
    from scipy.special import chdtrc

    trials = a.trials + b.trials
    share = (a.hits + b.hits) / trials
    variance = share * (1.0 - share) * (1.0 / a.trials + 1.0 / b.trials)
    score = (a.share - b.share) ** 2 / np.maximum(variance, 1e-300)
    ratio = np.maximum(2.0 * (apart - together), 0.0)
    return np.minimum(np.maximum(spread.averaged(chdtrc(1, ratio)), spread.averaged(chdtrc(1, score))), 1.0)


def chance_of_many(
    apart: Floats, together: Floats, counts: Effective, groups_df: int, spread: Spread
) -> float:
    """The chance of means as far apart where all are one: the more cautious of two tests, as `chance_of_two`.

    Args:
        apart, together: log likelihoods with a mean for each group and with one for all, (spreads,).
    """
    from scipy.special import chdtrc

    share = (counts.hits.sum(axis=1) / counts.trials.sum(axis=1))[:, None]
    score = (counts.trials * (counts.share - share) ** 2 / np.maximum(share * (1.0 - share), 1e-300)).sum(
        axis=1
    )
    ratio = np.maximum(2.0 * (apart - together), 0.0)
    chances = (float(spread.averaged(chdtrc(groups_df, test))) for test in (ratio, score))
    return min(max(chances), 1.0)
