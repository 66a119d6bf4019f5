"""A sitting against the journal: every verdict is stored as it is given, and only its own are taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hatchbook.desk.candling_room.round_state import PAUSE_S, Order
from hatchbook.desk.candling_room.sitting import Given, Refusal, Refused, Sitting, TakenBack
from hatchbook.journal import Batch, Candling, Change, Journal, JournalError, Pen, Removal
from hatchbook.trade.codes import DutyKind, FindingCode, RemovalReason
from hatchbook.trade.contradictions import ContradictionCode
from tests.desk.candling_room.kit import DAY, SET_AT, candled_batch, findings, lid_events

ALIVE, CLEAR, DEAD = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD
START = SET_AT + 14 * DAY


class Lamp:
    """A journal with one batch of 2 × 3 eggs, a clock, and sittings at it."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self.now = START
        self.batch: Batch = candled_batch(journal, 2, 3)
        self.refuses = False

    def run(self, operation: object) -> Change | None:
        if self.refuses:
            return None
        try:
            return operation(self.journal)  # type: ignore[operator]
        except JournalError:
            return None

    def sit(self, order: Order = Order.ROWS, by_whom: str = "") -> Sitting:
        return Sitting(self.journal, self.run, self.batch, lambda: self.now, order=order, by_whom=by_whom)

    def candle(self, day: float, codes: dict[int, FindingCode]) -> None:
        eggs = {egg.number: egg.uid for egg in self.journal.eggs.of_batch(self.batch.uid)}
        at = SET_AT + round(day * DAY)
        found = {eggs[number]: code for number, code in codes.items()}
        self.journal.candlings.note_findings(Candling(self.batch.uid, at), found, at)

    def steps(self) -> int:
        return len([step for step in self.journal.history.steps() if step.state == "done"])


@pytest.fixture
def lamp(tmp_path: Path) -> Iterator[Lamp]:
    with Journal.create(tmp_path / "lamp.hatchbook") as journal:
        yield Lamp(journal)


def test_nothing_is_stored_before_the_first_verdict(lamp: Lamp) -> None:
    steps = lamp.steps()
    sitting = lamp.sit()
    assert not sitting.begun
    assert not sitting.end()
    assert lamp.steps() == steps


def test_a_verdict_is_stored_with_its_candling_and_the_open_lid_as_one_step(lamp: Lamp) -> None:
    steps = lamp.steps()
    sitting = lamp.sit(by_whom="Ada")
    lamp.now += 30
    given = sitting.give(ALIVE)
    assert isinstance(given, Given)
    assert (given.egg.number, given.code, given.before, given.contradictions) == (1, ALIVE, None, ())
    assert lamp.steps() == steps + 1
    assert findings(lamp.journal, lamp.batch) == {1: ALIVE}
    (candling,) = lamp.journal.candlings.of_batch(lamp.batch.uid)
    assert (candling.at, candling.by_whom, candling.ended_at) == (lamp.now, "Ada", None)
    assert lid_events(lamp.journal, lamp.batch) == [(START, lamp.now)]
    assert sitting.state.current is not None
    assert sitting.state.current.number == 2


def test_a_whole_sitting_is_one_opening_of_the_lid(lamp: Lamp) -> None:
    sitting = lamp.sit()
    for _ in range(6):
        lamp.now += 40
        sitting.give(ALIVE)
    assert lid_events(lamp.journal, lamp.batch) == [(START, START + 240)]


def test_after_a_pause_the_lid_counts_anew(lamp: Lamp) -> None:
    sitting = lamp.sit()
    lamp.now += 40
    sitting.give(ALIVE)
    lamp.now += PAUSE_S + 1
    sitting.give(ALIVE)
    lamp.now += 20
    sitting.give(ALIVE)
    again = START + 41 + PAUSE_S
    assert lid_events(lamp.journal, lamp.batch) == [(START, START + 40), (again, again + 20)]


def test_a_lid_said_to_be_shut_before_the_first_verdict_was_never_open(lamp: Lamp) -> None:
    sitting = lamp.sit()
    steps = lamp.steps()
    lamp.now += 300
    sitting.toggle_lid()
    assert lamp.steps() == steps
    lamp.now += 100
    sitting.toggle_lid()
    lamp.now += 30
    sitting.give(ALIVE)
    assert lid_events(lamp.journal, lamp.batch) == [(START + 400, START + 430)]


def test_the_lid_is_shut_at_once_in_the_journal_and_that_can_be_taken_back(lamp: Lamp) -> None:
    sitting = lamp.sit()
    lamp.now += 10
    sitting.give(ALIVE)
    lamp.now += 10
    sitting.toggle_lid()
    assert lid_events(lamp.journal, lamp.batch) == [(START, START + 20)]
    taken = sitting.take_back()
    assert isinstance(taken, TakenBack)
    assert taken.egg is None
    assert lid_events(lamp.journal, lamp.batch) == [(START, START + 10)]
    assert sitting.lid.counts(lamp.now)


def test_each_step_back_takes_one_verdict_its_lid_and_at_last_the_candling(lamp: Lamp) -> None:
    steps = lamp.steps()
    sitting = lamp.sit()
    for code in (ALIVE, CLEAR, DEAD):
        lamp.now += 10
        sitting.give(code)
    seen = []
    for _ in range(3):
        taken = sitting.take_back()
        assert isinstance(taken, TakenBack)
        assert taken.egg == sitting.state.current
        shown = {egg.number: sitting.state.verdicts.get(egg.uid) for egg in sitting.state.eggs}
        stored = findings(lamp.journal, lamp.batch)
        assert {number: code for number, code in shown.items() if code} == stored
        seen.append((taken.egg and taken.egg.number, lid_events(lamp.journal, lamp.batch)))
    assert seen == [(3, [(START, START + 20)]), (2, [(START, START + 10)]), (1, [])]
    assert not sitting.begun
    assert lamp.steps() == steps


def test_a_verdict_given_anew_goes_back_to_the_one_before(lamp: Lamp) -> None:
    sitting = lamp.sit()
    sitting.give(ALIVE)
    sitting.state.go_to(1)
    given = sitting.give(CLEAR)
    assert isinstance(given, Given)
    assert given.before is ALIVE
    assert findings(lamp.journal, lamp.batch) == {1: CLEAR}
    sitting.take_back()
    assert findings(lamp.journal, lamp.batch) == {1: ALIVE}
    assert list(sitting.state.verdicts.values()) == [ALIVE]


def test_what_another_screen_stored_is_never_taken_back(lamp: Lamp) -> None:
    sitting = lamp.sit()
    refused = sitting.take_back()
    assert isinstance(refused, Refused)
    assert (refused.why, refused.step and refused.step.code) == (Refusal.OTHER_STEP, "batch_set")
    sitting.give(ALIVE)
    lamp.journal.pens.add(Pen("South"))
    refused = sitting.take_back()
    assert isinstance(refused, Refused)
    assert (refused.why, refused.step and refused.step.code) == (Refusal.OTHER_STEP, "pen_added")
    assert findings(lamp.journal, lamp.batch) == {1: ALIVE}
    lamp.journal.undo()
    assert isinstance(sitting.take_back(), TakenBack)


def test_a_list_entered_from_paper_is_not_taken_back_as_a_whole(lamp: Lamp) -> None:
    first = lamp.sit()
    first.give(ALIVE)
    rest = {egg.uid: ALIVE for egg in lamp.journal.eggs.of_batch(lamp.batch.uid)[1:]}
    lamp.journal.candlings.note_findings(first.candling, rest, lamp.now)
    refused = lamp.sit().take_back()
    assert isinstance(refused, Refused)
    assert refused.why is Refusal.OTHER_STEP
    assert len(findings(lamp.journal, lamp.batch)) == 6


def test_the_verdicts_of_another_batch_are_not_taken_back(lamp: Lamp) -> None:
    other = candled_batch(lamp.journal, 1, 2)
    egg = lamp.journal.eggs.of_batch(other.uid)[0].uid
    sitting = lamp.sit()
    sitting.give(ALIVE)
    lamp.journal.candlings.note_finding(Candling(other.uid, START), egg, ALIVE, START)
    assert isinstance(sitting.take_back(), Refused)


def test_it_is_stopped_and_gone_on_with_and_taken_back_across_the_stop(lamp: Lamp) -> None:
    first = lamp.sit()
    first.give(ALIVE)
    lamp.now += 3600
    second = lamp.sit()
    assert second.candling.uid == first.candling.uid
    assert second.state.current is not None
    assert second.state.current.number == 2
    second.give(CLEAR)
    assert len(lamp.journal.candlings.of_batch(lamp.batch.uid)) == 1
    assert len(lid_events(lamp.journal, lamp.batch)) == 2
    for number in (2, 1):
        taken = second.take_back()
        assert isinstance(taken, TakenBack)
        assert taken.egg is not None
        assert taken.egg.number == number
    assert lid_events(lamp.journal, lamp.batch) == []


def test_three_hours_later_or_after_its_end_a_new_candling_begins(lamp: Lamp) -> None:
    first = lamp.sit()
    first.give(ALIVE)
    lamp.now += 3 * 3600 + 1
    second = lamp.sit()
    assert second.candling.uid != first.candling.uid
    second.give(ALIVE)
    assert second.end()
    lamp.now += 60
    third = lamp.sit()
    assert third.candling.uid not in (first.candling.uid, second.candling.uid)
    assert third.state.done == 0


def test_the_end_is_noted_and_the_duty_is_done(lamp: Lamp) -> None:
    sitting = lamp.sit()
    sitting.give(ALIVE)
    lamp.now += 500
    assert sitting.end()
    (candling,) = lamp.journal.candlings.of_batch(lamp.batch.uid)
    assert candling.ended_at == lamp.now
    done = [
        duty.day
        for duty in lamp.journal.duties.of_batch(lamp.batch.uid)
        if duty.kind is DutyKind.CANDLE and duty.done_at is not None
    ]
    assert done == [14.0]


def test_as_last_time_repeats_what_the_candling_before_saw(lamp: Lamp) -> None:
    lamp.candle(7, {1: ALIVE, 2: FindingCode.UNSURE})
    sitting = lamp.sit()
    sitting.give_last()
    sitting.give_last()
    refused = sitting.give_last()
    assert isinstance(refused, Refused)
    assert (refused.why, refused.egg and refused.egg.number) == (Refusal.NO_LAST, 3)
    (candling,) = [one for one in lamp.journal.candlings.of_batch(lamp.batch.uid) if one.at == START]
    codes = {finding.code for finding in lamp.journal.candlings.findings_of(candling.uid)}
    assert codes == {ALIVE, FindingCode.UNSURE}


def test_eggs_that_are_out_are_passed_and_those_that_left_take_no_verdict(lamp: Lamp) -> None:
    lamp.candle(7, {1: CLEAR, 2: DEAD, 3: ALIVE, 4: FindingCode.CRACKED})
    egg = lamp.journal.eggs.of_batch(lamp.batch.uid)[4]
    lamp.journal.removals.note(
        lamp.batch.uid, [Removal(egg.uid, SET_AT + 8 * DAY, RemovalReason.TAKEN_OUT_ALIVE)]
    )
    sitting = lamp.sit()
    assert [one.number for one in sitting.state.due] == [3, 6]
    sitting.state.go_to(5)
    refused = sitting.give(ALIVE)
    assert isinstance(refused, Refused)
    assert refused.why is Refusal.LEFT
    sitting.state.go_to(1)
    given = sitting.give(ALIVE)
    assert isinstance(given, Given)
    assert [clash.code for clash in given.contradictions] == [ContradictionCode.CLEAR_BUT_DEVELOPED]


def test_what_the_journal_refuses_is_not_shown_as_given(lamp: Lamp) -> None:
    sitting = lamp.sit()
    sitting.give(ALIVE)
    lamp.refuses = True
    for outcome in (sitting.give(CLEAR), sitting.take_back()):
        assert isinstance(outcome, Refused)
        assert outcome.why is Refusal.NOT_STORED
    assert sitting.state.current is not None
    assert sitting.state.current.number == 2
    assert list(sitting.state.verdicts.values()) == [ALIVE]
    assert not sitting.note("dark spot")
    assert not sitting.set_observer("Ben")
    assert sitting.candling.by_whom == ""


def test_a_note_is_stored_at_once_on_the_egg_under_the_cursor(lamp: Lamp) -> None:
    sitting = lamp.sit()
    sitting.state.go_to(3)
    assert sitting.note(" small air cell ")
    assert not sitting.note("  ")
    (event,) = lamp.journal.events.of_egg(
        sitting.state.egg(lamp.journal.eggs.of_batch(lamp.batch.uid)[2].uid).uid
    )
    assert (event.text, event.at) == ("small air cell", START)
    taken = sitting.take_back()
    assert isinstance(taken, TakenBack)
    assert taken.step.code == "eggs_noted"


def test_who_candles_is_noted_also_in_the_middle(lamp: Lamp) -> None:
    sitting = lamp.sit(by_whom="Ada")
    sitting.set_observer("Ben")
    sitting.give(ALIVE)
    assert lamp.journal.candlings.get(sitting.candling.uid).by_whom == "Ben"
    sitting.set_observer("Cleo")
    assert lamp.journal.candlings.get(sitting.candling.uid).by_whom == "Cleo"
    sitting.take_back()
    assert sitting.candling.by_whom == "Ben"


def test_a_batch_without_eggs_is_no_trouble(lamp: Lamp) -> None:
    lamp.batch = candled_batch(lamp.journal, 1, 1, empty=[0])
    sitting = lamp.sit()
    for outcome in (sitting.give(ALIVE), sitting.give_last()):
        assert isinstance(outcome, Refused)
        assert outcome.why is Refusal.NO_EGG
    assert not sitting.note("x")
