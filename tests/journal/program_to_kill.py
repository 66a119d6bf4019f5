"""A program that works on a journal and says on its output what it has stored, until it is killed.

    python program_to_kill.py entries FILE
    python program_to_kill.py imports FILE
    python program_to_kill.py migration FILE

``test_kill.py`` starts it, kills it at any moment, and looks at what is in the file.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
from hatchbook.journal import Batch, Candling, Egg, Event, Journal, Machine, NewReadings
from hatchbook.journal.migrations import MIGRATIONS, Migration
from hatchbook.journal.store import Store
from hatchbook.trade.codes import EventKind, FindingCode

#: So many readings that a kill can come in the middle.
ROWS = 150_000
FIRST_AT = 1_700_000_000


def say(*words: object) -> None:
    """Tells what is stored, as the screen would show it."""
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


def entries(path: Path) -> None:
    """Enters one thing after the other, takes some back, makes backups."""
    journal = Journal.open(path)
    machine = journal.machines.all()[0]
    (batch,) = journal.batches.all()
    eggs = journal.eggs.of_batch(batch.uid)
    candling = journal.candlings.all()[0]
    count = len(journal.history.steps())
    say("open")
    while True:
        count += 1
        event = Event(FIRST_AT + count, EventKind.NOTE, machine.uid, text=f"note {count}")
        journal.events.add(event)
        say("event", event.uid)
        egg, code = eggs[count % len(eggs)], list(FindingCode)[count % 7]
        journal.candlings.note_finding(candling, egg.uid, code, FIRST_AT + count)
        say("finding", egg.uid, code)
        if count % 5 == 0:
            with journal.step("many") as step:
                for number in range(40):
                    step.add(Machine(f"{count}-{number}", 1, 1))
            say("machines", count)
        if count % 7 == 0:
            other = Event(FIRST_AT - count, EventKind.NOTE, machine.uid, text="taken back")
            journal.events.add(other)
            journal.undo()
            say("gone", other.uid)
        if count % 11 == 0:
            journal.back_up()


def readings(number: int, rows: int = ROWS) -> NewReadings:
    """A file that follows on the one before."""
    at = FIRST_AT + number * ROWS + np.arange(rows)
    return NewReadings(f"{number}.csv", "", "{}", rows, at, np.full(rows, 37.5), np.arange(rows) % 90 + 1.0)


def imports(path: Path) -> None:
    """Brings in a file, takes it back, does it again, and so on."""
    journal = Journal.open(path)
    (probe,) = journal.probes.all()
    number = len(journal.history.steps())
    say("open")
    while True:
        say("begin", number)
        journal.imports.bring_in(probe, readings(number), FIRST_AT)
        say("stored", number)
        journal.undo()
        say("undone", number)
        journal.redo()
        say("stored", number)
        number += 1


def changes_readings(store: Store) -> None:
    """A made-up version 2: humidity as a share, eggs with a colour; slow enough to be killed within."""
    store.write("ALTER TABLE egg ADD COLUMN colour TEXT NOT NULL DEFAULT 'white'")
    store.write("CREATE TABLE share (probe INTEGER NOT NULL, at INTEGER NOT NULL, value REAL) STRICT")
    for probe, at, humidity in store.rows("SELECT probe, at, humidity FROM reading"):
        store.write("INSERT INTO share VALUES (?, ?, ?)", (probe, at, humidity / 100))
        store.write("DELETE FROM reading WHERE probe = ? AND at = ?", (probe, at))


VERSION_2 = (*MIGRATIONS, Migration(2, changes_readings))


def migration(path: Path) -> None:
    """Opens a journal of version 1, which brings it to version 2."""
    say("open")
    journal = Journal.open(path, migration_steps=VERSION_2)
    say("migrated", journal._store.version)
    journal.close()
    say("closed")


def prepare(path: Path) -> None:
    """The journal that all this is done to."""
    with Journal.create(path) as journal:
        machine = Machine("Blue one", 2, 6)
        journal.machines.add(machine)
        journal.probes.add_to("P1", machine=machine.uid, from_at=0)
        batch = Batch("2026-01", "hen", machine.uid, FIRST_AT, 21.0, "{}", 7.0, 14.0)
        eggs = [Egg(batch.uid, number) for number in range(1, 13)]
        journal.batches.set_batch(batch, [], [], eggs)
        journal.candlings.add(Candling(batch.uid, FIRST_AT))


WORK: dict[str, Callable[[Path], None]] = {"entries": entries, "imports": imports, "migration": migration}

if __name__ == "__main__":
    WORK[sys.argv[1]](Path(sys.argv[2]))
