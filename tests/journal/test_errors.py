"""Errors are sorted at the source: the environment's get a plain sentence, the program's own fail loudly."""

from __future__ import annotations

import errno
import os
import sqlite3
from pathlib import Path

import pytest
from hatchbook.journal import (
    DiskError,
    DiskFullError,
    Journal,
    JournalBusyError,
    JournalDamagedError,
    JournalError,
    JournalMovedError,
    JournalReadOnlyError,
    NeedsWritingError,
    RecordRefusedError,
)
from hatchbook.journal.errors import from_system, translated


def sqlite_error(code: int) -> sqlite3.Error:
    error = sqlite3.OperationalError("what SQLite says")
    error.sqlite_errorcode = code
    return error


@pytest.mark.parametrize(
    ("code", "kind", "words"),
    [
        (sqlite3.SQLITE_FULL, DiskFullError, "disk is full"),
        (sqlite3.SQLITE_BUSY, JournalBusyError, "another program"),
        (sqlite3.SQLITE_BUSY_SNAPSHOT, JournalBusyError, "another program"),
        (sqlite3.SQLITE_LOCKED, JournalBusyError, "another program"),
        (sqlite3.SQLITE_PROTOCOL, JournalBusyError, "another program"),
        (sqlite3.SQLITE_CORRUPT, JournalDamagedError, "damaged"),
        (sqlite3.SQLITE_CORRUPT_INDEX, JournalDamagedError, "damaged"),
        (sqlite3.SQLITE_NOTADB, JournalDamagedError, "damaged"),
        (sqlite3.SQLITE_READONLY, JournalReadOnlyError, "cannot be written"),
        (sqlite3.SQLITE_READONLY_DBMOVED, JournalMovedError, "moved, deleted or replaced"),
        (sqlite3.SQLITE_READONLY_ROLLBACK, NeedsWritingError, "not closed properly"),
        (sqlite3.SQLITE_PERM, JournalReadOnlyError, "cannot be written"),
        (sqlite3.SQLITE_CANTOPEN, JournalReadOnlyError, "cannot be opened"),
        (sqlite3.SQLITE_IOERR, DiskError, "disk refused"),
        (sqlite3.SQLITE_IOERR_WRITE, DiskError, "disk refused"),
        (sqlite3.SQLITE_CONSTRAINT_CHECK, RecordRefusedError, "does not accept"),
        (sqlite3.SQLITE_TOOBIG, RecordRefusedError, "does not accept"),
    ],
)
def test_errors_from_outside_get_a_plain_sentence(
    path: Path, code: int, kind: type[JournalError], words: str
) -> None:
    error = translated(sqlite_error(code), path)
    assert type(error) is kind
    assert words in str(error)
    assert error.fields["path"] == path


@pytest.mark.parametrize("code", [sqlite3.SQLITE_ERROR, sqlite3.SQLITE_MISUSE, sqlite3.SQLITE_RANGE])
def test_faults_of_the_program_stay_what_they_are(path: Path, code: int) -> None:
    assert translated(sqlite_error(code), path) is None
    assert translated(sqlite3.ProgrammingError("a closed database"), path) is None


def test_a_misspelt_statement_fails_loudly(journal: Journal) -> None:
    with pytest.raises(sqlite3.OperationalError, match="no such table"):
        journal._store.rows("SELECT * FROM hen")


@pytest.mark.parametrize(
    ("number", "kind"),
    [
        (errno.ENOSPC, DiskFullError),
        (errno.EDQUOT, DiskFullError),
        (errno.EACCES, JournalReadOnlyError),
        (errno.EROFS, JournalReadOnlyError),
        (errno.EIO, DiskError),
    ],
)
def test_errors_of_the_system_are_sorted_too(path: Path, number: int, kind: type[JournalError]) -> None:
    error = from_system(OSError(number, os.strerror(number)), path, "My hens could not be put back")
    assert type(error) is kind
    assert str(error) == f"My hens could not be put back: {os.strerror(number)}."


def test_every_kind_of_error_has_a_code_of_its_own() -> None:
    kinds = [JournalError]
    for kind in kinds:
        kinds.extend(kind.__subclasses__())
    assert len({kind.code for kind in kinds}) == len(kinds)
