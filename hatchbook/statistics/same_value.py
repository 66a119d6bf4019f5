"""A probe that shows the same value for hours: broken, frozen or unplugged, or only coarse in a steady machine?

Our rules, so that a steady machine does not cry wolf:

- What stands still is the humidity, or humidity and temperature together. A temperature alone may: holding it is
  what a thermostat does. Of a probe that measures one quantity only, that one is watched.
- It stood still for six hours or more and for nine readings or more, one at least every hour and a half, and for
  more than three times as long as all but one in twenty of the probe's runs of one value last.
- Where it shows whole per cents (and half or whole degrees), or has hardly moved so that its steps are not known,
  or has too few runs to tell what is usual: for three days. A coarse probe in a steady machine may repeat for one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.calibration import resolution_of
from hatchbook.trade.codes import Quantity

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

LEAST_S = 6 * 3600
COARSE_LEAST_S = 72 * 3600
LEAST_READINGS = 9
LONGEST_GAP_S = 5400
USUAL_SHARE = 0.95
TIMES_USUAL = 3.0
RUNS_NEEDED = 20
_COARSE = {Quantity.HUMIDITY: 1.0, Quantity.TEMPERATURE: 0.5}


@dataclass(frozen=True, slots=True)
class SameValue:
    """A stretch in which a probe showed the same: its first and its last reading, UTC seconds, and the values.

    NaN for what it did not measure, or for a temperature that went on moving.
    """

    start_at: int
    end_at: int
    humidity: float
    temperature_c: float

    @property
    def seconds(self) -> int:
        """How long it lasted at least."""
        return self.end_at - self.start_at


def same_value_stretches(
    at: IntArray, humidity: FloatArray, temperature_c: FloatArray, least_s: float = LEAST_S
) -> tuple[SameValue, ...]:
    """The stretches in which a probe stood still longer than it does when all is well, oldest first.

    Args:
        at: instants, UTC seconds, ascending.
        humidity: % RH as it was shown (not corrected), NaN where not measured.
        temperature_c: °C likewise.
        least_s: shorter ones are never told.
    """
    columns = {Quantity.HUMIDITY: humidity, Quantity.TEMPERATURE: temperature_c}
    measured = [quantity for quantity, values in columns.items() if not np.isnan(values).all()]
    watched = [measured]
    if len(measured) == 2:
        watched.append([Quantity.HUMIDITY])
    found: list[SameValue] = []
    for quantities in watched:
        for start_at, end_at, row in _still(at, [columns[one] for one in quantities], quantities, least_s):
            if not any(one.start_at <= end_at and start_at <= one.end_at for one in found):
                values = {one: float(columns[one][row]) for one in quantities}
                nothing = float("nan")
                found.append(
                    SameValue(
                        start_at,
                        end_at,
                        values.get(Quantity.HUMIDITY, nothing),
                        values.get(Quantity.TEMPERATURE, nothing),
                    )
                )
    return tuple(sorted(found, key=lambda one: one.start_at))


def _still(
    at: IntArray, columns: list[FloatArray], quantities: list[Quantity], least_s: float
) -> list[tuple[int, int, int]]:
    """Begin, end and a row of the runs that are too long, of rows in which all columns are known."""
    if not columns:
        return []
    rows = np.flatnonzero(~np.any([np.isnan(values) for values in columns], axis=0))
    if rows.size < 2:
        return []
    instants = at[rows]
    changed = np.any([np.diff(values[rows]) != 0 for values in columns], axis=0)
    breaks = np.flatnonzero(changed | (np.diff(instants) > LONGEST_GAP_S))
    first = np.concatenate(([0], breaks + 1))
    last = np.concatenate((breaks, [rows.size - 1]))
    lasted = instants[last] - instants[first]
    coarse = all(_is_coarse(one, values) for one, values in zip(quantities, columns, strict=True))
    least = max(least_s, COARSE_LEAST_S) if coarse or lasted.size < RUNS_NEEDED else least_s
    usual = float(np.quantile(lasted, USUAL_SHARE)) if lasted.size >= RUNS_NEEDED else 0.0
    enough = last - first + 1 >= LEAST_READINGS
    long = np.flatnonzero(enough & (lasted >= least) & (lasted > TIMES_USUAL * usual))
    return [(int(instants[first[n]]), int(instants[last[n]]), int(rows[first[n]])) for n in long]


def _is_coarse(quantity: Quantity, values: FloatArray) -> bool:
    step = resolution_of(values)
    return step >= _COARSE[quantity] or (step == 0.0 and np.unique(values[~np.isnan(values)]).size < 3)
