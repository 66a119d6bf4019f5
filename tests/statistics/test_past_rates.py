"""Rates of past batches of which only counts are known, and shares that should be all of a whole."""

from __future__ import annotations

import pytest
from hatchbook.statistics.rates import Rate, closure, rates_from_counts
from hatchbook.trade.codes import Fate


def parts(rate: Rate) -> tuple[int, int]:
    return rate.hits, rate.trials


def test_a_past_batch_with_clears_and_chicks_alone_leaves_the_rest_unknown() -> None:
    rates = rates_from_counts(eggs_set=24, clear=4, hatched=16)
    assert parts(rates.candled_fertility) == (20, 24)
    assert parts(rates.fertility) == (20, 24)
    assert parts(rates.hatch_of_fertile) == (16, 20)
    assert parts(rates.losses[Fate.UNKNOWN]) == (4, 20)
    assert rates.unopened_clears == 4
    assert rates.unknown == 4
    assert not rates.closes


def test_a_past_batch_of_which_only_the_chicks_were_counted_has_hatch_of_set_alone() -> None:
    rates = rates_from_counts(eggs_set=24, hatched=16)
    assert parts(rates.hatch_of_set) == (16, 24)
    assert rates.hatch_of_fertile.trials == rates.fertility.trials == rates.candled_fertility.trials == 0
    assert rates.unknown == 8


def test_a_past_batch_whose_chicks_were_not_counted_has_no_hatch_rates() -> None:
    rates = rates_from_counts(eggs_set=24, clear=4, early=2)
    assert rates.hatch_of_set.trials == rates.hatch_of_fertile.trials == 0
    assert parts(rates.fertility) == (20, 24)
    assert parts(rates.losses[Fate.EARLY_DEAD]) == (2, 20)
    assert not rates.closes
    assert parts(rates_from_counts(eggs_set=24, clear=24, hatched=0).hatch_of_set) == (0, 24)


def test_opened_clears_hide_the_candled_fertility_of_a_past_batch() -> None:
    rates = rates_from_counts(eggs_set=24, clear=2, infertile_opened=2, early=3, hatched=19)
    assert rates.candled_fertility.trials == 0
    assert parts(rates.fertility) == (22, 24)
    told = rates_from_counts(eggs_set=24, clear=2, infertile_opened=2, early=3, early_in_clears=1, hatched=19)
    assert parts(told.candled_fertility) == (21, 24)
    assert parts(told.fertility) == (22, 24)


def test_a_past_batch_with_eggs_taken_out() -> None:
    rates = rates_from_counts(eggs_set=12, clear=2, taken_out=1, late=1, hatched=8)
    assert parts(rates.fertility) == (9, 11)
    assert parts(rates.hatch_of_fertile) == (8, 9)
    assert parts(rates.hatch_of_set) == (8, 12)
    assert rates.closes


@pytest.mark.parametrize(
    ("counts", "sentence"),
    [
        ({"hatched": 9, "clear": 2}, "add up to 11 eggs, but only 10 were set"),
        ({"hatched": 11}, "add up to 11 eggs, but only 10 were set"),
        ({"late": -1}, "can not be below 0"),
        ({"eggs_set": -1}, "can not be below 0"),
        ({"infertile_opened": -1}, "can not be below 0"),
        ({"clear": 2, "infertile_opened": 3}, "3 clears were opened as infertile, but only 2 were clear"),
        ({"early": 1, "early_in_clears": 2}, "2 early dead were found among the clears, but only 1"),
    ],
)
def test_impossible_counts_are_refused_in_plain_words(counts: dict[str, int], sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        rates_from_counts(**{"eggs_set": 10, **counts})


def test_a_slip_of_the_keyboard_does_not_fill_the_memory() -> None:
    rates = rates_from_counts(eggs_set=10**12, clear=0, hatched=10**12 - 1)
    assert parts(rates.hatch_of_set) == (10**12 - 1, 10**12)


def test_closure_allows_for_rounding_and_no_more() -> None:
    assert closure([33.3, 33.3, 33.3]).closes  # 99.9, each rounded to one decimal
    assert not closure([33.3, 33.3, 33.2]).closes
    assert closure([33.3, 33.3, 33.2], tolerance=0.2).closes
    assert closure([50, 50]).as_dict() == {"total": 100.0, "closes": True, "tolerance": 0.1}
    assert not closure([]).closes
    for wrong in (-1.0, float("nan")):
        with pytest.raises(ValueError, match="A share must be a number"):
            closure([101.0, wrong])
