"""Single batches against what batches of their size scatter by."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hatchbook.figures.comparison_names import GroupNames
from hatchbook.figures.comparison_results import FEWEST_BATCHES, BatchPoint, Limits, Place, Question
from hatchbook.figures.comparison_rows import ComparedBatch, Grouping
from hatchbook.statistics.comparison import (
    batch_chance,
    beta_binomial,
    control_limits,
)
from hatchbook.statistics.comparison_results import BetaBinomial
from hatchbook.statistics.intervals import wilson
from hatchbook.statistics.tallies import counts

FAR = 0.998
"""Beyond the limits that so many of all batches keep, a batch lies far out."""
_USUAL = 0.95
_GRID = 60


def batch_points(
    batches: Sequence[ComparedBatch], question: Question, names: GroupNames, overall: BetaBinomial
) -> tuple[tuple[BatchPoint, ...], Limits | None]:
    """The batches in order of setting with their limits; none with fewer than three batches that can speak.

    The limits lie around the mean of all batches, ``overall``; where batches stand apart by the group of their eggs
    it is these parts that scatter.
    """
    found = []
    for batch in batches:
        groupings = () if question.shapes is None else (question.shapes,)
        for keys, (_eggs, tally) in batch.split(groupings).items():
            hits, trials = counts(tally, question.outcome)
            if trials:
                found.append((batch, keys[0] if keys else None, hits, trials))
    if len({batch.uid for batch, *_rest in found}) < FEWEST_BATCHES:
        return (), None
    if overall.mean is None:
        return (), None
    hits_all, trials_all = (np.array([one[at] for one in found], dtype=np.int64) for at in (2, 3))
    in_parts = len(found) > overall.batches
    mean = overall.mean
    rho = (beta_binomial(hits_all, trials_all) if in_parts else overall).rho_corrected
    # Limits and chances are worked out once for batches that are alike: a large journal has hundreds of these.
    sizes, at_size = np.unique(trials_all, return_inverse=True)
    low, high = (edge[at_size] for edge in control_limits(mean, rho, sizes, _USUAL))
    far_low, far_high = (edge[at_size] for edge in control_limits(mean, rho, sizes, FAR))
    alike = {(hits, trials) for _batch, _key, hits, trials in found}
    chances = {one: batch_chance(*one, mean, rho).p for one in alike}
    points = []
    for at, (batch, key, own_hits, own_trials) in enumerate(found):
        share = own_hits / own_trials
        own_low, own_high = wilson(own_hits, own_trials)
        place = Place.INSIDE
        if share < low[at]:
            place = Place.FAR_LOW if share < far_low[at] else Place.LOW
        elif share > high[at]:
            place = Place.FAR_HIGH if share > far_high[at] else Place.HIGH
        points.append(
            BatchPoint(
                uid=batch.uid,
                label=batch.label,
                name=batch.name,
                set_at=batch.set_at,
                season=batch.season,
                counts_only=batch.counts_only,
                group=None if question.shapes is None else names.group(question.shapes, key),
                machine=names.group(Grouping.MACHINE, batch.keys[Grouping.MACHINE]).name,
                hits=own_hits,
                trials=own_trials,
                share=share,
                low=own_low,
                high=own_high,
                limit_low=float(low[at]),
                limit_high=float(high[at]),
                place=place,
                p=chances[own_hits, own_trials],
            )
        )
    return tuple(points), _limits(mean, rho, int(trials_all.max()))


def _limits(mean: float, rho: float, largest: int) -> Limits:
    sizes = np.unique(np.linspace(1, largest * 1.08 + 1, _GRID).astype(np.int64))
    low, high = control_limits(mean, rho, sizes, _USUAL)
    far_low, far_high = control_limits(mean, rho, sizes, FAR)
    return Limits(
        mean,
        rho,
        tuple(sizes.tolist()),
        *(tuple(float(value) for value in edge) for edge in (low, high, far_low, far_high)),
    )
