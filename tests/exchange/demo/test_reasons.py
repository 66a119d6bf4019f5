"""What the demo's story leaves for the figures to find: a cut nobody noticed, and why a hatch failed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hatchbook.figures import batch_causes, batch_curves
from hatchbook.figures.cause_results import Strength
from hatchbook.figures.temperature import batch_cuts
from hatchbook.journal import Batch, Journal
from hatchbook.trade.cause_codes import CauseCode, FactCode

Batches = Callable[[str], list[Batch]]


def test_a_cut_that_nobody_noticed_is_found_in_the_curve(demo: Journal, batches: Batches, now: int) -> None:
    found = [
        cut
        for batch in batches("Lower yard hens")
        for cut in batch_cuts(batch_curves(demo, batch.uid, now))
        if cut.found
    ]
    (cut,) = found
    assert cut.sure
    assert cut.seconds == pytest.approx(85 * 60, abs=600)


def test_in_no_other_batch_is_a_cut_made_up(demo: Journal, batches: Batches, now: int) -> None:
    for name in ("Orchard hens", "Brook hens", "Pond ducks", "Reed quail"):
        for batch in batches(name):
            cuts = batch_cuts(batch_curves(demo, batch.uid, now))
            assert [cut for cut in cuts if cut.found] == [], batch.label


def test_the_drifted_batch_was_too_humid_by_all_that_is_known(
    demo: Journal, batches: Batches, now: int
) -> None:
    found = batch_causes(demo, batches("Brook hens")[-1].uid, now)
    first = found.causes[0]
    assert (first.code, first.strength) == (CauseCode.TOO_HUMID, Strength.STRONG)
    assert {item.code for item in first.for_} >= {
        FactCode.HUMIDITY_BEFORE_LOCKDOWN,
        FactCode.WEIGHT_LOSS,
        FactCode.WET,
    }
    assert first.against == ()
    assert found.chance is not None
    assert found.chance < 0.1


def test_of_most_batches_no_cause_stands_out(demo: Journal, batches: Batches, now: int) -> None:
    orchard = [batch for batch in batches("Orchard hens") if batch.closed_at is not None]
    assert [batch.label for batch in orchard if batch_causes(demo, batch.uid, now).stands_out] == []
