"""Fixed points of humidity: what the air over a saturated salt settles at, for checking hygrometers.

OIML R 121 (1996), The scale of relative humidity of air certified against saturated salt solutions, table 1: % RH
with the expanded uncertainty (k = 2). Only the temperatures of the table are given; none is reckoned between them.
Lithium chloride below 25 °C is left out, since the table gives a spread and no value there. They hold over salt and
distilled water with 30 to 90 % of the salt undissolved, in a small sealed vessel (sections 6.3 and 7.2).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SALT_SOURCE = "OIML R 121 (1996), table 1"


class Salt(StrEnum):
    """A salt, by its formula."""

    MAGNESIUM_CHLORIDE = "MgCl2"
    SODIUM_CHLORIDE = "NaCl"
    LITHIUM_CHLORIDE = "LiCl"
    POTASSIUM_CARBONATE = "K2CO3"
    SODIUM_BROMIDE = "NaBr"
    POTASSIUM_IODIDE = "KI"
    POTASSIUM_CHLORIDE = "KCl"
    POTASSIUM_SULPHATE = "K2SO4"


@dataclass(frozen=True)
class FixedPoint:
    """Relative humidity over a salt at a temperature (°C), % RH, and its uncertainty, ± % RH."""

    salt: Salt
    temperature_c: float
    humidity: float
    uncertainty: float


_TEMPERATURES_C = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0)

#: % RH and its uncertainty at the temperatures above; None where the table has no value.
_TABLE: dict[Salt, tuple[tuple[float, float] | None, ...]] = {
    Salt.SODIUM_CHLORIDE: ((75.6, 0.2), (75.5, 0.2), (75.3, 0.2), (75.1, 0.2), (74.9, 0.2), (74.7, 0.2)),
    Salt.MAGNESIUM_CHLORIDE: ((33.3, 0.3), (33.1, 0.2), (32.8, 0.2), (32.4, 0.2), (32.1, 0.2), (31.6, 0.2)),
    Salt.LITHIUM_CHLORIDE: (None, None, (11.3, 0.3), (11.3, 0.3), (11.3, 0.3), (11.2, 0.3)),
    Salt.POTASSIUM_CARBONATE: ((43.2, 0.4), (43.2, 0.4), (43.2, 0.4), (43.2, 0.5), None, None),
    Salt.SODIUM_BROMIDE: ((60.7, 0.6), (59.1, 0.5), (57.6, 0.4), (56.0, 0.4), (54.6, 0.4), (53.2, 0.5)),
    Salt.POTASSIUM_IODIDE: ((71.0, 0.3), (69.9, 0.3), (68.9, 0.3), (67.9, 0.3), (67.0, 0.3), (66.1, 0.3)),
    Salt.POTASSIUM_CHLORIDE: ((85.9, 0.4), (85.1, 0.3), (84.2, 0.3), (83.6, 0.3), (83.0, 0.3), (82.3, 0.4)),
    Salt.POTASSIUM_SULPHATE: ((97.9, 0.7), (97.6, 0.6), (97.3, 0.5), (97.0, 0.4), (96.7, 0.4), (96.4, 0.4)),
}


def fixed_points(salt: Salt) -> tuple[FixedPoint, ...]:
    """The fixed points of a salt, coldest first."""
    return tuple(
        FixedPoint(salt, temperature, *value)
        for temperature, value in zip(_TEMPERATURES_C, _TABLE[salt], strict=True)
        if value is not None
    )
