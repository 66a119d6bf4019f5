"""Eggs change places: alone, in pairs, several at once, on and off the tray, and each step is named."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.words.history import STEP_CODES, step_sentence
from hatchbook.journal import Change, Egg, Journal, RecordMissingError, RecordRefusedError
from hatchbook.journal.eggs import Place
from hatchbook.trade.codes import FindingCode

DAY = 86_400
ZONE = ZoneInfo("Europe/Lisbon")


def places(filled: SimpleNamespace) -> dict[int, Place | None]:
    return {egg.number: egg.place for egg in filled.journal.eggs.of_batch(filled.batch.uid)}


def said(change: Change) -> str:
    assert change.step.code in STEP_CODES
    return step_sentence(change.step, ZONE)


def test_an_egg_goes_to_a_free_place(filled: SimpleNamespace) -> None:
    change = filled.journal.eggs.move(filled.eggs[0], 1, 2, 4)
    assert places(filled)[1] == (1, 2, 4)
    assert said(change) == "egg 1 moved from A 1 to B 4"


def test_onto_another_egg_the_two_change_places(filled: SimpleNamespace) -> None:
    change = filled.journal.eggs.move(filled.eggs[0], 1, 1, 3)
    assert (places(filled)[1], places(filled)[3]) == ((1, 1, 3), (1, 1, 1))
    assert said(change) == "egg 1 moved from A 1 to A 3, egg 3 the other way"


def test_an_egg_is_taken_off_the_tray_and_put_back(filled: SimpleNamespace) -> None:
    eggs = filled.journal.eggs
    off = eggs.move_many(filled.batch.uid, {filled.eggs[1].uid: None})
    assert places(filled)[2] is None
    assert said(off) == "egg 2 taken from A 2, without a place now"
    back = eggs.move_many(filled.batch.uid, {filled.eggs[1].uid: (1, 2, 4)})
    assert said(back) == "egg 2 put into B 4"


def test_an_egg_without_a_place_sends_the_one_that_lay_there_off(filled: SimpleNamespace) -> None:
    eggs, batch = filled.journal.eggs, filled.batch.uid
    eggs.move_many(batch, {filled.eggs[1].uid: None})
    change = eggs.move_many(batch, {filled.eggs[1].uid: (1, 1, 1)})
    assert (places(filled)[1], places(filled)[2]) == (None, (1, 1, 1))
    assert said(change) == "egg 2 put into A 1, egg 1 without a place now"


def test_a_whole_row_moves_on_by_one_place_as_one_step(filled: SimpleNamespace) -> None:
    before = places(filled)
    row = {egg.uid: (1, 1, egg.number + 1) for egg in filled.eggs[:3]}
    change = filled.journal.eggs.move_many(filled.batch.uid, row)
    after = places(filled)
    # The egg at the end of the row takes the place that became free.
    assert [after[number] for number in (1, 2, 3, 4)] == [(1, 1, 2), (1, 1, 3), (1, 1, 4), (1, 1, 1)]
    assert said(change) == "3 egg(s) moved"
    filled.journal.undo()
    assert places(filled) == before
    filled.journal.redo()
    assert places(filled) == after


def test_eggs_in_a_ring_move_round(filled: SimpleNamespace) -> None:
    one, two, three = (egg.uid for egg in filled.eggs[:3])
    filled.journal.eggs.move_many(filled.batch.uid, {one: (1, 1, 2), two: (1, 1, 3), three: (1, 1, 1)})
    assert [places(filled)[number] for number in (1, 2, 3)] == [(1, 1, 2), (1, 1, 3), (1, 1, 1)]


def test_two_eggs_in_one_place_are_refused_and_nothing_is_stored(filled: SimpleNamespace) -> None:
    before = places(filled)
    with pytest.raises(RecordRefusedError):
        filled.journal.eggs.move_many(
            filled.batch.uid, {filled.eggs[0].uid: (1, 2, 4), filled.eggs[1].uid: (1, 2, 4)}
        )
    assert places(filled) == before


def test_an_egg_of_another_batch_is_not_moved(filled: SimpleNamespace) -> None:
    journal: Journal = filled.journal
    other = replace(filled.batch, uid="b9", label="2026-09")
    journal.batches.add(other)
    stranger = Egg("b9", 1)
    journal.eggs.add(stranger)
    with pytest.raises(RecordMissingError):
        journal.eggs.move_many(filled.batch.uid, {stranger.uid: (1, 2, 4)})


def test_where_there_are_several_trays_their_numbers_are_said(filled: SimpleNamespace) -> None:
    journal: Journal = filled.journal
    journal.machines.replace(replace(filled.machine, trays=2))
    change = journal.eggs.move(filled.eggs[0], 2, 1, 1)
    assert said(change) == "egg 1 moved from 1 A 1 to 2 A 1"


def test_marking_several_eggs_is_one_step_with_its_own_words(filled: SimpleNamespace) -> None:
    eggs = filled.journal.eggs
    change = eggs.change_many([replace(egg, marked=True) for egg in filled.eggs[2:5]])
    assert said(change) == "3 egg(s) marked for weighing"
    assert sum(egg.marked for egg in eggs.of_batch(filled.batch.uid)) == 5
    filled.journal.undo()
    assert sum(egg.marked for egg in eggs.of_batch(filled.batch.uid)) == 2
    one = eggs.replace(replace(filled.eggs[0], marked=False))
    assert said(one) == "egg 1 no longer marked for weighing"


def test_what_changed_of_an_egg_is_named(filled: SimpleNamespace) -> None:
    change = filled.journal.eggs.replace(
        replace(filled.eggs[0], laid_on="2026-04-18", set_mass_g=60.0, shell_note="chalky")
    )
    assert said(change) == "egg 1 changed: laying date, mass when set, note on the shell"


def test_storing_what_is_there_already_is_no_step(filled: SimpleNamespace) -> None:
    assert filled.journal.eggs.replace(filled.eggs[0]).kinds == frozenset()
    place = filled.eggs[0].place
    assert filled.journal.eggs.move_many(filled.batch.uid, {filled.eggs[0].uid: place}).kinds == frozenset()


def test_the_last_finding_takes_its_candling_along(filled: SimpleNamespace) -> None:
    candlings = filled.journal.candlings
    first, second = candlings.findings(filled.batch.uid)
    candlings.remove_finding(first)
    assert candlings.find(filled.candling.uid) is not None
    change = candlings.remove_finding(second)
    assert candlings.find(filled.candling.uid) is None
    assert said(change) == "finding of egg 2 removed: clear"
    filled.journal.undo()
    assert [one.egg for one in candlings.findings(filled.batch.uid)] == [second.egg]


def test_a_finding_is_corrected(filled: SimpleNamespace) -> None:
    candlings = filled.journal.candlings
    finding = candlings.findings(filled.batch.uid)[0]
    change = candlings.replace_finding(replace(finding, code=FindingCode.DEAD))
    assert candlings.findings(filled.batch.uid)[0].code is FindingCode.DEAD
    assert said(change) == "egg 1 corrected: dead"


def test_a_look_within_three_hours_belongs_to_the_candling_that_was_begun(filled: SimpleNamespace) -> None:
    candlings, at = filled.journal.candlings, filled.candling.at
    assert candlings.going_on(filled.batch.uid, at - 60) is None
    assert candlings.going_on(filled.batch.uid, at + 2 * 3600) == filled.candling
    assert candlings.going_on(filled.batch.uid, at + 4 * 3600) is None


def test_the_last_mass_takes_its_weighing_along(filled: SimpleNamespace) -> None:
    weighings = filled.journal.weighings
    assert weighings.masses_of_egg(filled.mass.egg) == [filled.mass]
    change = weighings.remove_mass(filled.mass)
    assert weighings.of_batch(filled.batch.uid) == []
    assert said(change) == "mass of egg 1 removed: 58.4\u00a0g"


def test_a_note_on_several_eggs_is_one_step(filled: SimpleNamespace) -> None:
    events, eggs = filled.journal.events, [egg.uid for egg in filled.eggs[:2]]
    at = filled.candling.at
    assert said(events.note_eggs(filled.batch.uid, eggs, "thin shell", at)) == "note on 2 egg(s)"
    assert [event.text for event in events.of_egg(eggs[1])] == ["hairline crack", "thin shell"]
    filled.journal.undo()
    assert [event.text for event in events.of_egg(eggs[1])] == ["hairline crack"]
    assert said(events.note_eggs(filled.batch.uid, eggs[:1], "thin shell", at)) == "note on egg 1"
