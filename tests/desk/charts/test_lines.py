"""Curves as they are drawn."""

from __future__ import annotations

import numpy as np
from hatchbook.desk.charts.lines import Line, broken_line, coarser, column_means, simplified
from hypothesis import given, settings
from hypothesis import strategies as st

DAY = 86_400


def test_a_line_breaks_where_a_stretch_is_unknown() -> None:
    at = np.array([0, 600, 10_000, 10_600])
    line = broken_line(at, np.array([1.0, 2.0, 3.0, 4.0]), np.array([[600, 10_000]]), 0)
    np.testing.assert_array_equal(line.values, [1, 2, np.nan, 3, 4])
    assert np.all(np.diff(line.days) > 0)


def test_unknown_heads_and_tails_break_nothing() -> None:
    at = np.array([600, 1200])
    line = broken_line(at, np.array([1.0, 2.0]), np.array([[0, 600], [1200, 90_000]]), 0)
    np.testing.assert_array_equal(line.values, [1, 2])


def test_a_gap_cut_in_two_by_the_end_of_a_phase_breaks_once() -> None:
    at = np.array([0, 50_000])
    line = broken_line(at, np.array([1.0, 2.0]), np.array([[0, 20_000], [20_000, 50_000]]), 0)
    np.testing.assert_array_equal(line.values, [1, np.nan, 2])


def test_what_was_not_measured_is_passed_over() -> None:
    at = np.array([0, 600, 1200])
    line = broken_line(at, np.array([1.0, np.nan, 3.0]), np.empty((0, 2), np.int64), 0)
    np.testing.assert_array_equal(line.values, [1, 3])


@settings(max_examples=30)
@given(st.integers(2, 3000), st.integers(0, 2**32 - 1))
def test_a_simplified_mean_stays_on_the_mean_and_keeps_its_ends(count: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    means = np.cumsum(45 + rng.normal(0, 3, count)) / np.arange(1, count + 1)
    days = np.arange(count) * 600 / DAY
    line = simplified(Line(days, means), 0.02)
    assert line.days[0] == days[0]
    assert line.days[-1] == days[-1]
    # The tolerance, and what thinning by even steps may add after the first hours.
    later = slice(min(count - 1, 36), None)
    assert np.abs(np.interp(days, line.days, line.values) - means)[later].max() < 0.15


def test_a_straight_line_keeps_two_corners_and_every_phase_its_break() -> None:
    days = np.arange(201.0)
    values = np.full(201, 45.0)
    values[100] = np.nan
    line = simplified(Line(days, values), 0.02)
    np.testing.assert_array_equal(line.days, [0, 99, 100, 101, 200])
    assert np.isnan(line.values[2])


def test_simplifying_nothing_gives_nothing() -> None:
    assert simplified(Line(np.empty(0), np.empty(0)), 0.02).days.size == 0


@given(st.lists(st.floats(0, 100), min_size=1, max_size=300))
def test_a_coarser_line_reaches_as_far_up_and_down(values: list[float]) -> None:
    line = coarser(Line(np.arange(float(len(values))), np.array(values)), 16)
    assert line.values.min() == min(values)
    assert line.values.max() == max(values)
    assert np.all(np.diff(line.days) > 0)


def test_columns_take_the_mean_of_what_shares_them() -> None:
    days = np.array([0.0, 0.4, 1.1, 2.0, 3.0, 3.2])
    values = np.array([1.0, 3.0, 5.0, np.nan, 7.0, 9.0])
    parts = list(column_means(days, values, 1.0))
    assert [part[1].tolist() for part in parts] == [[2.0, 5.0], [8.0]]
