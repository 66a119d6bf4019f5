"""What to hold for the rest of a phase, and whether it can still be reached."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.averages import HoldReach, hold_from_now, hold_range
from hypothesis import given
from hypothesis import strategies as st


def test_hold_from_now_ends_the_phase_on_its_aim() -> None:
    # 10 of 18 days at 48 %, aim 45 %: (45 x 18 - 48 x 10) / 8 = 41.25 %.
    assert hold_from_now(48.0, 240.0, 192.0, 45.0) == pytest.approx(41.25)
    assert hold_from_now(math.nan, 0.0, 432.0, 45.0) == 45.0
    assert math.isnan(hold_from_now(math.nan, 10.0, 432.0, 45.0))


@given(st.floats(0, 100), st.floats(0, 400), st.floats(0.5, 400), st.floats(0, 100))
def test_holding_it_brings_the_mean_to_the_aim(mean: float, elapsed: float, left: float, aim: float) -> None:
    hold = hold_from_now(mean, elapsed, left, aim)
    assert (mean * elapsed + hold * left) / (elapsed + left) == pytest.approx(aim, abs=1e-9)


def test_hold_from_now_takes_arrays() -> None:
    hold = hold_from_now(np.array([48.0, 42.0]), np.array([240.0, 216.0]), np.array([192.0, 216.0]), 45.0)
    np.testing.assert_allclose(hold, [41.25, 48.0])


def test_nothing_is_left_to_hold_when_the_phase_is_over() -> None:
    with pytest.raises(ValueError, match="no time left"):
        hold_from_now(45.0, 432.0, 0.0, 45.0)
    with pytest.raises(ValueError, match="not begun"):
        hold_from_now(45.0, -1.0, 432.0, 45.0)


def test_hold_range_gives_the_edges_of_the_band() -> None:
    hold = hold_range(48.0, 240.0, 192.0, 40.0, 45.0, 50.0)
    assert (hold.low, hold.aim, hold.high) == pytest.approx((30.0, 41.25, 52.5))
    assert hold.reachable
    assert hold.band_reachable
    assert hold.nearest == hold.aim
    assert hold.ends_on == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("mean", "remaining_h", "limits", "reach", "band_reachable", "ends_on"),
    [
        (70.0, 48.0, (0.0, 100.0), HoldReach.TOO_DRY_TO_BE, False, 70 * 384 / 432),
        (20.0, 48.0, (0.0, 100.0), HoldReach.TOO_MOIST_TO_BE, False, (20 * 384 + 100 * 48) / 432),
        (48.0, 192.0, (38.0, 70.0), HoldReach.REACHABLE, True, 45.0),
        (48.0, 192.0, (43.0, 70.0), HoldReach.DRIER_THAN_EVER, True, (48 * 240 + 43 * 192) / 432),
        (42.0, 192.0, (30.0, 46.0), HoldReach.MOISTER_THAN_EVER, True, (42 * 240 + 46 * 192) / 432),
    ],
)
def test_hold_range_says_when_the_aim_is_out_of_reach(
    mean: float,
    remaining_h: float,
    limits: tuple[float, float],
    reach: HoldReach,
    band_reachable: bool,
    ends_on: float,
) -> None:
    hold = hold_range(mean, 432.0 - remaining_h, remaining_h, 40.0, 45.0, 50.0, *limits)
    assert hold.reach is reach
    assert hold.reachable is (reach is HoldReach.REACHABLE)
    assert hold.band_reachable is band_reachable
    assert limits[0] <= hold.nearest <= limits[1]
    assert hold.ends_on == pytest.approx(ends_on)
    assert 0 <= hold.to_hold <= 100
    if 0 <= hold.aim <= 100:
        assert hold.to_hold_ends_on == pytest.approx(45.0)
    else:
        assert hold.to_hold in (0, 100)


def test_hold_range_does_not_judge_what_is_unknown() -> None:
    hold = hold_range(math.nan, 240.0, 192.0, 40.0, 45.0, 50.0)
    assert hold.reach is HoldReach.UNKNOWN
    assert not hold.band_reachable
    assert math.isnan(hold.nearest)
    assert hold_range(math.nan, 0.0, 432.0, 40.0, 45.0, 50.0).nearest == 45.0


def test_hold_range_refuses_what_is_upside_down() -> None:
    with pytest.raises(ValueError, match="aim must lie between"):
        hold_range(45.0, 1.0, 1.0, 40.0, 55.0, 50.0)
    with pytest.raises(ValueError, match="range a machine can hold"):
        hold_range(45.0, 1.0, 1.0, 40.0, 45.0, 50.0, 60.0, 30.0)
