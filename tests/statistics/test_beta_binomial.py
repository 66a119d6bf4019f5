"""The batches of one group: published spreads, and what is said of few or odd batches."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.comparison import beta_binomial
from hatchbook.statistics.intervals import wilson
from hypothesis import given
from hypothesis import strategies as st

# Weil 1970, Fd. Cosmet. Toxicol. 8:177-182, Table 1: pups alive at 21 days, of those at 4 days, of 16 litters each
CONTROL = (
    [13, 12, 9, 9, 8, 8, 12, 11, 9, 9, 8, 11, 4, 5, 7, 7],
    [13, 12, 9, 9, 8, 8, 13, 12, 10, 10, 9, 13, 5, 7, 10, 10],
)
TREATED = (
    [12, 11, 10, 9, 10, 9, 9, 8, 8, 4, 7, 4, 5, 3, 3, 0],
    [12, 11, 10, 9, 11, 10, 10, 9, 9, 5, 9, 7, 10, 6, 10, 7],
)


@pytest.mark.parametrize(
    ("litters", "mean", "theta"),
    [
        # Williams 1975, Biometrics 31:949-952 (from memory; reproduced); theta = rho / (1 - rho)
        (CONTROL, 0.898, 0.021),
        (TREATED, 0.740, 0.465),
    ],
    ids=["control", "treated"],
)
def test_weils_rats(litters: tuple[list[int], list[int]], mean: float, theta: float) -> None:
    result = beta_binomial(*litters)
    assert result.mean == pytest.approx(mean, abs=5e-4)
    assert result.rho / (1 - result.rho) == pytest.approx(theta, abs=5e-4)
    assert (result.batches, result.trials) == (16, sum(litters[1]))


@pytest.mark.parametrize("litters", [CONTROL, TREATED], ids=["control", "treated"])
def test_log_likelihood_is_scipys_and_the_highest(litters: tuple[list[int], list[int]]) -> None:
    from scipy.stats import betabinom

    result = beta_binomial(*litters)
    assert result.mean is not None

    def at(mean: float, rho: float) -> float:
        size = 1 / rho - 1
        return float(betabinom.logpmf(*litters, mean * size, (1 - mean) * size).sum())

    assert result.log_likelihood == pytest.approx(at(result.mean, result.rho), rel=1e-9)
    for mean, rho in ((0.005, 0), (-0.005, 0), (0, 0.005), (0, -0.005)):
        assert at(result.mean + mean, result.rho + rho) < result.log_likelihood


def test_the_range_of_scattered_batches_is_wider_than_the_eggs_make_it() -> None:
    result = beta_binomial(*TREATED)
    low, high = wilson(result.hits, result.trials)
    assert result.high - result.low > 1.7 * (high - low)
    assert result.spread_known
    assert not result.pooled
    assert result.rho_low < result.rho < result.rho_corrected < result.rho_high


def test_batches_that_do_not_scatter_are_pooled() -> None:
    result = beta_binomial([18] * 8, [24] * 8)
    assert (result.pooled, result.spread_known, result.rho) == (True, True, 0.0)
    assert (result.low, result.high) == pytest.approx(wilson(144, 192), abs=1e-9)
    assert result.rho_low == 0.0 < result.rho_high < 0.1


def test_few_batches_that_do_not_scatter_may_do_so_by_chance() -> None:
    result = beta_binomial([18] * 3, [24] * 3)
    low, high = wilson(54, 72)
    assert result.pooled
    assert result.low < low
    assert result.high > high


@pytest.mark.parametrize(
    ("hits", "trials"),
    [([9], [12]), ([12, 12], [12, 12]), ([0, 0], [5, 5]), ([1, 0, 1], [1, 1, 1]), ([3, 0], [12, 0])],
    ids=["one batch", "all", "none", "one egg each", "one without eggs"],
)
def test_where_the_spread_can_not_be_known_the_eggs_are_pooled(hits: list[int], trials: list[int]) -> None:
    result = beta_binomial(hits, trials)
    assert (result.pooled, result.spread_known) == (True, False)
    assert (result.rho, result.rho_low, result.rho_high) == (0.0, 0.0, 1.0)
    assert result.mean == pytest.approx(sum(hits) / sum(trials))
    assert (result.low, result.high) == pytest.approx(wilson(sum(hits), sum(trials)), abs=1e-9)


@pytest.mark.parametrize("trials", [[], [0, 0]])
def test_without_eggs_nothing_is_known(trials: list[int]) -> None:
    result = beta_binomial([0] * len(trials), trials)
    assert (result.mean, result.low, result.high, result.batches) == (None, 0.0, 1.0, 0)


def test_all_or_nothing_batches_are_worth_one_egg_each() -> None:
    result = beta_binomial([12, 0, 12, 12, 0, 12], [12] * 6)
    assert result.rho > 0.99
    low, high = wilson(4, 6)
    assert result.low < low + 0.02
    assert result.high > high - 0.02


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="13 of 12"):
        beta_binomial([13], [12])
    with pytest.raises(ValueError, match="confidence must lie between 0 and 1"):
        beta_binomial([1], [12], confidence=95)


counts = st.lists(
    st.integers(0, 40).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), min_size=0, max_size=8
)


@given(counts, st.sampled_from([0.5, 0.9, 0.95, 0.998]))
def test_every_number_is_one_and_in_its_range(drawn: list[tuple[int, int]], confidence: float) -> None:
    hits, trials = [y for y, _ in drawn], [n for _, n in drawn]
    result = beta_binomial(hits, trials, confidence)
    assert 0.0 <= result.low <= (0.5 if result.mean is None else result.mean) <= result.high <= 1.0
    assert 0.0 <= result.rho_low <= result.rho <= result.rho_high <= 1.0
    assert np.isfinite([result.log_likelihood, result.rho_corrected]).all()
    mirrored = beta_binomial([n - y for y, n in drawn], trials, confidence)
    assert (1 - mirrored.high, 1 - mirrored.low) == pytest.approx((result.low, result.high), abs=1e-6)
