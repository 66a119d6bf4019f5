"""Every change is kept with before and after; the way back and forth through the steps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace as Of
from typing import Any

import pytest
from hatchbook.journal import (
    Event,
    Journal,
    Machine,
    NothingToUndoError,
    RecordMissingError,
    RecordRefusedError,
)
from hatchbook.trade.codes import EventKind

SET_AT = 1_776_708_000
Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]


# ------------------------------------------------------------------ what history tells


def test_history_tells_before_and_after_of_each_record(filled: Of) -> None:
    egg = replace(filled.eggs[0], remark="pointed", marked=False)
    number = filled.journal.eggs.replace(egg).step.number
    (change,) = filled.journal.history.changes(number)
    assert (change.kind, change.record) == ("egg", egg.uid)
    assert change.before is not None
    assert change.after is not None
    assert change.before["remark"] == ""
    assert change.after["remark"] == "pointed"
    differing = {name for name in change.after if change.after[name] != change.before[name]}
    assert differing == {"remark", "marked"}


def test_history_tells_what_was_added_and_what_was_removed(filled: Of) -> None:
    events = filled.journal.events
    event = Event(SET_AT, EventKind.VENT, filled.machine.uid, vent=0.5)
    (added,) = filled.journal.history.changes(events.add(event).step.number)
    (removed,) = filled.journal.history.changes(events.remove(event).step.number)
    assert (added.before, removed.after) == (None, None)
    assert added.after == removed.before
    assert added.after is not None
    assert added.after["vent"] == 0.5


def test_an_import_is_one_line_of_history_however_many_readings_it_has(filled: Of) -> None:
    step = next(step for step in filled.journal.history.steps() if step.code == "readings_imported")
    assert step.details == {"file": "logger.csv", "probe": "P1", "stored": 40}
    assert {change.kind for change in filled.journal.history.changes(step.number)} == {
        "import_run",
        "reading",
    }


def test_steps_are_listed_newest_first_and_by_batch(filled: Of, clock: Any) -> None:
    clock.now += 60
    change = filled.journal.batches.rename(filled.batch, "Late")
    history = filled.journal.history
    assert history.steps()[0] == change.step
    assert change.step.at == int(clock.now)
    numbers = [step.number for step in history.steps()]
    assert numbers == sorted(numbers, reverse=True)
    assert history.steps(newest=3) == history.steps()[:3]
    of_batch = history.steps(batch=filled.batch.uid)
    assert {step.batch for step in of_batch} == {filled.batch.uid}
    assert {"batch_set", "findings_noted", "weighed", "break_out_noted"} <= {step.code for step in of_batch}
    assert change.step.details == {"label": "2026-03", "name": "Late"}


def test_a_step_of_several_changes_is_undone_as_one(filled: Of, contents: Contents) -> None:
    journal = filled.journal
    before = contents(journal)
    with journal.step("moved_house", batch=filled.batch.uid, to="cellar") as step:
        step.replace(replace(filled.machine, note="cellar"))
        step.add(Event(SET_AT, EventKind.NOTE, filled.machine.uid, text="moved"))
        with pytest.raises(RuntimeError, match="not finished"):
            step.done.kinds  # noqa: B018
        assert step.kinds == {"machine", "event"}
    assert step.done.kinds == {"machine", "event"}
    assert step.done.step.details == {"to": "cellar"}
    assert journal.undo().step.code == "moved_house"
    assert contents(journal) == before


def test_a_step_that_fails_leaves_nothing_behind(filled: Of, contents: Contents) -> None:
    journal = filled.journal
    before = contents(journal), journal.history.steps()

    def stop_halfway() -> None:
        with journal.step("half") as step:
            step.add(Machine("Third", 1, 1))
            step.remove(filled.removal)
            raise KeyError("a fault of the program")

    with pytest.raises(KeyError):
        stop_halfway()
    assert (contents(journal), journal.history.steps()) == before
    journal.machines.add(Machine("Third", 1, 1))


def test_a_step_within_a_step_is_a_fault_of_the_program(filled: Of, contents: Contents) -> None:
    journal = filled.journal
    before = contents(journal)

    def nest() -> None:
        with journal.step("outer") as step:
            step.add(Machine("Third", 1, 1))
            journal.machines.add(Machine("Fourth", 1, 1))

    with pytest.raises(RuntimeError, match="running already"):
        nest()
    assert contents(journal) == before


def test_changing_nothing_leaves_no_line_and_keeps_redo(filled: Of) -> None:
    journal = filled.journal
    journal.machines.add(Machine("Third", 1, 1))
    journal.undo()
    steps = journal.history.steps()
    change = journal.eggs.replace(filled.eggs[0])
    assert change.kinds == frozenset()
    assert change.step.number == 0
    assert journal.history.steps() == steps
    assert journal.redo().step.code == "machine_added"


# ------------------------------------------------------------------ back and forth


def test_redo_is_dropped_by_a_new_step_and_what_was_taken_back_stays_in_history(journal: Journal) -> None:
    for name in ("A", "B", "C"):
        journal.machines.add(Machine(name, 1, 1))
    journal.undo()
    journal.undo()
    journal.machines.add(Machine("D", 1, 1))
    with pytest.raises(NothingToUndoError, match="nothing to do again"):
        journal.redo()
    assert [machine.name for machine in journal.machines.all()] == ["A", "D"]
    assert [(step.details["name"], step.state) for step in journal.history.steps()] == [
        ("D", "done"),
        ("C", "dropped"),
        ("B", "dropped"),
        ("A", "done"),
    ]
    journal.undo()
    journal.undo()
    assert journal.machines.all() == []
    with pytest.raises(NothingToUndoError, match="nothing to take back"):
        journal.undo()
    journal.redo()
    journal.redo()
    assert [machine.name for machine in journal.machines.all()] == ["A", "D"]


def test_a_new_journal_has_nothing_to_undo(journal: Journal) -> None:
    assert journal.history.next_undo() is None
    assert journal.history.next_redo() is None
    for move in (journal.undo, journal.redo):
        with pytest.raises(NothingToUndoError) as error:
            move()
        assert error.value.code == "nothing_to_undo"


def test_undo_that_is_no_longer_possible_changes_nothing(filled: Of, contents: Contents) -> None:
    """Another program has put something in the way, past the history."""
    journal = filled.journal
    journal.machines.remove(filled.other_machine)
    journal._store.connection.execute(
        "INSERT INTO machine (uid, name, kind, tray_rows, tray_columns) VALUES ('x', 'Old one', 'still_air', 1, 1)"
    )
    before = contents(journal), journal.history.steps()
    with pytest.raises(RecordRefusedError):
        journal.undo()
    assert (contents(journal), journal.history.steps()) == before


def test_undo_of_what_is_gone_says_so(journal: Journal) -> None:
    machine = Machine("Third", 1, 1)
    journal.machines.add(machine)
    journal._store.connection.execute("DELETE FROM machine")
    with pytest.raises(RecordMissingError, match="no longer in the journal") as error:
        journal.undo()
    assert error.value.fields == {"kind": "machine", "record": machine.uid}
    assert journal.history.next_undo() is not None


def test_floats_come_back_to_the_last_bit(filled: Of) -> None:
    journal = filled.journal
    masses = [58.1 + 1 / 3, 1e-7 + 58, 0.1 + 0.2, 61.000000000000007]
    eggs = [replace(egg, set_mass_g=mass) for egg, mass in zip(filled.eggs, masses, strict=False)]
    with journal.step("weighed") as step:
        for egg in eggs:
            step.replace(egg)
    journal.undo()
    journal.redo()
    assert [journal.eggs.get(egg.uid).set_mass_g for egg in eggs] == masses


def test_history_survives_being_copied(filled: Of, tmp_path: Path, contents: Contents) -> None:
    filled.journal.close()
    copy = tmp_path / "copy.hatchbook"
    copy.write_bytes(filled.journal.path.read_bytes())
    with Journal.open(copy) as journal:
        while journal.history.next_undo() is not None:
            journal.undo()
        empty = {table for table, rows in contents(journal).items() if rows}
        assert empty == {"setting"}
        while journal.history.next_redo() is not None:
            journal.redo()
        with Journal.open(filled.journal.path) as original:
            assert contents(journal) == contents(original)
