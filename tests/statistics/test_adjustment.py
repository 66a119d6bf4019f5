"""Pens adjusted for machines, and pens that can not be told from them."""

from __future__ import annotations

import math
from dataclasses import astuple

import numpy as np
import pytest
from hatchbook.statistics.comparison import Entry, adjusted_comparison
from hypothesis import given
from hypothesis import strategies as st


def entries(
    table: dict[tuple[str, str], list[int]], eggs: int = 24, rho: float | None = None
) -> list[Entry[str]]:
    """Entries of (pen, machine) with the hits of each batch."""
    return [Entry(hits, eggs, pen, machine) for (pen, machine), batches in table.items() for hits in batches]


MACHINE_IS_BAD = entries(
    {
        ("Brook", "Old"): [11, 13, 12, 10, 12, 11, 13, 12],
        ("Brook", "New"): [21, 20],
        ("Hill", "Old"): [12, 11],
        ("Hill", "New"): [20, 21, 19, 22, 20, 21, 20, 19],
    }
)
PEN_IS_BAD = entries(
    {
        ("Brook", "Old"): [11, 13, 12, 10],
        ("Brook", "New"): [12, 11, 13],
        ("Hill", "Old"): [20, 21, 19],
        ("Hill", "New"): [21, 20, 19, 22],
        ("Orchard", "Old"): [19, 21],
        ("Orchard", "New"): [20, 20],
    }
)
ONE_MACHINE_EACH = entries({("Brook", "Old"): [11, 13, 12, 10], ("Hill", "New"): [20, 21, 19, 22]})


def test_a_pen_that_only_had_the_bad_machine_is_not_blamed() -> None:
    from hatchbook.statistics.comparison import compare_groups

    hits = {pen: [entry.hits for entry in MACHINE_IS_BAD if entry.first == pen] for pen in ("Brook", "Hill")}
    plain = compare_groups({pen: (batches, [24] * len(batches)) for pen, batches in hits.items()})
    adjusted = adjusted_comparison(MACHINE_IS_BAD)
    assert plain.differences[0].difference < -0.2
    assert adjusted.separable
    assert adjusted.p_value is not None
    assert adjusted.p_value > 0.3
    assert abs(adjusted.groups[0].difference) < 0.06
    assert not any(group.more_than_chance for group in adjusted.groups)


def test_the_bad_machine_is_found_beside_the_pens() -> None:
    turned = [Entry(entry.hits, entry.trials, entry.second, entry.first) for entry in MACHINE_IS_BAD]
    adjusted = adjusted_comparison(turned)
    assert adjusted.groups_df == 1
    old = next(group for group in adjusted.groups if group.key == "Old")
    assert old.more_than_chance
    assert old.difference == pytest.approx(-0.36, abs=0.05)
    assert old.low < old.difference < old.high < -0.2


def test_a_bad_pen_is_found_beside_the_machines_and_leaves_the_others_alone() -> None:
    adjusted = adjusted_comparison(PEN_IS_BAD)
    assert adjusted.groups[0].key == "Brook"
    assert adjusted.groups[0].more_than_chance
    assert [group.more_than_chance for group in adjusted.groups[1:]] == [False, False]
    assert adjusted.groups_df == 2
    assert adjusted.p_value is not None
    assert adjusted.p_value < 0.001


def test_without_a_spread_estimates_are_those_of_a_logistic_regression() -> None:
    import statsmodels.api as sm

    adjusted = adjusted_comparison(MACHINE_IS_BAD, rho=0.0)
    brook = np.array([float(entry.first == "Brook") for entry in MACHINE_IS_BAD])
    old = np.array([float(entry.second == "Old") for entry in MACHINE_IS_BAD])
    hits = np.array([entry.hits for entry in MACHINE_IS_BAD])
    both = np.column_stack([np.ones(brook.size), old, brook])
    counts = np.column_stack([hits, 24 - hits])
    model = sm.GLM(counts, both, family=sm.families.Binomial()).fit()
    without = sm.GLM(counts, both[:, :2], family=sm.families.Binomial()).fit()
    group = next(group for group in adjusted.groups if group.key == "Brook")
    assert group.log_odds == pytest.approx(model.params[2], abs=0.01)  # half an egg more on either side
    assert adjusted.likelihood_ratio == pytest.approx(without.deviance - model.deviance, abs=0.005)


def test_pens_that_each_had_a_machine_of_their_own_can_not_be_told_apart() -> None:
    adjusted = adjusted_comparison(ONE_MACHINE_EACH)
    assert adjusted.p_value is None
    assert not adjusted.separable
    assert adjusted.groups == ()
    assert [(each.key, each.only_level, each.alone_in) for each in adjusted.confounded] == [
        ("Brook", "Old", ("Old",)),
        ("Hill", "New", ("New",)),
    ]


def test_one_pen_that_can_not_be_told_apart_leaves_the_others_to_be_compared() -> None:
    adjusted = adjusted_comparison([*PEN_IS_BAD, *entries({("Meadow", "Third"): [15, 16, 14]})])
    assert [overlap.key for overlap in adjusted.confounded] == ["Meadow"]
    assert {group.key for group in adjusted.groups} == {"Brook", "Hill", "Orchard"}
    assert adjusted.groups[0].key == "Brook"
    assert adjusted.groups[0].more_than_chance


def test_one_batch_in_common_is_too_few_to_tell_them_apart() -> None:
    nearly = [*ONE_MACHINE_EACH, *entries({("Brook", "New"): [20]})]
    overlap = adjusted_comparison(nearly).overlaps[0]
    assert overlap.shared_batches == 1
    assert not overlap.told_apart
    assert overlap.levels == ("Old", "New")
    assert overlap.only_level is None


def test_all_of_a_pen_in_one_shared_machine_is_told_apart() -> None:
    shared = entries({("Brook", "Old"): [11, 13, 12], ("Hill", "Old"): [20, 21], ("Hill", "New"): [20, 19]})
    overlap = adjusted_comparison(shared).overlaps[0]
    assert (overlap.only_level, overlap.alone_in, overlap.shared_batches) == ("Old", (), 2)
    assert overlap.told_apart


def test_parts_of_a_batch_count_once_for_the_machine_they_share() -> None:
    rng = np.random.default_rng(2)
    parts, wholes = [], []
    for batch in range(12):
        machine = "Old" if batch % 2 else "New"
        share = rng.beta(6, 2)
        hits = rng.binomial(8, share, 3)
        parts += [Entry(int(y), 8, machine, pen, batch) for y, pen in zip(hits, "ABC", strict=True)]
        wholes += [Entry(int(y), 8, machine, pen) for y, pen in zip(hits, "ABC", strict=True)]
    together, apart = adjusted_comparison(parts), adjusted_comparison(wholes)
    assert (together.df, apart.df) == (12 - 2, 36 - 4)
    assert together.overlaps[0].shared_batches == apart.overlaps[0].shared_batches == 18


def test_parts_of_batches_in_several_pens_stay_apart() -> None:
    parts = [
        Entry(int(hits), 10, pen, machine, batch)
        for batch, machine in enumerate(["Old", "New", "Old", "New"])
        for pen, hits in (("A", 8 - batch % 2), ("B", 5 + batch % 2))
    ]
    assert adjusted_comparison(parts).df == 8 - 3


@pytest.mark.parametrize(
    "few",
    [
        [],
        [Entry(3, 4, "a", "x")],
        [Entry(0, 0, "a", "x"), Entry(0, 0, "b", "x")],
        entries({("a", "x"): [3], ("b", "x"): [4]}),
        entries({("a", "x"): [24, 24], ("b", "x"): [24, 24]}),
        entries({("a", "x"): [0, 0], ("b", "x"): [0, 0]}),
    ],
    ids=["nothing", "one entry", "no eggs", "one batch each", "all", "none"],
)
def test_too_few_to_say(few: list[Entry[str]]) -> None:
    adjusted = adjusted_comparison(few)
    assert adjusted.p_value is None
    assert adjusted.groups == ()


def test_a_pen_where_none_hatched_has_finite_numbers() -> None:
    adjusted = adjusted_comparison(
        [*PEN_IS_BAD, *entries({("Cold", "Old"): [0, 0], ("Cold", "New"): [0, 0]})]
    )
    cold = adjusted.groups[0]
    assert cold.key == "Cold"
    assert cold.more_than_chance
    assert all(math.isfinite(number) for number in astuple(cold)[1:])
    assert cold.high < -0.3


def test_impossible_counts_are_refused() -> None:
    with pytest.raises(ValueError, match="5 of 4"):
        adjusted_comparison([Entry(5, 4, "a", "x")])


drawn_entries = st.lists(
    st.integers(0, 24).flatmap(
        lambda n: st.builds(
            Entry, st.integers(0, n), st.just(n), st.sampled_from("abc"), st.sampled_from("xyz"), st.none()
        )
    ),
    max_size=10,
)


@given(drawn_entries)
def test_every_number_is_one(drawn: list[Entry[str]]) -> None:
    adjusted = adjusted_comparison(drawn)
    assert math.isfinite(adjusted.rho + adjusted.likelihood_ratio)
    for group in adjusted.groups:
        assert all(math.isfinite(number) for number in astuple(group)[1:])
        assert group.low <= group.difference <= group.high
        assert 0.0 <= group.p <= group.p_holm <= 1.0
