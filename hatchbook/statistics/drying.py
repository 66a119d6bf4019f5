"""When channels fell dry: humidity sinks to what the room's air alone gives, and stays there until the next fill.

Instants are whole UTC seconds, humidity in % RH.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.statistics.settled import SETTLE_S, Disturbance
from hatchbook.statistics.trace import Trace

_BLOCK_S = 3 * 3600
_BLOCKS_FULL, _BLOCKS_DRY = 4, 2
"""So many blocks of three hours tell what full channels give, and so many at the end that they are dry."""
_DRY_SHARE = 0.55
_LEAST_WATER = 8.0
"""Below so much brought by water nothing can be said, % RH. Share, blocks and this: our choice."""
SINKS_S = 6 * 3600
"""For so long before they are dry the surface is already breaking up (our choice)."""


@dataclass(frozen=True)
class Dried:
    """Channels that were filled at an instant and were dry at another; the time after it tells nothing of them."""

    filled_at: int
    at: int
    until: int

    @property
    def disturbance(self) -> Disturbance:
        """The time that tells nothing: from the sinking until the next fill."""
        return Disturbance(max(self.at - SINKS_S, self.filled_at), self.until)


def fell_dry(humidity: Trace, filled_at: int, until: int, room_only: float) -> Dried | None:
    """When the channels filled at an instant fell dry before another, at which something was changed; None: not.

    Args:
        humidity: of the machine.
        room_only: what the room's air alone gives at that time, % RH.
    """
    begins = np.arange(filled_at + SETTLE_S, until - _BLOCK_S + 1, _BLOCK_S, dtype=np.int64)
    if begins.size < _BLOCKS_FULL + _BLOCKS_DRY:
        return None
    means, known_s = humidity.window_means(begins, begins + _BLOCK_S)
    means = np.where(known_s > 0, means, np.nan)
    full = means[:_BLOCKS_FULL]
    known = ~np.isnan(means)
    if not known[:_BLOCKS_FULL].any() or not known[-1]:
        return None
    water = float(np.nanmean(full)) - room_only
    if water < _LEAST_WATER:
        return None
    moist = np.flatnonzero(known & (means >= room_only + _DRY_SHARE * water))
    first = int(moist[-1]) + 1 if moist.size else 0
    if first < _BLOCKS_FULL or int(known[first:].sum()) < _BLOCKS_DRY:
        return None
    return Dried(filled_at, int(begins[first]), until)
