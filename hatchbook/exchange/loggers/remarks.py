"""What strikes about the readings of a file as a whole: their usual step, silences, values that do not move."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.rejects import Quantity
from hatchbook.exchange.loggers.spacing import median_step
from hatchbook.exchange.loggers.table import Gap, StuckStretch

STUCK_AFTER_S = 12 * 3600
_STUCK_READINGS = 12
_GAP_STEPS = 3.0
_SHORTEST_GAP_S = 3600.0


def usual_step(at: NDArray[np.int64]) -> float | None:
    """Median step in seconds; None with fewer than two readings."""
    return float(median_step(np.diff(at))) if at.size > 1 else None


def find_gaps(at: NDArray[np.int64], step_s: float | None) -> tuple[Gap, ...]:
    """Silences longer than three usual steps and longer than an hour."""
    if step_s is None:
        return ()
    longest = max(_GAP_STEPS * step_s, _SHORTEST_GAP_S)
    places = np.flatnonzero(np.diff(at) > longest).tolist()
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
