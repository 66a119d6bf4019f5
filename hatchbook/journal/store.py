"""The open file: connection, lock, transactions and what every kind of record needs to read and write."""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from filelock import FileLock

from hatchbook.journal import guard
from hatchbook.journal.errors import (
    DiskError,
    DiskFullError,
    JournalBusyError,
    JournalDamagedError,
    JournalExistsError,
    JournalMissingError,
    JournalMovedError,
    JournalReadOnlyError,
    environment,
    from_system,
    storable,
)
from hatchbook.journal.schema import APPLICATION_ID
from hatchbook.journal.table import Record, from_row, select_sql

if TYPE_CHECKING:
    from sqlite_utils import Database

R = TypeVar("R", bound=Record)

_BUSY_MS = 5_000
#: Up to this size a whole file is looked through when it is opened; of a larger one all but the readings.
_CHECKED_WHOLE_BYTES = 4 * 2**20
_LARGE_TABLES = frozenset({"reading", "import_reject", "history_change"})
#: What SQLite's look through a file says of an entry that does not fit; all else tells of damage.
MISFITS = ("CHECK constraint failed", "NULL value in", "non-", "NUMERIC value", "TEXT value")


class Store:
    """One connection to a journal file.

    A writing store holds the file's lock until it is closed, so that a second program gets a clear message. A
    ``second`` store is a further connection of the same program, for another thread.
    """

    def __init__(self, path: Path, *, mode: str = "rw", lock: FileLock | None = None) -> None:
        self.path = path
        self._file = path  # which a draft has as well, before it gets its name
        self.read_only = mode == "ro"
        self._lock = lock
        self._in_transaction = False
        with environment(path):
            target = f"{path.absolute().as_uri()}?mode={mode}"
            self.connection = sqlite3.connect(target, uri=True, isolation_level=None, timeout=_BUSY_MS / 1000)
            try:
                self._prepare()
                self._identity: tuple[int, int] | None = guard.OPEN_HERE.enter(path)
            except BaseException:
                self.connection.close()
                raise

    def _prepare(self) -> None:
        self.connection.execute("PRAGMA foreign_keys = ON")
        # A crash of the machine must not take back what the screen has shown as entered.
        self.connection.execute("PRAGMA synchronous = FULL")

    @property
    def database(self) -> Database:
        """The connection with sqlite-utils around it: to look at tables, and to change them in a migration."""
        # Slow to import, and slower yet where pandas is installed: not before it is needed.
        from sqlite_utils import Database

        return Database(self.connection, strict=True, execute_plugins=False)

    # ---------------------------------------------------------------- opening and closing

    @classmethod
    def create(cls, path: Path, build: Callable[[Store], object]) -> Store:
        """A new journal file, locked for this program; it gets its name only when ``build`` has filled it.

        Raises:
            JournalExistsError: there is a file of that name.
            JournalMissingError: there is no such folder.
            JournalReadOnlyError: the folder cannot be written.
        """
        lock = guard.locked(path)
        draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
        try:
            if path.exists():
                raise JournalExistsError(f"{path.name} is there already.", path=path)
            try:
                cls._draw_up(draft, path, build)
                guard.place(draft, path)
            except FileExistsError as error:
                raise JournalExistsError(f"{path.name} is there already.", path=path) from error
            except OSError as error:
                raise from_system(error, path, f"{path.name} cannot be created") from error
            finally:
                draft.unlink(missing_ok=True)
                guard.remove_companions(draft)
            return cls(path, lock=lock)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def _draw_up(cls, draft: Path, path: Path, build: Callable[[Store], object]) -> None:
        store = cls(draft, mode="rwc")
        store.path = path  # by which errors name it
        try:
            with environment(path):
                store.connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            build(store)
        finally:
            store.abandon()

    @classmethod
    def open(cls, path: Path, *, read_only: bool, newest_version: int, look_through: bool = True) -> Store:
        """The store of an existing journal; a file that cannot be opened is left untouched.

        Args:
            path: the file.
            read_only: without a lock, and without changing anything.
            newest_version: the latest format that is understood.
            look_through: see ``require_sound``; else only its header and its list of tables are read.

        Raises:
            JournalMissingError, NotAJournalError, NewerJournalError, JournalDamagedError: as they say.
            JournalBusyError: another program writes it.
            JournalReadOnlyError: its folder cannot be written.
        """
        path = guard.real(path)
        if not path.is_file():
            raise JournalMissingError(f"There is no journal {path.name}.", path=path)
        lock = None if read_only else guard.locked(path)
        try:
            if path not in guard.OPEN_HERE:
                guard.refuse_newer(path, guard.inspected_version(path), newest_version)
            if not read_only and guard.beside(path, "-wal").exists():
                # What a crash left beside the file may tell another version, and opening for writing would
                # fold it in: look first.
                cls(path, mode="ro")._looked_at(newest_version, look_through).abandon()
            store = cls(path, mode="ro" if read_only else "rw", lock=lock)
            return store._looked_at(newest_version, look_through)
        except BaseException:
            if lock is not None:
                lock.release()
            raise

    def _looked_at(self, newest_version: int, look_through: bool) -> Store:
        """Itself, if it can be worked with; else it is closed."""
        try:
            guard.refuse_newer(self.path, self.version, newest_version)
            row = self.one("SELECT count(*) FROM sqlite_schema WHERE name IN ('setting', 'history_step')")
            if row is None or row[0] < 2:
                raise self._damaged("a table is missing")
            if look_through:
                self.require_sound(*self._look_through())
        except BaseException:
            self.abandon()
            raise
        return self

    def _look_through(self) -> list[str]:
        """How to look through the file without delay: all of it up to a size, else all but the readings."""
        if self.path.stat().st_size <= _CHECKED_WHOLE_BYTES:
            return ["PRAGMA quick_check"]
        tables = self.rows("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
        return [
            f"PRAGMA quick_check('{name}')"
            for (name,) in tables
            if name not in _LARGE_TABLES and not name.startswith("sqlite_")
        ]

    def require_sound(self, *checks: str) -> None:
        """Looks through the file by SQLite's own checks.

        Raises:
            JournalDamagedError: it is damaged; an entry that does not fit is not meant.
        """
        for check in checks:
            for (text,) in self.rows(check):
                if text != "ok" and not text.startswith(MISFITS):
                    raise self._damaged(text)

    def _damaged(self, found: str) -> JournalDamagedError:
        return JournalDamagedError(
            f"{self.path.name} is damaged. It has been left as it is.", path=self.path, found=found
        )

    def keep_log(self) -> None:
        """Writes through a log beside the file while it is open: one disk flush an entry, readers never wait.

        Called once the file has its tables: its header must tell what it is even after a crash.
        """
        if not self.read_only:
            with environment(self.path):
                self.connection.execute("PRAGMA journal_mode = WAL")

    @property
    def version(self) -> int:
        """The format version of the file."""
        row = self.one("PRAGMA user_version")
        return int(row[0]) if row else 0

    def second(self, *, read_only: bool) -> Store:
        """A further connection of this program to the same file, to be used and closed by one other thread."""
        return Store(self.path, mode="ro" if read_only or self.read_only else "rw")

    def looking(self) -> Store:
        """A further connection that could write and never does: SQLite then tests the ranges of values, too."""
        store = Store(self.path)
        store.read_only = True
        store.connection.execute("PRAGMA query_only = ON")
        return store

    def close(self) -> None:
        """Folds the log back into the one file and gives the lock back; may be called twice.

        Raises:
            JournalMovedError: the file was moved, deleted or replaced meanwhile; its log was put aside.
        """
        try:
            if self._lock is not None:
                self._fold_log()
        except JournalMovedError:
            self.abandon()
            # SQLite would take the log for one of whatever has the name now.
            guard.set_log_aside(self.path)
            raise
        finally:
            self.abandon()

    def abandon(self) -> None:
        """Closes the file as it is and gives the lock back."""
        try:
            self.connection.close()
        finally:
            if self._identity is not None:
                guard.OPEN_HERE.leave(self._identity)
                self._identity = None
            if self._lock is not None:
                self._lock.release()
                self._lock = None

    def _fold_log(self) -> None:
        """Makes the file a single one again, that can be read from a read-only place."""
        try:
            with environment(self.path):
                self.connection.execute("PRAGMA journal_mode = DELETE")
        except JournalBusyError:
            # Another connection still reads: the log then stays, and the next one to open the file folds it in.
            pass
        except (DiskFullError, DiskError) as error:
            raise type(error)(
                f"Everything is stored, but the disk has no room to close {self.path.name} properly: "
                f"it needs {guard.beside(self.path, '-wal').name} beside it until it is opened again.",
                path=self.path,
            ) from error

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

        Raises:
            JournalMovedError: the file was moved, deleted or replaced meanwhile.
            RuntimeError: one is running already: its parts could not be taken back one by one.
        """
        if self.read_only:
            raise JournalReadOnlyError(f"{self.path.name} is opened for reading only.", path=self.path)
        if self._in_transaction:
            raise RuntimeError("a transaction is running already")
        if self._identity is not None:
            guard.require_in_place(self._file, self._identity)
        with environment(self.path):
            self.connection.execute("BEGIN IMMEDIATE")
            self._in_transaction = True
            try:
                yield
                self.connection.execute("COMMIT")
            except BaseException:
                # SQLite has rolled back by itself after some errors (disk full).
                if self.connection.in_transaction:
                    self.connection.execute("ROLLBACK")
                raise
            finally:
                self._in_transaction = False

    def write(self, sql: str, parameters: Sequence[object] = ()) -> sqlite3.Cursor:
        """Runs a changing statement within the running transaction."""
        self._require_transaction()
        with environment(self.path), storable(self.path):
            return self.connection.execute(sql, parameters)

    def write_many(self, sql: str, rows: Iterable[Sequence[object]]) -> None:
        """Runs a changing statement for each of many rows within the running transaction."""
        self._require_transaction()
        with environment(self.path), storable(self.path):
            self.connection.executemany(sql, rows)

    def _require_transaction(self) -> None:
        # After a full disk SQLite ends the transaction itself: what came later would be stored alone.
        if not self.connection.in_transaction:
            raise RuntimeError("a journal is changed within a transaction only")
