"""The estimated mass of a fresh egg."""

from __future__ import annotations

import math

import pytest
from hatchbook.statistics.egg_size import fresh_mass_g


def test_an_egg_of_57_by_42_mm_weighs_about_55_g() -> None:
    # W = 0.548 L B^2, Hoyt 1979, The Auk 96:73-77, from memory: 0.548 * 5.7 * 4.2^2 = 55.100 g
    assert fresh_mass_g(57.0, 42.0) == pytest.approx(55.100, abs=5e-4)


def test_mass_grows_with_the_cube_of_the_size() -> None:
    assert fresh_mass_g(114.0, 84.0) == pytest.approx(8 * fresh_mass_g(57.0, 42.0))


@pytest.mark.parametrize(
    ("length", "breadth"), [(0.0, 42.0), (57.0, -1.0), (math.nan, 42.0), (math.inf, 42.0)]
)
def test_what_is_no_measure_is_refused(length: float, breadth: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        fresh_mass_g(length, breadth)
