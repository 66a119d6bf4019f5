"""Fixed points of humidity against the printed table."""

from __future__ import annotations

import pytest
from hatchbook.trade.salts import Salt, fixed_points

# OIML R 121 (1996), table 1; the two salts that bracket the humidity of incubation.
PRINTED = {
    Salt.SODIUM_CHLORIDE: {15: 75.6, 20: 75.5, 25: 75.3, 30: 75.1, 35: 74.9, 40: 74.7},
    Salt.MAGNESIUM_CHLORIDE: {15: 33.3, 20: 33.1, 25: 32.8, 30: 32.4, 35: 32.1, 40: 31.6},
}
# Greenspan 1977 (J. Res. NBS 81A:89-96), RH = A0 + A1 t + A2 t² + A3 t³: another reckoning of the same salts.
GREENSPAN = {
    Salt.SODIUM_CHLORIDE: (75.5164, 0.0398321, -0.265459e-2, 0.2848e-4),
    Salt.MAGNESIUM_CHLORIDE: (33.6686, -0.00797397, -0.108988e-2, 0.0),
    Salt.POTASSIUM_CHLORIDE: (88.6190, -0.193340, 0.899706e-3, 0.0),
}


@pytest.mark.parametrize("salt", PRINTED)
def test_values_are_those_of_the_printed_table(salt: Salt) -> None:
    assert {point.temperature_c: point.humidity for point in fixed_points(salt)} == PRINTED[salt]


@pytest.mark.parametrize("salt", GREENSPAN)
def test_values_agree_with_greenspan_within_their_uncertainty(salt: Salt) -> None:
    a, b, c, d = GREENSPAN[salt]
    for point in fixed_points(salt):
        t = point.temperature_c
        assert point.humidity == pytest.approx(a + b * t + c * t**2 + d * t**3, abs=point.uncertainty + 0.05)


@pytest.mark.parametrize("salt", Salt)
def test_every_salt_has_points_at_temperatures_that_grow(salt: Salt) -> None:
    temperatures = [point.temperature_c for point in fixed_points(salt)]
    assert temperatures == sorted(set(temperatures))
    assert 25.0 in temperatures
    assert all(0 < point.uncertainty <= 0.7 for point in fixed_points(salt))


def test_nothing_is_offered_where_the_table_has_no_value() -> None:
    assert [point.temperature_c for point in fixed_points(Salt.LITHIUM_CHLORIDE)] == [25, 30, 35, 40]
    assert [point.temperature_c for point in fixed_points(Salt.POTASSIUM_CARBONATE)] == [15, 20, 25, 30]
