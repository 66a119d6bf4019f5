"""Is it better, or is it luck: groups of batches compared, with the spread from batch to batch counted.

Eggs of one batch share machine, weather and mishaps, so batches scatter more than their eggs alone would make them,
and a test that takes each egg for a trial of its own finds differences that are chance. The model is beta-binomial:
each batch has its own true share, scattered around its group's mean with a spread rho common to all groups
(Crowder 1978, Appl. Statist. 27:34-37).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

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
    "trend",
]

import numpy as np
from numpy.typing import ArrayLike, NDArray


def beta_binomial(hits: ArrayLike, trials: ArrayLike, confidence: float = 0.95) -> BetaBinomial:
    """The batches of one group: their mean and their spread."""
    raise NotImplementedError


def compare_groups(
    groups: Mapping[Key, tuple[ArrayLike, ArrayLike]],
    confidence: float = 0.95,
    *,
    fewest_batches: int = 2,
    fewest_eggs: int = 25,
    most_paired: int = 40,
) -> Comparison[Key]:
    """Compares groups of batches, each given as (hits, trials) of its batches, one entry a batch."""
    raise NotImplementedError


def trend(hits: ArrayLike, trials: ArrayLike, scores: ArrayLike, confidence: float = 0.95) -> Trend:
    """The trend of batches over their scores (seasons as numbers); the spread around the line counts."""
    raise NotImplementedError


def adjusted_comparison(entries: Sequence[Entry[Key]], confidence: float = 0.95) -> AdjustedComparison[Key]:
    """The first grouping's differences, adjusted for the second."""
    raise NotImplementedError


def control_limits(
    mean: float, rho: float, trials: ArrayLike, confidence: float = 0.95
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Between which shares a batch of so many eggs lies by chance: (low, high), of the shape of `trials`."""
    raise NotImplementedError


def batch_chance(hits: int, trials: int, mean: float, rho: float) -> BatchChance:
    """How likely a batch like this is around a known mean and spread."""
    raise NotImplementedError


def batch_among(hits: int, trials: int, other_hits: ArrayLike, other_trials: ArrayLike) -> BatchChance | None:
    """How likely a batch like this is among the others, which are few; None: too few to say."""
    raise NotImplementedError


def batches_needed(
    mean: float,
    rho: float,
    eggs_per_batch: float,
    difference: float = 0.10,
    power: float = 0.8,
    alpha: float = LEVEL,
) -> int:
    """How many batches each of two groups needs, to tell a difference (a share) at chance `alpha`."""
    raise NotImplementedError


def holm(p_values: Sequence[float]) -> list[float]:
    """Holm's correction, in the order given."""
    raise NotImplementedError
