"""Backups of a journal: a folder beside it with whole journal files, thinned by age; and the way back.

``My hens.hatchbook`` is backed up as ``My hens backups/My hens 2026-05-14 1402.hatchbook``, the time in UTC. A
backup is a journal like any other. What was made before a migration or a restore says so in its name
(``… 1402 before_migration.hatchbook``) and is not thinned out.
"""

from __future__ import annotations

import secrets
import sqlite3
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from hatchbook.journal import guard, migrations
from hatchbook.journal.backup_files import BackupFile, files, free_name
from hatchbook.journal.errors import (
    BackupError,
    JournalBusyError,
    JournalError,
    environment,
    from_system,
)
from hatchbook.journal.history import StepInfo, newest_step
from hatchbook.journal.settings import is_demo
from hatchbook.journal.store import Store
from hatchbook.journal.thinning import thin

#: While a journal is open and changes, a backup is due after so long.
INTERVAL_S = 30 * 60

_DRAFT_ENDING = ".partial"
_PATIENCE_S = 10.0
_ONE_AT_A_TIME = threading.Lock()


@dataclass(frozen=True)
class BackupInfo:
    """What a backup holds: how many batches (those of past seasons too), eggs and readings; its latest step.

    ``at`` is its instant to the minute, UTC seconds; ``reason`` is ``before_migration``, ``before_restore`` or
    None; ``trouble`` is why it cannot be read, and its counts are then 0.
    """

    path: Path
    at: int
    reason: str | None
    size_bytes: int
    batches: int = 0
    eggs: int = 0
    readings: int = 0
    last_step: StepInfo | None = None
    trouble: JournalError | None = None


# -------------------------------------------------------------------- making


def make(store: Store, now: float, *, reason: str) -> Path | None:
    """Backs a journal up beside it and thins the older backups out.

    Args:
        store: an open connection to it, outside a transaction.
        now: the present instant, UTC seconds.
        reason: ``closed``, ``interval``, ``asked`` or ``before_migration``; the last is made in any case.

    Returns:
        The new backup; None where nothing has changed since the latest one, where nothing was ever entered, and
        for the demo.

    Raises:
        BackupError: it could not be made; the journal and the earlier backups are as they were.
    """
    with _ONE_AT_A_TIME:
        with _as_backup_error(store.path):
            if is_demo(store):
                return None
            present = files(store.path)
            if reason != "before_migration" and not _has_changed(store, present):
                return None
            made = _copied(store, free_name(store.path, int(now), reason, present))
        _thin_out(store.path, int(now), made)
        return made


def is_due(path: Path, now: float) -> bool:
    """Whether the latest backup is so old that another is due if something has changed.

    Raises:
        BackupError: the folder of the backups cannot be read.
    """
    with _as_backup_error(path):
        present = files(path)
        return not present or not 0 <= now - present[-1].at < INTERVAL_S


def _has_changed(store: Store, present: list[BackupFile]) -> bool:
    """Whether history differs from the latest backup's: every change of a record is in it."""
    own = _state(store)
    if own is None:
        return False
    # What a restore has put aside is not what the journal grew from.
    grown_from = [backup for backup in present if backup.reason != "before_restore"]
    if not grown_from:
        return True
    try:
        with _opened(grown_from[-1].path, store.version) as latest:
            return _state(latest) != own
    except JournalError:  # it has become unreadable: a new one is wanted all the more
        return True


def _state(store: Store) -> tuple[object, ...] | None:
    """What tells two states of a journal apart; None where nothing was ever entered."""
    newest = newest_step(store)
    if newest is None:
        return None
    counts = store.rows("SELECT state, count(*) FROM history_step GROUP BY state ORDER BY state")
    return store.version, newest.number, newest.uid, tuple(counts)


def _copied(store: Store, name: Path) -> Path:
    folder = name.parent
    folder.mkdir(exist_ok=True)
    for left in folder.glob(f".*{_DRAFT_ENDING}*"):  # by a crash: nobody else writes here
        left.unlink()
    draft = folder / f".{secrets.token_hex(4)}{_DRAFT_ENDING}"
    try:
        _copy_database(store, draft)
        _require_sound(draft, store.version)
        draft.rename(name)
        guard.sync_folder(folder)
    finally:
        draft.unlink(missing_ok=True)
    return name


def _thin_out(path: Path, now: int, made: Path) -> None:
    try:
        aging = [backup for backup in files(path) if backup.reason is None]
        drop = set(thin([backup.at for backup in aging], now).drop)
        for backup in aging:
            if backup.at in drop and backup.path != made:
                backup.path.unlink()
    except OSError as error:
        raise BackupError(
            f"{path.name} is backed up, but older backups could not be removed: {guard.reason_of(error)}.",
            path=path,
            made=made,
        ) from error


# -------------------------------------------------------------------- looking, and going back


def list_backups(path: Path) -> list[BackupInfo]:
    """The backups of a journal and what each holds, newest first; each is opened for reading.

    Raises:
        BackupError: their folder cannot be read.
    """
    with _as_backup_error(path):
        return [_looked_into(backup) for backup in reversed(files(path))]


def latest_good(path: Path) -> Path | None:
    """The latest backup that is sound through and through, or None: the way back from a damaged file.

    Raises:
        BackupError: their folder cannot be read.
    """
    with _as_backup_error(path):
        for backup in reversed(files(path)):
            try:
                _require_sound(backup.path, thorough=True)
            except JournalError:
                continue
            return backup.path
    return None


def restore(path: Path, backup: Path, *, now: float | None = None) -> Path | None:
    """Puts a backup in the place of a journal that is closed; the file that was there is put aside first.

    Args:
        path: the journal.
        backup: a backup of it, which stays as it is.
        now: the present instant, UTC seconds, for the name of what is put aside.

    Returns:
        Where the file that was there is now: among the backups, as ``before_restore``; None if there was none.

    Raises:
        JournalBusyError: the journal is open.
        NotAJournalError, NewerJournalError, JournalDamagedError: about the backup; nothing was changed.
        JournalError: the disk is full or the folder cannot be written; the journal is where it was.
    """
    path = guard.real(path)
    lock = guard.locked(path)
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}{_DRAFT_ENDING}")
    try:
        _require_sound(backup, thorough=True)
        with _opened(backup) as store:
            _copy_database(store, draft)
        aside = _put_aside(path, int(time.time() if now is None else now))
        guard.remove_companions(path)
        draft.replace(path)
        guard.sync_folder(path.parent)
        return aside
    except OSError as error:
        raise from_system(
            error, path, f"{backup.name} could not be put in the place of {path.name}"
        ) from error
    finally:
        draft.unlink(missing_ok=True)
        lock.release()


def _put_aside(path: Path, now: int) -> Path | None:
    if not path.exists():
        return None
    aside = free_name(path, now, "before_restore", files(path))
    aside.parent.mkdir(exist_ok=True)
    # What a crash left beside the file belongs to it; first, so that the file is never there without.
    for suffix in guard.COMPANIONS:
        if guard.beside(path, suffix).exists():
            guard.keep_copy(guard.beside(path, suffix), guard.beside(aside, suffix))
    guard.keep_copy(path, aside)
    guard.sync_folder(aside.parent)
    return aside


def _looked_into(backup: BackupFile) -> BackupInfo:
    size = backup.path.stat().st_size
    try:
        with _opened(backup.path) as store:
            row = store.one(
                "SELECT (SELECT count(*) FROM batch) + (SELECT count(*) FROM past_batch), "
                "(SELECT count(*) FROM egg), (SELECT count(*) FROM reading)"
            )
            batches, eggs, readings = row or (0, 0, 0)
            last = newest_step(store, done=True)
    except JournalError as trouble:
        return BackupInfo(backup.path, backup.at, backup.reason, size, trouble=trouble)
    return BackupInfo(backup.path, backup.at, backup.reason, size, batches, eggs, readings, last)


# -------------------------------------------------------------------- copying and checking


def _copy_database(store: Store, target: Path) -> None:
    """Copies a database into one whole file through SQLite, while others may read and write it."""
    began = time.monotonic()

    def wait(status: int, _remaining: int, _total: int) -> None:
        # Left alone, Python would try for ever.
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and time.monotonic() - began > _PATIENCE_S:
            raise JournalBusyError(f"{store.path.name} is in use by another program.", path=store.path)

    with environment(store.path), closing(sqlite3.connect(target, isolation_level=None)) as copy:
        # Until it is whole and on the disk the copy does not have its name, so it needs no log of its own.
        copy.execute("PRAGMA journal_mode = OFF")
        copy.execute("PRAGMA synchronous = OFF")
        store.connection.backup(copy, progress=wait)
        copy.execute("PRAGMA journal_mode = DELETE")
    guard.sync_file(target)


def _require_sound(path: Path, version: int | None = None, *, thorough: bool = False) -> None:
    """Looks through a whole file.

    Raises:
        NotAJournalError, NewerJournalError, JournalDamagedError: as they say.
    """
    check = "integrity_check" if thorough else "quick_check"
    with _opened(path, version) as store:
        store.require_sound(f"PRAGMA {check}")


@contextmanager
def _opened(path: Path, version: int | None = None) -> Iterator[Store]:
    newest = max(version or 0, migrations.newest())
    with closing(Store.open(path, read_only=True, newest_version=newest, look_through=False)) as store:
        yield store


@contextmanager
def _as_backup_error(path: Path) -> Iterator[None]:
    try:
        yield
    except JournalError as error:
        raise _backup_error(path, error) from error
    except OSError as error:
        raise _backup_error(path, from_system(error, path, f"{path.name} could not be backed up")) from error


_CAUSES = {
    "disk_full": "the disk is full",
    "read_only": "the folder of the backups cannot be written",
    "disk": "the disk refused to read or write",
    "busy": "another program is using the journal",
    "damaged": "the copy is not sound, so the journal itself may be damaged. Earlier backups are kept",
}


def _backup_error(path: Path, cause: JournalError) -> BackupError:
    why = _CAUSES.get(cause.code, str(cause).rstrip("."))
    return BackupError(f"No backup of {path.name} could be made: {why}.", path=path, cause=cause.code)
