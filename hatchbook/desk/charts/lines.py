"""Curves as they are drawn: broken where nothing is known, and without corners that nobody can see."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.trade.instants import DAY_S

Floats = NDArray[np.float64]
Instants = NDArray[np.int64]

_CORNERS = 600
"""Evenly spaced corners kept of a running mean, and about as many again, closer and closer to its beginning, where
every reading still moves it."""


@dataclass(frozen=True)
class Line:
    """A curve: days since setting and values, with a NaN value where it breaks."""

    days: Floats
    values: Floats


def broken_line(at: Instants, values: Floats, unknown: Instants, set_at: int) -> Line:
    """The line through what was measured, broken where a stretch is unknown. `unknown` has the shape (n, 2)."""
    measured = ~np.isnan(values)
    if not measured.all():
        at, values = at[measured], values[measured]
    days = (at - set_at) / DAY_S
    if at.size < 2 or not unknown.size:
        return Line(days, values)
    row = np.unique(np.searchsorted(at, unknown[:, 0], side="right") - 1)
    row = row[(row >= 0) & (row < at.size - 1)]
    middle = (days[row] + days[row + 1]) / 2
    return Line(np.insert(days, row + 1, middle), np.insert(values, row + 1, np.nan))


def simplified(line: Line, tolerance: float) -> Line:
    """A running mean with fewer corners, nowhere further from it than about a tolerance; its breaks stay.

    A thick line costs by its corners, and a mean over days is straight almost everywhere.
    """
    breaks = np.flatnonzero(np.isnan(line.values))
    begins = np.concatenate(([0], breaks + 1))
    stops = np.append(breaks, line.values.size)
    kept = []
    for begin, stop in zip(begins.tolist(), stops.tolist(), strict=True):
        if stop > begin:
            kept.append(begin + _corners(line.days[begin:stop], line.values[begin:stop], tolerance))
        if stop < line.values.size:
            kept.append(np.array([stop]))
    rows = np.concatenate([np.empty(0, np.int64), *kept])
    return Line(line.days[rows], line.values[rows])


def _corners(days: Floats, values: Floats, tolerance: float) -> Instants:
    """The rows to keep of one stretch: thinned, then the farthest of each piece (Douglas-Peucker)."""
    last = days.size - 1
    even = np.linspace(0, last, _CORNERS)
    early = np.geomspace(1, last + 1, _CORNERS) - 1
    rows = np.unique(np.rint(np.concatenate((even, early))).astype(np.int64))
    keep = np.zeros(rows.size, dtype=np.bool_)
    keep[[0, -1]] = True
    pieces = [(0, rows.size - 1)]
    while pieces:
        first, end = pieces.pop()
        if end - first < 2:
            continue
        x, y = days[rows[first : end + 1]], values[rows[first : end + 1]]
        off = np.abs(y - np.interp(x, x[[0, -1]], y[[0, -1]]))
        farthest = int(off.argmax())
        if off[farthest] > tolerance:
            keep[first + farthest] = True
            pieces += [(first, first + farthest), (first + farthest, end)]
    return rows[keep]


def coarser(line: Line, by: int) -> Line:
    """The highest and the lowest of every `by` readings, for views in which so many share a pixel.

    Two corners each, in ascending days; a break makes the few readings beside it part of the break.
    """
    whole = line.days.size // by * by
    days = line.days[:whole].reshape(-1, by)
    values = line.values[:whole].reshape(-1, by)
    corners = np.empty((days.shape[0], 2, 2))
    corners[:, 0, 0], corners[:, 1, 0] = days[:, 0], days[:, by // 2]
    corners[:, 0, 1], corners[:, 1, 1] = values.max(axis=1), values.min(axis=1)
    flat = corners.reshape(-1, 2)
    return Line(
        np.concatenate((flat[:, 0], line.days[whole:])), np.concatenate((flat[:, 1], line.values[whole:]))
    )


def column_means(days: Floats, values: Floats, width: float) -> Iterator[tuple[Floats, Floats]]:
    """The means of the readings that share a column `width` days wide, a pair of arrays for each unbroken part."""
    breaks = np.flatnonzero(np.isnan(values))
    begins, stops = np.concatenate(([0], breaks + 1)), np.append(breaks, values.size)
    for begin, stop in zip(begins.tolist(), stops.tolist(), strict=True):
        if stop <= begin:
            continue
        part = slice(begin, stop)
        column = np.floor(days[part] / width)
        first = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
        count = np.diff(np.append(first, column.size))
        yield np.add.reduceat(days[part], first) / count, np.add.reduceat(values[part], first) / count
