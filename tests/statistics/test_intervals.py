"""Wilson's interval and Newcombe's difference: published values, other programs, and what must always hold."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.intervals import newcombe_difference, normal_quantile, wilson
from hypothesis import given
from hypothesis import strategies as st


@pytest.mark.parametrize(
    ("hits", "trials", "low", "high"),
    [
        # Newcombe 1998, Stat. Med. 17:857-872, Table I, method 3, as quoted by public test suites
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_wilson_gives_newcombes_table(hits: int, trials: int, low: float, high: float) -> None:
    assert wilson(hits, trials) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(
    ("a", "b", "low", "high"),
    [
        # Newcombe 1998, Stat. Med. 17:873-890, Table II, method 10, as quoted by public test suites
        ((56, 70), (48, 80), 0.0524, 0.3339),
        ((9, 10), (3, 10), 0.1705, 0.8090),
        ((6, 7), (2, 7), 0.0582, 0.8062),
        ((5, 56), (0, 29), -0.0381, 0.1926),
        ((0, 10), (0, 20), -0.1611, 0.2775),
        ((0, 10), (0, 10), -0.2775, 0.2775),
        ((10, 10), (0, 20), 0.6791, 1.0),
        ((10, 10), (0, 10), 0.6075, 1.0),
    ],
)
def test_difference_gives_newcombes_table(
    a: tuple[int, int], b: tuple[int, int], low: float, high: float
) -> None:
    difference, lower, upper = newcombe_difference(*a, *b)
    assert difference == pytest.approx(a[0] / a[1] - b[0] / b[1])
    assert (lower, upper) == pytest.approx((low, high), abs=5.1e-5)


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.95, 0.99])
def test_wilson_agrees_with_statsmodels_and_scipy(confidence: float) -> None:
    from scipy.stats import binomtest
    from statsmodels.stats.proportion import proportion_confint

    for trials in (1, 2, 7, 12, 24, 263, 5000):
        for hits in {0, 1, trials // 3, trials - 1, trials}:
            ours = wilson(hits, trials, confidence)
            other = proportion_confint(hits, trials, alpha=1 - confidence, method="wilson")
            assert ours == pytest.approx(other, abs=1e-12)
            exact = binomtest(hits, trials).proportion_ci(confidence, method="wilson")
            assert ours == pytest.approx((exact.low, exact.high), abs=1e-12)


def test_difference_agrees_with_statsmodels() -> None:
    from statsmodels.stats.proportion import confint_proportions_2indep

    for a, b in [((56, 70), (48, 80)), ((9, 10), (3, 10)), ((17, 24), (5, 12)), ((3, 200), (9, 300))]:
        other = confint_proportions_2indep(*a, *b, method="newcomb", compare="diff")
        assert newcombe_difference(*a, *b)[1:] == pytest.approx(other, abs=1e-10)


def test_nothing_counted_means_nothing_known() -> None:
    assert wilson(0, 0) == (0.0, 1.0)
    difference, low, high = newcombe_difference(0, 0, 5, 10)
    assert math.isnan(difference)
    assert (low, high) == (-1.0, 1.0)
    assert newcombe_difference(5, 10, 0, 0)[1:] == (-1.0, 1.0)


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.9, 0.95, 0.99, 0.999])
def test_none_and_all_reach_the_very_end(confidence: float) -> None:
    for trials in range(1, 300):
        assert wilson(0, trials, confidence)[0] == 0.0
        assert wilson(trials, trials, confidence)[1] == 1.0


def test_counts_from_numpy_are_taken() -> None:
    assert wilson(np.int64(15), np.int32(148)) == wilson(15, 148)


@pytest.mark.parametrize(
    ("hits", "trials", "sentence"),
    [
        (-1, 10, "can not be below 0: -1 of 10"),
        (0, -1, "can not be below 0"),
        (11, 10, "11 of 10 is more than there are"),
        (1, 0, "1 of 0 is more than there are"),
        (2.5, 10, "whole numbers, not 2.5 of 10"),
        (2, "10", "whole numbers"),
        (float("nan"), 10, "whole numbers"),
    ],
)
def test_impossible_counts_are_refused_in_plain_words(hits: int, trials: int, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        wilson(hits, trials)
    with pytest.raises(ValueError, match=sentence):
        newcombe_difference(1, 2, hits, trials)


@pytest.mark.parametrize("confidence", [0.0, 1.0, 95.0, -0.5, float("nan")])
def test_an_impossible_confidence_is_refused(confidence: float) -> None:
    with pytest.raises(ValueError, match="confidence must lie between 0 and 1"):
        wilson(1, 2, confidence)
    with pytest.raises(ValueError, match="confidence must lie between 0 and 1"):
        newcombe_difference(0, 0, 0, 0, confidence)


def test_quantile_is_the_normal_ones() -> None:
    from scipy.stats import norm

    for confidence in (0.5, 0.9, 0.95, 0.99, 0.998):
        assert normal_quantile(confidence) == pytest.approx(norm.ppf(0.5 + confidence / 2), rel=1e-12)


counts = st.integers(0, 10_000).flatmap(lambda trials: st.tuples(st.integers(0, trials), st.just(trials)))
confidences = st.floats(0.01, 0.999)


@given(counts, confidences)
def test_the_range_holds_the_estimate_and_lies_between_none_and_all(
    count: tuple[int, int], confidence: float
) -> None:
    low, high = wilson(*count, confidence)
    assert 0.0 <= low <= high <= 1.0
    if count[1]:
        assert low - 1e-12 <= count[0] / count[1] <= high + 1e-12
        assert (low == 0.0) == (count[0] == 0)
        assert (high == 1.0) == (count[0] == count[1])


@given(counts, confidences)
def test_counting_the_misses_mirrors_the_range(count: tuple[int, int], confidence: float) -> None:
    hits, trials = count
    low, high = wilson(hits, trials, confidence)
    assert wilson(trials - hits, trials, confidence) == pytest.approx((1 - high, 1 - low), abs=1e-12)


@given(counts, st.tuples(confidences, confidences).map(sorted))
def test_more_confidence_is_a_wider_range(count: tuple[int, int], both: list[float]) -> None:
    narrow, wide = (wilson(*count, confidence) for confidence in both)
    assert wide[0] <= narrow[0] + 1e-12
    assert narrow[1] <= wide[1] + 1e-12


@given(counts, st.integers(2, 5))
def test_more_eggs_at_the_same_share_are_a_narrower_range(count: tuple[int, int], times: int) -> None:
    few = wilson(*count)
    many = wilson(count[0] * times, count[1] * times)
    assert many[1] - many[0] <= few[1] - few[0] + 1e-12


@given(counts, counts, confidences)
def test_swapping_the_groups_turns_the_difference_round(
    a: tuple[int, int], b: tuple[int, int], confidence: float
) -> None:
    difference, low, high = newcombe_difference(*a, *b, confidence)
    back, back_low, back_high = newcombe_difference(*b, *a, confidence)
    assert -1.0 <= low <= high <= 1.0
    assert (back_low, back_high) == pytest.approx((-high, -low), abs=1e-12)
    if a[1] and b[1]:
        assert back == pytest.approx(-difference)
        assert low - 1e-12 <= difference <= high + 1e-12
