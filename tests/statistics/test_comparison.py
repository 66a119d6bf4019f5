"""Groups of batches compared: what is more than chance, what is not, and what is too little to say."""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass

import numpy as np
import pytest
from hatchbook.statistics.comparison import Comparison, compare_groups
from hatchbook.statistics.group_tests import chi_square, holm, likelihood_ratio
from hatchbook.statistics.intervals import newcombe_difference, wilson
from hypothesis import given
from hypothesis import strategies as st

Groups = dict[str, tuple[list[int], list[int]]]

PENS: Groups = {
    "Brook": ([12, 14, 16, 11, 15, 13, 17, 12], [24, 22, 25, 20, 24, 21, 26, 20]),
    "Hill": ([20, 19, 21, 17, 22, 18, 23, 18], [24, 22, 25, 20, 24, 21, 26, 20]),
    "Orchard": ([19, 18, 22, 16, 20, 18, 21, 17], [24, 22, 25, 20, 24, 21, 26, 20]),
}
SCATTERED: Groups = {
    "Dairy": ([22, 9, 20, 12, 23, 15], [24] * 6),
    "Barn": ([14, 23, 10, 21, 19, 24], [24] * 6),
}


def test_a_real_difference_is_found_and_named_first() -> None:
    comparison = compare_groups(PENS)
    first = comparison.against_rest[0]
    assert (first.key, first.rest) == ("Brook", ("Hill", "Orchard"))
    assert first.more_than_chance
    assert first.p_holm < 0.001
    assert first.difference == pytest.approx(first.mean - first.rest_mean)
    assert first.low < first.difference < first.high < -0.1
    assert comparison.more_than_chance
    assert [group.key for group in comparison.findings] == ["Brook"]


def test_one_bad_pen_does_not_make_the_others_look_good() -> None:
    comparison = compare_groups(PENS)
    others = {group.key: group for group in comparison.against_rest[1:]}
    assert others["Hill"].rest == ("Orchard",)
    assert not any(group.more_than_chance for group in others.values())


def test_scatter_from_batch_to_batch_is_not_taken_for_a_difference() -> None:
    groups: Groups = {
        "Dairy": ([22, 9, 20, 12, 23, 10], [24] * 6),
        "Barn": ([22, 23, 12, 21, 19, 24], [24] * 6),
    }
    hits, eggs = ([sum(counts[column]) for counts in groups.values()] for column in (0, 1))
    assert chi_square(hits, eggs).p < 0.001
    comparison = compare_groups(groups)
    assert comparison.rho > 0.1
    assert comparison.p_value is not None
    assert comparison.p_value > 0.05
    assert not comparison.findings


def test_without_a_spread_the_likelihood_ratio_is_the_plain_one() -> None:
    comparison = compare_groups(PENS, rho=0.0)
    hits, eggs = ([sum(counts[column]) for counts in PENS.values()] for column in (0, 1))
    plain = likelihood_ratio(hits, eggs)
    assert comparison.likelihood_ratio == pytest.approx(plain.statistic)
    assert comparison.groups_df == plain.df
    assert comparison.p_value == pytest.approx(max(plain.p, chi_square(hits, eggs).p))


def test_without_a_spread_ranges_are_wilsons_and_differences_newcombes() -> None:
    comparison = compare_groups(PENS, rho=0.0)
    brook, hill = comparison.group("Brook"), comparison.group("Hill")
    assert (brook.low, brook.high) == pytest.approx(wilson(brook.hits, brook.trials), abs=1e-9)
    pair = comparison.difference("Brook", "Hill")
    assert pair is not None
    newcombe = newcombe_difference(brook.hits, brook.trials, hill.hits, hill.trials)
    assert (pair.difference, pair.low, pair.high) == pytest.approx(newcombe, abs=1e-8)


def test_a_given_spread_widens_every_range() -> None:
    plain, wide = compare_groups(PENS, rho=0.0), compare_groups(PENS, rho=0.2)
    for narrow, broad in zip(plain.groups, wide.groups, strict=True):
        assert broad.low < narrow.low
        assert broad.high > narrow.high
    assert plain.p_value is not None
    assert wide.p_value is not None
    assert wide.p_value > plain.p_value


def test_pairs_are_all_there_once_and_turn_round() -> None:
    comparison = compare_groups(PENS)
    assert [(pair.a, pair.b) for pair in comparison.differences] == [
        ("Brook", "Hill"),
        ("Brook", "Orchard"),
        ("Hill", "Orchard"),
    ]
    assert [p.p_holm for p in comparison.differences] == holm([p.p for p in comparison.differences])
    there, back = comparison.difference("Brook", "Hill"), comparison.difference("Hill", "Brook")
    assert there is not None
    assert back is not None
    assert (back.difference, back.low, back.high) == (-there.difference, -there.high, -there.low)
    assert comparison.difference("Brook", "Brook") is None


def test_two_groups_are_one_test() -> None:
    comparison = compare_groups(SCATTERED)
    (pair,) = comparison.differences
    assert [group.p for group in comparison.against_rest] == pytest.approx([pair.p] * 2)
    assert [group.p_holm for group in comparison.against_rest] == pytest.approx([pair.p] * 2)
    assert comparison.p_value == pytest.approx(pair.p)


def test_order_and_names_of_the_groups_do_not_matter() -> None:
    turned = compare_groups(dict(reversed(PENS.items())))
    comparison = compare_groups(PENS)
    assert turned.p_value == pytest.approx(comparison.p_value)
    assert turned.against_rest[0].key == "Brook"
    assert turned.group("Hill").low == pytest.approx(comparison.group("Hill").low)


def test_more_pairs_than_anybody_reads_are_not_made() -> None:
    assert compare_groups(PENS, most_paired=2).differences == ()
    assert compare_groups(PENS, most_paired=2).against_rest


def test_a_group_of_one_batch_or_few_eggs_is_shown_but_not_compared() -> None:
    comparison = compare_groups({**PENS, "Meadow": ([3], [30]), "Yard": ([2, 1], [4, 5])})
    for key in ("Meadow", "Yard"):
        group = comparison.group(key)
        assert group.too_small
        assert group.mean is not None
        assert group.low < group.mean < group.high
    assert {group.key for group in comparison.against_rest} == set(PENS)
    assert comparison.groups_df == 2


def test_small_groups_are_drawn_to_the_mean_of_all() -> None:
    comparison = compare_groups({**PENS, "Meadow": ([0], [3])})
    meadow, brook, overall = comparison.group("Meadow"), comparison.group("Brook"), comparison.overall.mean
    assert meadow.mean == 0.0
    assert meadow.shrunken is not None
    assert brook.shrunken is not None
    assert brook.mean is not None
    assert overall is not None
    assert meadow.shrunken > 0.4
    assert brook.mean < brook.shrunken < overall
    assert brook.shrunken - brook.mean < 0.1


def test_all_together_is_a_group_of_its_own() -> None:
    overall = compare_groups(PENS).overall
    assert overall.key is None
    assert (overall.batches, overall.trials) == (24, 3 * 182)
    assert overall.mean == pytest.approx(overall.hits / overall.trials, abs=0.01)


def test_differences_of_groups_are_not_taken_for_scatter_of_batches() -> None:
    groups: Groups = {"a": ([3, 4, 3, 4, 3], [24] * 5), "b": ([21, 20, 21, 20, 21], [24] * 5)}
    assert compare_groups(groups).rho == 0.0


@pytest.mark.parametrize(
    "groups",
    [
        {},
        {"a": ([], [])},
        {"a": ([0], [0]), "b": ([0, 0], [0, 0])},
        {"a": ([7], [12])},
        {"a": ([7, 9], [12, 12])},
        {"a": ([20], [30]), "b": ([5], [30])},
        {"a": ([1, 0, 1] * 10, [1] * 30), "b": ([0, 0, 1] * 10, [1] * 30)},
    ],
    ids=[
        "nothing",
        "no batches",
        "no eggs",
        "one batch",
        "one group",
        "groups of one batch",
        "batches of one egg",
    ],
)
def test_too_few_to_say(groups: Groups) -> None:
    comparison = compare_groups(groups)
    assert comparison.too_few_to_say
    assert comparison.p_value is None
    assert not comparison.more_than_chance
    assert comparison.against_rest == comparison.differences == comparison.findings == ()
    assert len(comparison.groups) == len(groups)
    assert_numbers(comparison)


def test_groups_that_all_hatched_do_not_differ() -> None:
    comparison = compare_groups({"a": ([20, 20], [20, 20]), "b": ([30, 10], [30, 10])})
    assert comparison.p_value == 1.0
    assert not comparison.spread_known
    assert comparison.group("a").high == 1.0


def test_all_against_none_is_told_though_nothing_is_known_of_the_spread() -> None:
    few = compare_groups({"a": ([20] * 2, [20] * 2), "b": ([0] * 2, [20] * 2)})
    many = compare_groups({"a": ([20] * 8, [20] * 8), "b": ([0] * 8, [20] * 8)})
    assert few.p_value is not None
    assert many.p_value is not None
    assert many.p_value < 1e-4 < few.p_value < 0.05
    assert many.differences[0].difference == 1.0


def test_a_group_where_none_hatched_is_compared() -> None:
    comparison = compare_groups({**PENS, "Cold": ([0, 0, 0, 0], [24, 20, 22, 18])})
    assert comparison.findings[0].key == "Cold"
    assert comparison.group("Cold").low == 0.0
    assert_numbers(comparison)


def test_unknown_group_is_an_error() -> None:
    with pytest.raises(KeyError):
        compare_groups(PENS).group("Nowhere")


def test_impossible_counts_are_refused() -> None:
    with pytest.raises(ValueError, match="25 of 24"):
        compare_groups({"a": ([25], [24])})
    with pytest.raises(ValueError, match="confidence"):
        compare_groups(PENS, confidence=1.0)
    with pytest.raises(ValueError, match="spread"):
        compare_groups(PENS, rho=1.0)


def numbers_in(value: object) -> list[float]:
    """Every number in a result."""
    if isinstance(value, tuple):
        return [number for part in value for number in numbers_in(part)]
    if is_dataclass(value):
        return [number for field in fields(value) for number in numbers_in(getattr(value, field.name))]
    return [float(value)] if isinstance(value, int | float | np.number) else []


def assert_numbers(comparison: Comparison[str]) -> None:
    assert all(math.isfinite(number) for number in numbers_in(comparison))


counts = st.integers(0, 40).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
group_lists = st.lists(st.lists(counts, max_size=4), max_size=5)


@given(group_lists)
def test_every_number_is_one_and_in_its_range(drawn: list[list[tuple[int, int]]]) -> None:
    groups = {f"{i}": ([y for y, _ in part], [n for _, n in part]) for i, part in enumerate(drawn)}
    comparison = compare_groups(groups)
    assert_numbers(comparison)
    for group in comparison.groups:
        assert 0.0 <= group.low <= (0.5 if group.mean is None else group.mean) <= group.high <= 1.0
    for pair in (*comparison.differences, *comparison.against_rest):
        assert -1.0 <= pair.low <= pair.difference <= pair.high <= 1.0
        assert 0.0 <= pair.p <= pair.p_holm <= 1.0
    chances = [group.p_holm for group in comparison.against_rest]
    assert chances == sorted(chances)
