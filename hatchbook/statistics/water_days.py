"""What the water guide is fitted to: settled days, top-ups, and what is believed of the room.

Humidity in % RH, vapour in kPa, temperatures in °C, water in ml (= g).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.water_model import FloatArray, IntArray

VENT_STEP = 0.01


@dataclass(frozen=True)
class SettledDays:
    """Daily means of stretches in which filling and vent stood still; arrays of one length.

    channels: filled. vent: 0 to 1. humidity, temperature_c: means by the machine's probe. room_kpa: vapour in the
    room's air, nan where unknown. eggs_g_h_kpa, hatching: see `Standing`. known_h: hours of readings. batch: which
    batch, counted from 0. stretch: which unbroken setting, counted from 0.
    """

    channels: FloatArray
    vent: FloatArray
    humidity: FloatArray
    temperature_c: FloatArray
    room_kpa: FloatArray
    eggs_g_h_kpa: FloatArray
    hatching: FloatArray
    known_h: FloatArray
    batch: IntArray
    stretch: IntArray

    def __len__(self) -> int:
        return len(self.humidity)


@dataclass(frozen=True)
class TopUps:
    """What was filled up and after how long; arrays of one length.

    water_ml: filled up. hours: since the channels were full. channels: filled. humidity, temperature_c: means of
    that time.
    """

    water_ml: FloatArray
    hours: FloatArray
    channels: FloatArray
    humidity: FloatArray
    temperature_c: FloatArray

    def __len__(self) -> int:
        return len(self.water_ml)


def no_days() -> SettledDays:
    """No history."""
    nothing, none = np.empty(0), np.empty(0, np.int64)
    return SettledDays(nothing, nothing, nothing, nothing, nothing, nothing, nothing, nothing, none, none)


def no_top_ups() -> TopUps:
    """Nothing was measured."""
    nothing = np.empty(0)
    return TopUps(nothing, nothing, nothing, nothing, nothing)


@dataclass(frozen=True)
class RoomBelief:
    """The room's air where no probe tells: vapour in kPa and the spread of its logarithm between batches."""

    kpa: float = priors.ROOM_KPA
    spread: float = priors.ROOM_SPREAD


def setting_keys(channels: FloatArray, vent: FloatArray) -> list[tuple[int, ...]]:
    """Which setting each case is: openings closer than a hundredth are one."""
    openings = np.rint(vent / VENT_STEP).astype(int).tolist()
    return list(zip(np.rint(channels).astype(int).tolist(), openings, strict=True))
