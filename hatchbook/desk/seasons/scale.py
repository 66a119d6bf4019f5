"""The scale that the dots and ranges of a column are drawn against."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.figures.comparison_results import GroupRate, Standing
from hatchbook.statistics.tallies import RateKind

_STEP = 0.1
_NARROWEST = 0.4
_TICKS_FROM = 0.2


@dataclass(frozen=True)
class RateScale:
    """From one share to another, with the shares at which there are ticks."""

    low: float
    high: float
    ticks: tuple[float, ...]

    def place(self, share: float) -> float:
        """Where a share lies, 0 at the beginning and 1 at the end; held inside."""
        return min(1.0, max(0.0, (share - self.low) / (self.high - self.low)))

    def holds(self, share: float) -> bool:
        """Whether a share lies inside."""
        return self.low <= share <= self.high


def scale_of(rates: Sequence[GroupRate], kind: RateKind) -> RateScale:
    """A scale of whole tenths round the ranges of the groups that are not too small, and all means.

    Hatch and fertility reach up to 100 %, losses down to 0.
    """
    told = [rate for rate in rates if rate.mean is not None]
    firm = [rate for rate in told if rate.standing is not Standing.TOO_FEW]
    lows = [rate.low for rate in firm] + [rate.mean for rate in told if rate.mean is not None]
    highs = [rate.high for rate in firm] + [rate.mean for rate in told if rate.mean is not None]
    if kind.is_loss:
        low, high = 0.0, min(1.0, max(_NARROWEST, _STEP * math.ceil(max(highs, default=0.0) / _STEP - 1e-9)))
    else:
        low = max(0.0, min(1.0 - _NARROWEST, _STEP * math.floor(min(lows, default=0.0) / _STEP + 1e-9)))
        high = 1.0
    step = _STEP if high - low <= _NARROWEST + 1e-9 else _TICKS_FROM
    first = math.ceil(low / step - 1e-9)
    ticks = tuple(round(step * at, 6) for at in range(first, math.floor(high / step + 1e-9) + 1))
    return RateScale(round(low, 6), round(high, 6), ticks)
