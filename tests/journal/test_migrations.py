"""From format to format: a backup first, whole or not at all, and a test for every migration."""

from __future__ import annotations

import ast
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    BackupError,
    Journal,
    JournalDamagedError,
    JournalReadOnlyError,
    NewerJournalError,
)
from hatchbook.journal.backup_files import files
from hatchbook.journal.backups import list_backups
from hatchbook.journal.migrations import MIGRATIONS, Migration, migrate, newest, run_script
from hatchbook.journal.store import Store

Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]

MADE_UP = """
-- Eggs get a colour, and machines a table of fans.
ALTER TABLE egg ADD COLUMN colour TEXT NOT NULL DEFAULT '';
CREATE TABLE fan (
    uid TEXT PRIMARY KEY NOT NULL,  -- with; a semicolon; in a comment
    machine TEXT NOT NULL REFERENCES machine (uid)
) STRICT;
INSERT INTO fan SELECT 'fan of ' || uid, uid FROM machine;
"""


def made_up(store: Store) -> None:
    run_script(store, MADE_UP)


def rebuilt(store: Store) -> None:
    """SQLite's way of changing a table: a new one, filled from the old, renamed."""
    (sql,) = store.rows("SELECT sql FROM sqlite_schema WHERE name = 'machine'")[0]
    run_script(
        store,
        sql.replace("CREATE TABLE machine", "CREATE TABLE machine_2").replace("note TEXT", "remark TEXT")
        + ";\n"
        "INSERT INTO machine_2 SELECT * FROM machine;\n"
        "DROP TABLE machine;\n"
        "ALTER TABLE machine_2 RENAME TO machine;\n",
    )


def fails_halfway(store: Store) -> None:
    run_script(store, MADE_UP)
    raise KeyError("a fault of the program")


def fails_later(store: Store) -> None:
    run_script(store, "DROP TABLE fan;\n")
    raise KeyError("a fault of the program")


def loses_references(store: Store) -> None:
    run_script(store, "DELETE FROM machine;\n")


def to_2(apply: Callable[[Store], None]) -> Sequence[Migration]:
    return (*MIGRATIONS, Migration(2, apply))


def version_of(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        version: int = connection.execute("PRAGMA user_version").fetchone()[0]
        return version


def test_every_migration_has_a_test() -> None:
    tests = {
        node.name
        for node in ast.walk(ast.parse(Path(__file__).read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef)
    }
    for migration in MIGRATIONS:
        assert any(name.startswith(f"test_migration_{migration.to_version}_") for name in tests), migration


def test_migrations_are_numbered_one_after_the_other() -> None:
    assert [migration.to_version for migration in MIGRATIONS] == list(range(1, newest() + 1))


def test_migration_1_makes_an_empty_file_a_journal(path: Path) -> None:
    store = Store.create(path, migrate)
    assert store.version == 1
    assert store.rows("PRAGMA integrity_check") == [("ok",)]
    assert store.rows("PRAGMA foreign_key_check") == []
    store.close()
    with Journal.open(path) as journal:
        assert journal.machines.all() == []
        assert journal.zone.key == "UTC"


# ------------------------------------------------------------------ a made-up version 2


def test_an_older_journal_is_backed_up_and_brought_to_the_present_format(
    filled: SimpleNamespace, contents: Contents, clock: Any
) -> None:
    path, before = filled.journal.path, contents(filled.journal)
    filled.journal.close()
    clock.now += 3600
    with Journal.open(path, migration_steps=to_2(made_up), clock=clock) as journal:
        after = contents(journal)
        assert after.pop("fan") == [(f"fan of {row[0]}", row[0]) for row in sorted(before["machine"])]
        assert [row[:-1] for row in after.pop("egg")] == before.pop("egg")
        assert after == before
        assert journal.eggs.of_batch(filled.batch.uid) == filled.eggs
        journal.undo()  # history goes on
    assert version_of(path) == 2
    (old,) = [backup for backup in list_backups(path) if backup.reason == "before_migration"]
    assert version_of(old.path) == 1
    assert (old.batches, old.eggs) == (2, 6)
    assert old.at == int(clock.now) // 60 * 60


def test_a_journal_of_the_present_format_is_left_alone(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    with Journal.open(path, migration_steps=to_2(made_up)):
        pass
    content, present = path.read_bytes(), files(path)
    with Journal.open(path, migration_steps=to_2(fails_halfway)):
        pass
    assert path.read_bytes()[60:64] == content[60:64] == b"\0\0\0\2"
    assert files(path) == present


def test_a_newer_journal_is_refused_by_this_program(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    Journal.open(path, migration_steps=to_2(made_up)).close()
    before = path.read_bytes()
    with pytest.raises(NewerJournalError):
        Journal.open(path)
    assert path.read_bytes() == before


def test_a_migration_that_fails_leaves_the_file_as_it_was(
    filled: SimpleNamespace, contents: Contents
) -> None:
    path, before = filled.journal.path, contents(filled.journal)
    filled.journal.close()
    content = path.read_bytes()
    with pytest.raises(KeyError):
        Journal.open(path, migration_steps=to_2(fails_halfway))
    assert version_of(path) == 1
    assert path.read_bytes()[100:] == content[100:]
    with Journal.open(path) as journal:  # the lock was given back, too
        assert contents(journal) == before
        assert journal.check().sound
    with Journal.open(path, migration_steps=to_2(made_up)) as journal:
        assert "fan" in contents(journal)


def test_of_two_migrations_the_one_that_worked_stays(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    with pytest.raises(KeyError):
        Journal.open(path, migration_steps=(*to_2(made_up), Migration(3, fails_later)))
    assert version_of(path) == 2


def test_a_table_that_others_refer_to_can_be_rebuilt(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    with Journal.open(path, migration_steps=to_2(rebuilt)) as journal:
        store = journal._store
        assert store.rows("PRAGMA foreign_key_check") == []
        assert store.one("PRAGMA foreign_keys") == (1,)
        assert store.one("SELECT remark FROM machine WHERE name = 'Blue one'") == ("kitchen",)


def test_a_migration_that_loses_references_is_taken_back(filled: SimpleNamespace, contents: Contents) -> None:
    path, before = filled.journal.path, contents(filled.journal)
    filled.journal.close()
    with pytest.raises(JournalDamagedError, match="batch, channel") as error:
        Journal.open(path, migration_steps=to_2(loses_references))
    assert "left as it was" in str(error.value)
    with Journal.open(path) as journal:
        assert contents(journal) == before


def test_without_a_backup_nothing_is_migrated(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.settings.mark_as_demo()  # so that closing makes no folder
    filled.journal.undo()
    filled.journal._backs_up_on_close = False
    filled.journal.close()
    path.with_name("My hens backups").write_text("a file where the folder should be")
    with pytest.raises(BackupError, match="No backup of My hens"):
        Journal.open(path, migration_steps=to_2(made_up))
    assert version_of(path) == 1


def test_an_older_journal_cannot_be_opened_for_reading_only(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    before = path.read_bytes()
    with pytest.raises(JournalReadOnlyError, match="older Hatchbook"):
        Journal.open(path, read_only=True, migration_steps=to_2(made_up))
    assert path.read_bytes() == before


def test_a_script_that_ends_within_a_statement_is_a_fault(journal: Journal) -> None:
    with pytest.raises(ValueError, match="ends within"), journal._store.transaction():
        run_script(journal._store, "CREATE TABLE fan (uid TEXT);\nCREATE TABLE half (uid TEXT")
    assert journal._store.rows("SELECT name FROM sqlite_schema WHERE name = 'fan'") == []
