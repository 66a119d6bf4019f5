"""Is it better, or is it luck: groups of batches compared, with the spread from batch to batch counted.

Eggs of one batch share machine, weather and mishaps, so batches scatter more than their eggs alone would make
them, and a test that takes each egg for a trial of its own finds differences that are chance. The model is
beta-binomial: each batch has its own true share, scattered around its group's mean with a spread common to all
groups, which is estimated within the groups (Crowder 1978, Appl. Statist. 27:34-37). How sure it is counts in
every range and chance (`hatchbook.statistics.spread`).

One entry is one batch: parts of a batch in the same group are added up before they come here. Parts of one batch
in different groups (eggs of several pens) are compared as if they were batches of their own; since they share the
batch's luck, differences are then rather less sure than they could be, never more.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.adjustment import adjusted_comparison
from hatchbook.statistics.beta_binomial import beta_binomial
from hatchbook.statistics.comparison_results import (
    LEVEL,
    AdjustedComparison,
    AdjustedGroup,
    BatchChance,
    BetaBinomial,
    Comparison,
    Entry,
    GroupAgainstRest,
    GroupDifference,
    GroupEstimate,
    Key,
    Overlap,
    Trend,
)
from hatchbook.statistics.control_limits import batch_among, batch_chance, control_limits
from hatchbook.statistics.effective import Effective, wilson_ranges
from hatchbook.statistics.group_tests import holm
from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.pairing import Tested, against_rest, pairs
from hatchbook.statistics.power import batches_needed
from hatchbook.statistics.shrinkage import shrunken_means, shrunken_share
from hatchbook.statistics.spread import Counts, Spread, counted, spread_within
from hatchbook.statistics.trend import trend

__all__ = [
    "LEVEL",
    "AdjustedComparison",
    "AdjustedGroup",
    "BatchChance",
    "BetaBinomial",
    "Comparison",
    "Entry",
    "GroupAgainstRest",
    "GroupDifference",
    "GroupEstimate",
    "Key",
    "Overlap",
    "Trend",
    "adjusted_comparison",
    "batch_among",
    "batch_chance",
    "batches_needed",
    "beta_binomial",
    "compare_groups",
    "control_limits",
    "holm",
    "shrunken_share",
    "trend",
]


def compare_groups(
    groups: Mapping[Key, tuple[ArrayLike, ArrayLike]],
    confidence: float = 0.95,
    *,
    rho: float | None = None,
    fewest_batches: int = 2,
    fewest_eggs: int = 25,
    most_paired: int = 24,
) -> Comparison[Key]:
    """Compares groups of batches.

    Args:
        groups: (hits, trials) of each group's batches, whole numbers, one entry a batch; batches without trials
            are left out.
        confidence: of the ranges.
        rho: a spread known from elsewhere (0: the eggs do not hang together at all); None: estimated here.
        fewest_batches, fewest_eggs: a group with fewer is too small to be compared.
        most_paired: pairs of groups are compared up to so many groups; a pair of many is a comparison of its own.

    Raises:
        ValueError: when counts or confidence can not be.
    """
    normal_quantile(confidence)
    y, n, group = _batches(groups)
    many = len(groups)
    spread = spread_within(y, n, group, many, confidence) if rho is None else Spread.given(rho)
    batches, hits, trials = (
        np.bincount(group, counts, many).astype(int) for counts in (np.ones_like(y), y, n)
    )
    large = (batches >= fewest_batches) & (trials >= fewest_eggs)

    for_ranges = spread.for_ranges
    worth = Effective.of(y, n, group, many, for_ranges.nodes)
    low, high = wilson_ranges(worth, for_ranges, confidence)
    at_best = Effective.of(y, n, group, many, np.array([spread.rho]))
    mean = np.clip(at_best.share[0], low, high)
    shrunken = shrunken_means(mean, at_best.trials[0])

    estimates = tuple(
        GroupEstimate(
            key,
            int(batches[g]),
            int(hits[g]),
            int(trials[g]),
            float(mean[g]) if trials[g] else None,
            float(low[g]),
            float(high[g]),
            float(shrunken[g]) if trials[g] else None,
            not large[g],
        )
        for g, key in enumerate(groups)
    )
    likelihood_ratio, p_value = 0.0, None
    differences: tuple[GroupDifference[Key], ...] = ()
    rest: tuple[GroupAgainstRest[Key], ...] = ()
    number = int(large.sum())
    if number >= 2 and spread.testable:
        chosen = large[group]
        keys = tuple(key for key, is_large in zip(groups, large, strict=True) if is_large)
        tested = Tested.of(
            keys, y[chosen], n[chosen], (np.cumsum(large) - 1)[group[chosen]], spread, confidence
        )
        likelihood_ratio, p_value = tested.together()
        rest = against_rest(tested)
        if number <= most_paired:
            differences = pairs(tested)
    return Comparison(
        rho=spread.rho,
        rho_low=spread.low,
        rho_high=spread.high,
        spread_known=spread.known,
        df=spread.df,
        overall=_overall(worth, at_best, spread, batches, hits, trials, confidence),
        groups=estimates,
        likelihood_ratio=likelihood_ratio,
        groups_df=max(number - 1, 0) if p_value is not None else 0,
        p_value=p_value,
        differences=differences,
        against_rest=rest,
    )


def _batches(groups: Mapping[Key, tuple[ArrayLike, ArrayLike]]) -> tuple[Counts, Counts, Counts]:
    """All batches one after the other: hits, trials and the number of the group."""
    parts = [counted(*batches) for batches in groups.values()]
    if not parts:
        none = np.zeros(0, dtype=np.int64)
        return none, none, none
    group = np.repeat(np.arange(len(parts)), [n.size for _, n in parts])
    return np.concatenate([y for y, _ in parts]), np.concatenate([n for _, n in parts]), group


def _overall(
    worth: Effective,
    at_best: Effective,
    spread: Spread,
    batches: Counts,
    hits: Counts,
    trials: Counts,
    confidence: float,
) -> GroupEstimate[None]:
    """All groups as one."""
    total = int(trials.sum())
    if total == 0:
        return GroupEstimate(None, 0, 0, 0, None, 0.0, 1.0, None, True)
    everyone = np.ones((1, batches.size), dtype=bool)
    low, high = wilson_ranges(worth.of_groups(everyone), spread.for_ranges, confidence)
    mean = float(np.clip(at_best.of_groups(everyone).share[0, 0], low[0], high[0]))
    return GroupEstimate(
        None, int(batches.sum()), int(hits.sum()), total, mean, float(low[0]), float(high[0]), mean, False
    )
