"""The open file: connection, lock, transactions and what every kind of record needs to read and write."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TypeVar

from filelock import FileLock, Timeout
from sqlite_utils import Database

from hatchbook.journal.errors import (
    JournalBusyError,
    JournalExistsError,
    JournalMissingError,
    JournalReadOnlyError,
    NewerJournalError,
    NotAJournalError,
    environment,
)
from hatchbook.journal.schema import APPLICATION_ID
from hatchbook.journal.table import Record, from_row, select_sql

R = TypeVar("R", bound=Record)

_HEADER = b"SQLite format 3\x00"
_APPLICATION_ID_OFFSET = 68
_BUSY_MS = 5_000


def lock_path(path: Path) -> Path:
    """The file whose lock says that a program writes the journal; it holds nothing."""
    return path.with_name(f".{path.name}.lock")


class Store:
    """One connection to a journal file.

    A writing store holds the file's lock until it is closed, so that a second program gets a clear message. A
    ``second`` store is a further connection of the same program, for another thread.
    """

    def __init__(self, path: Path, *, read_only: bool = False, lock: FileLock | None = None) -> None:
        self.path = path
        self.read_only = read_only
        self._lock = lock
        self._depth = 0
        with environment(path):
            target = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rw'}"
            self.connection = sqlite3.connect(target, uri=True, isolation_level=None, timeout=_BUSY_MS / 1000)
            try:
                self.database = Database(self.connection, strict=True, execute_plugins=False)
                self._prepare()
            except BaseException:
                self.connection.close()
                raise

    def _prepare(self) -> None:
        self.connection.execute("PRAGMA foreign_keys = ON")
        # A crash of the machine must not take back what the screen has shown as entered.
        self.connection.execute("PRAGMA synchronous = FULL")

    def require_sound(self) -> None:
        """Reads the first pages of the file.

        Raises:
            JournalDamagedError: they cannot be read.
        """
        self.rows("SELECT count(*) FROM sqlite_schema")
        self.rows("SELECT key FROM setting LIMIT 1")

    def keep_log(self) -> None:
        """Writes through a log beside the file while it is open: one disk flush an entry, readers never wait.

        Called once the file has its tables: its header must tell what it is even after a crash.
        """
        if not self.read_only:
            with environment(self.path):
                self.connection.execute("PRAGMA journal_mode = WAL")

    @classmethod
    def create(cls, path: Path) -> Store:
        """An empty file, marked as a journal, locked for this program.

        Raises:
            JournalExistsError: there is a file of that name.
            JournalReadOnlyError: the folder cannot be written.
        """
        lock = _locked(path)
        try:
            try:
                with path.open("xb"):
                    pass
            except FileExistsError as error:
                raise JournalExistsError(f"{path.name} is there already.", path=path) from error
            except OSError as error:
                raise JournalReadOnlyError(f"{path.name} cannot be created: {error}.", path=path) from error
            store = cls(path, lock=lock)
            with environment(path):
                store.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        except BaseException:
            _unlock(lock)
            raise
        return store

    @classmethod
    def open(cls, path: Path, *, read_only: bool, newest_version: int) -> Store:
        """The store of an existing journal.

        Raises:
            JournalMissingError, NotAJournalError, NewerJournalError: the file is left untouched.
            JournalBusyError: another program writes it.
        """
        if not path.is_file():
            raise JournalMissingError(f"There is no journal {path.name}.", path=path)
        # The lock first: reading the header and closing it again would drop SQLite's own locks on a file that
        # this program has open already.
        lock = None if read_only else _locked(path)
        try:
            _refuse_newer(path, inspected_version(path), newest_version)
            store = cls(path, read_only=read_only, lock=lock)
            # A log left by a crash may hold a later version than the header.
            _refuse_newer(path, store.version, newest_version)
        except BaseException:
            _unlock(lock)
            raise
        return store

    @property
    def version(self) -> int:
        """The format version of the file."""
        row = self.one("PRAGMA user_version")
        return int(row[0]) if row else 0

    def second(self, *, read_only: bool) -> Store:
        """A further connection of this program to the same file, to be used and closed by one other thread."""
        return Store(self.path, read_only=read_only or self.read_only)

    def close(self) -> None:
        """Folds the log back into the one file and gives the lock back; may be called twice."""
        try:
            if self._lock is not None:
                self._fold_log()
            self.connection.close()
        finally:
            _unlock(self._lock)
            self._lock = None

    def _fold_log(self) -> None:
        """Makes the file a single one again, that can be read from a read-only place."""
        try:
            self.connection.execute("PRAGMA journal_mode = DELETE")
        except sqlite3.OperationalError as error:
            # Another connection still reads: the log then stays, which SQLite can read as well.
            if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                raise

    # ---------------------------------------------------------------- reading

    def rows(self, sql: str, parameters: Sequence[object] | dict[str, object] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query."""
        with environment(self.path):
            return self.connection.execute(sql, parameters).fetchall()

    def one(self, sql: str, parameters: Sequence[object] = ()) -> tuple[Any, ...] | None:
        """The first row of a query, or None."""
        with environment(self.path):
            row: tuple[Any, ...] | None = self.connection.execute(sql, parameters).fetchone()
            return row

    def records(
        self, record_class: type[R], condition: str = "", parameters: Sequence[object] = (), order: str = ""
    ) -> list[R]:
        """The records of a class that meet a condition."""
        rows = self.rows(select_sql(record_class, condition, order), parameters)
        return [from_row(record_class, row) for row in rows]

    # ---------------------------------------------------------------- writing

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All or nothing; begins as a writer, so that what is read inside is not changed under it.

        Nested transactions belong to the outermost.
        """
        if self.read_only:
            raise JournalReadOnlyError(f"{self.path.name} is opened for reading only.", path=self.path)
        if self._depth:
            self._depth += 1
            try:
                yield
            finally:
                self._depth -= 1
            return
        with environment(self.path):
            self.connection.execute("BEGIN IMMEDIATE")
            self._depth = 1
            try:
                yield
                self.connection.execute("COMMIT")
            except BaseException:
                # SQLite has rolled back by itself after some errors (disk full).
                if self.connection.in_transaction:
                    self.connection.execute("ROLLBACK")
                raise
            finally:
                self._depth = 0


def inspected_version(path: Path) -> int:
    """The format version of a journal file, read from its header without opening it as a database.

    Raises:
        JournalMissingError: there is no such file.
        NotAJournalError: it is not a journal.
        JournalReadOnlyError: it may not be read.
    """
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError) as error:
        raise JournalMissingError(f"There is no journal {path.name}.", path=path) from error
    except OSError as error:
        raise JournalReadOnlyError(f"{path.name} cannot be read: {error}.", path=path) from error
    marked = int.from_bytes(header[_APPLICATION_ID_OFFSET : _APPLICATION_ID_OFFSET + 4], "big")
    if len(header) < 100 or not header.startswith(_HEADER) or marked != APPLICATION_ID:
        raise NotAJournalError(
            f"{path.name} is not a Hatchbook journal. It has been left untouched.", path=path
        )
    return int.from_bytes(header[60:64], "big")


def _locked(path: Path) -> FileLock:
    lock = FileLock(lock_path(path), timeout=0)
    try:
        lock.acquire()
    except Timeout as error:
        raise JournalBusyError(
            f"{path.name} is open in another window or program. Close it there first.", path=path
        ) from error
    except OSError as error:
        raise JournalReadOnlyError(
            f"The folder of {path.name} cannot be written: {error}.", path=path
        ) from error
    return lock


def _unlock(lock: FileLock | None) -> None:
    if lock is not None:
        lock.release()


def _refuse_newer(path: Path, version: int, newest: int) -> None:
    if version > newest:
        raise NewerJournalError(
            f"{path.name} was written by a newer Hatchbook (format {version}; this one reads up to {newest}). "
            "It has been left untouched.",
            path=path,
            version=version,
        )
