"""A single batch against its limits."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.comparison import batch_among, batch_chance, control_limits
from hatchbook.statistics.control_limits import sigma_limits
from hypothesis import given
from hypothesis import strategies as st

SIZES = np.array([5, 12, 24, 40, 100, 400])


@pytest.mark.parametrize("rho", [0.0, 0.02, 0.1, 0.6])
@pytest.mark.parametrize("mean", [0.5, 0.75, 0.95])
def test_the_chance_of_a_batch_is_scipys(mean: float, rho: float) -> None:
    from scipy.stats import betabinom, binom

    for hits, trials in ((0, 12), (7, 12), (12, 12), (20, 40)):
        size = 1 / rho - 1 if rho else 0.0
        known = betabinom(trials, mean * size, (1 - mean) * size) if rho else binom(trials, mean)
        chance = batch_chance(hits, trials, mean, rho)
        assert chance.low == pytest.approx(known.cdf(hits), rel=1e-8)
        assert chance.high == pytest.approx(known.sf(hits - 1), rel=1e-8)
        assert chance.p == pytest.approx(min(2 * min(known.cdf(hits), known.sf(hits - 1)), 1.0), rel=1e-8)


@given(
    st.floats(0.01, 0.99),
    st.sampled_from([0.0, 0.05, 0.3]),
    st.integers(1, 60),
    st.sampled_from([0.9, 0.95, 0.998]),
)
def test_a_batch_is_outside_just_when_it_is_too_unlikely(
    mean: float, rho: float, trials: int, confidence: float
) -> None:
    low, high = control_limits(mean, rho, trials, confidence)
    tail = (1 - confidence) / 2
    for hits in range(trials + 1):
        chance = batch_chance(hits, trials, mean, rho)
        if abs(chance.low - tail) > 1e-9:
            assert (hits / trials < float(low) - 1e-12) == (chance.low < tail)
        if abs(chance.high - tail) > 1e-9:
            assert (hits / trials > float(high) + 1e-12) == (chance.high < tail)


def test_limits_narrow_with_size_and_widen_with_the_spread() -> None:
    low, high = control_limits(0.75, 0.05, SIZES)
    wide_low, wide_high = control_limits(0.75, 0.15, SIZES)
    assert (np.diff(low) > 0).all()
    assert (np.diff(high) <= 0).all()
    assert (wide_low < low).all()
    assert (wide_high >= high).all()
    outer_low, outer_high = control_limits(0.75, 0.05, SIZES, 0.998)
    assert (outer_low < low).all()
    assert (outer_high >= high).all()


def test_with_a_spread_limits_do_not_close_however_large_the_batch() -> None:
    low, high = control_limits(0.75, 0.1, 5000)
    assert float(high) - float(low) > 0.4


def test_limits_keep_the_shape_of_what_is_asked() -> None:
    low, high = control_limits(0.75, 0.05, [[12, 24], [24, 12]])
    assert low.shape == high.shape == (2, 2)
    assert low[0, 0] == low[1, 1]
    assert control_limits(0.75, 0.05, [])[0].shape == (0,)
    assert [float(limit) for limit in control_limits(0.75, 0.05, 0)] == [0.0, 1.0]


def test_limits_mirror_when_misses_are_counted() -> None:
    low, high = control_limits(0.75, 0.05, SIZES)
    other_low, other_high = control_limits(0.25, 0.05, SIZES)
    assert other_low == pytest.approx(1 - high)
    assert other_high == pytest.approx(1 - low)


def test_the_p_chart_of_the_nist_handbook() -> None:
    # NIST/SEMATECH e-Handbook 6.3.3.2: 347 of 30 x 50 chips; 3 sigma limits 0.0524 and 0.4102
    low, high = sigma_limits(347 / 1500, 0.0, 50)
    assert (float(low), float(high)) == pytest.approx((0.0524, 0.4102), abs=1e-4)
    exact_low, exact_high = control_limits(347 / 1500, 0.0, 50, 0.9973)
    assert (float(exact_low), float(exact_high)) == pytest.approx((0.0524, 0.4102), abs=0.03)


def test_sigma_limits_of_nothing_are_open() -> None:
    assert [float(limit) for limit in sigma_limits(0.75, 0.05, 0)] == [0.0, 1.0]


@pytest.mark.parametrize("mean", [0.0, 1.0])
def test_a_mean_of_none_or_all_leaves_no_room(mean: float) -> None:
    assert batch_chance(round(mean * 12), 12, mean, 0.1).p == 1.0
    assert batch_chance(6, 12, mean, 0.1).p == 0.0
    low, high = control_limits(mean, 0.1, 12)
    assert low <= mean <= high


def test_few_batches_before_say_less_than_many() -> None:
    eggs = np.full(40, 24)
    hits = np.random.default_rng(3).binomial(24, np.random.default_rng(4).beta(15, 5, 40))
    few, many = batch_among(9, 24, hits[:4], eggs[:4]), batch_among(9, 24, hits, eggs)
    assert few is not None
    assert many is not None
    assert many.is_low
    assert many.p < 0.03
    assert few.p > 2 * many.p


def test_many_batches_before_say_what_their_mean_and_spread_say() -> None:
    rng = np.random.default_rng(6)
    hits, eggs = rng.binomial(24, rng.beta(15, 5, 3000)), np.full(3000, 24)
    among = batch_among(11, 24, hits, eggs)
    assert among is not None
    assert among.low == pytest.approx(batch_chance(11, 24, 0.75, 1 / 21).low, rel=0.1)


def test_a_batch_as_the_others_is_nothing_special() -> None:
    among = batch_among(18, 24, [17, 19, 18, 18, 17, 19], [24] * 6)
    assert among is not None
    assert among.p > 0.7


@pytest.mark.parametrize(("hits", "trials"), [([], []), ([20], [24]), ([24, 24], [24, 24])])
def test_too_few_others_to_say(hits: list[int], trials: list[int]) -> None:
    assert batch_among(9, 24, hits, trials) is None


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="share between 0 and 1"):
        control_limits(75, 0.1, 12)
    with pytest.raises(ValueError, match="spread must lie between 0 and 1"):
        batch_chance(3, 12, 0.75, -0.1)
    with pytest.raises(ValueError, match="whole numbers"):
        control_limits(0.75, 0.1, 12.5)
    with pytest.raises(ValueError, match="13 of 12"):
        batch_chance(13, 12, 0.75, 0.1)
    with pytest.raises(ValueError, match="confidence"):
        control_limits(0.75, 0.1, 12, 95)


def test_a_batch_without_eggs_is_nothing_special() -> None:
    assert batch_chance(0, 0, 0.75, 0.1).p == 1.0
