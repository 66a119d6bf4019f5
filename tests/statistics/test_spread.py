"""What batches say of their spread: against scipy's distribution, Student's t, and the binomial."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.beta_binomial import log_coefficients, most_likely_rho
from hatchbook.statistics.effective import Effective, wilson_ranges
from hatchbook.statistics.intervals import wilson
from hatchbook.statistics.spread import UNKNOWN, Spread, Tally, counted, spread_within
from hypothesis import given
from hypothesis import strategies as st

Y = np.array([10, 7, 20, 24, 3, 15])
N = np.array([12, 12, 24, 30, 9, 15])
ALL = np.zeros(6, dtype=np.int64)
TWO = np.array([0, 0, 0, 1, 1, 1])


@pytest.mark.parametrize("rho", [0.0, 0.01, 0.2, 0.7, 0.99])
@pytest.mark.parametrize("mean", [0.2, 0.75, 0.97])
def test_likelihood_is_scipys(mean: float, rho: float) -> None:
    from scipy.stats import betabinom, binom

    ours = Tally.of(Y, N, ALL, 1).log_likelihood(np.array([[mean]]), np.array([rho]))[0, 0]
    size = 1 / rho - 1 if rho else 0.0
    theirs = betabinom.logpmf(Y, N, mean * size, (1 - mean) * size) if rho else binom.logpmf(Y, N, mean)
    assert ours + log_coefficients(Y, N) == pytest.approx(theirs.sum(), rel=1e-10)


def test_the_best_means_are_at_the_top_of_the_likelihood() -> None:
    tally, rho = Tally.of(Y, N, TWO, 2), np.array([0.0, 0.05, 0.4])
    best = tally.best_means(rho)
    top = tally.log_likelihood(best, rho)
    for off in (-1e-4, 1e-4):
        assert (tally.log_likelihood(best + off, rho) < top).all()
    assert best[0] == pytest.approx([37 / 48, 42 / 54])


def test_maximum_likelihood_is_that_of_a_plain_search() -> None:
    from scipy.optimize import minimize
    from scipy.stats import betabinom

    def misfit(x: np.ndarray) -> float:
        mean, rho = 1 / (1 + np.exp(-x))
        size = 1 / rho - 1
        return -float(betabinom.logpmf(Y, N, mean * size, (1 - mean) * size).sum())

    found = minimize(
        misfit, np.array([1.0, -2.0]), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12}
    )
    tally = Tally.of(Y, N, ALL, 1)
    rho = most_likely_rho(tally)
    mean, their_rho = 1 / (1 + np.exp(-found.x))
    assert rho == pytest.approx(their_rho, rel=1e-5)
    assert tally.best_means(np.array([rho]))[0, 0] == pytest.approx(mean, rel=1e-6)


def test_the_maximum_likelihood_spread_is_lower_than_the_corrected_one() -> None:
    spread = spread_within(Y, N, ALL, 1, 0.95)
    likely = most_likely_rho(Tally.of(Y, N, ALL, 1))
    assert spread.rho > likely > 0.0
    assert spread.low <= spread.rho <= spread.high
    assert spread.df == 5
    assert spread.weights.sum() == pytest.approx(1.0)


def test_large_batches_give_students_range() -> None:
    # Batches so large that only their spread counts, near 1/2: the shares are a normal sample, and the range is
    # Student's with one degree of freedom less, since the spread is even in its standard deviation.
    from scipy.stats import t

    shares = 0.5 + 0.01 * np.array([-1.2, -0.7, -0.1, 0.0, 0.3, 0.6, 1.1])
    n = np.full(7, 20_000)
    y = np.round(shares * n).astype(np.int64)
    group = np.zeros(7, dtype=np.int64)
    spread = spread_within(y, n, group, 1, 0.95)
    low, high = wilson_ranges(Effective.of(y, n, group, 1, spread.nodes), spread, 0.95)
    sigma = np.sqrt(((y / n - (y / n).mean()) ** 2).sum() / 5 / 7)
    assert (high[0] - low[0]) / 2 == pytest.approx(t.ppf(0.975, 5) * sigma, rel=0.02)


def test_a_spread_of_nil_gives_wilsons_range() -> None:
    counts = Effective.of(Y, N, ALL, 1, np.zeros(1))
    low, high = wilson_ranges(counts, Spread.given(0.0), 0.95)
    assert (low[0], high[0]) == pytest.approx(wilson(79, 102), abs=1e-9)


def test_a_batch_is_worth_fewer_eggs_where_they_hang_together() -> None:
    counts = Effective.of(
        np.array([9]), np.array([12]), np.zeros(1, dtype=np.int64), 1, np.array([0.0, 0.1, 1.0])
    )
    assert counts.trials[:, 0] == pytest.approx([12.0, 12 / 2.1, 1.0])
    assert counts.share[:, 0] == pytest.approx([0.75] * 3)


def test_many_batches_tell_the_spread_closely() -> None:
    rng = np.random.default_rng(5)
    n = rng.integers(12, 41, 4000)
    y = rng.binomial(n, rng.beta(0.75 * 9, 0.25 * 9, 4000))
    spread = spread_within(y, n, np.zeros(4000, dtype=np.int64), 1, 0.95)
    assert spread.low < 0.1 < spread.high
    assert spread.high - spread.low < 0.02


def test_differences_between_groups_are_no_spread() -> None:
    y, n = np.array([2, 3, 2, 3, 21, 22, 21, 22]), np.full(8, 24)
    group = np.repeat([0, 1], 4)
    assert spread_within(y, n, group, 2, 0.95).rho == 0.0
    assert spread_within(y, n, np.zeros(8, dtype=np.int64), 1, 0.95).rho > 0.4


@pytest.mark.parametrize(
    ("hits", "trials"),
    [([3], [12]), ([1, 0, 1], [1, 1, 1]), ([], []), ([1, 12], [1, 24])],
    ids=["one batch", "batches of one egg", "nothing", "one batch of more than an egg"],
)
def test_too_few_batches_leave_the_spread_unknown(hits: list[int], trials: list[int]) -> None:
    y, n = counted(hits, trials)
    assert spread_within(y, n, np.zeros(n.size, dtype=np.int64), 1, 0.95) is UNKNOWN


def test_all_hatched_leaves_every_spread_possible() -> None:
    spread = spread_within(np.array([12, 12]), np.array([12, 12]), np.array([0, 0]), 1, 0.95)
    assert (spread.known, spread.testable, spread.low, spread.high) == (False, True, 0.0, 1.0)


def test_a_given_spread_must_be_one() -> None:
    assert Spread.given(0.2).rho == 0.2
    for rho in (-0.1, 1.0, float("nan")):
        with pytest.raises(ValueError, match="spread must be at least 0 and below 1"):
            Spread.given(rho)


@pytest.mark.parametrize(
    ("hits", "trials", "sentence"),
    [
        ([13], [12], "13 of 12 eggs can not be"),
        ([-1], [12], "-1 of 12 eggs can not be"),
        ([0.5], [12], "whole numbers"),
        ([True], [1], "whole numbers"),
        ([[1]], [[2]], "one for each batch"),
        ([1, 2], [3], "2 counts of hits for 1 batches"),
    ],
)
def test_impossible_counts_are_refused(hits: list[object], trials: list[object], sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        counted(hits, trials)  # type: ignore[arg-type]


batches = st.lists(
    st.integers(0, 40).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), min_size=1, max_size=8
)


@given(batches)
def test_no_batches_give_a_number_that_is_none(drawn: list[tuple[int, int]]) -> None:
    y, n = counted(*zip(*drawn, strict=True))
    group = np.arange(n.size) % 2
    spread = spread_within(y, n, group, 2, 0.95)
    assert 0.0 <= spread.low <= spread.rho <= spread.high <= 1.0
    low, high = wilson_ranges(Effective.of(y, n, group, 2, spread.nodes), spread, 0.95)
    assert np.isfinite(low).all()
    assert (low <= high).all()
    assert ((low >= 0) & (high <= 1)).all()
