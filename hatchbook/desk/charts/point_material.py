"""The batches of a comparison as points: which are shown, their shapes, and the one that is pointed at."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from hatchbook.desk.painting.group_shapes import SHAPES, GroupShape
from hatchbook.figures.comparison_results import (
    BatchPoint,
    ComparisonFigures,
    GroupName,
    Limits,
    Standing,
)
from hatchbook.statistics.tallies import RateKind

_STEP = 0.2
_AIR = 0.04
_NARROWEST = 0.3
"""The axis spans at least so much: a few points of difference do not fill the chart."""
_APART = (Standing.LOWER, Standing.HIGHER)


@dataclass(frozen=True)
class PointMaterial:
    """Points in order of setting with what tells their groups apart.

    ``every``: how many there are without a filter; ``low`` and ``high``: the shares at the ends of the axis.
    """

    points: tuple[BatchPoint, ...]
    limits: Limits
    kind: RateKind
    shapes: dict[GroupName | None, GroupShape]
    every: int
    low: float
    high: float
    first_month: int

    def shape(self, point: BatchPoint) -> GroupShape:
        """The shape of a point's group."""
        return self.shapes.get(point.group, GroupShape.DOT)

    @property
    def ticks(self) -> tuple[float, ...]:
        """Shares at which the axis has a line."""
        step = _STEP if self.high - self.low > 0.45 else _STEP / 2
        first = math.ceil(self.low / step - 1e-9)
        return tuple(at * step for at in range(first, math.floor(self.high / step + 1e-9) + 1))


def material_of(figures: ComparisonFigures, only: Sequence[BatchPoint] | None = None) -> PointMaterial | None:
    """The points of a comparison; None where there are too few to be drawn.

    Args:
        figures: of which all points give shapes and scale, so that a filter changes neither.
        only: those that a filter leaves.
    """
    if figures.limits is None or not figures.points:
        return None
    known = _most_worth_a_shape(figures)
    shapes: dict[GroupName | None, GroupShape] = dict(zip(known, SHAPES, strict=False))
    if figures.question.shapes is None:
        shapes[None] = GroupShape.CIRCLE
    lows = [point.share for point in figures.points] + [point.limit_low for point in figures.points]
    highs = [point.share for point in figures.points] + [point.limit_high for point in figures.points]
    low, high = max(0.0, min(lows) - _AIR), min(1.0, max(highs) + _AIR)
    if figures.question.outcome.is_loss:
        high = min(1.0, max(high, low + _NARROWEST))
    low, high = max(0.0, min(low, high - _NARROWEST)), max(high, _NARROWEST)
    step = _STEP / 2
    return PointMaterial(
        figures.points if only is None else tuple(only),
        figures.limits,
        figures.question.outcome,
        shapes,
        len(figures.points),
        step * math.floor(low / step),
        min(1.0, step * math.ceil(high / step)),
        figures.season_first_month,
    )


def _most_worth_a_shape(figures: ComparisonFigures) -> list[GroupName]:
    """The groups of the points: those that stand out, then by how many batches they have, then in their order."""
    counted = Counter(point.group for point in figures.points)
    standing = {
        row.group: row.rates[figures.question.outcome].standing
        for section in figures.sections
        if section.grouping is figures.question.shapes
        for row in section.rows
    }
    in_order = [*standing, *(group for group in counted if group not in standing)]
    own = [group for group in in_order if group is not None and group.key is not None and counted[group]]
    return sorted(own, key=lambda group: (standing.get(group) not in _APART, -counted[group]))


class PointCursor(QObject):
    """Stands at a point of the material, or at none; both charts follow it.

    ``chosen``: the uid of the batch that the window shows; its points are ringed.

    Signals:
        moved: it stands elsewhere, or another batch is chosen.
    """

    moved = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.material: PointMaterial | None = None
        self.at: int | None = None
        self.chosen: str | None = None

    def take(self, material: PointMaterial | None) -> None:
        """Moves among other points, staying at the batch where it stood if that is there."""
        before = self.point
        self.material = material
        self.at = None
        if before is not None and material is not None:
            self.at = next(
                (
                    at
                    for at, point in enumerate(material.points)
                    if (point.uid, point.group) == (before.uid, before.group)
                ),
                None,
            )
        self.moved.emit()

    @property
    def point(self) -> BatchPoint | None:
        """The batch where it stands."""
        return None if self.at is None or self.material is None else self.material.points[self.at]

    def point_at(self, at: int | None) -> None:
        """Stands at a point by its number."""
        if at != self.at:
            self.at = at
            self.moved.emit()

    def choose(self, uid: str | None) -> None:
        """Another batch is shown by the window."""
        if uid != self.chosen:
            self.chosen = uid
            self.moved.emit()
