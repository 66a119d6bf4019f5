"""Moist air: vapour pressure, dew point, wet bulb and altitude.

Units: °C, % relative humidity over water, kPa, m, kg of water per kg of dry air. Numbers give numbers, arrays
give arrays (broadcast); nan stays nan, so a missing reading may stay in its row.

Formulas: ASHRAE Handbook Fundamentals 2017, chapter 1, with the equation numbers named below (read as quoted in
PsychroLib 2.5.0); psychrometer coefficients: FAO Irrigation and Drainage Paper 56 (Allen et al. 1998; read as
quoted in the R package simET). The enhancement factor of moist air (0.4 to 0.5 % of the vapour pressure at
incubator temperatures) is left out, as it is there.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import overload

import numpy as np
from numpy.typing import NDArray

from hatchbook.trade.codes import Wick

FloatArray = NDArray[np.float64]
Reals = float | FloatArray

STANDARD_PRESSURE_KPA = 101.325
WATER_TO_AIR_MASS = 0.621945
"""Molar mass of water over that of dry air (ASHRAE 2017 ch. 1)."""

PSYCHROMETER_COEFFICIENT = {Wick.ASPIRATED: 6.62e-4, Wick.NATURAL: 8.0e-4, Wick.STILL_AIR: 1.2e-3}
"""A of e = e_w(t_w) - A p (t - t_w), per °C: ventilated, naturally ventilated, not ventilated (FAO-56)."""

TRIPLE_POINT_C = 0.01
COLDEST_C, HOTTEST_C = -100.0, 200.0
LOWEST_M, HIGHEST_M = -500.0, 11_000.0
WET_BULB_ROUNDING_C = 0.06
"""How far a wet bulb may read above the dry one and still count as saturated: two values rounded to 0.1 °F."""

_ZERO_C_IN_K = 273.15
_NEWTON_STEPS = 40
_CLOSE_ENOUGH_C = 1e-9

# A float is one of `Reals` too, so each pair of signatures overlaps; the first is the narrower answer.


@overload
def saturation_kpa(t_c: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def saturation_kpa(t_c: Reals) -> FloatArray: ...
def saturation_kpa(t_c: Reals) -> Reals:
    """Saturation vapour pressure, kPa: over ice up to the triple point (eq. 5), over water above (eq. 6).

    Valid from -100 to 200 °C; ValueError outside.
    """
    t = _temperature(t_c)
    return _plain(_saturation(t, t <= TRIPLE_POINT_C)[0])


@overload
def vapour_kpa(t_c: float, rh: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def vapour_kpa(t_c: Reals, rh: Reals) -> FloatArray: ...
def vapour_kpa(t_c: Reals, rh: Reals) -> Reals:
    """Vapour pressure of air at `t_c` °C and `rh` %, kPa (eq. 12). ValueError for rh outside 0 to 100."""
    return _plain(np.asarray(saturation_kpa(t_c)) * _humidity(rh) / 100.0)


@overload
def relative_humidity(t_c: float, vapour_kpa: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def relative_humidity(t_c: Reals, vapour_kpa: Reals) -> FloatArray: ...
def relative_humidity(t_c: Reals, vapour_kpa: Reals) -> Reals:
    """Relative humidity of air at `t_c` °C that holds `vapour_kpa`, %; above 100 where it would condense."""
    vapour = np.asarray(vapour_kpa, dtype=np.float64)
    if np.any(vapour < 0):
        raise ValueError("A vapour pressure cannot be below zero.")
    return _plain(100.0 * vapour / np.asarray(saturation_kpa(t_c)))


@overload
def dew_point_c(t_c: float, rh: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def dew_point_c(t_c: Reals, rh: Reals) -> FloatArray: ...
def dew_point_c(t_c: Reals, rh: Reals) -> Reals:
    """The temperature at which the air's moisture would saturate it, °C; below 0.01 °C the frost point.

    `saturation_kpa` turned round by Newton's method, to 1e-9 °C. nan where it would lie below -100 °C, as for
    perfectly dry air.
    """
    vapour = np.asarray(vapour_kpa(t_c, rh), dtype=np.float64)
    coldest = float(saturation_kpa(COLDEST_C))
    wanted = np.where(vapour >= coldest, vapour, np.nan)
    ice = wanted <= float(saturation_kpa(TRIPLE_POINT_C))

    def distance(t: FloatArray) -> tuple[FloatArray, FloatArray]:
        # On the logarithm the curve is nearly straight, so that far starts arrive.
        pressure, slope = _saturation(t, ice)
        return np.log(pressure / wanted), slope / pressure

    t = np.asarray(t_c, dtype=np.float64)
    return _plain(np.minimum(_root(distance, np.where(np.isnan(wanted), np.nan, t)), t))


@overload
def pressure_kpa(altitude_m: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def pressure_kpa(altitude_m: Reals) -> FloatArray: ...
def pressure_kpa(altitude_m: Reals) -> Reals:
    """Standard air pressure at an altitude, kPa (eq. 3). Valid from -500 to 11 000 m; ValueError outside."""
    altitude = np.asarray(altitude_m, dtype=np.float64)
    if np.any((altitude < LOWEST_M) | (altitude > HIGHEST_M)):
        raise ValueError("The altitude must lie between -500 and 11 000 metres.")
    return _plain(STANDARD_PRESSURE_KPA * (1.0 - 2.25577e-5 * altitude) ** 5.2559)


@overload
def humidity_ratio(  # type: ignore[overload-overlap]
    t_c: float, rh: float, pressure_kpa: float = ...
) -> float: ...
@overload
def humidity_ratio(t_c: Reals, rh: Reals, pressure_kpa: Reals = ...) -> FloatArray: ...
def humidity_ratio(t_c: Reals, rh: Reals, pressure_kpa: Reals = STANDARD_PRESSURE_KPA) -> Reals:
    """Water in the air, kg per kg of dry air (eq. 20). ValueError where the water would boil."""
    vapour, pressure = np.asarray(vapour_kpa(t_c, rh)), _pressure(pressure_kpa)
    if np.any(vapour >= pressure):
        raise ValueError("Water boils at this temperature and pressure.")
    return _plain(WATER_TO_AIR_MASS * vapour / (pressure - vapour))


@overload
def relative_humidity_from_wet_bulb(  # type: ignore[overload-overlap]
    dry_c: float, wet_c: float, pressure_kpa: float = ..., wick: Wick | None = ...
) -> float: ...
@overload
def relative_humidity_from_wet_bulb(
    dry_c: Reals, wet_c: Reals, pressure_kpa: Reals = ..., wick: Wick | None = ...
) -> FloatArray: ...
def relative_humidity_from_wet_bulb(
    dry_c: Reals, wet_c: Reals, pressure_kpa: Reals = STANDARD_PRESSURE_KPA, wick: Wick | None = None
) -> Reals:
    """Relative humidity from a dry and a wet bulb, %.

    wick: how the air meets the wick, which sets the psychrometer's coefficient (FAO-56). It matters: 99.5 °F
        dry and 85.0 °F wet are 55.4 % for an aspirated wick and 48.5 % for one in still air. None takes the
        thermodynamic wet bulb instead (eqs. 33 and 35; below 0 °C eq. 37, an iced bulb), which a
        well-aspirated wick comes close to. The coefficients hold for a wick that is not frozen.

    Raises ValueError where the wet bulb reads above the dry one, or lower than even dry air would make it.
    """
    dry, wet, pressure = _temperature(dry_c), _temperature(wet_c), _pressure(pressure_kpa)
    if np.any(wet > dry + WET_BULB_ROUNDING_C):
        raise ValueError("The wet bulb cannot read higher than the dry bulb.")
    vapour = _vapour_at_wet_bulb(dry, wet, pressure, wick, wet < 0.0)[0]
    if np.any(vapour < 0):
        raise ValueError("The wet bulb reads lower than even perfectly dry air would make it.")
    return _plain(np.minimum(100.0 * vapour / np.asarray(saturation_kpa(dry)), 100.0))


@overload
def wet_bulb_c(  # type: ignore[overload-overlap]
    dry_c: float, rh: float, pressure_kpa: float = ..., wick: Wick | None = ...
) -> float: ...
@overload
def wet_bulb_c(dry_c: Reals, rh: Reals, pressure_kpa: Reals = ..., wick: Wick | None = ...) -> FloatArray: ...
def wet_bulb_c(
    dry_c: Reals, rh: Reals, pressure_kpa: Reals = STANDARD_PRESSURE_KPA, wick: Wick | None = None
) -> Reals:
    """What a wet bulb reads in air of `dry_c` °C and `rh` %, °C: `relative_humidity_from_wet_bulb` turned round.

    Near 0 °C a wet and an iced bulb can both stand in the same air; the answer is then the wet one.
    """
    dry, humid, pressure = np.broadcast_arrays(_temperature(dry_c), _humidity(rh), _pressure(pressure_kpa))
    wanted = np.asarray(vapour_kpa(dry, humid), dtype=np.float64)
    at_zero = _vapour_at_wet_bulb(dry, np.zeros(dry.shape), pressure, wick, np.zeros(dry.shape, dtype=bool))[
        0
    ]
    ice = (dry < 0.0) | (at_zero > wanted)

    def distance(wet: FloatArray) -> tuple[FloatArray, FloatArray]:
        vapour, slope = _vapour_at_wet_bulb(dry, wet, pressure, wick, ice)
        return vapour - wanted, slope

    return _plain(np.minimum(_root(distance, np.where(ice, np.minimum(dry, 0.0), dry)), dry))


@overload
def humidity_when_warmed(  # type: ignore[overload-overlap]
    room_c: float, room_rh: float, machine_c: float
) -> float: ...
@overload
def humidity_when_warmed(room_c: Reals, room_rh: Reals, machine_c: Reals) -> FloatArray: ...
def humidity_when_warmed(room_c: Reals, room_rh: Reals, machine_c: Reals) -> Reals:
    """Relative humidity of room air brought to the machine's temperature with nothing added, %.

    100 where a machine colder than the room's dew point would condense it.
    """
    humidity = relative_humidity(np.asarray(machine_c), np.asarray(vapour_kpa(room_c, room_rh)))
    return _plain(np.minimum(humidity, 100.0))


def _vapour_at_wet_bulb(
    dry: FloatArray, wet: FloatArray, pressure: FloatArray, wick: Wick | None, ice: NDArray[np.bool_]
) -> tuple[FloatArray, FloatArray]:
    """Vapour pressure of the air round a wet bulb, kPa, and its slope with the wet bulb, kPa/°C."""
    saturated, slope = _saturation(wet, ice | (wet <= TRIPLE_POINT_C))
    if wick is not None:
        coefficient = PSYCHROMETER_COEFFICIENT[wick] * pressure
        return saturated - coefficient * (dry - wet), slope + coefficient
    # Eqs. 33 (water) and 37 (ice): W = (latent W_s - 1.006 (t - t_w)) / (evaporating + 1.86 t - liquid t_w).
    latent = np.where(ice, 2830.0 - 0.24 * wet, 2501.0 - 2.326 * wet)
    latent_slope = np.where(ice, -0.24, -2.326)
    liquid = np.where(ice, 2.1, 4.186)
    below = np.where(ice, 2830.0, 2501.0) + 1.86 * dry - liquid * wet
    # Near boiling W_s runs away; the roots wanted lie far below, so it is only kept finite.
    air = np.maximum(pressure - saturated, 1e-3 * pressure)
    ratio_saturated = WATER_TO_AIR_MASS * saturated / air
    ratio_slope = WATER_TO_AIR_MASS * pressure * slope / air**2
    above = latent * ratio_saturated - 1.006 * (dry - wet)
    above_slope = latent_slope * ratio_saturated + latent * ratio_slope + 1.006
    ratio = above / below
    slope_of_ratio = (above_slope + ratio * liquid) / below
    vapour = pressure * ratio / (WATER_TO_AIR_MASS + ratio)
    return vapour, pressure * WATER_TO_AIR_MASS / (WATER_TO_AIR_MASS + ratio) ** 2 * slope_of_ratio


def _saturation(t: FloatArray, ice: NDArray[np.bool_]) -> tuple[FloatArray, FloatArray]:
    """Saturation pressure over ice (eq. 5) or water (eq. 6), kPa, and its slope, kPa/°C."""
    k = t + _ZERO_C_IN_K
    log_k = np.log(k)
    water = (
        -5.8002206e3 / k
        + 1.3914993
        + k * (-4.8640239e-2 + k * (4.1764768e-5 + k * -1.4452093e-8))
        + 6.5459673 * log_k
    )
    water_slope = 5.8002206e3 / k**2 - 4.8640239e-2 + k * (8.3529536e-5 + k * -4.3356279e-8) + 6.5459673 / k
    if not np.any(ice):
        pressure = np.exp(water) / 1000.0
        return pressure, pressure * water_slope
    frozen = (
        -5.6745359e3 / k
        + 6.3925247
        + k * (-9.677843e-3 + k * (6.2215701e-7 + k * (2.0747825e-9 + k * -9.484024e-13)))
        + 4.1635019 * log_k
    )
    frozen_slope = (
        5.6745359e3 / k**2
        - 9.677843e-3
        + k * (1.24431402e-6 + k * (6.2243475e-9 + k * -3.7936096e-12))
        + 4.1635019 / k
    )
    pressure = np.exp(np.where(ice, frozen, water)) / 1000.0
    return pressure, pressure * np.where(ice, frozen_slope, water_slope)


def _root(distance: Callable[[FloatArray], tuple[FloatArray, FloatArray]], start: FloatArray) -> FloatArray:
    """Newton's method on whole arrays; nan rows stay nan. ArithmeticError if it does not settle (our bug)."""
    t = np.array(start, dtype=np.float64)
    for _ in range(_NEWTON_STEPS):
        off, slope = distance(t)
        step = off / slope
        t = np.clip(t - step, COLDEST_C - 50.0, HOTTEST_C)
        if not np.any(np.abs(step) > _CLOSE_ENOUGH_C):
            return t
    raise ArithmeticError("A moisture equation did not settle.")


def _temperature(t_c: Reals) -> FloatArray:
    t = np.asarray(t_c, dtype=np.float64)
    if np.any((t < COLDEST_C) | (t > HOTTEST_C)):
        raise ValueError("The temperature must lie between -100 and 200 °C.")
    return t


def _humidity(rh: Reals) -> FloatArray:
    humidity = np.asarray(rh, dtype=np.float64)
    if np.any((humidity < 0) | (humidity > 100)):
        raise ValueError("The relative humidity must lie between 0 and 100 %.")
    return humidity


def _pressure(pressure_kpa: Reals) -> FloatArray:
    pressure = np.asarray(pressure_kpa, dtype=np.float64)
    if np.any(pressure <= 0):
        raise ValueError("The air pressure must be above zero.")
    return pressure


def _plain(value: FloatArray) -> Reals:
    """A number for a number, an array for an array."""
    return value if np.ndim(value) else float(value)
