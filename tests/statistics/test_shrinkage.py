"""Small groups drawn towards the mean of all."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.shrinkage import shrunken_means, shrunken_share
from hypothesis import given
from hypothesis import strategies as st


def test_the_less_is_known_the_more_it_is_drawn_in() -> None:
    shares = np.array([0.5, 0.5, 0.9, 0.9])
    drawn = shrunken_means(shares, np.array([10.0, 200.0, 10.0, 200.0]))
    assert shares[0] < drawn[1] < drawn[0] < drawn[2] < drawn[3] < shares[3]


def test_groups_that_differ_no_more_than_chance_are_the_mean_of_all() -> None:
    drawn = shrunken_means(np.array([0.70, 0.75, 0.80]), np.array([40.0, 40.0, 40.0]))
    assert drawn == pytest.approx([0.75] * 3)


def test_groups_without_eggs_are_the_mean_of_the_others() -> None:
    drawn = shrunken_means(np.array([0.5, 0.9, 0.5, 0.5]), np.array([300.0, 300.0, 0.0, 0.0]))
    assert drawn[2] == drawn[3] == pytest.approx(0.7)
    assert shrunken_means(np.array([0.5]), np.array([0.0])) == pytest.approx([0.5])


def test_drawn_in_estimates_are_nearer_the_truth() -> None:
    rng, plain, drawn = np.random.default_rng(9), 0.0, 0.0
    for _ in range(200):
        truth = rng.beta(15, 5, 8)
        eggs = rng.integers(5, 60, 8)
        shares = rng.binomial(eggs, truth) / eggs
        plain += ((shares - truth) ** 2).sum()
        drawn += ((shrunken_means(shares, eggs.astype(float)) - truth) ** 2).sum()
    assert drawn < 0.8 * plain


def test_a_share_is_that_of_the_beta_distribution_after_the_eggs() -> None:
    # Gelman et al., Bayesian Data Analysis, chapter 5: Beta(1.4, 8.6) and 4 of 14 give Beta(5.4, 18.6)
    assert shrunken_share(4, 14, 0.14, 1 / 11) == pytest.approx(5.4 / 24)


def test_without_spread_or_eggs_a_batch_is_as_the_others() -> None:
    assert shrunken_share(4, 14, 0.8, 0.0) == 0.8
    assert shrunken_share(0, 0, 0.8, 1.0) == 0.8
    assert shrunken_share(4, 14, 0.8, 1.0) == pytest.approx(4 / 14)
    with pytest.raises(ValueError, match="spread"):
        shrunken_share(4, 14, 0.8, 1.5)


@given(st.lists(st.tuples(st.floats(0, 1), st.floats(0, 500)), min_size=1, max_size=8))
def test_estimates_stay_shares(groups: list[tuple[float, float]]) -> None:
    drawn = shrunken_means(
        np.array([share for share, _ in groups]), np.array([trials for _, trials in groups])
    )
    assert np.isfinite(drawn).all()
    assert ((drawn >= -1e-9) & (drawn <= 1 + 1e-9)).all()
