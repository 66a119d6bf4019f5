"""What protects the file itself: the lock of its one writer, the look at its header, placing files whole."""

from __future__ import annotations

import os
import shutil
import threading
from collections import Counter
from pathlib import Path

from filelock import FileLock, Timeout

from hatchbook.journal.errors import (
    JournalBusyError,
    JournalMissingError,
    JournalReadOnlyError,
    JournalUnreadableError,
    NewerJournalError,
    NotAJournalError,
    moved,
)
from hatchbook.journal.schema import APPLICATION_ID

_HEADER = b"SQLite format 3\x00"
_VERSION_OFFSET = 60
_APPLICATION_ID_OFFSET = 68
_HEADER_SIZE = 100

#: What SQLite keeps beside a file that was not closed properly; without them the file may lack entries.
COMPANIONS = ("-wal", "-journal")
_SHARED_MEMORY = "-shm"


def real(path: Path) -> Path:
    """The file itself where its name only leads to it: two names of one journal must not be two journals."""
    return path.resolve() if path.is_symlink() else path


def lock_path(path: Path) -> Path:
    """The file whose lock says that a program writes the journal; it holds nothing."""
    return path.with_name(f".{path.name}.lock")


def locked(path: Path) -> FileLock:
    """The lock of a journal's one writer; the system frees it when the program ends, however it ends.

    Raises:
        JournalMissingError: there is no such folder.
        JournalBusyError: another program, or another window of this one, holds it.
        JournalReadOnlyError: the folder cannot be written.
    """
    if not path.parent.is_dir():  # the lock would make the folder
        raise JournalMissingError(f"There is no folder {path.parent}.", path=path)
    lock = FileLock(lock_path(path), timeout=0, thread_local=False)
    try:
        lock.acquire()
    except Timeout as error:
        raise JournalBusyError(
            f"{path.name} is open in another window or program. Close it there first.", path=path
        ) from error
    except OSError as error:
        raise JournalReadOnlyError(
            f"The folder of {path.name} cannot be written: {reason_of(error)}.", path=path
        ) from error
    return lock


def reason_of(error: OSError) -> str:
    """What the system says, without numbers and file names."""
    return error.strerror or str(error)


class OpenHere:
    """The files that this program has open as databases.

    Closing a plain handle of such a file would drop the locks that SQLite holds on it (a rule of POSIX), so its
    header is not read a second time that way.
    """

    def __init__(self) -> None:
        self._counts: Counter[tuple[int, int]] = Counter()
        self._guard = threading.Lock()

    def __contains__(self, path: Path) -> bool:
        with self._guard:
            return self._counts[_identity(path)] > 0

    def enter(self, path: Path) -> tuple[int, int]:
        """Notes a file as open; the key is for ``leave``."""
        identity = _identity(path)
        with self._guard:
            self._counts[identity] += 1
        return identity

    def leave(self, identity: tuple[int, int]) -> None:
        """Notes that a connection to it was closed."""
        with self._guard:
            self._counts[identity] -= 1


OPEN_HERE = OpenHere()


def _identity(path: Path) -> tuple[int, int]:
    status = path.stat()
    return status.st_dev, status.st_ino


def require_in_place(path: Path, identity: tuple[int, int]) -> None:
    """Stops before entries go into a file that no longer has its name: they would be lost with it.

    Raises:
        JournalMovedError: the file of that name is another one, or there is none.
    """
    try:
        in_place = _identity(path) == identity
    except FileNotFoundError:
        in_place = False
    except OSError:  # a drive that does not answer: SQLite will tell
        return
    if not in_place:
        raise moved(path)


def inspected_version(path: Path) -> int:
    """The format version of a journal file, read from its header without opening it as a database.

    Raises:
        JournalMissingError: there is no such file.
        NotAJournalError: it is not a journal.
        JournalUnreadableError: it may not be read.
    """
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_SIZE)
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError) as error:
        raise JournalMissingError(f"There is no journal {path.name}.", path=path) from error
    except OSError as error:
        raise JournalUnreadableError(f"{path.name} cannot be read: {reason_of(error)}.", path=path) from error
    marked = int.from_bytes(header[_APPLICATION_ID_OFFSET : _APPLICATION_ID_OFFSET + 4], "big")
    if len(header) < _HEADER_SIZE or not header.startswith(_HEADER) or marked != APPLICATION_ID:
        raise NotAJournalError(
            f"{path.name} is not a Hatchbook journal. It has been left untouched.", path=path
        )
    return int.from_bytes(header[_VERSION_OFFSET : _VERSION_OFFSET + 4], "big")


def refuse_newer(path: Path, version: int, newest: int) -> None:
    """Stops at a file of a later format than this program knows.

    Raises:
        NewerJournalError: it is.
    """
    if version > newest:
        raise NewerJournalError(
            f"{path.name} was written by a newer Hatchbook (format {version}; this one reads up to {newest}). "
            "It has been left untouched.",
            path=path,
            version=version,
        )


def beside(path: Path, suffix: str) -> Path:
    """The file that SQLite keeps beside a database under this suffix."""
    return path.with_name(path.name + suffix)


def is_left_open(path: Path) -> bool:
    """Whether something beside the file says that it was not closed properly, or is open right now."""
    return any(beside(path, suffix).exists() for suffix in COMPANIONS)


def remove_companions(path: Path) -> None:
    """Removes what SQLite keeps beside a file that is no longer there, or no longer the same."""
    for suffix in (*COMPANIONS, _SHARED_MEMORY):
        beside(path, suffix).unlink(missing_ok=True)


def set_log_aside(path: Path) -> None:
    """Takes the log of a file that went away from the name under which another file would be read with it."""
    log = beside(path, "-wal")
    if log.exists():
        log.replace(free_beside(path, " log"))
    beside(path, _SHARED_MEMORY).unlink(missing_ok=True)


def free_beside(path: Path, ending: str) -> Path:
    """A name beside a file that is not taken: with this ending, and a number where that is needed."""
    wanted, number = beside(path, ending), 2
    while wanted.exists():
        wanted, number = beside(path, f"{ending} ({number})"), number + 1
    return wanted


def place(draft: Path, path: Path) -> None:
    """Gives a finished draft its name, whole or not at all, and never in place of another file.

    Raises:
        FileExistsError: there is a file of that name.
        OSError: the folder cannot be written.
    """
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:
        # Some drives (FAT) know no second name for a file: take the name first, then fill it.
        with path.open("xb"):
            pass
        draft.replace(path)
    else:
        draft.unlink()
    sync_folder(path.parent)


def keep_copy(path: Path, copy: Path) -> None:
    """A second name for a file that is about to be replaced; a copy where the drive knows no second names.

    Raises:
        FileExistsError: there is a file of that name.
        OSError: the folder cannot be written, or the disk is full.
    """
    try:
        os.link(path, copy)
    except FileExistsError:
        raise
    except OSError:
        with path.open("rb") as source, copy.open("xb") as target:
            shutil.copyfileobj(source, target)
            target.flush()
            os.fsync(target.fileno())


def sync_file(path: Path) -> None:
    """Waits until a file is on the disk."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def sync_folder(folder: Path) -> None:
    """Waits until the names in a folder are on the disk, where the system can do that."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
