"""The air inside a machine of the demo: warmth and water, step by step.

Water vapour comes in with the room's air, from the channels and from the eggs, and goes out through the vent. All
of it is linear in the vapour pressure, so that there is a steady value at every step, which the air follows with
the lag of its volume. Warmth follows the thermostat, the open lid or, in a power cut, the room in the same way.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.room import RoomAir
from hatchbook.exchange.demo.scenario import MachinePlan
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.weight_loss import TORR_PER_KPA

Floats = NDArray[np.float64]
Instants = NDArray[np.int64]

WATER_NEARNESS = 0.88
"""Water in the channels is cooler than the air: its vapour, against that of water as warm as the air."""
_GRAMS_PER_M3_AND_KPA = 6.97  # of vapour at 37.7 °C, by the gas law
_LID_M3_H = 9.0
_CUT_SHARE = 0.4  # of the air still changes when the fan stands
_THERMOSTAT_PER_H = 2.2
_OPEN_LID_PER_H = 1.6
_COOLING_PER_H = 0.22
_LID_ABOVE_ROOM_C = 8.0
_SET_COLD_C = 2.5  # by so much cold eggs cool the machine


@dataclass(frozen=True)
class Handling:
    """What is done to a machine in each step: shares of the step, channels with water, vent from 0 to 1.

    ``channels``: open water as a number of channels brim-full; ``misting``: g of water an hour from wet eggs.
    """

    channels: Floats
    vent: Floats
    lid_open: Floats
    power_off: Floats
    misting: Floats


@dataclass(frozen=True)
class MachineAir:
    """What came of it: at each instant °C and % RH; since setting g of water given off by the channels, and the
    water's pull on the eggs, torr times days."""

    at: Instants
    temperature_c: Floats
    humidity: Floats
    evaporated_g: Floats
    pull: Floats


def air_change_m3_h(machine: MachinePlan, vent: Floats | float) -> Floats | float:
    """How much air changes through a vent, m³ an hour."""
    return machine.leak_m3_h + machine.vent_m3_h * vent


def steady_humidity(
    machine: MachinePlan,
    *,
    channels: float,
    vent: float,
    room_kpa: float,
    saturated_kpa: float,
    in_egg_kpa: float,
    eggs_g_h_kpa: float,
) -> float:
    """The humidity that a setting comes to, %.

    Args:
        room_kpa: vapour in the room's air.
        saturated_kpa: vapour of water as warm as the machine's air; in_egg_kpa: as warm as the eggs.
        eggs_g_h_kpa: what the eggs give off, g an hour and kPa.
    """
    air = air_change_m3_h(machine, vent) * _GRAMS_PER_M3_AND_KPA
    water = machine.channel_g_h_kpa * channels
    gain = air * room_kpa + water * WATER_NEARNESS * saturated_kpa + eggs_g_h_kpa * in_egg_kpa
    return float(100 * gain / (air + water + eggs_g_h_kpa) / saturated_kpa)


def run_machine(
    machine: MachinePlan,
    at: Instants,
    room: RoomAir,
    handling: Handling,
    *,
    thermostat_c: Floats,
    egg_cooler_c: float,
    eggs_g_h_kpa: Floats,
) -> MachineAir:
    """Lets the machine run over even steps that begin at the instants ``at``.

    Args:
        thermostat_c: what it is set to hold, °C.
        egg_cooler_c: by how much the eggs are cooler than the thermometer, which in still air hangs higher.
        eggs_g_h_kpa: what the eggs give off, g an hour and kPa.
    """
    step_h = float(at[1] - at[0]) / 3600 if at.size > 1 else 1.0
    temperature_c = _warmth(room, handling, thermostat_c, step_h)
    saturated = saturation_kpa(temperature_c)
    in_egg = saturation_kpa(temperature_c - egg_cooler_c)
    air = air_change_m3_h(machine, handling.vent) * (1 - _CUT_SHARE * handling.power_off)
    air = (air + _LID_M3_H * handling.lid_open) * _GRAMS_PER_M3_AND_KPA
    water = machine.channel_g_h_kpa * handling.channels
    gain = (
        air * room.vapour_kpa + water * WATER_NEARNESS * saturated + eggs_g_h_kpa * in_egg + handling.misting
    )
    loss = air + water + eggs_g_h_kpa
    lag = 1 - np.exp(-loss / (_GRAMS_PER_M3_AND_KPA * machine.inside_m3) * step_h)
    vapour_kpa = np.minimum(_follow(1.4 * float(room.vapour_kpa[0]), gain / loss, lag), 0.97 * saturated)
    evaporated = np.maximum(water * (WATER_NEARNESS * saturated - vapour_kpa), 0.0) * step_h
    pull = (in_egg - vapour_kpa) * TORR_PER_KPA * step_h / 24
    return MachineAir(
        at, temperature_c, 100 * vapour_kpa / saturated, _since_start(evaporated), _since_start(pull)
    )


def _warmth(room: RoomAir, handling: Handling, thermostat_c: Floats, step_h: float) -> Floats:
    cut = handling.power_off
    lid = handling.lid_open * (1 - cut)
    heated = (1 - cut) * (1 - lid)
    rate = heated * _THERMOSTAT_PER_H + lid * _OPEN_LID_PER_H + cut * _COOLING_PER_H
    target = (
        heated * _THERMOSTAT_PER_H * thermostat_c
        + lid * _OPEN_LID_PER_H * (room.temperature_c + _LID_ABOVE_ROOM_C)
        + cut * _COOLING_PER_H * room.temperature_c
    ) / rate
    return _follow(float(thermostat_c[0]) - _SET_COLD_C, target, 1 - np.exp(-rate * step_h))


def _follow(first: float, target: Floats, share: Floats) -> Floats:
    """The value at the begin of each step, if it goes by a share of the way to its target within each."""
    value, values = first, []
    for aim, part in zip(target.tolist(), share.tolist(), strict=True):
        values.append(value)
        value += (aim - value) * part
    return np.array(values)


def _since_start(each: Floats) -> Floats:
    return np.concatenate(([0.0], np.cumsum(each)[:-1]))
