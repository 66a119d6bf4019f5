"""What can go wrong with a journal, sorted at the source.

``JournalError`` and its kinds are the environment's or the breeder's doing and carry a plain sentence; every
other exception that leaves this package is a fault of the program and is left to fail loudly.
"""

from __future__ import annotations

import errno
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


class JournalUnreadableError(JournalReadOnlyError):
    """The file may not even be read."""

    code = "unreadable"


class NeedsWritingError(JournalReadOnlyError):
    """The file cannot be opened for reading only: a crash, or an older format, asks for writing once."""

    code = "needs_writing"


class JournalMovedError(JournalError):
    """The file was moved, deleted or replaced while it was open; nothing was stored."""

    code = "moved"


class BackupError(JournalError):
    """A backup could not be made; the journal itself and its earlier backups are as they were.

    ``fields["cause"]`` is the code of what stood in the way (``disk_full``, ``read_only``, ``damaged`` …).
    ``fields["made"]`` is the file, where it was made and only older ones could not be removed.
    """

    code = "backup"


class DiskFullError(JournalError):
    """The disk is full; nothing of the step was stored."""

    code = "disk_full"


class DiskError(JournalError):
    """The disk refused to read or write."""

    code = "disk"


class RecordRefusedError(JournalError):
    """A record holds a value that the journal does not accept; nothing of the step was stored.

    ``fields["rule"]`` is ``unique``, ``foreign_key``, ``not_null``, ``type`` or ``check``, and
    ``fields["where"]`` the columns (``batch.label``) or the condition that was not met, as SQLite names it.
    """

    code = "refused"


class RecordMissingError(JournalError):
    """A record that was asked for is not there."""

    code = "no_record"


class NothingToUndoError(JournalError):
    """There is no step to take back, or to do again."""

    code = "nothing_to_undo"


_PRIMARY = 0xFF
_CONSTRAINT_DATATYPE = 3091  # the sqlite3 module of Python 3.11 has no name for it


def moved(path: Path) -> JournalMovedError:
    """What is told when the file of this name is not the one that was opened."""
    return JournalMovedError(
        f"{path.name} was moved, deleted or replaced while it was open. Nothing was stored.", path=path
    )


_RULES = {
    sqlite3.SQLITE_CONSTRAINT_UNIQUE: "unique",
    sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY: "unique",
    sqlite3.SQLITE_CONSTRAINT_ROWID: "unique",
    sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY: "foreign_key",
    sqlite3.SQLITE_CONSTRAINT_NOTNULL: "not_null",
    _CONSTRAINT_DATATYPE: "type",
}
_RULE_SENTENCES = {
    "unique": "The journal holds such an entry already ({where}).",
    "foreign_key": "Other entries refer to this one, or it refers to one that is not there.",
    "not_null": "Something is missing in this entry ({where}).",
    "type": "The journal does not accept this entry ({where}).",
    "check": "The journal does not accept this entry ({where}).",
}
#: A file that a crash left half written can only be put right by a connection that may write.
_NEEDS_WRITING = (
    sqlite3.SQLITE_READONLY_ROLLBACK,
    sqlite3.SQLITE_READONLY_RECOVERY,
    sqlite3.SQLITE_READONLY_CANTINIT,
)


def translated(error: sqlite3.Error, path: Path) -> JournalError | None:
    """The journal's error for one of SQLite's, by its result code; None where it is the program's own fault."""
    extended = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    name = path.name
    if extended in _NEEDS_WRITING:
        return NeedsWritingError(
            f"{name} was not closed properly and has to be opened for writing once.", path=path
        )
    if extended == sqlite3.SQLITE_READONLY_DBMOVED:
        return moved(path)
    match extended & _PRIMARY:
        case sqlite3.SQLITE_FULL:
            return DiskFullError(f"The disk is full: {name} could not be saved.", path=path)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED | sqlite3.SQLITE_PROTOCOL:
            return JournalBusyError(f"{name} is in use by another program.", path=path)
        case sqlite3.SQLITE_CORRUPT | sqlite3.SQLITE_NOTADB:
            # Files of other programs have been refused by their header before SQLite sees them.
            return JournalDamagedError(f"{name} is damaged. It has been left as it is.", path=path)
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return JournalReadOnlyError(f"{name} cannot be written.", path=path)
        case sqlite3.SQLITE_CANTOPEN:
            return JournalReadOnlyError(f"{name} cannot be opened.", path=path)
        case sqlite3.SQLITE_IOERR | sqlite3.SQLITE_NOLFS:
            return DiskError(f"The disk refused to read or write {name}.", path=path)
        case sqlite3.SQLITE_CONSTRAINT | sqlite3.SQLITE_TOOBIG:
            return _refused(error, path)
    return None


_DISK_FULL = (errno.ENOSPC, errno.EDQUOT)
_NOT_ALLOWED = (errno.EACCES, errno.EPERM, errno.EROFS)


def from_system(error: OSError, path: Path, what: str) -> JournalError:
    """The journal's error for one of the system's; ``what`` begins its sentence: what could not be done."""
    kinds = dict.fromkeys(_DISK_FULL, DiskFullError) | dict.fromkeys(_NOT_ALLOWED, JournalReadOnlyError)
    kind = kinds.get(error.errno or 0, DiskError)
    return kind(f"{what}: {error.strerror or error}.", path=path)


def _refused(error: sqlite3.Error, path: Path) -> RecordRefusedError:
    rule = _RULES.get(error.sqlite_errorcode, "check")
    # "UNIQUE constraint failed: batch.label", "cannot store TEXT value in REAL column egg.set_mass_g"
    where = str(error).rpartition(" column " if rule == "type" else "constraint failed: ")[2]
    where = where.removeprefix("index ").strip("'")
    return RecordRefusedError(_RULE_SENTENCES[rule].format(where=where), path=path, rule=rule, where=where)


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


@contextmanager
def storable(path: Path) -> Iterator[None]:
    """Turns what SQLite has no way to keep into a refusal: half of a character, a number beyond 64 bits."""
    try:
        yield
    except (UnicodeEncodeError, OverflowError) as error:
        where = "text" if isinstance(error, UnicodeEncodeError) else "number"
        raise RecordRefusedError(
            _RULE_SENTENCES["type"].format(where=where), path=path, rule="type", where=where
        ) from error
