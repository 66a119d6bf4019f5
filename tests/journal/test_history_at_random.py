"""Any sequence of operations, taken back step by step and done again, leaves the same journal at each step."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from hatchbook.journal import (
    Batch,
    BreakOut,
    Candling,
    Egg,
    EggMass,
    Event,
    Hatching,
    Journal,
    Machine,
    NewReadings,
    Reading,
    Weighing,
)
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, EventKind, FindingCode, HatchMark, Malposition
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

SET_AT = 1_776_708_000
DAY = 86_400
moments = st.integers(SET_AT, SET_AT + 20 * DAY)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=8)
picks = st.integers(0, 10**6)


def contents(journal: Journal) -> dict[str, list[tuple[Any, ...]]]:
    store = journal._store
    tables = [name for (name,) in store.rows("SELECT name FROM sqlite_schema WHERE type = 'table'")]
    return {
        table: sorted(store.rows(f"SELECT * FROM {table}"), key=repr)
        for table in tables
        if not table.startswith(("history_", "sqlite_"))
    }


class AnyOperations(RuleBasedStateMachine):
    """Keeps what the journal held after each step that is done, and after each that could be done again."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.journal = Journal.create(Path(self.folder.name) / "any.hatchbook", clock=lambda: float(SET_AT))
        self.labels = 0
        self.journal.machines.keep(Machine("M", 2, 5), 1)
        self.machine = self.journal.machines.all()[0]
        self.journal.probes.add_to("P", machine=self.machine.uid, from_at=SET_AT)
        self.probe = self.journal.probes.all()[0]
        self.steps_before = len(self.journal.history.steps())
        self.past = [contents(self.journal)]
        self.future: list[dict[str, list[tuple[Any, ...]]]] = []

    def teardown(self) -> None:
        try:
            while len(self.past) > 1:
                self.journal.undo()
                self.future.append(self.past.pop())
                assert contents(self.journal) == self.past[-1]
            while self.future:
                self.journal.redo()
                self.past.append(self.future.pop())
                assert contents(self.journal) == self.past[-1]
            assert not [
                problem for problem in self.journal.check().problems if problem.code != "phases_missing"
            ]
        finally:
            self.journal.close()
            self.folder.cleanup()

    def does(self, operation: Callable[[], Any]) -> None:
        if operation().kinds:
            self.past.append(contents(self.journal))
            self.future.clear()

    def any_of(self, records: list[Any], pick: int) -> Any:
        return records[pick % len(records)]

    @property
    def batches(self) -> list[Batch]:
        return self.journal.batches.all()

    def eggs(self, pick: int) -> list[Egg]:
        return self.journal.eggs.of_batch(self.any_of(self.batches, pick).uid)

    @invariant()
    def tells_what_comes_next(self) -> None:
        assert (self.journal.history.next_redo() is None) == (not self.future)

    @rule(eggs=st.integers(1, 10))
    def set_batch(self, eggs: int) -> None:
        self.labels += 1
        batch = Batch(f"B{self.labels}", "hen", self.machine.uid, SET_AT, 21.0, "{}", 7.0, 14.0)
        laid = [Egg(batch.uid, n + 1, 1, 1 + n // 5, 1 + n % 5) for n in range(eggs)]
        self.does(lambda: self.journal.batches.set_batch(batch, [], [], laid))

    @precondition(lambda self: self.batches)
    @rule(pick=picks)
    def delete_batch(self, pick: int) -> None:
        self.does(lambda: self.journal.batches.delete(self.any_of(self.batches, pick)))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, name=texts)
    def rename_batch(self, pick: int, name: str) -> None:
        self.does(lambda: self.journal.batches.rename(self.any_of(self.batches, pick), name))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, egg=picks, row=st.integers(1, 2), column=st.integers(1, 5))
    def move_egg(self, pick: int, egg: int, row: int, column: int) -> None:
        self.does(lambda: self.journal.eggs.move(self.any_of(self.eggs(pick), egg), 1, row, column))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, mass=st.floats(0.1, 200), remark=texts)
    def change_egg(self, pick: int, mass: float, remark: str) -> None:
        egg = replace(self.eggs(pick)[0], set_mass_g=mass, remark=remark)
        self.does(lambda: self.journal.eggs.replace(egg))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, codes=st.lists(st.sampled_from(FindingCode), min_size=1, max_size=4), at=moments)
    def candle(self, pick: int, codes: list[FindingCode], at: int) -> None:
        batch = self.any_of(self.batches, pick)
        known = self.journal.candlings.of_batch(batch.uid)
        candling = known[0] if known and at % 2 else Candling(batch.uid, at)
        found = {egg.uid: code for egg, code in zip(self.eggs(pick), codes, strict=False)}
        self.does(lambda: self.journal.candlings.note_findings(candling, found, at))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, at=moments, mass=st.floats(0.1, 200))
    def weigh(self, pick: int, at: int, mass: float) -> None:
        weighing = Weighing(self.any_of(self.batches, pick).uid, at)
        masses = [EggMass(weighing.uid, egg.uid, mass) for egg in self.eggs(pick)[:3]]
        self.does(lambda: self.journal.weighings.note_weighing(weighing, masses))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, at=moments, mark=st.sampled_from(HatchMark))
    def hatch(self, pick: int, at: int, mark: HatchMark) -> None:
        batch = self.any_of(self.batches, pick)
        record = Hatching(self.eggs(pick)[0].uid, at, mark)
        self.does(lambda: self.journal.hatchings.note(batch.uid, [record]))

    @precondition(lambda self: self.batches)
    @rule(pick=picks, at=moments, signs=st.sets(st.sampled_from(BreakOutSign), max_size=3))
    def break_out(self, pick: int, at: int, signs: set[BreakOutSign]) -> None:
        record = BreakOut(self.eggs(pick)[0].uid, at, BreakOutResult.LATE_DEAD)
        self.does(
            lambda: self.journal.break_outs.keep(
                record, malpositions=[Malposition.V_FEET_OVER_HEAD], signs=signs
            )
        )

    @rule(at=moments, text=texts)
    def note(self, at: int, text: str) -> None:
        self.does(lambda: self.journal.events.add(Event(at, EventKind.NOTE, self.machine.uid, text=text)))

    @rule(at=moments, humidity=st.floats(0, 100))
    def enter_reading(self, at: int, humidity: float) -> None:
        known = self.journal.readings.at(self.probe.number, at)
        reading = Reading(self.probe.number, at, None, humidity)
        if known is None:
            self.does(lambda: self.journal.readings.add(reading))
        else:
            self.does(lambda: self.journal.readings.replace(replace(known, humidity=humidity)))

    @rule(start=moments, count=st.integers(1, 50), seed=picks)
    def bring_in(self, start: int, count: int, seed: int) -> None:
        values = np.random.default_rng(seed).uniform(0, 100, (2, count))
        values[0][values[0] > 80] = np.nan
        readings = NewReadings(
            "f.csv",
            str(seed),
            "{}",
            count,
            start + 600 * np.arange(count),
            values[0] / 2,
            values[1],
            [(1, "x", "cut")],
        )
        self.does(lambda: self.journal.imports.bring_in(self.probe, readings, start))

    @precondition(lambda self: self.journal.imports.all())
    @rule(pick=picks)
    def take_import_back(self, pick: int) -> None:
        self.does(lambda: self.journal.imports.take_back(self.any_of(self.journal.imports.all(), pick)))

    @precondition(lambda self: self.journal.readings.last(self.probe.number))
    @rule(later=st.integers(1, 10**7))
    def correct_last_reading(self, later: int) -> None:
        last = self.journal.readings.last(self.probe.number)
        assert last is not None
        self.does(lambda: self.journal.readings.move(last, replace(last, at=last.at + later)))

    @precondition(lambda self: len(self.past) > 1)
    @rule()
    def undo(self) -> None:
        self.journal.undo()
        self.future.append(self.past.pop())
        assert contents(self.journal) == self.past[-1]

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        self.journal.redo()
        self.past.append(self.future.pop())
        assert contents(self.journal) == self.past[-1]

    @rule()
    def close_and_open(self) -> None:
        path = self.journal.path
        self.journal.close()
        self.journal = Journal.open(path, clock=lambda: float(SET_AT))
        assert contents(self.journal) == self.past[-1]


TestAnyOperations = AnyOperations.TestCase
TestAnyOperations.settings = settings(max_examples=20, stateful_step_count=25)
