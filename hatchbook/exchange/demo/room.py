"""The air of the room in which the demo's machines stand: it swings with the day and, slowly, with the weather."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.chance import chance
from hatchbook.exchange.demo.scenario import RoomPlan
from hatchbook.statistics.moisture import relative_humidity
from hatchbook.trade.instants import DAY_S

_WAVES = 5
_SHORTEST_DAYS, _LONGEST_DAYS = 1.7, 8.0
_WARMEST_H = 16.0
_STREAM = 9001


@dataclass(frozen=True)
class RoomAir:
    """The room at some instants: °C and kPa of water vapour."""

    temperature_c: NDArray[np.float64]
    vapour_kpa: NDArray[np.float64]

    @property
    def humidity(self) -> NDArray[np.float64]:
        """Relative humidity, %."""
        return relative_humidity(self.temperature_c, self.vapour_kpa)


class Room:
    """The room of one season; the weather depends on the time since ``origin_at`` alone.

    So it is the same whatever the present instant is, and a batch set on a date of a past season fares the same.
    """

    def __init__(self, plan: RoomPlan, seed: int, season: int, origin_at: int, utc_offset_s: int) -> None:
        self._plan = plan
        self._origin_at = origin_at
        self._utc_offset_s = utc_offset_s
        rng = chance(seed, _STREAM, -season)
        days = rng.uniform(_SHORTEST_DAYS, _LONGEST_DAYS, (2, _WAVES))
        self._turns_a_second = 2 * np.pi / (days * DAY_S)
        self._phases = rng.uniform(0, 2 * np.pi, (2, _WAVES))

    def air(self, at: NDArray[np.int64]) -> RoomAir:
        """The air at instants, UTC seconds."""
        plan = self._plan
        hour = ((at + self._utc_offset_s) % DAY_S) / 3600
        day = np.cos(2 * np.pi * (hour - _WARMEST_H) / 24)
        warm, moist = self._slow(at)
        return RoomAir(
            plan.temperature_c + plan.day_swing_c * day + plan.slow_swing_c * warm,
            plan.vapour_kpa + plan.day_swing_kpa * day + plan.slow_swing_kpa * moist,
        )

    def _slow(self, at: NDArray[np.int64]) -> NDArray[np.float64]:
        """Two slow waves, each with a mean square of 1: of warmth and of moisture."""
        since = (at - self._origin_at).astype(np.float64)
        waves = np.zeros((2, at.size))
        for row in range(2):
            for turns, phase in zip(self._turns_a_second[row], self._phases[row], strict=True):
                waves[row] += np.sin(turns * since + phase)
        waves *= math.sqrt(2 / _WAVES)
        return waves
