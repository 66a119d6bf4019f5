"""Power cuts found from the curve of the temperature alone.

Without heat a machine cools towards the room, the faster the warmer it still is (Newton's law of cooling), and once
the heat is back it soon stands where it stood. A stretch is taken for a cut when

* it lies at least 1.5 °C, and 8 times the curve's own noise, below what the machine held around it;
* the fall is steady, lasts 20 minutes or more, does not grow faster as it goes, and reaches the room at such a pace
  as if it lost between 3 and 120 % an hour of what it is warmer than the room;
* it does not come to rest far above the room: that is a thermostat set lower.

An opened lid lets warmth out too, but the moist air with it: where the relative humidity falls along with the
temperature, a stretch of an hour or less is an opened lid. In a cut it rises, since cooler air holds less.

All bounds are our choice; no publication was found. What is shorter or shallower than this is not looked for,
nor is anything in readings further apart than 65 minutes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hatchbook.statistics.trace import FloatArray, Trace

DEEP_C, DEEP_SIGMAS = 1.5, 8.0
EDGE_C, EDGE_SIGMAS = 0.5, 4.0
SHORTEST_S = 20 * 60
COARSEST_S = 65 * 60
SLOWEST_A_H, FASTEST_A_H = 0.03, 1.2
LID_LONGEST_S = 60 * 60
LID_DRIER = 4.0
"""An opened lid makes the air at least so many points drier."""
UNSURE_BELOW_S = 45 * 60
"""Without a hygrometer a stretch shorter than this may as well be an opened lid."""
READINGS_NEEDED = 3
"""So many falling readings make a cut sure."""
ROOM_C = 20.0
"""Of the room where nobody measured it."""
_AT_REST_ABOVE_ROOM_C = 6.0
_REST_SHARE = 0.5
_LEAST_SIGMA_C = 0.04
_BLOCK_S = 6 * 3600
_BLOCKS_AROUND = 2
_RISES_ALLOWED = 0.2
_FASTER_ALLOWED = 1.35
_FIRST_FALL_S = 20 * 60


@dataclass(frozen=True, slots=True)
class PowerCut:
    """A stretch without heat: from ``at`` until the heat came back, UTC seconds.

    until: None where the readings end before it came back. lowest_c: the lowest reading, °C. sure: False where
    it may have been an opened lid, or where too few readings tell.
    """

    at: int
    until: int | None
    lowest_c: float
    sure: bool


def power_cuts(
    at_s: ArrayLike, temperature_c: ArrayLike, humidity: ArrayLike | None = None, room_c: float = ROOM_C
) -> tuple[PowerCut, ...]:
    """The cuts in the readings of one probe in one machine, in the order of time.

    Args:
        at_s: whole UTC seconds, ascending; temperature_c, humidity: as many values, nan for not measured.
        room_c: of the room round the machine.

    Raises:
        ValueError: as `Trace`.
    """
    trace = Trace(at_s, temperature_c)
    if trace.at_s.size < READINGS_NEEDED + 2 or float(np.median(np.diff(trace.at_s))) > COARSEST_S:
        return ()
    moist = None if humidity is None else Trace(at_s, humidity)
    return _Search(trace, moist, room_c).cuts()


class _Search:
    """The curve with the level it keeps to and its noise."""

    def __init__(self, trace: Trace, moist: Trace | None, room_c: float) -> None:
        self._at, self._value, self._bridged = trace.at_s, trace.values, trace.bridged
        self._moist, self._room_c = moist, room_c
        self._level = _level(trace)
        away = self._away = self._value - self._level
        self._sigma = max(1.4826 * float(np.median(np.abs(away - np.median(away)))), _LEAST_SIGMA_C)
        steps = np.diff(self._value)
        self._step = max(1.4826 * float(np.median(np.abs(steps - np.median(steps)))), _LEAST_SIGMA_C)
        self._edge = self._level - max(EDGE_C, EDGE_SIGMAS * self._sigma)
        self._deep = self._level - max(DEEP_C, DEEP_SIGMAS * self._sigma)

    def cuts(self) -> tuple[PowerCut, ...]:
        cold = self._value < self._edge
        if not cold.any():
            return ()
        joined = cold[1:] & cold[:-1] & self._bridged
        begins = np.flatnonzero(cold & ~np.concatenate(([False], joined)))
        stops = np.flatnonzero(cold & ~np.concatenate((joined, [False]))) + 1
        found = (self._judge(int(begin), int(stop)) for begin, stop in zip(begins, stops, strict=True))
        return tuple(cut for cut in found if cut is not None)

    def _judge(self, begin: int, stop: int) -> PowerCut | None:
        """The cut in the cold readings from `begin` to before `stop`; None where it is none."""
        if begin == 0:
            return None  # cold from the start: the machine warms up, or cold eggs were set
        lowest = begin + int(self._value[begin:stop].argmin())
        if self._value[lowest] >= self._deep[lowest]:
            return None
        after_gap = not self._bridged[begin - 1]
        came_back = stop < self._at.size and bool(self._bridged[stop - 1])
        at = float(self._at[begin]) if after_gap else self._began(begin, lowest)
        until = self._ended(lowest, stop) if came_back else float(self._at[lowest])
        seconds = until - at
        if seconds < SHORTEST_S or not self._cools_like_a_machine(begin, lowest, seconds, after_gap):
            return None
        if self._rests(lowest, begin, stop):
            return None
        drier = self._drier(at, int(self._at[lowest]))
        lid = drier is not None and drier >= LID_DRIER
        if lid and seconds <= LID_LONGEST_S:
            return None
        told = drier is not None or seconds >= UNSURE_BELOW_S
        readings = lowest - begin + 1
        sure = told and not lid and not after_gap and readings >= READINGS_NEEDED
        return PowerCut(round(at), round(until) if came_back else None, float(self._value[lowest]), sure)

    def _began(self, begin: int, lowest: int) -> float:
        """When the fall began: the line through its first readings, back to the level."""
        last = begin + 1
        while last < lowest and self._at[last] - self._at[begin] < _FIRST_FALL_S:
            last += 1
        earlier = float(self._at[begin - 1])
        if last > lowest or self._value[last] >= self._value[begin]:
            return earlier
        rate = float(self._value[begin] - self._value[last]) / float(self._at[last] - self._at[begin])
        back = float(self._at[begin]) - float(self._level[begin] - self._value[begin]) / rate
        # It began after the last reading that still stood at the level, or from which it fell on.
        at_level = begin - 1
        while (
            at_level > 0
            and self._bridged[at_level - 1]
            and self._away[at_level] < -2 * self._sigma
            and self._value[at_level - 1] > self._value[at_level] - 2 * self._step
        ):
            at_level -= 1
        return min(max(back, float(self._at[at_level])), float(self._at[begin]))

    def _ended(self, lowest: int, stop: int) -> float:
        """When the heat came back: where the fall, carried on, meets the rise, carried back."""
        at = float(self._at[lowest])
        if lowest + 2 > stop or lowest + 2 >= self._at.size or lowest == 0:
            return at
        step = float(self._at[lowest + 1]) - at
        falls = float(self._value[lowest] - self._value[lowest - 1]) / (at - float(self._at[lowest - 1]))
        rises = float(self._value[lowest + 2] - self._value[lowest + 1])
        rises /= float(self._at[lowest + 2] - self._at[lowest + 1])
        if rises <= 0 or falls >= 0:
            return at
        meet = (float(self._value[lowest + 1] - self._value[lowest]) - rises * step) / (falls - rises)
        return at + min(max(meet, 0.0), step)

    def _cools_like_a_machine(self, begin: int, lowest: int, seconds: float, after_gap: bool) -> bool:
        fall: FloatArray = self._value[begin if after_gap else begin - 1 : lowest + 1]
        level = float(self._level[begin])
        net = level - float(fall[-1])
        steps = np.diff(fall)
        rises = float(steps[steps > 3 * self._step].sum())
        if rises > _RISES_ALLOWED * net:
            return False
        left = max(float(fall[-1]) - self._room_c, 0.5) / max(level - self._room_c, 1.0)
        pace = -float(np.log(min(left, 1.0))) / (seconds / 3600)
        if not after_gap and not SLOWEST_A_H <= pace <= FASTEST_A_H:
            return False
        return not self._grows_faster(begin, lowest)

    def _grows_faster(self, begin: int, lowest: int) -> bool:
        """Whether the second half of the fall is steeper than the first; cooling alone slows down."""
        if lowest - begin < READINGS_NEEDED:
            return False
        at, value = self._at[begin : lowest + 1].astype(np.float64), self._value[begin : lowest + 1]
        middle = (at[0] + at[-1]) / 2
        half = float(np.interp(middle, at, value))
        first, second = float(value[0]) - half, half - float(value[-1])
        return second > _FASTER_ALLOWED * first + 3 * self._step

    def _rests(self, lowest: int, begin: int, stop: int) -> bool:
        """Whether it came to rest far above the room: a thermostat set lower."""
        bottom = float(self._value[lowest])
        if bottom < self._room_c + _AT_REST_ABOVE_ROOM_C or stop - begin < READINGS_NEEDED:
            return False
        near = bottom + 0.15 * (float(self._level[lowest]) - bottom) + 2 * self._sigma
        at, value = self._at[begin:stop], self._value[begin:stop]
        step = np.diff(at).astype(np.float64)
        resting = (value[:-1] <= near) & (value[1:] <= near)
        return float(step[resting].sum()) > _REST_SHARE * float(step.sum())

    def _drier(self, at: float, lowest_s: int) -> float | None:
        """By how many points the air was drier while it cooled than in the hour before; None: not known."""
        if self._moist is None:
            return None
        before = self._moist.average(int(at) - 3600, int(at) - 120)
        within = self._moist.average(int(at) + 120, max(lowest_s, int(at) + 121))
        if not before.count or not within.count:
            return None
        return before.mean - within.mean


def _level(trace: Trace) -> FloatArray:
    """What the machine held around each reading, °C: the median of the 30 hours around its six hours."""
    block = (trace.at_s - trace.at_s[0]) // _BLOCK_S
    level = np.empty(trace.values.shape)
    for number in np.unique(block).tolist():
        first, stop = np.searchsorted(block, (number - _BLOCKS_AROUND, number + _BLOCKS_AROUND + 1))
        own = slice(*np.searchsorted(block, (number, number + 1)))
        level[own] = np.median(trace.values[first:stop])
    return level
