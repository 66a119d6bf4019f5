"""From the format of an older journal to the present one.

A migration is a function that changes the tables of one version into those of the next. It runs in one
transaction with the record of its version, after a backup; what was done stays done, what failed leaves the file
as it was.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hatchbook.journal import schema
from hatchbook.journal.store import Store


@dataclass(frozen=True)
class Migration:
    """One step of the format: ``apply`` makes version ``to_version`` of the version before it."""

    to_version: int
    apply: Callable[[Store], None]


def run_script(store: Store, script: str) -> None:
    """Runs statements one by one, so that they stay inside the open transaction."""
    statement = ""
    for line in script.splitlines(keepends=True):
        if line.lstrip().startswith("--"):
            continue
        statement += line
        if sqlite3.complete_statement(statement):
            store.connection.execute(statement)
            statement = ""
    if statement.strip():
        raise ValueError("the script ends within a statement")


#: All migrations, in order; the first makes an empty file a journal.
MIGRATIONS: tuple[Migration, ...] = (Migration(1, lambda store: run_script(store, schema.VERSION_1)),)


def newest(migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """The version that the present program writes."""
    return migrations[-1].to_version


def migrate(store: Store, migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Brings a store to the newest version; returns how many migrations ran."""
    ran = 0
    for migration in migrations:
        if migration.to_version <= store.version:
            continue
        with store.transaction():
            migration.apply(store)
            store.connection.execute(f"PRAGMA user_version = {migration.to_version}")
        ran += 1
    return ran
