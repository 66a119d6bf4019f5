"""The product-limit estimate and the log-rank test: published values, scipy, and what must always hold."""

from __future__ import annotations

import csv
import itertools
import json
import math
import re
from pathlib import Path

import numpy as np
import pytest
from hatchbook.statistics.intervals import wilson
from hatchbook.statistics.survival import kaplan_meier, log_rank, survival_band
from hypothesis import given
from hypothesis import strategies as st

PUBLISHED = Path(__file__).parents[1] / "published" / "statistics.csv"

# Freireich et al. 1963, weeks in remission with 6-MP (+ censored) and placebo, as public test suites have them.
SIX_MP = ([6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35],
          [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0])  # fmt: skip
PLACEBO = ([1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23], [1] * 21)
# scipy.stats.ecdf docstring: fan belts
FAN_BELTS = ([77, 47, 81, 56, 80, 62, 60, 43, 71, 37], [1] * 5 + [0] * 5)
# scipy.stats.logrank docstring, after Bland & Altman 2004, BMJ 328:1073: weeks with two kinds of glioma
ASTROCYTOMA = ([6, 13, 21, 30, 37, 38, 49, 50, 63, 79, 86, 98, 202, 219, 31, 47, 80, 82, 82, 149],
               [1] * 14 + [0] * 6)  # fmt: skip
GLIOBLASTOMA = ([10, 10, 12, 13, 14, 15, 16, 17, 18, 20, 24, 24, 25, 28, 30, 33, 35, 37, 40, 40, 46, 48, 76,
                 81, 82, 91, 112, 181, 34, 40, 70], [1] * 28 + [0] * 3)  # fmt: skip

Group = tuple[list[int], list[int]]


def rows(pattern: str) -> list[object]:
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return [
            pytest.param(row, id=row["name"])
            for row in csv.DictReader(file)
            if re.fullmatch(pattern, row["name"])
        ]


def assert_as_published(value: float, row: dict[str, str]) -> None:
    assert value == pytest.approx(float(row["published_value"]), abs=float(row["tolerance"]))


def test_rows_of_each_kind_are_there() -> None:
    kinds = (r"km_6mp_S\d+", r"km_6mp_se\d+", r"km_fanbelt_\d+", r"logrank_\w+")
    assert [len(rows(kind)) for kind in kinds] == [4, 6, 8, 3]


@pytest.mark.parametrize("row", rows(r"km_6mp_S\d+"))
def test_survival_as_in_the_6_mp_trial(row: dict[str, str]) -> None:
    week = float(re.findall(r"\d+$", row["name"])[0])
    assert_as_published(kaplan_meier(*SIX_MP).at(week).estimate, row)


@pytest.mark.parametrize("row", rows(r"km_6mp_se\d+"))
def test_greenwoods_error_as_in_the_6_mp_trial(row: dict[str, str]) -> None:
    curve = kaplan_meier(*SIX_MP)
    week = float(re.findall(r"\d+$", row["name"])[0])
    assert_as_published(float(curve.standard_error[curve.days == week][0]), row)


@pytest.mark.parametrize(
    ("week", "survival", "error"),
    # Cox & Oakes 1984, Table 4.1; Klein & Moeschberger 2003, Table 4.1B, as public test suites quote them
    [(6, 0.8571, 0.076), (7, 0.8067, 0.087), (13, 0.6902, 0.107), (16, 0.6275, 0.114), (23, 0.4482, 0.135)],
)
def test_the_whole_table_of_the_6_mp_trial(week: int, survival: float, error: float) -> None:
    curve = kaplan_meier(*SIX_MP)
    step = int(np.flatnonzero(curve.days == week)[0])
    assert curve.survival[step] == pytest.approx(survival, abs=5.1e-5)
    assert curve.standard_error[step] == pytest.approx(error, abs=5.1e-4)


def test_the_risk_sets_of_the_6_mp_trial() -> None:
    # Klein & Moeschberger 2003, Table 4.1A (from memory)
    curve = kaplan_meier(*SIX_MP)
    assert curve.days.tolist() == [6, 7, 10, 13, 16, 22, 23]
    assert curve.at_risk.tolist() == [21, 17, 15, 12, 11, 7, 6]
    assert curve.deaths.tolist() == [3, 1, 1, 1, 1, 1, 1]


def test_medians_of_the_6_mp_trial() -> None:
    # Freireich et al. 1963 as public test suites have it: 23 weeks against 8
    assert kaplan_meier(*SIX_MP).median_day == 23
    assert kaplan_meier(*PLACEBO).median_day == 8
    assert kaplan_meier([3, 9], [1, 0]).median_day == 3
    assert kaplan_meier([3, 9, 9], [1, 0, 0]).median_day is None


@pytest.mark.parametrize("row", rows(r"km_fanbelt_\d+"))
def test_survival_as_in_scipys_fan_belts(row: dict[str, str]) -> None:
    day = float(re.findall(r"\d+$", row["name"])[0])
    assert_as_published(kaplan_meier(*FAN_BELTS).at(day).estimate, row)


def test_log_rank_as_published() -> None:
    chi2, z, p = (row.values[0] for row in rows(r"logrank_\w+"))  # type: ignore[attr-defined]
    assert_as_published(log_rank(*SIX_MP, *PLACEBO).chi_square, chi2)
    assert_as_published(log_rank(*ASTROCYTOMA, *GLIOBLASTOMA).z, z)
    assert_as_published(log_rank(*ASTROCYTOMA, *GLIOBLASTOMA).p, p)


# ---------------------------------------------------------------- against scipy

SOME: list[Group] = [SIX_MP, PLACEBO, FAN_BELTS, ASTROCYTOMA, GLIOBLASTOMA, ([0, 3, 3], [1, 1, 0])]


def censored(group: Group):  # type: ignore[no-untyped-def]
    from scipy.stats import CensoredData

    days, died = np.array(group[0], dtype=float), np.array(group[1], dtype=bool)
    return CensoredData(uncensored=days[died], right=days[~died])


@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
@pytest.mark.parametrize("group", SOME)
@pytest.mark.filterwarnings("ignore:The confidence interval is undefined at some observations")
def test_curve_and_limits_agree_with_scipy(group: Group, confidence: float) -> None:
    from scipy.stats import ecdf

    theirs = ecdf(censored(group)).sf
    ours = kaplan_meier(*group, confidence)
    limits = theirs.confidence_interval(confidence, method="log-log")
    died = np.isin(theirs.quantiles, ours.days)
    assert ours.survival == pytest.approx(theirs.probabilities[died], abs=1e-14)
    assert ours.low == pytest.approx(limits.low.probabilities[died], abs=1e-12, nan_ok=True)
    assert ours.high == pytest.approx(limits.high.probabilities[died], abs=1e-12, nan_ok=True)


@pytest.mark.parametrize(("one", "other"), list(itertools.combinations(SOME, 2)))
def test_log_rank_agrees_with_scipy(one: Group, other: Group) -> None:
    from scipy.stats import logrank

    theirs = logrank(censored(one), censored(other))
    ours = log_rank(*one, *other)
    assert ours.z == pytest.approx(theirs.statistic, abs=1e-12)
    assert ours.p == pytest.approx(theirs.pvalue, abs=1e-12)


# ---------------------------------------------------------------- limits of one day


@pytest.mark.parametrize(("hits", "trials"), [(28, 33), (1, 29), (15, 148), (5, 10), (81, 263)])
def test_where_nobody_leaves_the_limits_of_a_day_are_wilsons(hits: int, trials: int) -> None:
    dead = trials - hits
    days = np.concatenate((np.linspace(1.0, 9.0, dead), np.full(hits, 20.0)))
    at = kaplan_meier(days, np.arange(trials) < dead).at(18.0)
    assert (at.alive, at.dead, at.left) == (hits, dead, 0)
    assert (at.estimate, at.low, at.high) == pytest.approx((hits / trials, *wilson(hits, trials)), abs=1e-12)


def test_when_all_live_or_all_are_dead_the_limits_are_wilsons_too() -> None:
    all_live = kaplan_meier([21.0] * 12, [False] * 12).at(18.0)
    assert (all_live.estimate, all_live.low, all_live.high) == pytest.approx((1.0, *wilson(12, 12)))
    all_dead = kaplan_meier(np.arange(1.0, 13.0), [True] * 12).at(18.0)
    assert (all_dead.estimate, all_dead.low, all_dead.high) == pytest.approx((0.0, *wilson(0, 12)))
    at_once = kaplan_meier([4.0] * 12, [True] * 12).at(18.0)
    assert (at_once.estimate, at_once.low, at_once.high) == pytest.approx((0.0, *wilson(0, 12)))


def test_limits_of_a_day_follow_rothmans_formula() -> None:
    # Rothman 1978 as the package km.ci has it (rothman.fun.R), z = 1.959964
    curve = kaplan_meier(*SIX_MP)
    z = 1.959964
    for day, share, error in zip(curve.days, curve.survival, curve.standard_error, strict=True):
        size = share * (1 - share) / error**2
        root = math.sqrt(error**2 + z**2 / (4 * size**2))
        expected = [
            size / (size + z**2) * (share + z**2 / (2 * size) + sign * z * root) for sign in (-1.0, 1.0)
        ]
        at = curve.at(float(day))
        assert [at.low, at.high] == pytest.approx(expected, abs=1e-6)


def test_who_leaves_makes_the_limits_of_a_day_wider() -> None:
    whole = kaplan_meier([5.0] * 3 + [20.0] * 9, [True] * 3 + [False] * 9).at(18.0)
    some_left = kaplan_meier([5.0] * 3 + [2.0] * 3 + [20.0] * 9, [True] * 3 + [False] * 12).at(18.0)
    assert some_left.estimate == whole.estimate == pytest.approx(0.75)
    assert (some_left.left, some_left.alive) == (3, 9)
    assert (some_left.low, some_left.high) == pytest.approx((whole.low, whole.high))
    left_between = kaplan_meier([4.0, 5.0, 6.0] + [4.5] * 6 + [20.0] * 6, [True] * 3 + [False] * 12).at(18.0)
    assert left_between.high - left_between.low > whole.high - whole.low


# ---------------------------------------------------------------- spans


def test_a_span_is_taken_at_its_middle_and_both_ends_are_given() -> None:
    band = survival_band([0.0, 7.0, 0.0, 0.0], [7.0, 18.0, 18.0, 21.0], [True, True, False, False])
    assert band.middle.days.tolist() == [3.5, 12.5]
    assert band.earliest.days.tolist() == [0.0, 7.0]
    assert band.latest.days.tolist() == [7.0, 18.0]
    assert band.middle.left_days.tolist() == band.earliest.left_days.tolist() == [18.0, 21.0]
    low, high = band.edges([0.0, 6.9, 7.0, 18.0])
    assert low.tolist() == [0.75, 0.75, 0.5, 0.5]
    assert high.tolist() == [1.0, 1.0, 0.75, 0.5]


def test_a_death_whose_day_is_known_has_no_band() -> None:
    band = survival_band([3.0, 9.0], [3.0, 21.0], [True, False])
    days = np.linspace(0.0, 25.0, 60)
    low, high = band.edges(days)
    assert low.tolist() == high.tolist() == band.middle.share_after(days).tolist()


# ---------------------------------------------------------------- what must always hold

Subjects = st.lists(st.tuples(st.integers(0, 25), st.booleans()), min_size=1, max_size=60)


@given(Subjects)
def test_the_curve_falls_from_1_and_its_limits_hold_it(subjects: list[tuple[int, bool]]) -> None:
    days, died = zip(*subjects, strict=True)
    curve = kaplan_meier(days, died)
    path = np.concatenate(([1.0], curve.survival))
    assert bool(np.all(np.diff(path) < 0.0))
    assert bool(np.all((curve.survival >= 0.0) & (curve.survival < 1.0)))
    known = np.isfinite(curve.low)
    assert bool(np.all(curve.low[known] <= curve.survival[known]))
    assert bool(np.all(curve.survival[known] <= curve.high[known]))
    for day in (0.0, 7.5, 30.0):
        at = curve.at(day)
        assert at.alive + at.dead + at.left == len(subjects)
        assert 0.0 <= at.low <= at.estimate + 1e-12
        assert at.estimate - 1e-12 <= at.high <= 1.0
        assert curve.share_after(day) == pytest.approx(at.estimate)


@given(Subjects)
def test_where_nobody_leaves_survival_is_the_plain_share(subjects: list[tuple[int, bool]]) -> None:
    days = np.array([day for day, _ in subjects], dtype=float)
    curve = kaplan_meier(days, np.ones(days.size))
    for day in range(27):
        assert curve.share_after(day) == pytest.approx(np.mean(days > day), abs=1e-12)


@given(Subjects, Subjects)
def test_the_log_rank_test_does_not_care_which_group_is_named_first(
    one: list[tuple[int, bool]], other: list[tuple[int, bool]]
) -> None:
    group_a, group_b = tuple(zip(*one, strict=True)), tuple(zip(*other, strict=True))
    forth, back = log_rank(*group_a, *group_b), log_rank(*group_b, *group_a)
    assert forth.z == pytest.approx(-back.z, abs=1e-9, nan_ok=True)
    assert forth.p == pytest.approx(back.p, abs=1e-9, nan_ok=True)
    assert forth.expected + back.expected == pytest.approx(forth.deaths + back.deaths)
    alike = log_rank(*group_a, *group_a)
    assert alike.z == pytest.approx(0.0, abs=1e-9) or math.isnan(alike.z)


# ---------------------------------------------------------------- nothing, and nonsense


def test_without_anybody_nothing_is_known() -> None:
    curve = kaplan_meier([], [])
    assert (curve.subjects, curve.last_day, curve.median_day) == (0, 0.0, None)
    at = curve.at(18.0)
    assert math.isnan(at.estimate)
    assert (at.alive, at.low, at.high) == (0, 0.0, 1.0)
    assert math.isnan(log_rank([], [], [], []).z)
    assert math.isnan(log_rank([3], [0], [4], [0]).p)


def test_results_are_plain_json() -> None:
    band = survival_band([0.0, 2.0], [3.0, 2.0], [True, True])
    text = json.dumps([band.as_dict(), band.middle.at(9.0).as_dict()], allow_nan=False)
    error = json.loads(text)[0]["middle"]["standard_error"]
    assert error == [pytest.approx(math.sqrt(0.125)), None]  # once nobody is left, Greenwood says nothing
    json.dumps(kaplan_meier([], []).at(1.0).as_dict(), allow_nan=False)
    assert json.loads(json.dumps(log_rank([], [], [], []).as_dict(), allow_nan=False))["p"] is None


@pytest.mark.parametrize(
    ("days", "died", "reason"),
    [
        ([1.0, 2.0], [True], "Every subject has one day"),
        ([-1.0], [True], "0 or more"),
        ([math.nan], [True], "0 or more"),
        ([math.inf], [False], "0 or more"),
        ([[1.0], [2.0]], [[True], [True]], "Every subject has one day"),
    ],
)
def test_days_that_cannot_be_are_refused(days: list[float], died: list[bool], reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        kaplan_meier(days, died)
    with pytest.raises(ValueError, match=reason):
        log_rank([1.0], [True], days, died)


def test_spans_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="must not end before"):
        survival_band([8.0], [7.0], [True])
    with pytest.raises(ValueError, match="first and a last day"):
        survival_band([8.0, 1.0], [9.0], [True])
    with pytest.raises(ValueError, match="confidence"):
        kaplan_meier([1.0], [True], 1.0)
