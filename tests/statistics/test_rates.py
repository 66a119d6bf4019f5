"""Fertility, hatch and losses of a batch: denominators, what is left out, and that they close."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hatchbook.statistics.intervals import wilson
from hatchbook.statistics.rates import (
    LOSSES,
    BatchRates,
    Rate,
    batch_rates,
    closure,
    rates_from_counts,
)
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.fates import (
    CAME_OUT,
    DIED,
    PENDING,
    EggOutcome,
    SeenBreakOut,
    SeenFinding,
    SeenHatch,
    SeenRemoval,
    derive_fate,
)
from hatchbook.trade.stages import StageBounds
from hypothesis import given
from hypothesis import strategies as st


def egg(fate: Fate, fertile: bool | None = None, *, clear: bool = False, candled: bool = True) -> EggOutcome:
    if fate in CAME_OUT | DIED or fate in (Fate.ALIVE, Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP):
        fertile = True
    opened = fate is Fate.INFERTILE
    return EggOutcome(
        fate, candled=candled, candled_clear=clear, opened=opened, fertile=False if opened else fertile
    )


# A made-up batch of this project: 120 set, 12 clear of which 9 infertile and 3 early dead, 5 early, 2 mid, 6 late,
# 3 pipped dead, 1 rotten, 2 culled, 89 saleable.
OURS = (
    [egg(Fate.INFERTILE, clear=True)] * 9
    + [egg(Fate.EARLY_DEAD, clear=True)] * 3
    + [egg(Fate.EARLY_DEAD)] * 5
    + [egg(Fate.MID_DEAD)] * 2
    + [egg(Fate.LATE_DEAD)] * 6
    + [egg(Fate.PIPPED_DEAD)] * 3
    + [egg(Fate.ROTTEN, True)]
    + [egg(Fate.CULLED)] * 2
    + [egg(Fate.HATCHED)] * 80
    + [egg(Fate.HELPED)] * 9
)
OURS_COUNTED = {
    "eggs_set": 120,
    "clear": 9,
    "infertile_opened": 9,
    "early_in_clears": 3,
    "early": 8,
    "mid": 2,
    "late": 6,
    "pipped": 3,
    "rotten": 1,
    "culled": 2,
    "taken_out": 0,
    "hatched": 89,
}


def parts(rate: Rate) -> tuple[int, int]:
    return rate.hits, rate.trials


@pytest.mark.parametrize(
    "rates", [batch_rates(OURS), rates_from_counts(**OURS_COUNTED)], ids=["eggs", "counts"]
)
def test_a_whole_batch_by_egg_and_by_counts(rates: BatchRates) -> None:
    assert parts(rates.candled_fertility) == (108, 120)
    assert parts(rates.fertility) == (111, 120)
    assert parts(rates.hatch_of_set) == (91, 120)
    assert parts(rates.hatch_of_fertile) == (91, 111)
    assert parts(rates.saleable_of_set) == (89, 120)
    assert parts(rates.saleable_of_fertile) == (89, 111)
    percents = [
        round(100 * (rate.estimate or 0), 2)
        for rate in (
            rates.candled_fertility,
            rates.fertility,
            rates.hatch_of_set,
            rates.hatch_of_fertile,
            rates.saleable_of_set,
        )
    ]
    assert percents == [90.0, 92.5, 75.83, 81.98, 74.17]
    assert {fate: rate.hits for fate, rate in rates.losses.items()} == {
        Fate.EARLY_DEAD: 8,
        Fate.MID_DEAD: 2,
        Fate.LATE_DEAD: 6,
        Fate.PIPPED_DEAD: 3,
        Fate.CULLED: 2,
        Fate.ROTTEN: 1,
        Fate.CRACKED: 0,
        Fate.UNKNOWN: 0,
    }
    assert {rate.trials for rate in rates.losses.values()} == {111}
    assert (rates.chicks, rates.came_out, rates.fertile) == (89, 91, 111)
    assert (rates.unopened_clears, rates.fertility_unknown, rates.unknown, rates.pending) == (0, 0, 0, 0)
    assert rates.closes
    assert closure(list(rates.shares_of_fertile.values()), tolerance=1e-9).closes


def test_a_rate_carries_its_counts_and_wilsons_range() -> None:
    rate = Rate.of(15, 148)
    assert (rate.hits, rate.trials, rate.estimate) == (15, 148, 15 / 148)
    assert (rate.low, rate.high) == wilson(15, 148)
    assert Rate.of(0, 0) == Rate(0, 0, None, 0.0, 1.0)


def test_clears_that_were_not_opened_stay_clear_and_are_named() -> None:
    rates = batch_rates([egg(Fate.CLEAR, clear=True)] * 4 + [egg(Fate.HATCHED)] * 20)
    assert parts(rates.fertility) == parts(rates.candled_fertility) == (20, 24)
    assert rates.unopened_clears == 4
    assert rates.closes
    assert rates.counts[Fate.INFERTILE] == 0


def test_opening_a_clear_moves_an_early_dead_to_the_fertile() -> None:
    rates = batch_rates([egg(Fate.EARLY_DEAD, clear=True)] * 4 + [egg(Fate.HATCHED)] * 20)
    assert parts(rates.candled_fertility) == (20, 24)
    assert parts(rates.fertility) == (24, 24)
    assert parts(rates.hatch_of_fertile) == (20, 24)
    assert rates.unopened_clears == 0


def test_a_clear_that_hatched_was_still_candled_clear() -> None:
    rates = batch_rates([egg(Fate.HATCHED, clear=True), egg(Fate.HATCHED)])
    assert parts(rates.candled_fertility) == (1, 2)
    assert parts(rates.fertility) == (2, 2)


def test_eggs_taken_out_are_named_and_only_hatch_of_set_counts_them() -> None:
    rates = batch_rates(
        [egg(Fate.TAKEN_OUT, True)] * 2
        + [egg(Fate.TAKEN_OUT)]
        + [egg(Fate.HATCHED)] * 8
        + [egg(Fate.LATE_DEAD)]
    )
    assert rates.taken_out == 3
    assert parts(rates.fertility) == parts(rates.candled_fertility) == (9, 9)
    assert parts(rates.hatch_of_fertile) == (8, 9)
    assert parts(rates.hatch_of_set) == (8, 12)
    assert rates.closes


def test_an_egg_lost_track_of_breaks_the_closure_and_is_named() -> None:
    rates = batch_rates([egg(Fate.HATCHED)] * 8 + [egg(Fate.UNKNOWN, True)] * 2)
    assert parts(rates.hatch_of_fertile) == (8, 10)
    assert parts(rates.losses[Fate.UNKNOWN]) == (2, 10)
    assert rates.unknown == 2
    assert not rates.closes
    assert not closure(list(rates.shares_of_fertile.values())).closes


def test_rates_of_fertile_are_not_given_when_most_of_what_did_not_hatch_is_a_riddle() -> None:
    never_candled = [egg(Fate.HATCHED, candled=False)] * 16 + [egg(Fate.UNKNOWN, candled=False)] * 8
    rates = batch_rates(never_candled)
    assert rates.hatch_of_fertile.estimate is None  # and not 16 of 16
    assert rates.fertility.estimate is None
    assert rates.candled_fertility.trials == 0
    assert {rate.trials for rate in rates.losses.values()} == {0}
    assert rates.shares_of_fertile == {}
    assert parts(rates.hatch_of_set) == (16, 24)
    assert rates.fertility_unknown == rates.unknown == 8
    assert not rates.closes


def test_a_single_riddle_is_left_out_and_named() -> None:
    rates = batch_rates(
        [egg(Fate.HATCHED)] * 18
        + [egg(Fate.LATE_DEAD)] * 2
        + [egg(Fate.CLEAR, clear=True)] * 3
        + [egg(Fate.UNKNOWN, candled=False)]
    )
    assert parts(rates.fertility) == (20, 23)
    assert parts(rates.hatch_of_fertile) == (18, 20)
    assert rates.fertility_unknown == 1
    assert not rates.closes


def test_a_cracked_egg_counts_as_lost_only_when_an_embryo_was_seen() -> None:
    hatched = [egg(Fate.HATCHED)] * 10
    seen = batch_rates([*hatched, egg(Fate.CRACKED, True)])
    assert parts(seen.hatch_of_fertile) == (10, 11)
    assert parts(seen.losses[Fate.CRACKED]) == (1, 11)
    unseen = batch_rates([*hatched, egg(Fate.CRACKED, candled=False), egg(Fate.CRACKED, candled=False)])
    assert parts(unseen.hatch_of_fertile) == parts(unseen.fertility) == (10, 10)
    assert unseen.fertility_unknown == unseen.counts[Fate.CRACKED] == 2
    assert seen.closes
    assert unseen.closes


def test_a_rotten_egg_counts_as_fertile_unless_it_was_candled_clear() -> None:
    rates = batch_rates(
        [egg(Fate.HATCHED)] * 7
        + [egg(Fate.ROTTEN, True)]
        + [egg(Fate.ROTTEN, candled=False)]
        + [egg(Fate.ROTTEN, clear=True)]
    )
    assert parts(rates.losses[Fate.ROTTEN]) == (2, 9)
    assert parts(rates.fertility) == (9, 10)
    assert rates.rotten_taken_as_fertile == 1
    assert rates.unopened_clears == 1
    assert rates.counts[Fate.ROTTEN] == 3
    assert rates.closes


def test_a_dead_egg_of_no_known_stage_does_not_close() -> None:
    rates = batch_rates([egg(Fate.HATCHED), egg(Fate.DEAD)])
    assert parts(rates.losses[Fate.UNKNOWN]) == (1, 2)
    assert rates.unknown == 1
    assert not rates.closes


def test_a_batch_never_candled_so_far_has_no_rates() -> None:
    rates = batch_rates([egg(Fate.SET, candled=False)] * 12)
    assert rates.pending == 12
    for rate in (rates.candled_fertility, rates.fertility, rates.hatch_of_set, rates.hatch_of_fertile):
        assert rate == Rate(0, 0, None, 0.0, 1.0)
    assert not rates.closes


def test_a_running_batch_has_fertility_and_losses_so_far_but_no_hatch() -> None:
    rates = batch_rates(
        [egg(Fate.ALIVE)] * 8
        + [egg(Fate.UNSURE, candled=False)]
        + [egg(Fate.CLEAR, clear=True)] * 2
        + [egg(Fate.EARLY_DEAD)]
    )
    assert parts(rates.candled_fertility) == (9, 11)
    assert parts(rates.fertility) == (9, 11)
    assert parts(rates.losses[Fate.EARLY_DEAD]) == (1, 9)
    assert rates.hatch_of_set.trials == rates.hatch_of_fertile.trials == rates.saleable_of_set.trials == 0
    assert rates.pending == 9
    assert rates.fertility_unknown == 1
    assert not rates.closes


def test_hatch_rates_begin_with_the_first_chick_and_stay_open_while_eggs_are_left() -> None:
    rates = batch_rates([egg(Fate.HATCHED)] * 3 + [egg(Fate.EXTERNAL_PIP)] * 2 + [egg(Fate.ALIVE)] * 5)
    assert parts(rates.hatch_of_set) == parts(rates.hatch_of_fertile) == (3, 10)
    assert rates.pending == 7
    assert not rates.closes


def test_a_batch_lost_altogether_hatched_nothing() -> None:
    rates = batch_rates([egg(Fate.EARLY_DEAD)] * 3 + [egg(Fate.CLEAR, clear=True)])
    assert parts(rates.hatch_of_set) == (0, 4)
    assert parts(rates.hatch_of_fertile) == (0, 3)
    assert rates.closes


def test_no_eggs_no_rates() -> None:
    rates = batch_rates([])
    assert rates.counts.eggs_set == rates.fertility.trials == rates.hatch_of_set.trials == 0


def test_figures_are_ready_for_json() -> None:
    plain = json.loads(json.dumps(batch_rates(OURS).as_dict(), allow_nan=False))
    assert plain["fertility"]["hits"] == 111
    assert plain["losses"]["early_dead"]["trials"] == 111
    assert plain["counts"] == {
        "eggs_set": 120,
        "by_fate": {
            "infertile": 9,
            "early_dead": 8,
            "mid_dead": 2,
            "late_dead": 6,
            "pipped_dead": 3,
            "hatched": 80,
            "helped": 9,
            "culled": 2,
            "rotten": 1,
        },
    }
    assert plain["closes"] is True
    assert plain["came_out"] == 91
    assert json.dumps(batch_rates([]).as_dict(), allow_nan=False)


def seen(kind: Any, codes: Any, first_day: int) -> st.SearchStrategy[list[Any]]:
    instants = st.integers(first_day, 24).map(lambda day: day * 86_400)
    return st.lists(st.builds(kind, instants, st.sampled_from(codes)), max_size=2)


records = st.tuples(
    seen(SeenFinding, FindingCode, 3),
    seen(SeenHatch, HatchMark, 19),
    seen(SeenBreakOut, BreakOutResult, 3),
    seen(SeenRemoval, RemovalReason, 3),
)


@st.composite
def batches(draw: st.DrawFn) -> list[EggOutcome]:
    """The outcomes of a batch with any records at all, contradictory ones too."""
    closed = draw(st.booleans())
    bounds = StageBounds.for_incubation(21)
    eggs = draw(st.lists(records, max_size=30))
    return [derive_fate(*egg_records, set_at_s=0, bounds=bounds, closed=closed) for egg_records in eggs]


@given(batches())
def test_every_egg_is_counted_once_whatever_became_of_it(outcomes: list[EggOutcome]) -> None:
    rates = batch_rates(outcomes)
    assert rates.counts.eggs_set == sum(rates.counts.by_fate.values()) == len(outcomes)
    assert rates.came_out == sum(outcome.fate in CAME_OUT for outcome in outcomes)
    open_fates = PENDING | {Fate.UNKNOWN}
    if rates.closes:
        assert not any(outcome.fate in open_fates for outcome in outcomes)
        if rates.saleable_of_fertile.trials:
            assert closure(list(rates.shares_of_fertile.values()), tolerance=1e-9).closes
            lost = sum(rate.hits for rate in rates.losses.values())
            assert rates.saleable_of_fertile.hits + lost == rates.fertile
            culled = rates.losses[Fate.CULLED].hits
            assert rates.hatch_of_fertile.hits == rates.saleable_of_fertile.hits + culled
    elif not any(outcome.fate in open_fates for outcome in outcomes):
        # closed and known to the end, so only riddles about fertility can keep it open
        assert 2 * rates.fertility_unknown > len(outcomes) - rates.came_out - rates.taken_out
    assert tuple(rates.losses) == LOSSES
    json.dumps(rates.as_dict(), allow_nan=False)


def test_a_batch_of_which_nothing_was_recorded_has_no_hatch_rates() -> None:
    never_seen, taken_out = EggOutcome(Fate.UNKNOWN), EggOutcome(Fate.TAKEN_OUT)
    rates = batch_rates([never_seen] * 18 + [taken_out] * 2)
    assert rates.hatch_of_set.trials == rates.saleable_of_set.trials == 0
    # One look is enough to tell that somebody kept count.
    candled = batch_rates([never_seen] * 18 + [EggOutcome(Fate.UNKNOWN, candled=True, fertile=True)])
    assert (candled.hatch_of_set.hits, candled.hatch_of_set.trials) == (0, 19)
