"""The batch list by seasons."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from hatchbook.figures import BatchState, overview
from hatchbook.figures.outcomes import EggRecords, OutcomeKeeper
from hatchbook.journal import Hatching, PastBatch, Pen
from hatchbook.trade.codes import Fate, FindingCode, HatchMark

DAY = 86_400
SET_AT = 1_777_917_600


def test_batches_stand_in_their_seasons_newest_first(hatchery: Any) -> None:
    # 2025-12-31 23:30 in Lisbon, which is UTC then, and half an hour into 2026.
    new_year = 1_767_223_800
    old = hatchery.add_batch(new_year)
    young = hatchery.add_batch(new_year + 3600)
    late = hatchery.add_batch()
    seasons = overview(hatchery.journal, SET_AT).seasons
    assert [(group.season, [batch.uid for batch in group.batches]) for group in seasons] == [
        (2026, [late.uid, young.uid]),
        (2025, [old.uid]),
    ]
    hatchery.journal.settings.set_season_first_month(10)
    seasons = overview(hatchery.journal, SET_AT).seasons
    assert [group.season for group in seasons] == [2025]
    assert [batch.uid for batch in seasons[0].batches] == [late.uid, young.uid, old.uid]


def test_a_line_tells_how_far_a_batch_is_and_what_became_of_its_eggs(hatchery: Any) -> None:
    pens = [Pen("Yard"), Pen("Brook")]
    for pen in pens:
        hatchery.journal.pens.add(pen)
    batch = hatchery.add_batch(
        each_egg=[{"pen": pens[0].uid}, {"pen": pens[1].uid}, {}, {"pen": pens[0].uid}],
        breed="Sulmtaler",
        note="Shipped",
        name="Late eggs",
    )
    hatchery.candle(batch, 7, {1: FindingCode.ALIVE, 2: FindingCode.CLEAR, 3: FindingCode.ALIVE})
    eggs = hatchery.eggs(batch)
    hatchery.journal.hatchings.note_marks(batch.uid, [eggs[1]], HatchMark.HATCHED, SET_AT + 20 * DAY)
    hatchery.journal.hatchings.note(batch.uid, [Hatching(eggs[3], SET_AT + 21 * DAY, HatchMark.CULLED)])
    (group,) = overview(hatchery.journal, SET_AT + 10 * DAY).seasons
    (line,) = group.batches
    assert group.running == 1
    assert (line.state, line.day, line.lockdown_day, line.eggs_set) == (BatchState.RUNNING, 10.0, 18.0, 4)
    assert line.counts == {Fate.HATCHED: 1, Fate.CLEAR: 1, Fate.CULLED: 1, Fate.SET: 1}
    assert line.hatched == 2
    assert line.found_by == ("Sulmtaler", "Brook", "Yard", "Shipped")
    hatchery.close(batch, 22)
    (group,) = overview(hatchery.journal, SET_AT + 40 * DAY).seasons
    (line,) = group.batches
    assert group.running == 0
    assert (line.state, line.day) == (BatchState.CLOSED, 22.0)
    assert line.counts[Fate.UNKNOWN] == 1


def test_a_planned_batch_counts_as_running(hatchery: Any) -> None:
    hatchery.add_batch()
    (group,) = overview(hatchery.journal, SET_AT - DAY).seasons
    assert group.batches[0].state is BatchState.PLANNED
    assert group.running == 1


def test_batches_of_counts_alone_stand_among_the_others(hatchery: Any, as_json: Any) -> None:
    journal = hatchery.journal
    batch = hatchery.add_batch(1_717_200_000)  # 2024-06-01
    journal.past_batches.add(
        PastBatch("p2", 2024, "hen", 20, set_on="2024-07-01", clear=4, hatched=14, culled=1)
    )
    journal.past_batches.add(PastBatch("p1", 2024, "duck", 10, breed="Runner", hatched=6))
    (group,) = overview(journal, SET_AT).seasons
    assert [line.label for line in group.batches] == ["p2", batch.label, "p1"]
    p2, _, p1 = group.batches
    assert p2.counts_only
    assert (p2.state, p2.eggs_set, p2.hatched) == (BatchState.CLOSED, 20, 15)
    assert p2.counts == {Fate.HATCHED: 14, Fate.CULLED: 1, Fate.CLEAR: 4, Fate.UNKNOWN: 1}
    assert p1.counts == {Fate.HATCHED: 6, Fate.UNKNOWN: 4}
    assert p1.found_by == ("Runner",)
    # 2024-07-01 at noon in Lisbon is 11:00 UTC; 2024-01-01 begins with UTC's.
    assert (p2.set_at, p1.set_at) == (1_719_831_600, 1_704_067_200)
    as_json(overview(journal, SET_AT))


def test_an_empty_journal_has_no_seasons(hatchery: Any) -> None:
    assert overview(hatchery.journal, SET_AT).seasons == ()


def test_the_list_follows_every_change(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=2)
    journal = hatchery.journal

    def counts() -> dict[Fate, int]:
        return overview(journal, SET_AT + 9 * DAY).seasons[0].batches[0].counts

    assert counts() == {Fate.SET: 2}
    hatchery.candle(batch, 7, {1: FindingCode.DEAD, 2: FindingCode.ALIVE})
    assert counts() == {Fate.EARLY_DEAD: 1, Fate.ALIVE: 1}
    journal.batches.replace(dataclasses.replace(batch, early_until_day=3.0))
    assert counts() == {Fate.MID_DEAD: 1, Fate.ALIVE: 1}
    journal.undo()
    journal.undo()
    assert counts() == {Fate.SET: 2}
    hatchery.close(batch, 8)
    assert counts() == {Fate.UNKNOWN: 2}


def test_counts_are_kept_as_long_as_nothing_changes(hatchery: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    batch = hatchery.add_batch()
    derived = []
    plain = EggRecords.outcome

    def counted(self: EggRecords, *arguments: Any) -> Any:
        derived.append(self)
        return plain(self, *arguments)

    monkeypatch.setattr(EggRecords, "outcome", counted)
    counter = OutcomeKeeper()
    eggs = [EggRecords([(SET_AT + 7 * DAY, "alive")]), EggRecords()]
    first = counter.count(batch, eggs)
    first[Fate.ALIVE] = 99  # whoever asks may do with it what he likes
    assert counter.count(batch, eggs) == {Fate.SET: 1, Fate.ALIVE: 1}
    assert len(derived) == 2
    eggs[1].findings.append((SET_AT + 7 * DAY, "clear"))
    assert counter.count(batch, eggs) == {Fate.ALIVE: 1, Fate.CLEAR: 1}
    assert len(derived) == 4
    monkeypatch.setattr(OutcomeKeeper, "KEPT", 1)
    other = dataclasses.replace(batch, set_at=SET_AT + 1, uid="f" * 16)
    counter.count(other, eggs)
    counter.count(batch, eggs)
    assert len(derived) == 8
