"""Marks on a lane: side by side where they would overlap, the rest of a crowd behind a number."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Spot:
    """Where a mark stands: ``x`` in pixels, ``row`` of ``rows``; several members stand for "+3"."""

    members: tuple[int, ...]
    x: float
    row: int
    rows: int

    @property
    def is_crowd(self) -> bool:
        """Whether it is a number that stands for several marks."""
        return len(self.members) > 1


@dataclass
class _Cluster:
    members: list[int]
    centre: float
    columns: int


def arrange(
    px: Sequence[float],
    pitch: float,
    rows: int = 1,
    most: int = 4,
    between: tuple[float, float] | None = None,
) -> list[Spot]:
    """Places for marks at ascending pixels, each as near to its own as the others leave room.

    Args:
        px: where the marks belong.
        pitch: how wide a mark is with its air.
        rows: into how many rows a crowd may be stacked.
        most: how many marks a crowd shows; the others stand behind a number in the last place.
        between: the pixels in view; what belongs between them is moved wholly in, as far as it is wider.
    """
    clusters: list[_Cluster] = []
    for member, x in enumerate(px):
        clusters.append(_Cluster([member], _held(x, 1, pitch, between), 1))
        while len(clusters) > 1 and _overlap(clusters[-2], clusters[-1], pitch):
            last = clusters.pop()
            _join(clusters[-1], last, px, rows, most)
            clusters[-1].centre = _held(clusters[-1].centre, clusters[-1].columns, pitch, between)
    return [spot for cluster in clusters for spot in _spots(cluster, pitch, rows, most)]


def _held(centre: float, columns: int, pitch: float, between: tuple[float, float] | None) -> float:
    """The centre of a crowd moved so that all of it is in view, if its own place is."""
    if between is None or not between[0] - 1 <= centre <= between[1] + 1:
        return centre
    half = columns * pitch / 2
    return min(max(centre, between[0] + half), max(between[1] - half, between[0] + half))


def _overlap(left: _Cluster, right: _Cluster, pitch: float) -> bool:
    return right.centre - left.centre < (left.columns + right.columns) / 2 * pitch - 1e-6


def _join(left: _Cluster, right: _Cluster, px: Sequence[float], rows: int, most: int) -> None:
    left.members += right.members
    left.centre = sum(px[member] for member in left.members) / len(left.members)
    left.columns = _columns(min(len(left.members), most), rows)


def _columns(shown: int, rows: int) -> int:
    return shown if shown <= 2 else math.ceil(shown / rows)


def _spots(cluster: _Cluster, pitch: float, rows: int, most: int) -> list[Spot]:
    groups: list[tuple[int, ...]] = [(member,) for member in cluster.members]
    if len(groups) > most:
        groups = [*groups[: most - 1], tuple(cluster.members[most - 1 :])]
    columns = _columns(len(groups), rows)
    stacked = rows if columns < len(groups) else 1
    left = cluster.centre - (columns - 1) / 2 * pitch
    # Down first, then across: what happened first stands at the left.
    return [
        Spot(group, left + (number // stacked) * pitch, number % stacked, stacked)
        for number, group in enumerate(groups)
    ]
