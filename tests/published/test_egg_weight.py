"""The loss of weight against published values; `SOURCES.md` says where they are from."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hatchbook.figures.weight_results import LossTarget
from hatchbook.statistics.conductance import ConductancePrior, Weighed, batch_conductance, egg_lines, scale_sd
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.statistics.moisture import pressure_kpa
from hatchbook.statistics.weight_loss import (
    extrapolated_loss,
    forecast_loss,
    humidity_for_loss,
    loss_percent,
    straight_line_loss,
)

TABLE = (Path(__file__).parent / "amazon_egg_weights.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(TABLE.splitlines()))
DAYS = np.array([float(row["day"]) for row in ROWS if row["actual_g"]])
MASSES = np.array([float(row["actual_g"]) for row in ROWS if row["actual_g"]])
START_G = float(MASSES[0])


@pytest.mark.parametrize(
    ("conductance", "humidity", "egg_c", "loss"),
    [
        (0.31, 53, 37.5, 12.70),
        (0.40, 66, 37.5, 11.85),
        (0.31, 53, 38.0, 13.44),
        (0.40, 66, 38.0, 12.81),
    ],
)
def test_layers_lose_what_was_aimed_at_by_day_18(
    conductance: float, humidity: float, egg_c: float, loss: float
) -> None:
    lost = forecast_loss(conductance, humidity, 18, egg_c=egg_c)
    assert lost == pytest.approx(loss, abs=0.005)
    assert 11.5 < lost < 13.5  # 12 to 13 % were aimed at
    assert humidity_for_loss(conductance, lost, 18, egg_c=egg_c) == pytest.approx(humidity)


@pytest.mark.parametrize(
    ("humidity", "loss"), [(45, 14.86), (50, 13.51), (55, 12.16), (60, 10.81), (65, 9.45)]
)
def test_a_point_of_humidity_is_a_quarter_of_a_point_of_loss(humidity: float, loss: float) -> None:
    """Computed with 0.31 mg/(day g torr), 18 days, 37.5 °C: -0.27 point of loss for each point of humidity."""
    assert forecast_loss(0.31, humidity, 18) == pytest.approx(loss, abs=0.006)
    slope = forecast_loss(0.31, humidity + 1, 18) - forecast_loss(0.31, humidity, 18)
    assert slope == pytest.approx(-0.27, abs=0.005)


def test_the_extrapolated_loss_of_the_handbook() -> None:
    assert extrapolated_loss(26, 25, 7, 30) == pytest.approx(16.4835, abs=5e-5)
    assert round(extrapolated_loss(26, 25, 7, 30), 1) == 16.5  # as printed


def test_the_loss_of_the_amazon_egg_by_day_24() -> None:
    assert loss_percent(START_G, float(MASSES[24])) == pytest.approx(14.005, abs=0.0005)


def test_the_straight_line_of_the_amazon_egg() -> None:
    assert extrapolated_loss(START_G, float(MASSES[24]), 24, 25) == pytest.approx(14.589, abs=0.0005)
    losses = [loss_percent(START_G, mass) for mass in MASSES]
    # Least squares through all 25 days: 26.45222 g - 0.153185 g a day, 22.62260 g on day 25.
    assert straight_line_loss(DAYS, losses, 25) == pytest.approx(14.5995, abs=5e-5)


@pytest.mark.parametrize("share", [13, 17])
def test_both_guide_lines_of_the_amazon_egg(share: int) -> None:
    for row in ROWS:
        line = START_G * (1 - share / 100 * float(row["day"]) / 25)
        assert float(row[f"line{share}_g"]) == pytest.approx(line, abs=0.0051)
        assert loss_percent(START_G, line) == pytest.approx(share * float(row["day"]) / 25)


def test_the_amazon_egg_is_forecast_from_its_first_half() -> None:
    """By a steady pull of 25 torr (its humidity was not printed); from day 12 on it lost a little less a day."""
    seen = DAYS <= 12
    weighed = Weighed(
        np.zeros(seen.sum(), dtype=np.int64),
        25.0 * DAYS[seen],
        MASSES[seen] / START_G,
        np.full(seen.sum(), scale_sd(0.01) / START_G),
        np.empty((0, seen.sum())),
        1,
    )
    prior = ConductancePrior(0.23, 0.06, 0.153)
    found = batch_conductance(egg_lines(weighed, prior.mean), prior, np.empty(0))
    (mean,), _, _ = found.each_egg()
    assert mean * 25.0 * 24 / 10 == pytest.approx(14.005, abs=0.7)


@pytest.mark.parametrize(
    ("altitude_m", "factor"),
    [(0, 1.0), (500, 1.0614), (1000, 1.1274), (1500, 1.1983), (2000, 1.2746), (2500, 1.3567), (3000, 1.4452)],
)
def test_eggs_lose_more_high_up(altitude_m: float, factor: float) -> None:
    high = forecast_loss(0.31, 55, 18, pressure_kpa=pressure_kpa(altitude_m))
    assert high / forecast_loss(0.31, 55, 18) == pytest.approx(factor, abs=1e-4)


def test_at_1500_metres_62_percent_do_what_55_do_at_the_sea() -> None:
    lost = forecast_loss(0.31, 55, 18)
    assert humidity_for_loss(0.31, lost, 18, pressure_kpa=pressure_kpa(1500)) == pytest.approx(62.4, abs=0.05)


def test_hoyt_gives_the_mass_of_a_fresh_egg() -> None:
    assert fresh_mass_g(57, 42) == pytest.approx(55.100, abs=0.0005)  # coefficient from memory


def test_single_eggs_are_judged_by_where_dead_in_the_shell_gathered() -> None:
    """Turkeys, mg a day, 100 g and torr: mean 18.70, peaks of dead in the shell about 13.0 and 22.5."""
    target = LossTarget(11.0, 12.0, 13.0, 28.0)
    assert target.egg_low / target.aim == pytest.approx(13.0 / 18.70, abs=0.01)
    assert target.egg_high / target.aim == pytest.approx(22.5 / 18.70, abs=0.01)


def test_hens_eggs_that_hatched_worse_lost_less_than_a_single_egg_should() -> None:
    """About 6 % lost: 71 % hatched; about 12 %: 89 %."""
    target = LossTarget(12.0, 12.5, 13.0, 18.0)
    assert 6.0 < target.egg_low < 12.0 < target.egg_high
