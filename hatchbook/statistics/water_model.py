"""The steady moisture balance of a machine: air through the vent, water in the channels, eggs.

    p = (V e + W f s + E s) / (V + W + E)

p: vapour pressure in the machine, e: of the room's air, s: of water as warm as the machine, all kPa; V, W, E:
what the vent, the channels and the eggs carry, g an hour and kPa; f: how near the water's surface comes to s. The
mass of air is taken as the same inside and outside, and the vapour's part of it as small (below 7 %).

Parameters are those of `Parameter`, all on scales on which a normal belief makes sense.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.moisture import STANDARD_PRESSURE_KPA, saturation_kpa
from hatchbook.statistics.water_priors import Prior
from hatchbook.statistics.weight_loss import TORR_PER_KPA

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

HALF_OPEN = 0.5


class Parameter(IntEnum):
    """The place of each parameter in a row of them."""

    WATER_TO_VENT = 0
    LEAK = 1
    VENT_CURVE = 2
    WATER_VAPOUR = 3
    CHANNEL = 4
    EGG_WATER = 5
    HATCH_WATER = 6
    PROBE_APART = 7


PARAMETERS = len(Parameter)


@dataclass(frozen=True)
class Channels:
    """The water channels of a machine: how many, and the open surface of one in cm² where it is known."""

    count: int
    area_cm2: float | None = None

    @property
    def half(self) -> float:
        """Half of the channels, at least one half of one."""
        return max(self.count, 1) / 2

    @property
    def prior(self) -> Prior:
        """Logarithm of what a filled channel gives off, g an hour and kPa."""
        known = self.area_cm2 is not None
        area = self.area_cm2 if self.area_cm2 is not None else priors.USUAL_CHANNEL_CM2
        middle = float(np.log(priors.EVAPORATION_G_H_M2_KPA * area / 1e4))
        spread = priors.EVAPORATION_SPREAD if known else priors.USUAL_CHANNEL_SPREAD
        return Prior(middle, spread)


def parameter_priors(channels: Channels) -> tuple[Prior, ...]:
    """What is believed of each parameter without any history."""
    return (
        priors.WATER_TO_VENT,
        priors.LEAK,
        priors.VENT_CURVE,
        priors.WATER_VAPOUR,
        channels.prior,
        priors.EGG_WATER,
        priors.HATCH_WATER,
        priors.PROBE_APART,
    )


@dataclass(frozen=True)
class Standing:
    """How a machine stands in each of n cases; all arrays of length n.

    channels: filled. vent: 0 shut to 1 open. room_kpa: vapour in the room's air. temperature_c: in the machine.
    eggs_g_h_kpa: what the eggs give off by their mass and conductance. hatching: 1 in lockdown, 0 before.
    saturated_kpa: saturation in the machine, where it was computed before.
    """

    channels: FloatArray
    vent: FloatArray
    room_kpa: FloatArray
    temperature_c: FloatArray
    eggs_g_h_kpa: FloatArray
    hatching: FloatArray
    saturated_kpa: FloatArray | None = None


@dataclass(frozen=True)
class Balance:
    """What the balance gives in each of n cases.

    humidity: % RH by the machine's probe. slopes: (n, `PARAMETERS`). by_air: how the humidity changes with the
    logarithm of the air change, % RH. by_room: with the room's vapour pressure, % RH a kPa. water_g_h: what all
    filled channels give off, g an hour; water_slopes: (n, `PARAMETERS`) of it.
    egg_share: what the eggs add to what room air and channels give without them, % RH.
    """

    humidity: FloatArray
    slopes: FloatArray
    by_air: FloatArray
    by_room: FloatArray
    water_g_h: FloatArray
    water_slopes: FloatArray
    egg_share: FloatArray


def eggs_rate(mass_g: float, pressure_kpa: float) -> float:
    """What eggs of a mass give off, g an hour and kPa, at an air pressure; diffusion goes with its inverse."""
    a_day = mass_g * priors.EGG_CONDUCTANCE / 1000 * TORR_PER_KPA
    return a_day / 24 * STANDARD_PRESSURE_KPA / pressure_kpa


def air_change(row: FloatArray, vent: FloatArray) -> FloatArray:
    """How much air changes at openings, against the half open vent."""
    power, leak = np.exp(row[Parameter.VENT_CURVE]), _logistic(row[Parameter.LEAK])
    shape: FloatArray = leak + (1 - leak) * np.maximum(vent, 0.0) ** power
    return shape / float(leak + (1 - leak) * HALF_OPEN**power)


def balance(
    row: FloatArray, cases: Standing, channels: Channels, air_log: FloatArray | float = 0.0
) -> Balance:
    """The balance of cases by a row of parameters.

    Args:
        air_log: what is added to the logarithm of the air change in each case: how a setting, a batch or a stretch
            lies apart from the model.
    """
    vent_power = np.exp(row[Parameter.VENT_CURVE])
    leak = _logistic(row[Parameter.LEAK])
    nearness = _logistic(row[Parameter.WATER_VAPOUR])
    opening = np.maximum(cases.vent, 0.0)
    open_part, half_part = opening**vent_power, HALF_OPEN**vent_power
    shape, half_shape = leak + (1 - leak) * open_part, leak + (1 - leak) * half_part
    half_air = np.exp(row[Parameter.CHANNEL] - row[Parameter.WATER_TO_VENT]) * channels.half
    air = half_air * shape / half_shape * np.exp(air_log)
    water = np.exp(row[Parameter.CHANNEL]) * cases.channels
    eggs = cases.eggs_g_h_kpa * np.exp(row[Parameter.EGG_WATER] + row[Parameter.HATCH_WATER] * cases.hatching)
    saturated = cases.saturated_kpa
    if saturated is None:
        saturated = np.asarray(saturation_kpa(cases.temperature_c))
    total = air + water + eggs
    vapour = (air * cases.room_kpa + water * nearness * saturated + eggs * saturated) / total
    to_humidity = 100 / saturated
    by_air = air * (cases.room_kpa - vapour) / total * to_humidity
    by_water = water * (nearness * saturated - vapour) / total * to_humidity
    by_eggs = eggs * (saturated - vapour) / total * to_humidity
    by_nearness = 100 * water / total
    log_opening = np.log(np.where(opening > 0, opening, 1.0))
    air_by_leak = leak * (1 - leak) * ((1 - open_part) / shape - (1 - half_part) / half_shape)
    air_by_power = (
        vent_power
        * (1 - leak)
        * (open_part * log_opening / shape - half_part * np.log(HALF_OPEN) / half_shape)
    )
    nearness_slope = nearness * (1 - nearness)
    slopes = np.zeros((cases.vent.size, PARAMETERS))
    slopes[:, Parameter.WATER_TO_VENT] = -by_air
    slopes[:, Parameter.LEAK] = by_air * air_by_leak
    slopes[:, Parameter.VENT_CURVE] = by_air * air_by_power
    slopes[:, Parameter.WATER_VAPOUR] = by_nearness * nearness_slope
    slopes[:, Parameter.CHANNEL] = by_air + by_water
    slopes[:, Parameter.EGG_WATER] = by_eggs
    slopes[:, Parameter.HATCH_WATER] = by_eggs * cases.hatching
    slopes[:, Parameter.PROBE_APART] = 1.0
    water_g_h = water * (nearness * saturated - vapour)
    water_slopes = -water[:, None] * slopes / to_humidity[:, None]
    water_slopes[:, Parameter.PROBE_APART] = 0.0
    water_slopes[:, Parameter.CHANNEL] += water_g_h
    water_slopes[:, Parameter.WATER_VAPOUR] += water * saturated * nearness_slope
    without_eggs = (air * cases.room_kpa + water * nearness * saturated) / (air + water)
    return Balance(
        humidity=vapour * to_humidity + row[Parameter.PROBE_APART],
        slopes=slopes,
        by_air=by_air,
        by_room=air / total * to_humidity,
        water_g_h=water_g_h,
        water_slopes=water_slopes,
        egg_share=(vapour - without_eggs) * to_humidity,
    )


def _logistic(value: float) -> float:
    return float(1 / (1 + np.exp(-value)))
