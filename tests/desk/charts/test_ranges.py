"""How far the rows reach."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.charts.ranges import close_range, humidity_range, temperature_range, ticks
from hatchbook.figures.results import Band
from hypothesis import given
from hypothesis import strategies as st


def phase(low: float = 40, high: float = 50, cool: float = 37.5, warm: float = 37.9) -> Any:
    return SimpleNamespace(
        humidity_band=Band(low, (low + high) / 2, high), temperature_band=Band(cool, (cool + warm) / 2, warm)
    )


def test_batches_whose_readings_fit_have_one_range() -> None:
    assert humidity_range([phase()], np.array([25.0, 70.0, np.nan])) == (19.0, 76.0)
    assert humidity_range([phase()], np.empty(0)) == (19.0, 76.0)
    assert humidity_range([phase()], np.array([np.nan])) == (19.0, 76.0)


def test_bands_and_readings_outside_extend_it_by_tens() -> None:
    assert humidity_range([phase(70, 80)], np.array([50.0])) == (19.0, 86.0)
    assert humidity_range([phase()], np.array([5.0, 99.0])) == (-1.0, 106.0)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=50))
def test_every_reading_is_in_the_humidity_range(values: list[float]) -> None:
    low, high = humidity_range([phase()], np.array(values))
    assert low <= min(values)
    assert high >= max(values)


def test_short_excursions_do_not_stretch_the_temperature_strip() -> None:
    warmth = np.full(1000, 37.7)
    warmth[:20] = 31.0
    assert temperature_range([phase()], warmth) == (36.2, 38.9)


def test_a_machine_that_is_always_cooler_does() -> None:
    low, high = temperature_range([phase()], np.full(500, 35.4))
    assert low == pytest.approx(35.2)
    assert high == 38.9


def test_the_bands_of_still_air_machines_fit() -> None:
    low, high = temperature_range([phase(cool=38.6, warm=39.2)], np.empty(0))
    assert (low, high) == (36.2, pytest.approx(40.4))


def test_ticks_grow_further_apart_in_a_low_row() -> None:
    assert ticks(19, 76, 10, 400, 22) == [20, 30, 40, 50, 60, 70]
    assert ticks(19, 76, 10, 80, 22) == [20, 40, 60]
    assert ticks(36.6, 38.5, 1, 64, 15) == [37, 38]


def test_a_close_range_leaves_out_lid_openings_but_not_when_everything_is_wanted() -> None:
    values = np.concatenate((np.full(990, 50.0), np.full(5, 20.0)))
    assert close_range(values, [40, 70], 10.0) == (35.0, 75.0)
    assert close_range(values, [], 10.0, everything=True)[0] <= 20.0
    assert close_range(np.empty(0), [], 10.0) == (0.0, 10.0)
