"""Times of a local clock to UTC: the hour that autumn repeats, the hour that spring skips."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.layout import RepeatedHour
from hatchbook.exchange.loggers.spacing import median_step

_DAY_S = 86_400
_EPOCH = datetime(1970, 1, 1)  # noqa: DTZ001 - a wall clock without a zone
_ADJACENT = 1.5  # spacings: readings this close follow each other


@dataclass(frozen=True, slots=True)
class ZonedTimes:
    """UTC seconds for local seconds; `skipped` marks times that the clock never showed.

    `undecided` counts the readings in a repeated hour of which the file does not tell which one it is.
    """

    utc_s: NDArray[np.int64]
    skipped: NDArray[np.bool_]
    undecided: int


def fixed_zone(offset_minutes: int) -> timezone:
    """A zone that keeps one offset."""
    return timezone(timedelta(minutes=offset_minutes))


def to_utc(
    local_s: NDArray[np.int64], zone: tzinfo, repeated_hour: RepeatedHour = RepeatedHour.BY_NEIGHBOURS
) -> ZonedTimes:
    """Turns local times, in the order in which they were written, into UTC."""
    skipped = np.zeros(local_s.size, dtype=bool)
    if not local_s.size:
        return ZonedTimes(local_s.copy(), skipped, 0)
    day = local_s // _DAY_S
    first = int(day.min())
    index = day - first
    used = np.zeros(int(index.max()) + 1, dtype=bool)
    used[index] = True
    offset_of_day = np.zeros(used.size, dtype=np.int64)
    changing: list[int] = []
    for place in np.flatnonzero(used).tolist():
        at_start = _offset((first + place) * _DAY_S, zone, 0)
        offset_of_day[place] = at_start
        if (
            _offset((first + place + 1) * _DAY_S, zone, 0) != at_start
            or _offset((first + place) * _DAY_S, zone, 1) != at_start
        ):
            changing.append(place)
    utc_s = local_s - offset_of_day[index]
    if not changing:
        return ZonedTimes(utc_s, skipped, 0)
    rows = np.flatnonzero(np.isin(index, changing))
    times, back = np.unique(local_s[rows], return_inverse=True)
    early = np.array([_offset(time, zone, 0) for time in times.tolist()], dtype=np.int64)
    late = np.array([_offset(time, zone, 1) for time in times.tolist()], dtype=np.int64)
    utc_s[rows] = local_s[rows] - early[back]
    skipped[rows] = (late > early)[back]
    repeated = rows[(late < early)[back]]
    undecided = 0
    if repeated.size:
        shift = (early - late)[back][(late < early)[back]]
        undecided = _resolve(local_s, utc_s, repeated, shift, repeated_hour)
    return ZonedTimes(utc_s, skipped, undecided)


def _offset(local_s: int, zone: tzinfo, fold: int) -> int:
    moment = (_EPOCH + timedelta(seconds=local_s)).replace(tzinfo=zone, fold=fold)
    return round((moment.utcoffset() or timedelta()).total_seconds())


def _resolve(
    local_s: NDArray[np.int64],
    utc_s: NDArray[np.int64],
    repeated: NDArray[np.intp],
    shift: NDArray[np.int64],
    choice: RepeatedHour,
) -> int:
    """Moves readings of the second pass through a repeated hour to winter time, in place; counts the undecided."""
    steps = np.diff(local_s)
    spacing = median_step(steps[steps > 0])
    undecided = 0
    for stretch in np.split(np.arange(repeated.size), np.flatnonzero(np.diff(repeated) > 1) + 1):
        rows, late_by = repeated[stretch], shift[stretch]
        step = np.diff(local_s[rows])
        # An hourly logger shows one and the same time twice.
        turns = np.flatnonzero((step < 0) | ((step == 0) & (spacing >= late_by[1:])))
        if turns.size:
            utc_s[rows[turns[0] + 1 :]] += late_by[turns[0] + 1 :]
            continue
        if choice is RepeatedHour.BY_NEIGHBOURS:
            second, sure = _second_by_neighbours(utc_s, rows, int(late_by[0]), spacing)
            undecided += 0 if sure else rows.size
        else:
            second = choice is RepeatedHour.SECOND
        if second:
            utc_s[rows] += late_by
    return undecided


def _second_by_neighbours(
    utc_s: NDArray[np.int64], rows: NDArray[np.intp], late_by: int, spacing: int
) -> tuple[bool, bool]:
    """Whether one pass through the hour was the second, and whether the readings around it tell."""
    first, last = int(rows[0]), int(rows[-1])
    near = _ADJACENT * spacing
    before = int(utc_s[first] - utc_s[first - 1]) if first > 0 else None
    after = int(utc_s[last + 1] - utc_s[last]) if last + 1 < utc_s.size else None
    joins_before = before is not None and 0 <= before <= near
    joins_after = after is not None and 0 <= after - late_by <= near
    if joins_before != joins_after:
        return joins_after, True
    return False, False


UTC_ZONE: tzinfo = UTC
"""The zone of times that are UTC already."""
