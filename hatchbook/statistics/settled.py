"""The stretches in which nothing was changed: what is left of a time when each disturbance has settled.

Instants are whole UTC seconds.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass

from hatchbook.trade.instants import DAY_S

SETTLE_S = 2 * 3600
"""For so long after a change, a lid or a power cut the air is still on its way to its new steady state."""


@dataclass(frozen=True)
class Disturbance:
    """Something that moves the air from ``at`` until ``until``, and for ``settle_s`` afterwards."""

    at: int
    until: int
    settle_s: int = SETTLE_S


def settled_windows(start: int, end: int, disturbances: Iterable[Disturbance]) -> list[tuple[int, int]]:
    """What is left of [start, end] outside all disturbances, as (begin, end), in the order of time."""
    windows, begin = [], start
    for one in sorted(disturbances, key=lambda one: one.at):
        if begin < min(one.at, end):
            windows.append((begin, min(one.at, end)))
        begin = max(begin, max(one.at, one.until) + one.settle_s)
    if begin < end:
        windows.append((begin, end))
    return windows


def cut_to_days(windows: Iterable[tuple[int, int]], shortest_s: int) -> list[tuple[int, int]]:
    """Each window cut into even pieces of at most a day; shorter ones than ``shortest_s`` are left out."""
    pieces: list[tuple[int, int]] = []
    for begin, end in windows:
        if end - begin < shortest_s:
            continue
        count = -(-(end - begin) // DAY_S)
        edges = [begin + (end - begin) * part // count for part in range(count + 1)]
        pieces += itertools.pairwise(edges)
    return pieces
