"""Hatching records: corrected rather than doubled, and named by the egg in history."""

from __future__ import annotations

from types import SimpleNamespace

from hatchbook.journal import BreakOut, Hatching, Journal, Removal
from hatchbook.trade.codes import BreakOutResult, HatchMark, RemovalReason
from tests.journal.conftest import SET_AT

DAY = 86_400


def marks(journal: Journal, filled: SimpleNamespace, egg: str) -> list[Hatching]:
    return [one for one in journal.hatchings.of_batch(filled.batch.uid) if one.egg == egg]


def test_a_mark_given_again_takes_the_new_time_and_keeps_what_it_leaves_empty(
    journal: Journal, filled: SimpleNamespace
) -> None:
    egg = filled.eggs[2].uid
    first = Hatching(egg, SET_AT + 20 * DAY, HatchMark.HATCHED, 41.2, "B17", "lively")
    journal.hatchings.note(filled.batch.uid, [first])
    journal.hatchings.note(
        filled.batch.uid, [Hatching(egg, SET_AT + 21 * DAY, HatchMark.HATCHED, ring="B18")]
    )
    assert marks(journal, filled, egg) == [
        Hatching(egg, SET_AT + 21 * DAY, HatchMark.HATCHED, 41.2, "B18", "lively", first.uid)
    ]
    journal.undo()
    assert marks(journal, filled, egg) == [first]


def test_another_mark_of_the_same_egg_stands_beside_the_first(
    journal: Journal, filled: SimpleNamespace
) -> None:
    egg = filled.eggs[2].uid
    journal.hatchings.note(filled.batch.uid, [Hatching(egg, SET_AT + 20 * DAY, HatchMark.EXTERNAL_PIP)])
    journal.hatchings.note(filled.batch.uid, [Hatching(egg, SET_AT + 21 * DAY, HatchMark.HATCHED)])
    assert [one.mark for one in marks(journal, filled, egg)] == [HatchMark.EXTERNAL_PIP, HatchMark.HATCHED]


def test_steps_name_the_egg_and_what_was_noted(journal: Journal, filled: SimpleNamespace) -> None:
    egg, batch = filled.eggs[2], filled.batch.uid
    mark = Hatching(egg.uid, SET_AT + 21 * DAY, HatchMark.DIED_IN_PIP)
    steps = [
        journal.hatchings.note(batch, [mark]).step,
        journal.hatchings.remove(mark).step,
        journal.removals.note(batch, [Removal(egg.uid, SET_AT + DAY, RemovalReason.BROKEN)]).step,
    ]
    assert [step.details["number"] for step in steps] == [egg.number] * 3
    assert [step.details.get("mark") for step in steps] == ["died_in_pip", "died_in_pip", None]
    assert steps[2].details["reason"] == "broken"


def test_opening_an_egg_a_second_time_is_said_to_be_a_change(
    journal: Journal, filled: SimpleNamespace
) -> None:
    opened = BreakOut(filled.eggs[2].uid, SET_AT + 22 * DAY, BreakOutResult.LATE_DEAD)
    assert journal.break_outs.keep(opened).step.details["again"] is False
    again = journal.break_outs.keep(BreakOut(opened.egg, opened.at, BreakOutResult.MID_DEAD))
    assert again.step.details["again"] is True
    (stored,) = [one for one in journal.break_outs.of_batch(filled.batch.uid) if one.egg == opened.egg]
    removed = journal.break_outs.remove_with_marks(stored)
    assert removed.step.details == {"number": filled.eggs[2].number, "result": "mid_dead"}
