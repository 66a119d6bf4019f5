"""The tests that take each egg for itself, against scipy and statsmodels; Holm's correction."""

from __future__ import annotations

import pytest
from hatchbook.statistics.group_tests import (
    PlainTest,
    chi_square,
    cochran_armitage,
    fisher_exact,
    holm,
    likelihood_ratio,
)
from hypothesis import given
from hypothesis import strategies as st

GROUPS = [18, 20, 9, 31], [24, 22, 20, 40]


def test_chi_squares_are_scipys() -> None:
    from scipy.stats import chi2_contingency

    table = [GROUPS[0], [n - y for y, n in zip(*GROUPS, strict=True)]]
    for ours, name in ((chi_square(*GROUPS), "pearson"), (likelihood_ratio(*GROUPS), "log-likelihood")):
        theirs = chi2_contingency(table, correction=False, lambda_=name)
        assert (ours.statistic, ours.df, ours.p) == pytest.approx(
            (theirs.statistic, theirs.dof, theirs.pvalue)
        )


def test_fisher_is_scipys() -> None:
    from scipy.stats import fisher_exact as theirs

    for a, n, b, m in [(8, 10, 1, 6), (0, 5, 5, 5), (18, 24, 9, 20), (3, 12, 4, 12), (0, 3, 0, 9)]:
        assert fisher_exact(a, n, b, m) == pytest.approx(theirs([[a, n - a], [b, m - b]]).pvalue)


def test_the_trend_turns_round_with_the_scores_and_knows_no_unit() -> None:
    trend = cochran_armitage(*GROUPS, [1, 2, 3, 4])
    assert trend.statistic == pytest.approx(cochran_armitage(*GROUPS, [2020, 2010, 2000, 1990]).statistic)
    assert trend.df == 1


@pytest.mark.parametrize(
    ("hits", "trials"),
    [([], []), ([3], [5]), ([0, 0], [5, 6]), ([5, 6], [5, 6]), ([0], [0])],
    ids=["nothing", "one group", "none", "all", "no eggs"],
)
def test_where_there_is_nothing_to_tell_it_is_chance(hits: list[int], trials: list[int]) -> None:
    assert chi_square(hits, trials).p == 1.0
    assert likelihood_ratio(hits, trials).p == 1.0
    assert cochran_armitage(hits, trials, range(len(hits))).p == 1.0


def test_groups_of_one_score_have_no_trend() -> None:
    assert cochran_armitage([1, 5], [9, 9], [3, 3]) == PlainTest(0.0, 1, 1.0)


def test_a_score_must_be_there_for_each_group() -> None:
    for scores in ([1], [1.0, float("nan")]):
        with pytest.raises(ValueError, match="one score for each group"):
            cochran_armitage([1, 2], [3, 4], scores)


def test_holm_is_statsmodels() -> None:
    from statsmodels.stats.multitest import multipletests

    for values in ([0.01, 0.04, 0.03, 0.2], [0.5, 0.9], [0.001], [0.02, 0.02, 0.02]):
        assert holm(values) == pytest.approx(list(multipletests(values, method="holm")[1]))
    assert holm([]) == []


@given(st.lists(st.floats(0, 1), max_size=8))
def test_holm_never_makes_a_chance_smaller(values: list[float]) -> None:
    corrected = holm(values)
    assert all(p <= q <= 1.0 for p, q in zip(values, corrected, strict=True))
    assert sorted(range(len(values)), key=values.__getitem__) == sorted(
        range(len(values)), key=lambda place: (corrected[place], values[place])
    ) or len(set(values)) < len(values)
