"""A hygrometer checked over salts, against the table of OIML R 121 and Greenspan's formulas (see SOURCES.md)."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.calibration import CheckPoint, corrections
from hatchbook.trade.codes import Quantity
from hatchbook.trade.salts import Salt, fixed_points

# OIML R 121 (1996), table 1: °C, % RH, expanded uncertainty (k = 2).
OIML = {
    Salt.SODIUM_CHLORIDE: [(20, 75.5, 0.2), (25, 75.3, 0.2), (30, 75.1, 0.2), (35, 74.9, 0.2)],
    Salt.MAGNESIUM_CHLORIDE: [(20, 33.1, 0.2), (25, 32.8, 0.2), (30, 32.4, 0.2), (35, 32.1, 0.2)],
}
# Greenspan 1977, J. Res. NBS 81A:89-96: RH = A0 + A1 t + A2 t² + A3 t³ (read as quoted in public code).
GREENSPAN = {
    Salt.SODIUM_CHLORIDE: (75.5164, 0.0398321, -0.265459e-2, 0.2848e-4),
    Salt.MAGNESIUM_CHLORIDE: (33.6686, -0.00797397, -0.108988e-2, 0.0),
}


@pytest.mark.parametrize("salt", OIML)
def test_the_fixed_points_are_those_of_the_recommendation(salt: Salt) -> None:
    ours = {point.temperature_c: (point.humidity, point.uncertainty) for point in fixed_points(salt)}
    for celsius, humidity, uncertainty in OIML[salt]:
        assert ours[celsius] == (humidity, uncertainty)


@pytest.mark.parametrize("salt", GREENSPAN)
def test_the_recommendation_agrees_with_greenspans_formula(salt: Salt) -> None:
    for point in fixed_points(salt):
        if 20 <= point.temperature_c <= 35:
            formula = np.polynomial.polynomial.polyval(point.temperature_c, GREENSPAN[salt])
            assert point.humidity == pytest.approx(formula, abs=0.06)


def test_a_two_point_correction_worked_by_hand() -> None:
    """Table salt and magnesium chloride at 25 °C: it showed 77.3 for 75.3 % and 31.8 for 32.8 %.

    By hand: gain (75.3 - 32.8) / (77.3 - 31.8) = 42.5 / 45.5 = 0.934066; offset 75.3 - 0.934066 × 77.3 = 3.096703;
    so 47.0 shown are 46.9978 % and 65.0 shown are 63.8110 %.
    """
    points = [
        CheckPoint(0, fixed_points(salt)[2].humidity, shown, fixed_points(salt)[2].uncertainty)
        for salt, shown in ((Salt.SODIUM_CHLORIDE, 77.3), (Salt.MAGNESIUM_CHLORIDE, 31.8))
    ]
    (one,) = corrections(Quantity.HUMIDITY, points)
    assert one.gain == pytest.approx(0.934066, abs=1e-6)
    assert one.offset == pytest.approx(3.096703, abs=1e-6)
    assert one.corrected(47.0) == pytest.approx(46.9978, abs=1e-4)
    assert one.corrected(65.0) == pytest.approx(63.8110, abs=1e-4)
    assert (one.gain, one.offset) == pytest.approx(tuple(np.polyfit([77.3, 31.8], [75.3, 32.8], 1)))
