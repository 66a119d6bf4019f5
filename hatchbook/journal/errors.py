"""What can go wrong with a journal, sorted at the source.

``JournalError`` and its kinds are the environment's or the breeder's doing and carry a plain sentence; every
other exception that leaves this package is a fault of the program and is left to fail loudly.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class JournalError(Exception):
    """A journal could not do what was asked; ``str(error)`` is a plain sentence.

    Attributes:
        code: stable name of the kind of trouble, from which the desk makes its own sentence.
        fields: the values that the sentence names.
    """

    code = "journal"

    def __init__(self, sentence: str, **fields: object) -> None:
        super().__init__(sentence)
        self.fields = fields


class JournalExistsError(JournalError):
    """A new journal would overwrite a file."""

    code = "exists"


class JournalMissingError(JournalError):
    """There is no such file."""

    code = "missing"


class NotAJournalError(JournalError):
    """The file is another program's, or no database at all; it was left untouched."""

    code = "foreign"


class NewerJournalError(JournalError):
    """The file was written by a newer Hatchbook; it was left untouched."""

    code = "newer"


class JournalBusyError(JournalError):
    """Another program, or another window, has the file open for writing."""

    code = "busy"


class JournalDamagedError(JournalError):
    """The file is damaged; it was left as it is."""

    code = "damaged"


class JournalReadOnlyError(JournalError):
    """The file or its folder cannot be written."""

    code = "read_only"


class DiskFullError(JournalError):
    """The disk is full; nothing of the step was stored."""

    code = "disk_full"


class DiskError(JournalError):
    """The disk refused to read or write."""

    code = "disk"


class RecordRefusedError(JournalError):
    """A record holds a value that the journal does not accept; nothing of the step was stored."""

    code = "refused"


class RecordMissingError(JournalError):
    """A record that was asked for is not there."""

    code = "no_record"


class NothingToUndoError(JournalError):
    """There is no step to take back, or to do again."""

    code = "nothing_to_undo"


_PRIMARY = 0xFF


def translated(error: sqlite3.Error, path: Path) -> JournalError | None:
    """The journal's error for one of SQLite's, by its result code; None where it is the program's own fault."""
    primary = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & _PRIMARY
    name = path.name
    match primary:
        case sqlite3.SQLITE_FULL:
            return DiskFullError(f"The disk is full: {name} could not be saved.", path=path)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return JournalBusyError(f"{name} is in use by another program.", path=path)
        case sqlite3.SQLITE_CORRUPT:
            return JournalDamagedError(f"{name} is damaged. It has been left as it is.", path=path)
        case sqlite3.SQLITE_NOTADB:
            return NotAJournalError(f"{name} is not a Hatchbook journal.", path=path)
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return JournalReadOnlyError(f"{name} cannot be written.", path=path)
        case sqlite3.SQLITE_CANTOPEN:
            return JournalReadOnlyError(f"{name} cannot be opened.", path=path)
        case sqlite3.SQLITE_IOERR:
            return DiskError(f"The disk refused to read or write {name}.", path=path)
        case sqlite3.SQLITE_CONSTRAINT:
            return RecordRefusedError(f"The journal does not accept this entry ({error}).", path=path)
    return None


@contextmanager
def environment(path: Path) -> Iterator[None]:
    """Turns SQLite's errors that come from outside the program into the journal's own."""
    try:
        yield
    except sqlite3.Error as error:
        known = translated(error, path)
        if known is None:
            raise
        raise known from error
