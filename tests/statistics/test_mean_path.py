"""The way of a phase's mean while a value is held."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.averages import hold_from_now
from hatchbook.statistics.mean_path import mean_path
from hypothesis import given
from hypothesis import strategies as st

hours = st.floats(0.1, 1000)
humidity = st.floats(0, 100)


def test_it_begins_at_the_mean_so_far_and_weighs_the_hours() -> None:
    # 48 % over 100 h, then 40 % for 100 h more: half and half.
    assert mean_path(48.0, 100.0, 40.0, [0.0, 100.0]).tolist() == [48.0, 44.0]


@given(humidity, hours, hours, humidity)
def test_what_hold_from_now_asks_for_ends_on_the_aim(
    mean: float, elapsed: float, remaining: float, aim: float
) -> None:
    held = hold_from_now(mean, elapsed, remaining, aim)
    assert mean_path(mean, elapsed, held, remaining) == pytest.approx(aim, abs=1e-6)


@given(humidity, hours, humidity)
def test_it_lies_between_the_mean_and_what_is_held(mean: float, elapsed: float, held: float) -> None:
    path = mean_path(mean, elapsed, held, np.linspace(0, 500, 20))
    assert np.all(path >= min(mean, held) - 1e-9)
    assert np.all(path <= max(mean, held) + 1e-9)


def test_without_any_time_gone_the_mean_is_what_is_held() -> None:
    assert mean_path(float("nan"), 0.0, 45.0, [5.0]).tolist() == [45.0]


def test_negative_hours_are_refused() -> None:
    with pytest.raises(ValueError, match="cannot be negative"):
        mean_path(45.0, -1.0, 45.0, [1.0])
    with pytest.raises(ValueError, match="cannot be negative"):
        mean_path(45.0, 1.0, 45.0, [-1.0])
