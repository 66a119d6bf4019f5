"""Whatever is pressed, the round on the screen and the journal agree, and nothing else is ever taken back."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import pytest
from hatchbook.desk.candling_room.round_state import Direction, Order
from hatchbook.desk.candling_room.sitting import Given, Refused, Sitting, TakenBack
from hatchbook.journal import Change, Journal, Pen
from hatchbook.trade.codes import FindingCode
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.desk.candling_room.kit import DAY, SET_AT, candled_batch, lid_events

OTHERS = st.sampled_from(
    ["last", "skip", "note", "lid", "observer", "elsewhere", "stop", "wait", "long wait"]
)
KEYS = st.one_of(
    st.sampled_from(FindingCode),
    st.sampled_from(FindingCode),
    st.just("back"),
    st.sampled_from(Direction),
    st.sampled_from(Order),
    st.integers(0, 13),
    OTHERS,
)


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    path: Path = tmp_path_factory.mktemp("random") / "random.hatchbook"
    with Journal.create(path) as made:
        yield made


class Keyboard:
    """Presses keys, and keeps a plain list of what was given to compare with."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self.now = SET_AT + 14 * DAY
        self.batch = candled_batch(journal, 3, 4, empty=[2, 7])
        self.given: list[tuple[str, FindingCode | None, FindingCode]] = []
        self.elsewhere: set[str] = set()
        self.sittings = 0
        self.sitting = self.sit()

    def sit(self) -> Sitting:
        self.sittings += 1
        return Sitting(self.journal, self.run, self.batch, lambda: self.now)

    def run(self, operation: object) -> Change | None:
        change: Change = operation(self.journal)  # type: ignore[operator]
        return change

    def press(self, key: object) -> None:
        state = self.sitting.state
        # The same verdict on the same egg within a second is no step.
        self.now += 1
        match key:
            case FindingCode():
                self.take(self.sitting.give(key))
            case "last":
                self.take(self.sitting.give_last())
            case "back":
                self.back()
            case "skip":
                state.skip(self.now)
            case "note":
                self.sitting.note("dark")
            case "lid":
                self.sitting.toggle_lid()
            case "observer":
                self.sitting.set_observer(f"O{len(self.given)}")
            case "elsewhere":
                pen = Pen(f"{self.batch.label} {len(self.elsewhere)}")
                self.journal.pens.add(pen)
                self.elsewhere.add(pen.uid)
            case "stop":
                self.sitting = self.sit()
            case "wait":
                self.now += 17
            case "long wait":
                self.now += 1000
            case Direction():
                state.step(key)
            case Order():
                state.set_order(key)
            case int():
                state.go_to(key)

    def take(self, outcome: Given | Refused) -> None:
        if isinstance(outcome, Given):
            self.given.append((outcome.egg.uid, outcome.before, outcome.code))

    def back(self) -> None:
        latest = self.journal.history.next_undo()
        outcome = self.sitting.take_back()
        if isinstance(outcome, Refused):
            # What was refused is still the latest.
            assert self.journal.history.next_undo() == latest
        elif outcome.egg is not None:
            egg, before, _ = self.given.pop()
            assert outcome.egg.uid == egg
            assert self.sitting.state.verdicts.get(egg) is before
            assert self.sitting.state.current == outcome.egg

    def agree(self) -> None:
        candling = self.sitting.candling
        stored = {one.egg: one.code for one in self.journal.candlings.findings_of(candling.uid)}
        assert self.sitting.state.verdicts == stored
        by_list: dict[str, FindingCode] = {}
        for egg, _, code in self.given:
            by_list[egg] = code
        everything = self.journal.candlings.findings(self.batch.uid)
        # With waits of hours there can be several candlings; each egg's latest finding is the one given last.
        assert {one.egg: one.code for one in everything} == by_list
        assert self.elsewhere <= {pen.uid for pen in self.journal.pens.all()}
        openings = sorted(lid_events(self.journal, self.batch))
        assert all(start <= end <= self.now for start, end in openings)
        assert all(end <= start for (_, end), (start, _) in itertools.pairwise(openings))


@given(st.lists(KEYS, max_size=40))
@settings(max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_model_and_journal_agree_after_any_keys(journal: Journal, keys: list[object]) -> None:
    keyboard = Keyboard(journal)
    for key in keys:
        keyboard.press(key)
        keyboard.agree()


@given(st.lists(KEYS, max_size=25))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_going_on_elsewhere_shows_the_same_round(journal: Journal, keys: list[object]) -> None:
    keyboard = Keyboard(journal)
    for key in keys:
        keyboard.press(key)
    before = keyboard.sitting.state
    after = keyboard.sit().state
    if keyboard.sitting.begun and keyboard.now - keyboard.sitting.candling.at <= 3 * 3600:
        assert (after.verdicts, after.done, after.finished) == (before.verdicts, before.done, before.finished)


@given(st.lists(st.sampled_from(FindingCode), max_size=10))
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_all_that_was_given_can_be_taken_back(journal: Journal, codes: list[FindingCode]) -> None:
    keyboard = Keyboard(journal)
    steps = len([step for step in journal.history.steps() if step.state == "done"])
    for code in codes:
        keyboard.sitting.give(code)
    for _ in codes:
        assert isinstance(keyboard.sitting.take_back(), TakenBack)
    assert isinstance(keyboard.sitting.take_back(), Refused)
    assert len([step for step in journal.history.steps() if step.state == "done"]) == steps
    assert not keyboard.sitting.begun
