"""How far the rows reach upwards and downwards: always the same, so that bands compare, unless data lie outside."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.results import Band, PhaseFigures

HUMIDITY_RANGE = (19.0, 76.0)
HUMIDITY_STEP = 10.0
TEMPERATURE_RANGE = (36.2, 38.9)
TEMPERATURE_STEP = 0.5

LOSS_RANGE = (-0.8, 15.5)
LOSS_STEP = 5.0

_ABOVE_BAND = 0.9
"""°C above the band for the strip's name and the labels of what leaves it."""
_LOOKED_AT = 20_000
"""So many readings are enough to see where most of them lie."""
_SHORT_SHARE = 5.0
"""Per cent of the readings at either end that may leave the temperature strip: lid openings, power cuts."""


def humidity_range(phases: Iterable[PhaseFigures], humidity: NDArray[np.float64]) -> tuple[float, float]:
    """% RH at the bottom and the top of the humidity row: contains every band and every reading."""
    low, high = _ends(humidity)
    for phase in phases:
        low, high = min(low, phase.humidity_band.low), max(high, phase.humidity_band.high)
    return _extended(HUMIDITY_RANGE, HUMIDITY_STEP, low, high)


def temperature_range(
    phases: Iterable[PhaseFigures], temperature_c: NDArray[np.float64]
) -> tuple[float, float]:
    """°C at the bottom and the top of the temperature strip: contains every band and all but short excursions."""
    low, high = math.inf, -math.inf
    if temperature_c.size:
        some = temperature_c[:: max(1, temperature_c.size // _LOOKED_AT)]
        some = some[~np.isnan(some)]
        if some.size:
            low, high = (float(value) for value in np.percentile(some, (_SHORT_SHARE, 100 - _SHORT_SHARE)))
    for phase in phases:
        band: Band = phase.temperature_band
        low, high = min(low, band.low - 0.2), max(high, band.high + _ABOVE_BAND)
    return _extended(TEMPERATURE_RANGE, TEMPERATURE_STEP, low, high)


def loss_range(losses: Iterable[float]) -> tuple[float, float]:
    """Least and most loss in the weight row, %: 0 and 15 with some air, and all that is to be seen."""
    least, most = LOSS_RANGE
    for loss in losses:
        least, most = min(least, loss - 0.5), max(most, loss + 0.5)
    return least, most


def close_range(
    values: NDArray[np.float64], wanted: Iterable[float], step: float, *, everything: bool = False
) -> tuple[float, float]:
    """A range of multiples of a half step round the values and what else is wanted, with some air above it.

    Leaves out the lowest and highest hundredth of the values unless `everything` is to be seen.
    """
    low, high = _ends(values)
    if not everything and values.size:
        some = values[~np.isnan(values)]
        if some.size:
            low, high = (float(value) for value in np.percentile(some, (1, 99)))
    low, high = min([low, *wanted]), max([high, *wanted])
    if not low <= high:
        return 0.0, step
    half = step / 2
    return half * math.floor((low - half * 0.4) / half), half * math.ceil((high + half * 0.8) / half)


def ticks(low: float, high: float, step: float, room_px: float, least_px: float) -> list[float]:
    """Multiples of a step inside a range, of a larger step where they would stand closer than `least_px`."""
    for factor in (1, 2, 5, 10, 20, 50):
        wide = step * factor
        if room_px * wide / (high - low) >= least_px:
            break
    first = math.ceil(low / wide - 1e-9)
    return [number * wide for number in range(first, math.floor(high / wide + 1e-9) + 1)]


def _ends(values: NDArray[np.float64]) -> tuple[float, float]:
    if not values.size:
        return math.inf, -math.inf
    # fmin and fmax pass over what was not measured without a warning.
    low, high = float(np.fmin.reduce(values)), float(np.fmax.reduce(values))
    return (low, high) if low == low else (math.inf, -math.inf)


def _extended(usual: tuple[float, float], step: float, low: float, high: float) -> tuple[float, float]:
    bottom, top = usual
    if low < bottom:
        bottom -= step * math.ceil((bottom - low) / step - 1e-9)
    if high > top:
        top += step * math.ceil((high - top) / step - 1e-9)
    return bottom, top
