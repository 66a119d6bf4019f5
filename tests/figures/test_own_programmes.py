"""The breeder's own programmes: copied, changed, and never reaching into the past."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hatchbook.figures.offered import offered_species
from hatchbook.figures.own_programmes import (
    copy_of,
    kept_programme,
    kept_programmes,
    known_species,
    record_of,
    title_taken,
    uses_of,
)
from hatchbook.figures.plan_records import store_draft
from hatchbook.figures.planning import BatchDraft, PenRow, plan_draft
from hatchbook.journal import Journal, OwnProgramme, PastBatch
from hatchbook.trade.programme import Programme
from hatchbook.trade.programme_changes import named_anew
from hatchbook.trade.programmes import programme_named

SET_AT = 1_777_917_600


def trade(code: str) -> Programme:
    found = programme_named(code)
    assert found is not None
    return found


def kept(journal: Journal, uid: str) -> Programme:
    found = kept_programme(journal, uid)
    assert found is not None
    assert found.programme is not None
    return found.programme


def test_a_copy_is_the_same_but_for_its_code_and_title(hatchery: Any) -> None:
    own = copy_of(hatchery.journal, trade("hen"), "My hens")
    hatchery.journal.programmes.add(own)
    programme = kept(hatchery.journal, own.uid)
    assert (own.code, own.title, own.species) == ("hen-own-1", "My hens", "hen")
    assert programme == replace(trade("hen"), code="hen-own-1", title="My hens")


def test_codes_and_titles_are_never_given_twice(hatchery: Any) -> None:
    journal = hatchery.journal
    for expected in (("hen-own-1", "My hens"), ("hen-own-2", "My hens 2"), ("hen-own-3", "My hens 3")):
        own = copy_of(journal, trade("hen"), "My hens")
        assert (own.code, own.title) == expected
        journal.programmes.add(own)
    third = copy_of(journal, kept(journal, own.uid), "Mine")
    assert third.code == "hen-own-4"


def test_titles_of_the_trade_and_of_others_are_taken(hatchery: Any) -> None:
    journal = hatchery.journal
    own = copy_of(journal, trade("hen"), "My hens")
    journal.programmes.add(own)
    assert title_taken(journal, " my HENS ", "another")
    assert not title_taken(journal, "My hens", own.uid)
    assert title_taken(journal, trade("duck").title, own.uid)


def test_changing_an_own_programme_leaves_batches_as_they_were_set(hatchery: Any) -> None:
    journal = hatchery.journal
    own = copy_of(journal, trade("hen"), "My hens")
    journal.programmes.add(own)
    draft = BatchDraft(
        kept(journal, own.uid), SET_AT, "26-90", machine=hatchery.machine, rows=(PenRow(eggs=4),)
    )
    store_draft(journal, draft, plan_draft(journal, draft, SET_AT), SET_AT)
    before = journal.batches.get(draft.uid), journal.batches.phases(draft.uid)

    programme = kept(journal, own.uid)
    drier = tuple(
        replace(phase, humidity_low=30.0, humidity_aim=33.0, humidity_high=36.0) for phase in programme.phases
    )
    journal.programmes.replace(record_of(own, replace(programme, title="Drier", phases=drier)))
    assert kept(journal, own.uid).phases == drier
    assert (journal.batches.get(draft.uid), journal.batches.phases(draft.uid)) == before
    assert Programme.from_json(before[0].programme).phases == trade("hen").phases

    journal.programmes.remove(journal.programmes.get(own.uid))
    assert (journal.batches.get(draft.uid), journal.batches.phases(draft.uid)) == before


def test_it_is_known_how_many_batches_were_set_by_it(hatchery: Any) -> None:
    journal = hatchery.journal
    own = copy_of(journal, trade("hen"), "My hens")
    journal.programmes.add(own)
    assert not uses_of(journal, own).any
    hatchery.add_batch(programme=own.definition)
    hatchery.add_batch(programme=trade("hen").to_json())
    journal.past_batches.add(PastBatch("24-01", 2024, "hen", 12, programme_code=own.code))
    uses = uses_of(journal, own)
    assert (uses.batches, uses.past_batches) == (1, 1)


def test_a_species_of_the_breeders_own_is_offered_for_a_new_batch(hatchery: Any) -> None:
    journal = hatchery.journal
    own = copy_of(journal, trade("duck"), "Mandarins")
    own = record_of(own, named_anew(trade("duck"), "Mandarins", "Mandarin duck"))
    journal.programmes.add(own)
    assert known_species(journal)[-1] == "Mandarin duck"
    offered = offered_species(journal)[-1]
    assert offered.code == "Mandarin duck"
    (programme,) = offered.programmes
    assert (programme.code, programme.species, programme.title) == (own.code, "Mandarin duck", "Mandarins")
    assert programme.sources == ()


def test_one_that_cannot_be_read_is_kept_and_named(hatchery: Any) -> None:
    torn = OwnProgramme("torn", "hen", "Torn page", '{"no": "programme"}')
    hatchery.journal.programmes.add(torn)
    (found,) = kept_programmes(hatchery.journal)
    assert (found.record, found.programme) == (torn, None)
    assert kept_programme(hatchery.journal, "not there") is None
