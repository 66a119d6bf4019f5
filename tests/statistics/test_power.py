"""How many batches it takes to tell a difference."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.comparison import batches_needed, compare_groups


def test_without_a_spread_it_is_about_the_textbooks_number_of_eggs() -> None:
    # Two proportions, 0.7 and 0.8, level 0.05, power 0.8: 291 each by the unpooled normal formula (Fleiss 1981,
    # chapter 3: (1.96 + 0.8416)^2 (0.21 + 0.16) / 0.01 = 290.4); batches of one egg are eggs
    assert batches_needed(0.75, 0.0, 1, 0.10, 0.8, 0.05) == pytest.approx(291, abs=3)


def test_many_batches_are_those_of_statsmodels_t_test() -> None:
    from statsmodels.stats.power import TTestIndPower

    variance = (0.7 * 0.3 + 0.8 * 0.2) / 2 * (1 + 23 * 0.05) / 24
    theirs = TTestIndPower().solve_power(0.1 / np.sqrt(variance), alpha=0.01, power=0.8)
    assert batches_needed(0.75, 0.05, 24) == pytest.approx(theirs, abs=1.5)


def test_a_spread_costs_batches_that_larger_batches_do_not_make_good() -> None:
    assert batches_needed(0.75, 0.1, 24) > 2.5 * batches_needed(0.75, 0.0, 24)
    assert batches_needed(0.75, 0.1, 48) > 0.8 * batches_needed(0.75, 0.1, 24)
    assert batches_needed(0.75, 0.0, 48) == pytest.approx(batches_needed(0.75, 0.0, 24) / 2, abs=2)


def test_larger_differences_need_fewer_and_more_certainty_needs_more() -> None:
    needed = [batches_needed(0.75, 0.05, 24, difference) for difference in (0.05, 0.1, 0.2, 0.4)]
    assert needed == sorted(needed, reverse=True)
    assert batches_needed(0.75, 0.05, 24, power=0.95) > batches_needed(0.75, 0.05, 24)
    assert batches_needed(0.75, 0.05, 24, alpha=0.05) < batches_needed(0.75, 0.05, 24)


def test_the_comparison_finds_the_difference_about_as_often_as_asked() -> None:
    mean, rho, eggs, difference = 0.7, 0.05, 24, 0.2
    batches = batches_needed(mean, rho, eggs, difference, power=0.8)
    rng, found, size = np.random.default_rng(8), 0, 1 / rho - 1
    for _ in range(150):
        groups = {
            p: (rng.binomial(eggs, rng.beta(p * size, (1 - p) * size, batches)), np.full(batches, eggs))
            for p in (0.6, 0.8)
        }
        found += bool(compare_groups(groups).findings)
    assert 0.68 < found / 150 < 0.92


@pytest.mark.parametrize("mean", [0.0, 0.02, 0.99, 1.0])
def test_a_mean_near_none_or_all_has_an_answer(mean: float) -> None:
    assert 2 <= batches_needed(mean, 0.05, 24) < 100


def test_a_hopeless_difference_has_an_upper_end() -> None:
    assert batches_needed(0.5, 0.9, 1, 1e-6) == 1_000_000


@pytest.mark.parametrize(
    "wrong",
    [
        {"mean": 75},
        {"rho": -0.1},
        {"eggs_per_batch": 0},
        {"difference": 0},
        {"difference": 10},
        {"power": 1},
        {"alpha": 0},
    ],
)
def test_impossible_input_is_refused(wrong: dict[str, float]) -> None:
    given = {"mean": 0.75, "rho": 0.05, "eggs_per_batch": 24} | wrong
    with pytest.raises(ValueError, match="must"):
        batches_needed(**given)
