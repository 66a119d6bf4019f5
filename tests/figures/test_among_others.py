"""A batch's rates among those of the breeder's other batches."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures.among_others import AmongOthers, batch_against_others, rates_among_others
from hatchbook.figures.causes import batch_causes
from hatchbook.journal import Hatching, Journal, PastBatch
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import HatchMark

DAY = 86_400
OF_FERTILE = RateKind.HATCH_OF_FERTILE


def from_paper(journal: Journal, label: str, hatched: int, species: str = "hen") -> PastBatch:
    """24 eggs, 4 of them clear, so that 20 are fertile."""
    batch = PastBatch(
        season=2020,
        label=label,
        species=species,
        eggs_set=24,
        clear=4,
        hatched=hatched,
        late_dead=20 - hatched,
    )
    journal.past_batches.add(batch)
    return batch


def test_the_others_are_taken_together_without_the_batch_itself(hatchery: Any) -> None:
    own = from_paper(hatchery.journal, "20-01", 4)
    for number, hatched in enumerate((15, 16, 17, 16)):
        from_paper(hatchery.journal, f"20-1{number}", hatched)
    from_paper(hatchery.journal, "20-20", 1, species="duck")
    rate = rates_among_others(hatchery.journal, own.uid)[OF_FERTILE]
    assert (rate.hits, rate.trials, rate.batches) == (64, 80, 4)
    assert rate.usual == pytest.approx(0.8)
    assert rate.is_low
    assert rate.is_outside
    assert not rate.is_high


def test_a_batch_like_the_others_is_neither_low_nor_high(hatchery: Any) -> None:
    own = from_paper(hatchery.journal, "20-01", 16)
    for number, hatched in enumerate((15, 16, 17, 16)):
        from_paper(hatchery.journal, f"20-1{number}", hatched)
    rate = rates_among_others(hatchery.journal, own.uid)[OF_FERTILE]
    assert (rate.is_low, rate.is_high, rate.is_outside) == (False, False, False)


def test_one_other_batch_gives_its_rate_but_no_chance(hatchery: Any) -> None:
    own = from_paper(hatchery.journal, "20-01", 16)
    from_paper(hatchery.journal, "20-02", 12)
    rate = rates_among_others(hatchery.journal, own.uid)[OF_FERTILE]
    assert (rate.usual, rate.chance, rate.one_sided) == (0.6, None, None)
    assert not rate.is_low


def test_without_others_or_without_the_batch_there_is_nothing_to_tell(hatchery: Any) -> None:
    own = from_paper(hatchery.journal, "20-01", 16)
    assert rates_among_others(hatchery.journal, own.uid) == {}
    assert rates_among_others(hatchery.journal, "nobody") == {}
    assert AmongOthers.of(hatchery.journal, "nobody").own_counts(OF_FERTILE) == (0, 0)


def test_the_chance_over_the_page_is_that_of_the_causes(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=12)
    eggs = hatchery.eggs(batch)
    chicks = [Hatching(eggs[number], batch.set_at + 21 * DAY, HatchMark.HATCHED) for number in range(1, 7)]
    hatchery.journal.hatchings.note(batch.uid, chicks)
    hatchery.close(batch, 23.0)
    for number, hatched in enumerate((15, 16, 17, 16)):
        from_paper(hatchery.journal, f"20-1{number}", hatched)
    found = batch_causes(hatchery.journal, batch.uid, batch.set_at + 40 * DAY)
    alone = batch_against_others(hatchery.journal, batch.uid)
    if alone is None:
        assert found.chance is None
    else:
        assert found.chance == alone.low
    assert found.among == rates_among_others(hatchery.journal, batch.uid)
