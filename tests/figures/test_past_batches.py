"""Counts of past batches: what cannot be, and what follows from the rest."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.figures.past_batches import (
    CountFault,
    CountTrouble,
    count_troubles,
    past_draft,
    past_figures,
    past_label_taken,
)
from hatchbook.journal import Machine, PastBatch, Pen, RecordMissingError
from hypothesis import given
from hypothesis import strategies as st
from tests.figures.conftest import Hatchery

BATCH = PastBatch("21-01", 2021, "hen", 24, clear=4, early_dead=1, late_dead=3, hatched=14)


@pytest.mark.parametrize(
    ("changes", "trouble"),
    [
        ({"eggs_set": 0}, CountTrouble(CountFault.NO_EGGS, "eggs_set", 0, 1)),
        ({"culled": -1}, CountTrouble(CountFault.NEGATIVE, "culled", -1, 0)),
        ({"hatched": 17}, CountTrouble(CountFault.EXCEED, "eggs_set", 25, 24)),
        ({"infertile_opened": 5}, CountTrouble(CountFault.OPENED_EXCEED, "infertile_opened", 5, 4)),
    ],
)
def test_counts_that_cannot_be_are_named_and_give_no_rates(
    changes: dict[str, int], trouble: CountTrouble
) -> None:
    draft = past_draft(replace(BATCH, **changes))
    assert draft.troubles == (trouble,)
    assert draft.rates is None


def test_what_follows_from_counts_is_known_while_they_are_typed() -> None:
    draft = past_draft(BATCH)
    assert (draft.troubles, draft.counted, draft.left) == ((), 22, 2)
    assert draft.rates is not None
    assert (draft.rates.fertility.hits, draft.rates.fertility.trials) == (20, 24)
    assert (draft.rates.hatch_of_fertile.hits, draft.rates.hatch_of_fertile.trials) == (14, 20)


COUNT = st.none() | st.integers(-2, 12)


@given(st.integers(-1, 30), st.lists(COUNT, min_size=10, max_size=10))
def test_rates_are_there_exactly_where_counts_can_be(eggs_set: int, counts: list[int | None]) -> None:
    fields = (
        *("clear", "early_dead", "mid_dead", "late_dead", "pipped_dead", "rotten", "taken_out", "hatched"),
        *("culled", "infertile_opened"),
    )
    batch = replace(BATCH, eggs_set=eggs_set, **dict(zip(fields, counts, strict=True)))
    draft = past_draft(batch)
    assert (draft.rates is None) is bool(count_troubles(batch))
    if draft.rates is not None:
        assert sum(draft.rates.counts.by_fate.values()) == eggs_set
        assert draft.counted + draft.left == eggs_set


def test_a_past_batch_is_shown_with_the_names_of_where_it_was(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    pen, machine = Pen("Pond"), Machine("Cupboard", 3, 4)
    journal.pens.add(pen)
    journal.machines.add(machine)
    batch = replace(BATCH, pen=pen.uid, machine=machine.uid, programme_code="hen")
    journal.past_batches.add(batch)
    figures = past_figures(journal, batch.uid)
    assert (figures.pen_name, figures.machine_name, figures.left) == ("Pond", "Cupboard", 2)
    assert figures.programme_title
    assert figures.as_dict()["batch"]["label"] == "21-01"
    with pytest.raises(RecordMissingError):
        past_figures(journal, "none")


def test_a_label_is_taken_by_kept_and_past_batches_alike(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    journal.past_batches.add(BATCH)
    assert past_label_taken(journal, "21-01", "another")
    assert not past_label_taken(journal, "21-01", BATCH.uid)
    kept = journal.batches.lines()
    for line in kept:
        assert past_label_taken(journal, line.label, BATCH.uid)
