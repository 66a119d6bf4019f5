"""The moisture formulas against the published and reference tables beside this file (see SOURCES.md)."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hatchbook.statistics.moisture import (
    dew_point_c,
    humidity_ratio,
    relative_humidity,
    relative_humidity_from_wet_bulb,
    saturation_kpa,
    vapour_kpa,
    wet_bulb_c,
)
from hatchbook.trade.codes import Wick

HERE = Path(__file__).parent
TEXT = {"label", "psychrolib", "coolprop"}

# Parkhurst & Mountney, Poultry Meat and Egg Production, p. 78, table 5.2: wet bulb °F for 45, 50, ... 70 % RH.
# The rows for 100 and 101 °F were read; the one for 99 °F is from memory.
PRINTED_HUMIDITY = np.array([45.0, 50.0, 55.0, 60.0, 65.0, 70.0])
PRINTED_WET_BULB_F = {
    99.0: [80.5, 82.5, 84.5, 86.5, 88.0, 89.7],
    100.0: [81.3, 83.3, 85.3, 87.3, 89.0, 90.7],
    101.0: [82.2, 84.2, 86.2, 88.2, 90.0, 91.7],
}


def celsius(fahrenheit: object) -> np.ndarray:
    return (np.asarray(fahrenheit, dtype=float) - 32.0) / 1.8


def table(name: str) -> dict[str, np.ndarray]:
    """The columns of a CSV file as arrays, text columns left out."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {key: np.array([float(row[key]) for row in rows]) for key in rows[0] if key not in TEXT}


@pytest.fixture(scope="module")
def psychrometrics() -> dict[str, np.ndarray]:
    columns = table("psychrometrics.csv")
    # The file rounds 100 °F to 37.7778 °C and keeps 99.86 °F for 37.7 °C exactly.
    columns["dry_bulb_C"] = np.where(
        columns["dry_bulb_C"] == 37.7778, celsius(columns["dry_bulb_F"]), columns["dry_bulb_C"]
    )
    return columns


@pytest.fixture(scope="module")
def wet_bulb_table() -> dict[str, np.ndarray]:
    return table("wet_bulb_fahrenheit.csv")


def test_every_row_of_the_reference_table_comes_out(psychrometrics: dict[str, np.ndarray]) -> None:
    c = psychrometrics
    assert c["rh_pct"].size == 68
    dry, rh, p = c["dry_bulb_C"], c["rh_pct"], c["pressure_kPa"]
    np.testing.assert_allclose(saturation_kpa(dry), c["pws_kPa_ashrae"], atol=5.1e-6)
    np.testing.assert_allclose(vapour_kpa(dry, rh), c["e_kPa_ashrae"], atol=5.1e-6)
    np.testing.assert_allclose(dew_point_c(dry, rh), c["dewpoint_C"], atol=1.1e-3)
    np.testing.assert_allclose(1000 * humidity_ratio(dry, rh, p), c["humratio_g_per_kg"], atol=6e-4)
    # PsychroLib stops its bisection at 0.001 °C; the column is rounded to as much.
    np.testing.assert_allclose(wet_bulb_c(dry, rh, p), c["wetbulb_C"], atol=1.6e-3)


def test_the_reference_table_comes_out_backwards(psychrometrics: dict[str, np.ndarray]) -> None:
    c = psychrometrics
    dry, rh, p = c["dry_bulb_C"], c["rh_pct"], c["pressure_kPa"]
    np.testing.assert_allclose(relative_humidity(dry, c["e_kPa_ashrae"]), rh, atol=2e-4)
    np.testing.assert_allclose(relative_humidity_from_wet_bulb(dry, c["wetbulb_C"], p), rh, atol=0.01)


def test_other_formulas_for_saturation_lie_within_their_published_differences(
    psychrometrics: dict[str, np.ndarray],
) -> None:
    """At incubator temperatures the formulas differ by at most 0.27 %."""
    ours = saturation_kpa(psychrometrics["dry_bulb_C"])
    for name in ("pws_kPa_AE96", "pws_kPa_Sonntag_WMO", "pws_kPa_FAO56"):
        np.testing.assert_allclose(ours, psychrometrics[name], rtol=2.7e-3)


def test_coolprop_columns_differ_only_by_its_enhancement_factor(
    psychrometrics: dict[str, np.ndarray],
) -> None:
    c = psychrometrics
    dry, rh, p = c["dry_bulb_C"], c["rh_pct"], c["pressure_kPa"]
    np.testing.assert_allclose(wet_bulb_c(dry, rh, p), c["coolprop_wetbulb_C"], atol=0.007)
    np.testing.assert_allclose(dew_point_c(dry, rh), c["coolprop_dewpoint_C"], atol=0.011)
    ratio = c["coolprop_e_kPa"] / vapour_kpa(dry, rh)
    assert np.all((ratio > 1.0040) & (ratio < 1.0051))


@pytest.mark.parametrize(
    ("column", "wick"),
    [
        ("rh_ashrae", None),
        ("rh_A6p62e4_FAO56_ventilated", Wick.ASPIRATED),
        ("rh_A8p0e4_FAO56_natural", Wick.NATURAL),
        ("rh_A1p2e3_FAO56_unventilated", Wick.STILL_AIR),
    ],
)
def test_every_wet_bulb_row_comes_out_both_ways(
    wet_bulb_table: dict[str, np.ndarray], column: str, wick: Wick | None
) -> None:
    c = wet_bulb_table
    assert c[column].size == 912
    dry, wet, p = celsius(c["dry_bulb_F"]), celsius(c["wet_bulb_F"]), c["pressure_kPa"]
    rh = relative_humidity_from_wet_bulb(dry, wet, p, wick)
    np.testing.assert_allclose(rh, c[column], atol=0.0051)
    # A hundredth of a point of RH, as printed, is up to 0.005 °C of wet bulb.
    np.testing.assert_allclose(wet_bulb_c(dry, c[column], p, wick), wet, atol=0.005)


@pytest.mark.parametrize("dry_f", PRINTED_WET_BULB_F)
@pytest.mark.parametrize("wick", [None, Wick.ASPIRATED])
def test_the_printed_table_of_a_textbook_agrees_within_one_point(dry_f: float, wick: Wick | None) -> None:
    rh = relative_humidity_from_wet_bulb(
        celsius(dry_f), celsius(PRINTED_WET_BULB_F[dry_f]), pressure_kpa=101.325, wick=wick
    )
    np.testing.assert_allclose(rh, PRINTED_HUMIDITY, atol=1.0)


def test_the_contradicting_published_pair_is_not_repeated() -> None:
    """ "58-60 % or 84-86 °F wet bulb" at 100 °F dry: 84 to 86 °F are 52 to 57 %."""
    rh = relative_humidity_from_wet_bulb(celsius([100.0, 100.0]), celsius([84.0, 86.0]))
    np.testing.assert_allclose(rh, [52.0, 57.0], atol=0.5)
