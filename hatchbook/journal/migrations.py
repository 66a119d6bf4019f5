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
from hatchbook.journal.errors import JournalDamagedError
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
            store.write(statement)
            statement = ""
    if statement.strip():
        raise ValueError("the script ends within a statement")


#: All migrations, in order; the first makes an empty file a journal.
MIGRATIONS: tuple[Migration, ...] = (Migration(1, lambda store: run_script(store, schema.VERSION_1)),)


def newest(migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """The version that the present program writes."""
    return migrations[-1].to_version


def migrate(store: Store, migrations: Sequence[Migration] = MIGRATIONS) -> int:
    """Brings a store to the newest version; returns how many migrations ran.

    References are not followed while a table is rebuilt (SQLite's way of changing one), but hold at the end of
    every migration.

    Raises:
        JournalDamagedError: a migration leaves references that point nowhere; it was taken back.
    """
    due = [migration for migration in migrations if migration.to_version > store.version]
    if not due:
        return 0
    store.connection.execute("PRAGMA foreign_keys = OFF")
    try:
        for migration in due:
            with store.transaction():
                before = store.rows("PRAGMA foreign_key_check")
                migration.apply(store)
                _require_references(store, len(before))
                store.write(f"PRAGMA user_version = {migration.to_version}")
    finally:
        store.connection.execute("PRAGMA foreign_keys = ON")
    return len(due)


def _require_references(store: Store, broken_before: int) -> None:
    broken = store.rows("PRAGMA foreign_key_check")
    if len(broken) > broken_before:
        tables = ", ".join(sorted({str(row[0]) for row in broken}))
        raise JournalDamagedError(
            f"{store.path.name} cannot be brought to the present format: entries refer to others that are not "
            f"there ({tables}). It has been left as it was.",
            path=store.path,
            tables=tables,
        )
