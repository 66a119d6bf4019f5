"""What strikes about the readings of a file as a whole: their usual step, silences, values that do not move."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.rejects import Quantity
from hatchbook.exchange.loggers.spacing import median_step
from hatchbook.exchange.loggers.table import Gap, StuckStretch
from hatchbook.statistics.trace import longest_bridge

STUCK_AFTER_S = 12 * 3600
_STUCK_READINGS = 12


def usual_step(at: NDArray[np.int64]) -> float | None:
    """Median step in seconds; None with fewer than two readings."""
    return float(median_step(np.diff(at))) if at.size > 1 else None


def find_gaps(at: NDArray[np.int64]) -> tuple[Gap, ...]:
    """Silences that an average over all the readings would not bridge."""
    if at.size < 2:
        return ()
    places = np.flatnonzero(np.diff(at) > longest_bridge(at)).tolist()
    return tuple(Gap(int(at[place]), int(at[place + 1])) for place in places)


def find_stuck(
    at: NDArray[np.int64], values: NDArray[np.float64], quantity: Quantity
) -> tuple[StuckStretch, ...]:
    """Stretches of at least 12 readings over more than 12 hours with exactly one value."""
    known = ~np.isnan(values)
    if not known.all():
        at, values = at[known], values[known]
    if values.size < _STUCK_READINGS:
        return ()
    turns = np.concatenate(([-1], np.flatnonzero(values[1:] != values[:-1]), [values.size - 1]))
    long = np.flatnonzero(np.diff(turns) >= _STUCK_READINGS)
    spans = zip((turns[long] + 1).tolist(), turns[long + 1].tolist(), strict=True)
    return tuple(
        StuckStretch(int(at[start]), int(at[end]), quantity, float(values[start]))
        for start, end in spans
        if at[end] - at[start] > STUCK_AFTER_S
    )
