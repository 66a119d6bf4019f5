"""The trend of batches over seasons."""

from __future__ import annotations

import math
from dataclasses import astuple

import numpy as np
import pytest
from hatchbook.statistics.comparison import trend
from hatchbook.statistics.group_tests import cochran_armitage
from hypothesis import given
from hypothesis import strategies as st

SMOKERS = [83, 90, 129, 70], [86, 93, 136, 82], [1, 2, 3, 4]
SEASONS = np.repeat([2019, 2020, 2021, 2022, 2023], 5)
EGGS = np.full(25, 24)
RISING = np.array(
    [11, 14, 12, 10, 13, 13, 15, 12, 14, 16, 15, 17, 14, 16, 18, 17, 19, 16, 18, 20, 19, 21, 18, 20, 22]
)


def test_without_a_spread_it_is_the_cochran_armitage_test() -> None:
    # R's prop.trend.test on the smokers of Fleiss 1981, p. 139: 8.2249, p 0.004132
    line = trend(*SMOKERS, rho=0.0)
    assert line is not None
    assert line.p == pytest.approx(0.004132, abs=5e-6)
    assert line.p == pytest.approx(cochran_armitage(*SMOKERS).p, rel=1e-3)


def test_the_slope_is_that_of_a_logistic_regression() -> None:
    import statsmodels.api as sm

    hits, trials, scores = (np.array(column) for column in SMOKERS)
    model = sm.GLM(
        np.column_stack([hits, trials - hits]), sm.add_constant(scores), family=sm.families.Binomial()
    ).fit()
    line = trend(hits, trials, scores, rho=0.0)
    assert line is not None
    assert line.slope == pytest.approx(model.params[1], rel=1e-3)
    assert (line.slope_low, line.slope_high) == pytest.approx(tuple(model.conf_int()[1]), rel=2e-3)


def test_a_rise_over_seasons_is_found() -> None:
    line = trend(RISING, EGGS, SEASONS)
    assert line is not None
    assert line.more_than_chance
    assert 0 < line.points_low < line.points < line.points_high
    assert line.points == pytest.approx(0.08, abs=0.02)
    assert (line.from_score, line.to_score) == (2019, 2023)
    assert line.from_mean == pytest.approx(12 / 24, abs=0.04)
    assert line.to_mean == pytest.approx(20 / 24, abs=0.04)
    assert (line.batches, line.df) == (25, 23)


def test_scatter_around_the_line_widens_its_range() -> None:
    scattered = np.clip(RISING + np.tile([5, -5], 13)[:25], 0, 24)
    calm, wild = trend(RISING, EGGS, SEASONS), trend(scattered, EGGS, SEASONS)
    assert calm is not None
    assert wild is not None
    assert wild.rho > 0.05 > calm.rho
    assert wild.slope_high - wild.slope_low > 1.3 * (calm.slope_high - calm.slope_low)
    assert wild.p > calm.p


def test_seasons_that_leave_the_line_count_as_scatter() -> None:
    level = np.repeat([0.5, 0.9, 0.5, 0.9, 0.7], 5)
    line = trend(np.round(level * 24).astype(int), EGGS, SEASONS)
    assert line is not None
    assert line.rho > 0.1
    assert line.p > 0.05


def test_the_unit_of_the_scores_is_the_unit_of_the_slope() -> None:
    by_year, by_decade = trend(RISING, EGGS, SEASONS), trend(RISING, EGGS, SEASONS / 10)
    assert by_year is not None
    assert by_decade is not None
    assert by_decade.slope == pytest.approx(10 * by_year.slope)
    assert by_decade.points == pytest.approx(10 * by_year.points)
    assert by_decade.p == pytest.approx(by_year.p)


@pytest.mark.parametrize(
    ("hits", "trials", "scores"),
    [
        ([], [], []),
        ([5], [10], [1]),
        ([5, 6], [10, 10], [1, 2]),
        ([5, 6, 7], [10, 10, 10], [3, 3, 3]),
        ([10, 10, 10], [10, 10, 10], [1, 2, 3]),
        ([0, 0, 0], [10, 10, 10], [1, 2, 3]),
        ([0, 0, 0], [0, 0, 0], [1, 2, 3]),
    ],
    ids=["nothing", "one batch", "two batches", "one season", "all", "none", "no eggs"],
)
def test_too_few_to_say(hits: list[int], trials: list[int], scores: list[int]) -> None:
    assert trend(hits, trials, scores) is None


def test_a_step_from_none_to_all_is_finite() -> None:
    line = trend([0, 0, 0, 20, 20, 20], [20] * 6, [1, 1, 1, 2, 2, 2])
    assert line is not None
    assert all(math.isfinite(number) for number in astuple(line))
    assert line.p < 0.05


def test_a_score_must_be_there_for_each_batch() -> None:
    for scores in ([1], [1.0, float("nan")]):
        with pytest.raises(ValueError, match="one score for each batch"):
            trend([1, 2], [3, 4], scores)


counts = st.integers(0, 30).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n), st.integers(0, 4)))


@given(st.lists(counts, min_size=1, max_size=8))
def test_every_number_is_one(drawn: list[tuple[int, int, int]]) -> None:
    line = trend(*([row[column] for row in drawn] for column in range(3)))
    if line is not None:
        assert all(math.isfinite(number) for number in astuple(line))
        assert line.slope_low <= line.slope <= line.slope_high
        assert 0.0 <= line.p <= 1.0
