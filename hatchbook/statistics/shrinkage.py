"""Estimates of small groups, drawn towards the mean of all (empirical Bayes)."""

from __future__ import annotations

import numpy as np

from hatchbook.statistics.spread import Floats


def shrunken_means(shares: Floats, effective_trials: Floats) -> Floats:
    """The share of each group, drawn towards the mean of all the more, the less its eggs are worth.

    Weights are the groups' own variance against the variance between groups, which is found by moments and never
    below 0 (DerSimonian & Laird 1986, Control. Clin. Trials 7:177-188; Morris 1983, J. Am. Statist. Assoc.
    78:47-55). Where the groups do not differ more than their eggs and batches make them, all are the mean of all.

    Args:
        shares, effective_trials: of each group; without trials a group is the mean of all.

    Returns:
        As many shares between 0 and 1; nothing known at all: 1/2.
    """
    trials = np.asarray(effective_trials, dtype=np.float64)
    total = float(trials.sum())
    if total <= 0.0:
        return np.full(trials.shape, 0.5)
    mean = float((trials * shares).sum() / total)
    chance = mean * (1.0 - mean)
    between = 0.0
    spare = total - float((trials**2).sum()) / total
    groups = int((trials > 0).sum())
    if chance > 0.0 and spare > 0.0:
        scatter = float((trials * (shares - mean) ** 2).sum()) / chance
        between = max(scatter - (groups - 1), 0.0) * chance / spare
    if between == 0.0:
        return np.full(trials.shape, mean)
    worth = np.where(trials > 0, 1.0 / (between + chance / np.maximum(trials, 1e-300)), 0.0)
    centre = float((worth * shares).sum() / worth.sum())
    drawn: Floats = centre + between * worth * (shares - centre)
    return drawn


def shrunken_share(hits: int, trials: int, mean: float, rho: float) -> float:
    """The true share of one batch, as far as its eggs and the other batches tell it.

    The mean of the beta distribution after the hits: (alpha + hits) / (alpha + beta + trials), with alpha + beta =
    1 / rho - 1 (Gelman et al., Bayesian Data Analysis, chapter 5). Without a spread every batch is the mean.

    Raises:
        ValueError: when the spread is not at least 0 and at most 1, or both it and the trials are such that
        nothing
            is known.
    """
    if not 0.0 <= rho <= 1.0:
        raise ValueError(f"The spread must lie between 0 and 1, not {rho:g}.")
    if rho == 0.0 or trials == 0:
        return mean
    prior = 1.0 / rho - 1.0
    return (prior * mean + hits) / (prior + trials)
