"""The share of weight that eggs lose by water, from their conductance and the air round them.

dM/dt = G (P_egg - P_air): mass lost a day, mg, is the shell's conductance, mg/(day torr), times the difference of
vapour pressure, torr (Ar et al. 1974; Rahn & Ar 1974, Condor 76:147-152; equation from memory, used so by Meir, Nir
& Ar 1984, Poult. Sci. 63:1489-1496). P_egg is saturation at the egg's temperature. Conductance is taken per gram of
the mass when set, mg/(day g torr), and at sea level: vapour diffuses the faster the thinner the air, in inverse
proportion to its pressure (Sotherland 1980, Auk 97:177-185). Hens that have long lived high up are said to lay
tighter shells to the same degree (Rahn et al. 1977), others found none of it (1984, J. Exp. Zool. 230:137-139);
nothing is corrected for that.

Three things are left out: that the daily loss rises slowly during incubation (Can. J. Zool. 60:3143-3149, 1982;
what forecasts counts it), the gain and loss of gases, which is small beside the water, and that what is dissolved
in the egg's water lowers P_egg by half a per cent or a little more (from memory), which shows as a conductance as
much lower.
"""

from __future__ import annotations

from typing import overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.moisture import STANDARD_PRESSURE_KPA, saturation_kpa

FloatArray = NDArray[np.float64]

TORR_PER_KPA = 7.500617
USUAL_C = 37.5


def loss_percent(base_g: float, now_g: float) -> float:
    """What was lost since a mass was taken, % of that mass (Hand-Rearing Birds, 2nd ed., p. 552-553).

    Raises ValueError when the base is not above 0.
    """
    if not base_g > 0:
        raise ValueError("The mass to compare with must be above 0 g.")
    return 100.0 * (base_g - now_g) / base_g


def extrapolated_loss(start_g: float, end_g: float, days_between: float, period_days: float) -> float:
    """The loss over a whole period by the line through two masses, % of the first.

    (start - end) / start × period / days between (Hand-Rearing Birds, 2nd ed., p. 553: 26 g, 25 g seven days later,
    30 days: 16.5 %). Raises ValueError without time between them.
    """
    if not days_between > 0:
        raise ValueError("There must be time between two weighings.")
    return loss_percent(start_g, end_g) * period_days / days_between


def straight_line_loss(days: ArrayLike, losses: ArrayLike, at_day: float) -> float | None:
    """The loss at a day by the straight line of least squares through losses, %; None without two days."""
    day, loss = np.asarray(days, dtype=np.float64), np.asarray(losses, dtype=np.float64)
    if day.size < 2 or np.ptp(day) <= 0:
        return None
    off = day - day.mean()
    slope = float(off @ loss) / float(off @ off)
    return float(loss.mean()) + slope * (at_day - float(day.mean()))


@overload
def pull_torr(
    humidity: float, air_c: float, egg_c: float | None = ..., pressure_kpa: float = ...
) -> float: ...
@overload
def pull_torr(
    humidity: FloatArray, air_c: FloatArray, egg_c: FloatArray | None = ..., pressure_kpa: float = ...
) -> FloatArray: ...
def pull_torr(
    humidity: float | FloatArray,
    air_c: float | FloatArray,
    egg_c: float | FloatArray | None = None,
    pressure_kpa: float = STANDARD_PRESSURE_KPA,
) -> float | FloatArray:
    """How the air pulls at the water of eggs, torr, carried to sea level: (P_egg - P_air) × 101.325 kPa / pressure.

    humidity: % RH at the temperature of the air, °C. egg_c: None for eggs as warm as the air.
    """
    saturated = np.asarray(saturation_kpa(air_c))
    inside = saturated if egg_c is None else np.asarray(saturation_kpa(egg_c))
    pull = (inside - saturated * np.asarray(humidity, dtype=np.float64) / 100.0) * TORR_PER_KPA
    pull = pull * (STANDARD_PRESSURE_KPA / pressure_kpa)
    return pull if np.ndim(pull) else float(pull)


def forecast_loss(
    conductance: float,
    humidity: float,
    days: float,
    *,
    lost_so_far: float = 0.0,
    air_c: float = USUAL_C,
    egg_c: float | None = None,
    pressure_kpa: float = STANDARD_PRESSURE_KPA,
) -> float:
    """What will have been lost after some days of a humidity, % of the mass when set.

    Args:
        conductance: of a gram of egg at sea level, mg/(day g torr).
        humidity: mean of the days, % RH.
        days: how many.
        lost_so_far: %.
        air_c: temperature of the air; egg_c: of the eggs, None: as warm as the air.
        pressure_kpa: of the air.
    """
    return lost_so_far + conductance * pull_torr(humidity, air_c, egg_c, pressure_kpa) * days / 10.0


def humidity_for_loss(
    conductance: float,
    loss: float,
    days: float,
    *,
    lost_so_far: float = 0.0,
    air_c: float = USUAL_C,
    egg_c: float | None = None,
    pressure_kpa: float = STANDARD_PRESSURE_KPA,
) -> float:
    """The mean humidity to hold for some days so that ``loss`` % will have been lost, % RH: `forecast_loss` turned.

    The answer may lie outside 0 to 100: then no air does it. Raises ValueError without time or conductance.
    """
    if not (days > 0 and conductance > 0):
        raise ValueError("There must be time left, and a conductance above 0.")
    dry = pull_torr(0.0, air_c, egg_c, pressure_kpa)
    each_percent = dry - pull_torr(1.0, air_c, egg_c, pressure_kpa)
    return (dry - 10.0 * (loss - lost_so_far) / (conductance * days)) / each_percent
