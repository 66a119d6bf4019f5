"""The losses that were weighed, as points: of each egg, and the mean by weighing."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

import numpy as np

from hatchbook.figures.batch_fit import BatchFit
from hatchbook.figures.course import Course
from hatchbook.figures.weight_results import WeighedPoint, WeightBasis
from hatchbook.figures.weights import BatchWeights, mean_on_tray
from hatchbook.statistics.weight_loss import loss_percent, straight_line_loss

_ROSE_PERCENT = 0.1
"""A mean that falls by more than this below the one before is odd: eggs gain no weight."""


def weighed_points(
    course: Course, weights: BatchWeights, fit: BatchFit, members: Collection[str], set_at: int
) -> tuple[WeighedPoint, ...]:
    """The mean loss by each weighing, over the eggs that still count; where none of them was weighed, over all."""
    if fit.basis is WeightBasis.TRAY:
        return _of_tray(course, weights, fit)
    losses: dict[str, list[float]] = {}
    of_others: dict[str, list[float]] = {}
    members = set(members)
    for one, found in zip(fit.weighed, fit.points, strict=True):
        told = losses if one.figures.egg.uid in members else of_others
        for weighing, point in zip(one.weighings, found, strict=bool(found)):
            if weighing in told:
                told[weighing].append(point[1])
            else:
                told[weighing] = [point[1]]
    impossible: dict[str, list[float]] = {}
    for one, base_g in zip(fit.weighed, fit.base_g.tolist(), strict=True):
        for weighing, mass_g in one.left_out:
            impossible.setdefault(weighing, []).append(loss_percent(base_g, mass_g))
    points: list[WeighedPoint] = []
    for weighing_record in weights.weighings:
        uid = weighing_record.uid
        lost = losses.get(uid) or of_others.get(uid)
        values = np.array(lost or impossible.get(uid, []))
        if not values.size:
            continue
        error = float(values.std(ddof=1)) / math.sqrt(values.size) if values.size > 1 else None
        mean = float(values.mean())
        points.append(
            WeighedPoint(
                day=(weighing_record.at - set_at) / 86_400,
                at=weighing_record.at,
                mean=mean,
                standard_error=error,
                eggs=values.size,
                odd=not lost or (bool(points) and mean < points[-1].mean - _ROSE_PERCENT),
            )
        )
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
