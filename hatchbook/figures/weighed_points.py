"""The losses that were weighed, as points: of each egg, and the mean by weighing."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hatchbook.figures.batch_fit import BatchFit
from hatchbook.figures.course import Course
from hatchbook.figures.weight_results import WeighedPoint, WeightBasis
from hatchbook.figures.weights import BatchWeights, mean_on_tray
from hatchbook.statistics.weight_loss import loss_percent, straight_line_loss

_ROSE_PERCENT = 0.1
"""A mean that falls by more than this below the one before is odd: eggs gain no weight."""


def weighed_points(
    course: Course, weights: BatchWeights, fit: BatchFit, until_day: float
) -> tuple[WeighedPoint, ...]:
    """The mean loss by each weighing, over the eggs that still count; where none of them was weighed, over all.

    Args:
        until_day: an egg counts that does not leave by then.
    """
    if fit.basis is WeightBasis.TRAY:
        return _of_tray(course, weights, fit)
    weighed = fit.weighed
    if weighed is None:
        return ()
    members = weighed.leaves > until_day
    columns = {uid: column for column, uid in enumerate(weighed.weighings)}
    impossible: dict[str, list[float]] = {}
    for row, uid, mass_g in weighed.left_out:
        impossible.setdefault(uid, []).append(loss_percent(float(fit.base_g[row]), mass_g))
    points: list[WeighedPoint] = []
    for weighing in weights.weighings:
        told = np.empty(0)
        if weighing.uid in columns:
            losses = fit.losses[:, columns[weighing.uid]]
            known = ~np.isnan(losses)
            told = losses[known & members] if (known & members).any() else losses[known]
        values = told if told.size else np.array(impossible.get(weighing.uid, []))
        if not values.size:
            continue
        error = float(values.std(ddof=1)) / math.sqrt(values.size) if values.size > 1 else None
        mean = float(values.mean())
        odd = not told.size or (bool(points) and mean < points[-1].mean - _ROSE_PERCENT)
        day = course.day_of(weighing.at)
        points.append(WeighedPoint(day, weighing.at, mean, error, values.size, odd))
    return tuple(points)


def _of_tray(course: Course, weights: BatchWeights, fit: BatchFit) -> tuple[WeighedPoint, ...]:
    points: list[WeighedPoint] = []
    for one in weights.weighings:
        mass_g, base_g = mean_on_tray(one), fit.tray_base_g
        if mass_g is None or base_g is None:
            continue
        loss = loss_percent(base_g, mass_g)
        odd = bool(points) and loss < points[-1].mean - _ROSE_PERCENT
        points.append(WeighedPoint(course.day_of(one.at), one.at, loss, None, one.eggs_on_tray or 0, odd))
    return tuple(points)


def straight_line(points: Sequence[WeighedPoint], day: float) -> float | None:
    """The loss at a day by the straight line through the weighings and the setting, %; None without weighings."""
    used = [point for point in points if not point.odd]
    days = [0.0, *(point.day for point in used if point.day > 0)]
    losses = [0.0, *(point.mean for point in used if point.day > 0)]
    return straight_line_loss(days, losses, day)
