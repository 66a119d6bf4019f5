"""Moist air: against PsychroLib and CoolProp over the incubator's range, single values, and wrong input."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hatchbook.statistics.moisture import (
    dew_point_c,
    humidity_ratio,
    humidity_when_warmed,
    pressure_kpa,
    relative_humidity,
    relative_humidity_from_wet_bulb,
    saturation_kpa,
    vapour_kpa,
    wet_bulb_c,
)
from hatchbook.trade.codes import Wick
from hypothesis import given
from hypothesis import strategies as st

WICKS = [None, Wick.ASPIRATED, Wick.NATURAL, Wick.STILL_AIR]
temperatures = st.floats(10, 45)
humidities = st.floats(5, 95)
pressures = st.floats(70, 103)


@pytest.fixture(scope="module", autouse=True)
def _si_units() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.fixture(scope="module")
def grid() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The incubator's range: 10-45 °C, 5-95 %, 70-103 kPa."""
    t, rh, p = np.meshgrid(
        np.linspace(10, 45, 15), np.linspace(5, 95, 13), np.array([70.0, 84.0, 95.0, 101.325, 103.0])
    )
    return t.ravel(), rh.ravel(), p.ravel()


def fahrenheit(f: float) -> float:
    return (f - 32.0) / 1.8


def test_agrees_with_psychrolib_over_the_incubators_range(grid: tuple[np.ndarray, ...]) -> None:
    t, rh, p = grid
    rows = list(zip(t.tolist(), (rh / 100).tolist(), (1000 * p).tolist(), strict=True))
    np.testing.assert_allclose(
        vapour_kpa(t, rh), [psychrolib.GetVapPresFromRelHum(a, b) / 1000 for a, b, _ in rows], rtol=1e-12
    )
    np.testing.assert_allclose(
        humidity_ratio(t, rh, p), [psychrolib.GetHumRatioFromRelHum(*row) for row in rows], rtol=1e-12
    )
    # PsychroLib's own searches stop at 0.001 °C.
    np.testing.assert_allclose(
        dew_point_c(t, rh), [psychrolib.GetTDewPointFromRelHum(a, b) for a, b, _ in rows], atol=0.0011
    )
    ours, theirs = wet_bulb_c(t, rh, p), [psychrolib.GetTWetBulbFromRelHum(*row) for row in rows]
    np.testing.assert_allclose(ours, theirs, atol=0.0011)


def test_humidity_from_wet_bulb_agrees_with_psychrolib(grid: tuple[np.ndarray, ...]) -> None:
    t, rh, p = grid
    wet = wet_bulb_c(t, rh, p)
    theirs = [
        100 * psychrolib.GetRelHumFromTWetBulb(a, b, c)
        for a, b, c in zip(t.tolist(), wet.tolist(), (1000 * p).tolist(), strict=True)
    ]
    np.testing.assert_allclose(relative_humidity_from_wet_bulb(t, wet, p), theirs, atol=1e-9)


def test_agrees_with_coolprop_within_its_enhancement_factor() -> None:
    """CoolProp counts the enhancement factor of moist air, which these formulas leave out: up to 0.5 %."""
    for t, rh, p in [(10.0, 30.0, 101.325), (20.0, 60.0, 84.0), (37.5, 55.0, 101.325), (45.0, 90.0, 70.0)]:
        state = ("T", t + 273.15, "P", 1000 * p, "R", rh / 100)
        assert humidity_ratio(t, rh, p) == pytest.approx(HAPropsSI("W", *state), rel=0.0065)
        assert dew_point_c(t, rh) == pytest.approx(HAPropsSI("D", *state) - 273.15, abs=0.02)
        assert wet_bulb_c(t, rh, p) == pytest.approx(HAPropsSI("B", *state) - 273.15, abs=0.02)


def test_saturation_over_ice_agrees_with_psychrolib_and_meets_water_at_the_triple_point() -> None:
    t = np.array([-60.0, -20.0, -5.0, 0.0, 0.01])
    theirs = [psychrolib.GetSatVapPres(x) / 1000 for x in t.tolist()]
    np.testing.assert_allclose(saturation_kpa(t), theirs, rtol=1e-12)
    assert saturation_kpa(0.01) == pytest.approx(saturation_kpa(0.010001), rel=2e-4)


def test_saturation_at_37_5_degrees() -> None:
    assert saturation_kpa(37.5) == pytest.approx(6.45417, abs=5e-6)  # ASHRAE 2017, computed with PsychroLib


@pytest.mark.parametrize(
    ("wick", "sea_level", "at_84_kpa"),
    [  # 99.5 °F dry, 85.0 °F wet: ASHRAE and FAO-56 coefficients, computed independently
        (None, 55.61, 57.04),
        (Wick.ASPIRATED, 55.35, 56.78),
        (Wick.NATURAL, 53.60, 55.33),
        (Wick.STILL_AIR, 48.54, 51.14),
    ],
)
def test_how_the_air_meets_the_wick_matters(wick: Wick | None, sea_level: float, at_84_kpa: float) -> None:
    dry, wet = fahrenheit(99.5), fahrenheit(85.0)
    assert relative_humidity_from_wet_bulb(dry, wet, wick=wick) == pytest.approx(sea_level, abs=0.006)
    assert relative_humidity_from_wet_bulb(dry, wet, 84.0, wick) == pytest.approx(at_84_kpa, abs=0.006)


def test_treatments_of_a_published_trial() -> None:
    """Vick, Brake & Walsh 1993, Poult. Sci. 72:251-258: 37.5 °C dry, 28.3 and 30.0 °C wet: 50.4 and 58.2 %."""
    rh = relative_humidity_from_wet_bulb(np.array([37.5, 37.5]), np.array([28.3, 30.0]))
    np.testing.assert_allclose(rh, [50.4, 58.2], atol=0.06)


@pytest.mark.parametrize(("room_c", "room_rh", "expected"), [(20, 50, 18.1), (22, 50, 20.5), (25, 60, 29.5)])
def test_room_air_warmed_to_machine_temperature(room_c: float, room_rh: float, expected: float) -> None:
    assert humidity_when_warmed(room_c, room_rh, 37.5) == pytest.approx(expected, abs=0.06)


def test_humidity_moves_with_temperature_at_constant_vapour_pressure() -> None:
    """55 % at 37.5 °C brought to 36.5, 37.0, 38.0 and 38.5 °C (computed)."""
    rh = humidity_when_warmed(37.5, 55.0, np.array([36.5, 37.0, 38.0, 38.5]))
    np.testing.assert_allclose(rh, [58.1, 56.5, 53.5, 52.1], atol=0.06)


def test_room_air_that_would_condense_in_a_colder_place_is_saturated() -> None:
    assert humidity_when_warmed(30.0, 80.0, 20.0) == 100.0


def test_pressure_falls_with_altitude_as_in_the_standard_atmosphere() -> None:
    altitude = np.array([0.0, 500, 1000, 1500, 2000, 2500, 3000])
    expected = [101.3250, 95.4608, 89.8745, 84.5559, 79.4951, 74.6824, 70.1084]  # ASHRAE 2017 ch. 1 eq. 3
    np.testing.assert_allclose(pressure_kpa(altitude), expected, atol=6e-5)
    # An egg laid at sea level loses 1.198 times as much at 1500 m: diffusion goes with 1/p.
    assert pressure_kpa(0.0) / pressure_kpa(1500.0) == pytest.approx(1.198, abs=5e-4)


@given(temperatures, humidities, pressures, st.sampled_from(WICKS))
def test_wet_bulb_there_and_back(t: float, rh: float, p: float, wick: Wick | None) -> None:
    wet = wet_bulb_c(t, rh, p, wick)
    assert wet <= t
    assert relative_humidity_from_wet_bulb(t, wet, p, wick) == pytest.approx(rh, abs=1e-6)


@given(st.floats(-40, 80), st.floats(0.5, 100))
def test_dew_point_there_and_back(t: float, rh: float) -> None:
    dew = dew_point_c(t, rh)
    assert dew <= t
    # The formulas over ice and over water differ by 0.01 % where they meet.
    assert saturation_kpa(dew) == pytest.approx(vapour_kpa(t, rh), rel=2e-4)
    assert relative_humidity(t, vapour_kpa(t, rh)) == pytest.approx(rh)


@given(temperatures, humidities, pressures)
def test_a_stiller_wick_reads_higher_in_the_same_air(t: float, rh: float, p: float) -> None:
    wets = [wet_bulb_c(t, rh, p, wick) for wick in (Wick.ASPIRATED, Wick.NATURAL, Wick.STILL_AIR)]
    assert wets == sorted(wets)


@pytest.mark.parametrize("wick", WICKS)
def test_saturated_air_leaves_the_wet_bulb_at_the_dry_one(wick: Wick | None) -> None:
    assert wet_bulb_c(37.5, 100.0, wick=wick) == pytest.approx(37.5, abs=1e-8)
    assert relative_humidity_from_wet_bulb(37.5, 37.5, wick=wick) == 100.0
    assert dew_point_c(37.5, 100.0) == pytest.approx(37.5, abs=1e-8)


def test_a_wet_bulb_a_rounding_above_the_dry_one_is_saturated() -> None:
    assert relative_humidity_from_wet_bulb(37.50, 37.55) == 100.0


def test_numbers_give_numbers_and_arrays_give_arrays() -> None:
    assert isinstance(dew_point_c(37.5, 55.0), float)
    assert isinstance(relative_humidity_from_wet_bulb(37.5, 30.0), float)
    assert wet_bulb_c(np.array([36.0, 37.0, 38.0]), np.array([[40.0], [50.0]])).shape == (2, 3)
    assert saturation_kpa(np.array([])).shape == (0,)


def test_a_missing_reading_stays_missing() -> None:
    t, rh = np.array([37.5, np.nan, 37.5]), np.array([55.0, 55.0, np.nan])
    for result in (vapour_kpa(t, rh), dew_point_c(t, rh), wet_bulb_c(t, rh), humidity_ratio(t, rh)):
        assert np.isnan(result).tolist() == [False, True, True]


def test_perfectly_dry_air_has_no_dew_point_but_a_wet_bulb() -> None:
    assert np.isnan(dew_point_c(37.5, 0.0))
    assert wet_bulb_c(37.5, 0.0) == pytest.approx(
        psychrolib.GetTWetBulbFromRelHum(37.5, 0.0, 101325), abs=0.002
    )


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        (lambda: vapour_kpa(37.5, 100.1), "between 0 and 100 %"),
        (lambda: dew_point_c(37.5, np.array([50.0, -1.0])), "between 0 and 100 %"),
        (lambda: saturation_kpa(300.0), "between -100 and 200 °C"),
        (lambda: relative_humidity_from_wet_bulb(37.5, 37.7), "higher than the dry bulb"),
        (lambda: relative_humidity_from_wet_bulb(40.0, 5.0), "lower than even perfectly dry air"),
        (lambda: wet_bulb_c(37.5, 50.0, 0.0), "above zero"),
        (lambda: pressure_kpa(20_000.0), "between -500 and 11 000 metres"),
        (lambda: relative_humidity(37.5, -0.1), "below zero"),
        (lambda: humidity_ratio(99.0, 100.0, 70.0), "boils"),
    ],
)
def test_wrong_input_is_refused_with_a_plain_sentence(wrong: object, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        wrong()
