"""Losses by conductance and humidity, against sums done by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.weight_loss import (
    TORR_PER_KPA,
    extrapolated_loss,
    forecast_loss,
    humidity_for_loss,
    loss_percent,
    pull_torr,
    straight_line_loss,
)
from hypothesis import given
from hypothesis import strategies as st


def test_a_loss_is_a_share_of_the_mass_before() -> None:
    assert loss_percent(60, 54) == 10.0
    assert loss_percent(60, 61) == pytest.approx(-1.6667, abs=1e-4)
    with pytest.raises(ValueError, match="above 0"):
        loss_percent(0, 1)


def test_one_torr_is_133_pascal() -> None:
    pascal = 1000 / TORR_PER_KPA
    assert pascal == pytest.approx(133.322, abs=0.001)


def test_dry_air_pulls_with_all_that_is_in_the_egg() -> None:
    assert pull_torr(0, 37.5) == pytest.approx(48.410, abs=0.001)  # ASHRAE
    assert pull_torr(100, 37.5) == 0
    assert pull_torr(100, 37.5, 38.0) > 0
    humidities, warm = np.array([40.0, 50.0]), np.array([37.5, 37.7])
    assert pull_torr(humidities, warm).tolist() == pytest.approx([pull_torr(40, 37.5), pull_torr(50, 37.7)])


def test_what_was_lost_before_counts_in() -> None:
    by_hand = 6.0 + 0.26 * saturation_kpa(37.7) * TORR_PER_KPA * 0.55 * 8 / 10
    assert forecast_loss(0.26, 45, 8, lost_so_far=6.0, air_c=37.7) == pytest.approx(by_hand)


@given(
    st.floats(0.05, 0.6),
    st.floats(0, 100),
    st.floats(0.5, 40),
    st.floats(0, 15),
    st.floats(35, 39),
    st.floats(60, 105),
)
def test_humidity_for_loss_turns_the_forecast_round(
    conductance: float, humidity: float, days: float, before: float, warm: float, pressure: float
) -> None:
    air = {"lost_so_far": before, "air_c": warm, "pressure_kpa": pressure}
    loss = forecast_loss(conductance, humidity, days, **air)
    assert humidity_for_loss(conductance, loss, days, **air) == pytest.approx(humidity, abs=1e-6)


def test_a_humidity_that_no_air_has_is_handed_on() -> None:
    assert humidity_for_loss(0.26, 12.5, 1, lost_so_far=5) < 0
    assert humidity_for_loss(0.26, 12.5, 1, lost_so_far=14) > 100
    for days, conductance in ((0, 0.26), (3, 0)):
        with pytest.raises(ValueError, match="time left"):
            humidity_for_loss(conductance, 12.5, days)


def test_a_straight_line_needs_two_days() -> None:
    assert straight_line_loss([7], [4.0], 18) is None
    assert straight_line_loss([7, 7], [4.0, 5.0], 18) is None
    assert straight_line_loss([0, 7, 14], [0, 4, 8], 21) == pytest.approx(12)
    with pytest.raises(ValueError, match="time between"):
        extrapolated_loss(60, 57, 0, 21)
