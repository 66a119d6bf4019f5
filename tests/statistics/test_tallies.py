"""Eggs of a batch added up by parts: they make the batch."""

from __future__ import annotations

import pytest
from hatchbook.statistics.rates import batch_rates, rates_from_counts
from hatchbook.statistics.tallies import (
    LOSS_FATES,
    RateKind,
    batch_tally,
    counts,
    egg_tally,
    known_kinds,
    only,
    summed,
)
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT, DIED, EggOutcome
from hypothesis import given
from hypothesis import strategies as st


def outcome(fate: Fate, candling: bool | None, opened: bool, fertile: bool | None) -> EggOutcome:
    """An outcome whose last candling saw an embryo, or called it clear, or that was never candled."""
    if fate in CAME_OUT | DIED:
        fertile = True
    elif fate is Fate.INFERTILE:
        fertile = False
    return EggOutcome(fate, candling is not None, candling is False, opened, fertile)


KNOWN = st.sampled_from([True, False, None])
OUTCOMES = st.builds(outcome, st.sampled_from(list(Fate)), KNOWN, st.booleans(), KNOWN)


def test_an_egg_counts_by_the_definitions_of_the_rates() -> None:
    hatched = egg_tally(EggOutcome(Fate.HATCHED, fertile=True))
    assert counts(hatched, RateKind.FERTILITY) == (1, 1)
    assert counts(hatched, RateKind.HATCH_OF_FERTILE) == (1, 1)
    assert counts(hatched, RateKind.HATCH_OF_SET) == (1, 1)
    assert counts(hatched, RateKind.LATE_DEAD) == (0, 1)
    clear = egg_tally(EggOutcome(Fate.CLEAR, candled=True, candled_clear=True))
    assert counts(clear, RateKind.FERTILITY) == (0, 1)
    assert counts(clear, RateKind.HATCH_OF_FERTILE) == (0, 0)
    assert counts(clear, RateKind.HATCH_OF_SET) == (0, 1)
    taken = egg_tally(EggOutcome(Fate.TAKEN_OUT, fertile=True))
    assert counts(taken, RateKind.FERTILITY) == (0, 0)
    assert counts(taken, RateKind.HATCH_OF_FERTILE) == (0, 0)
    assert counts(taken, RateKind.HATCH_OF_SET) == (0, 1)
    late = egg_tally(EggOutcome(Fate.LATE_DEAD, fertile=True))
    assert counts(late, RateKind.LATE_DEAD) == (1, 1)
    assert counts(late, RateKind.EARLY_DEAD) == (0, 1)


@given(st.lists(OUTCOMES, min_size=1, max_size=30), st.integers(1, 30))
def test_the_parts_of_a_batch_add_up_to_the_batch(outcomes: list[EggOutcome], at: int) -> None:
    rates = batch_rates(outcomes)
    kinds = known_kinds(rates)
    parts = [outcomes[:at], outcomes[at:]]
    tallies = [summed((egg_tally(outcome), 1) for outcome in part) for part in parts]
    whole = summed((only(tally, kinds), 1) for tally in tallies)
    assert whole == only(batch_tally(rates), kinds)


def test_a_rate_that_the_batch_does_not_know_its_parts_do_not_know_either() -> None:
    nothing_noted = [EggOutcome(Fate.UNKNOWN)] * 4
    kinds = known_kinds(batch_rates(nothing_noted))
    assert kinds == frozenset()
    assert only(egg_tally(nothing_noted[0]), kinds) == ((0, 0),) * len(RateKind)


def test_stages_of_death_are_not_known_where_most_of_the_dead_were_not_opened() -> None:
    opened = rates_from_counts(eggs_set=20, hatched=12, clear=2, early=3, late=1, mid=0, pipped=0)
    assert set(LOSS_FATES) <= known_kinds(opened)  # two of six have no stage
    hardly = rates_from_counts(eggs_set=20, hatched=12, clear=2, early=1, late=0, mid=0, pipped=0)
    assert not set(LOSS_FATES) & known_kinds(hardly)  # five of six have none
    assert RateKind.HATCH_OF_FERTILE in known_kinds(hardly)


@pytest.mark.parametrize("kind", list(RateKind))
def test_only_losses_are_losses(kind: RateKind) -> None:
    assert kind.is_loss == kind.value.endswith("dead")
