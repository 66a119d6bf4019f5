"""Readings put into one forward run of time: doubles, lines that step back, blocks in the wrong place.

The rule: of all lines the longest run in which time only moves forward stays as it is. A block of at least
`SMALLEST_BLOCK` lines outside that run (two files joined in the wrong order) is sorted in where it fits into a
silence of the run; single lines and shorter stretches outside it, and blocks that would mix with the run, are
clock faults and stay out with their reason.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.rejects import LineFate
from hatchbook.exchange.loggers.spacing import median_step

SMALLEST_BLOCK = 12
_FAULTY = (LineFate.TIME_RUNS_BACKWARDS, LineFate.TIME_JUMPS_AHEAD, LineFate.SAME_TIME_OTHER_VALUES)

Instants = NDArray[np.int64]
Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class TimeOrder:
    """Which rows are kept, in ascending order of time, and what became of the others.

    `fates` has a LineFate for each row; `by_s` how far a rejected row is off; `same_as` the row that holds the
    same instant; `moved` the rows that were sorted in.
    """

    kept: Rows
    fates: NDArray[np.uint8]
    by_s: dict[int, int] = field(default_factory=dict)
    same_as: dict[int, int] = field(default_factory=dict)
    moved: Rows = field(default_factory=lambda: np.empty(0, dtype=np.intp))


def runs_newest_first(instants: Instants) -> bool:
    """Whether time mostly runs backwards from line to line."""
    steps = np.diff(instants)
    return int((steps < 0).sum()) > int((steps > 0).sum())


def put_in_order(instants: Instants, values: tuple[NDArray[np.float64], ...]) -> TimeOrder:
    """Orders rows by time; `values` are the columns in which rows of one instant are compared (nan equals nan)."""
    fates = np.zeros(instants.size, dtype=np.uint8)
    steps = np.diff(instants)
    if bool((steps > 0).all()):
        return TimeOrder(np.arange(instants.size), fates)
    order = TimeOrder(np.empty(0, dtype=np.intp), fates)
    single = _without_doubles(instants, values, order)
    times = instants[single]
    if bool((np.diff(times) > 0).all()):
        kept, moved = single, order.moved
    else:
        chain = _longest_chain(times)
        kept, moved = _with_blocks(times, single, chain, fates)
    kept = kept[np.argsort(instants[kept], kind="stable")]
    usual = median_step(np.diff(instants[kept]))
    _tell_how_far(instants, order, usual, moved)
    return TimeOrder(kept, fates, order.by_s, order.same_as, moved)


def _without_doubles(instants: Instants, values: tuple[NDArray[np.float64], ...], order: TimeOrder) -> Rows:
    """The first row of every instant, in the order of the file; marks the others."""
    by_time = np.argsort(instants, kind="stable")
    sorted_times = instants[by_time]
    again = np.zeros(instants.size, dtype=bool)
    again[1:] = sorted_times[1:] == sorted_times[:-1]
    places = np.flatnonzero(again)
    if not places.size:
        return np.arange(instants.size)
    starts = np.flatnonzero(~again)
    originals = by_time[starts[np.searchsorted(starts, places, side="right") - 1]]
    copies = by_time[places]
    same = np.ones(copies.size, dtype=bool)
    for column in values:
        one, other = column[originals], column[copies]
        same &= (one == other) | (np.isnan(one) & np.isnan(other))
    order.fates[copies[same]] = LineFate.DUPLICATE
    order.fates[copies[~same]] = LineFate.SAME_TIME_OTHER_VALUES
    order.same_as.update(zip(copies[~same].tolist(), originals[~same].tolist(), strict=True))
    return np.flatnonzero(order.fates == 0)


def _longest_chain(times: Instants) -> NDArray[np.bool_]:
    """Marks a longest ascending run of distinct times; of equally long ones the one that keeps earlier rows."""
    # What is above everything before and below everything after is in every longest run.
    highest = np.maximum.accumulate(times)
    lowest = np.minimum.accumulate(times[::-1])[::-1]
    fixed = (times == highest) & (times == lowest)
    chain: NDArray[np.bool_] = fixed.copy()
    loose = np.flatnonzero(~fixed)
    for stretch in np.split(loose, np.flatnonzero(np.diff(loose) > 1) + 1):
        chain[stretch[_chain_of(times[stretch].tolist())]] = True
    return chain


def _chain_of(times: list[int]) -> list[int]:
    """Positions of a longest ascending run, by the lengths of the runs that start at each row."""
    tails: list[int] = []  # tails[n]: minus the highest time from which a run of n + 1 rows can start
    length = [0] * len(times)
    for place in range(len(times) - 1, -1, -1):
        rank = bisect_left(tails, -times[place])
        if rank == len(tails):
            tails.append(-times[place])
        else:
            tails[rank] = -times[place]
        length[place] = rank + 1
    wanted = len(tails)
    chosen: list[int] = []
    for place, run in enumerate(length):
        if run == wanted and (not chosen or times[place] > times[chosen[-1]]):
            chosen.append(place)
            wanted -= 1
    return chosen


def _with_blocks(
    times: Instants, rows: Rows, chain: NDArray[np.bool_], fates: NDArray[np.uint8]
) -> tuple[Rows, Rows]:
    """Adds the blocks that fit between the rows of the chain; marks what stays out. Returns kept and moved rows."""
    on_spine = np.flatnonzero(chain)
    spine = times[on_spine]
    outside = np.flatnonzero(~chain)
    breaks = (np.diff(outside) > 1) | (np.diff(times[outside]) <= 0)
    kept = chain.copy()
    lows: list[int] = []
    highs: list[int] = []
    moved: list[Rows] = []
    for block in np.split(outside, np.flatnonzero(breaks) + 1):
        low, high = int(times[block[0]]), int(times[block[-1]])
        if block.size >= SMALLEST_BLOCK and np.searchsorted(spine, low) == np.searchsorted(spine, high):
            place = bisect_left(lows, low)
            if (place == 0 or highs[place - 1] < low) and (place == len(lows) or high < lows[place]):
                lows.insert(place, low)
                highs.insert(place, high)
                kept[block] = True
                moved.append(block)
                continue
        before = int(np.searchsorted(on_spine, block[0])) - 1
        behind = before >= 0 and low < spine[before]
        fates[rows[block]] = LineFate.TIME_RUNS_BACKWARDS if behind else LineFate.TIME_JUMPS_AHEAD
    return rows[kept], rows[np.concatenate(moved)] if moved else np.empty(0, dtype=np.intp)


def _tell_how_far(instants: Instants, order: TimeOrder, usual: int, moved: Rows) -> None:
    """How far each faulty stretch is off, measured where it starts: a clock set back by an hour is off by an hour.

    Lines that repeat an instant after time has stepped back run backwards too, and name the line they repeat.
    """
    fates = order.fates
    backwards, ahead, same = (int(fate) for fate in _FAULTY)
    bad = np.flatnonzero(np.isin(fates, _FAULTY))
    on_spine = fates == 0
    on_spine[moved] = False
    spine = np.flatnonzero(on_spine)
    for stretch in np.split(bad, np.flatnonzero(np.diff(bad) > 1) + 1):
        if not stretch.size:
            continue
        place = int(np.searchsorted(spine, stretch[0]))
        before = int(instants[spine[place - 1]]) if place > 0 else None
        ahead_by = int(instants[stretch].max() - instants[spine[place]]) if place < spine.size else None
        back_by: int | None = None
        for row in stretch.tolist():
            if back_by is None and before is not None and instants[row] < before:
                back_by = before + usual - int(instants[row])
            if back_by is not None and fates[row] == same:
                fates[row] = backwards
            if fates[row] == backwards and back_by is not None:
                order.by_s[row] = back_by
            elif fates[row] == ahead and ahead_by is not None:
                order.by_s[row] = ahead_by
