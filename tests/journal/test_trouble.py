"""What stands in the way from outside: full disks, other programs, folders that cannot be written."""

from __future__ import annotations

import errno
import os
import sqlite3
import subprocess
import sys
import textwrap
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    BackupError,
    DiskFullError,
    Event,
    Journal,
    JournalBusyError,
    JournalDamagedError,
    JournalMovedError,
    Machine,
    backups,
)
from hatchbook.journal.backup_files import files, folder_of
from hatchbook.trade.codes import EventKind

Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]
SET_AT = 1_776_708_000


def limit_pages(journal: Journal, more: int) -> None:
    """The file may grow by so many pages: beyond, SQLite says that the disk is full."""
    connection = journal._store.connection
    (count,) = connection.execute("PRAGMA page_count").fetchone()
    connection.execute(f"PRAGMA max_page_count = {count + more}")


# ------------------------------------------------------------------ a file that goes away


WINDOWS = pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")


def delete(path: Path) -> None:
    path.unlink()


def rename(path: Path) -> None:
    path.rename(path.with_name("elsewhere.hatchbook"))


def replace_it(path: Path) -> None:
    """As a program does that keeps two computers alike."""
    other = path.with_name("other.hatchbook")
    Journal.create(other).close()
    other.replace(path)


@WINDOWS
@pytest.mark.parametrize("take_away", [delete, rename, replace_it])
def test_a_file_that_goes_away_takes_no_more_entries_and_what_was_stored_is_in_its_backup(
    filled: SimpleNamespace, path: Path, take_away: Callable[[Path], None]
) -> None:
    journal = filled.journal
    journal.machines.add(Machine("In time", 2, 2))
    take_away(path)
    with pytest.raises(JournalMovedError, match="moved, deleted or replaced"):
        journal.machines.add(Machine("Late", 2, 2))
    with pytest.raises(JournalMovedError):
        journal.close()
    good = backups.latest_good(path)
    assert good is not None
    backups.restore(path, good)
    with Journal.open(path) as again:
        names = {machine.name for machine in again.machines.all()}
    assert "In time" in names
    assert "Late" not in names


@WINDOWS
def test_the_log_of_a_file_that_went_away_is_not_mixed_into_the_one_in_its_place(
    filled: SimpleNamespace, path: Path
) -> None:
    journal = filled.journal
    journal.machines.add(Machine("In time", 2, 2))
    replace_it(path)
    before = path.read_bytes()
    with pytest.raises(JournalMovedError):
        journal.close()
    assert path.read_bytes() == before
    assert not path.with_name(f"{path.name}-wal").exists()
    with Journal.open(path) as other:
        assert other.machines.all() == []
        assert other.check().problems == ()


# ------------------------------------------------------------------ a full disk


def test_on_a_full_disk_nothing_of_a_step_is_stored_and_work_goes_on_later(
    filled: SimpleNamespace, contents: Contents
) -> None:
    journal = filled.journal
    before = contents(journal), journal.history.steps()
    limit_pages(journal, 2)

    def write_much() -> None:
        with journal.step("many") as step:
            for number in range(500):
                step.add(Event(SET_AT + number, EventKind.NOTE, filled.machine.uid, text="x" * 200))

    with pytest.raises(DiskFullError, match="The disk is full"):
        write_much()
    assert (contents(journal), journal.history.steps()) == before
    limit_pages(journal, 10_000)
    write_much()
    assert journal.check().sound


def test_what_goes_on_after_a_full_disk_is_not_stored_alone(
    filled: SimpleNamespace, contents: Contents
) -> None:
    """SQLite may end the transaction itself; later statements would then stand outside any."""
    journal = filled.journal
    before = contents(journal)

    def go_on() -> None:
        with journal.step("many") as step:
            journal._store.connection.execute("ROLLBACK")  # as SQLite does it
            step.add(Machine("Third", 1, 1))

    with pytest.raises(RuntimeError, match="within a transaction"):
        go_on()
    assert contents(journal) == before


def test_an_import_on_a_full_disk_leaves_nothing(
    filled: SimpleNamespace, contents: Contents, readings_of: Callable[..., Any]
) -> None:
    journal = filled.journal
    before = contents(journal)
    limit_pages(journal, 100)
    with pytest.raises(DiskFullError):
        journal.imports.bring_in(filled.probe, readings_of(SET_AT + 10**7, 100_000), SET_AT)
    assert contents(journal) == before
    assert journal.check().sound


FULL_DISK = """
    import sys
    from pathlib import Path
    from hatchbook.journal import BackupError, DiskFullError, Event, Journal, Machine
    from hatchbook.trade.codes import EventKind

    path = Path(sys.argv[1]) / "My hens.hatchbook"
    journal = Journal.create(path)
    machine = Machine("Blue one", 2, 4)
    journal.machines.add(machine)
    stored = []
    try:
        while True:
            event = Event(len(stored), EventKind.NOTE, machine.uid, text="x" * 2000)
            journal.events.add(event)
            stored.append(event)
    except DiskFullError as error:
        print(error)
    assert journal.events.all() == stored
    assert journal.check().sound
    try:
        journal.close()
    except (BackupError, DiskFullError) as error:
        print(type(error).__name__, error)
        for note in error.__notes__:
            print(note)
    with Journal.open(path, read_only=True) as journal:
        assert journal.events.all() == stored
    try:
        Journal.create(path.with_name("Other.hatchbook"))
    except DiskFullError as error:
        print(error)
    beside = (".lock", "-wal", "-shm")
    print(sorted(entry.name for entry in path.parent.iterdir() if not entry.name.endswith(beside)))
"""


def test_on_a_disk_that_is_really_full(tmp_path: Path) -> None:
    """A disk of one megabyte in memory, mounted for one process alone."""
    program = tmp_path / "program.py"
    program.write_text(textwrap.dedent(FULL_DISK))
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = [
        "unshare",
        "--map-root-user",
        "--mount",
        "sh",
        "-c",
        'mount -t tmpfs -o size=1m none "$1" || exit 99',
    ]
    try:
        allowed = subprocess.run([*mount, "sh", disk], capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        allowed = False
    if not allowed:
        pytest.skip("this system does not let a process mount a disk of its own")
    mount[-1] += '; exec "$2" "$3" "$1"'
    run = subprocess.run(
        [*mount, "sh", disk, sys.executable, program], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    first, backup, note, other, left = run.stdout.splitlines()
    assert first == "The disk is full: My hens.hatchbook could not be saved."
    assert backup.startswith("BackupError No backup of My hens.hatchbook could be made: the disk is full")
    assert note.startswith(
        "Everything is stored, but the disk has no room to close My hens.hatchbook properly"
    )
    assert other.startswith(
        ("The disk is full: Other.hatchbook", "Other.hatchbook cannot be created: No space")
    )
    assert left == "['My hens backups', 'My hens.hatchbook']"


# ------------------------------------------------------------------ other programs


def test_a_file_that_another_program_locks_is_busy(filled: SimpleNamespace, contents: Contents) -> None:
    journal = filled.journal
    journal._store.connection.execute("PRAGMA busy_timeout = 50")
    before = contents(journal)
    with closing(sqlite3.connect(journal.path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalBusyError, match="in use by another program"):
            journal.machines.add(Machine("Third", 1, 1))
        with pytest.raises(JournalBusyError):
            journal.undo()
        assert contents(journal) == before  # reading goes on
        other.execute("ROLLBACK")
    journal.machines.add(Machine("Third", 1, 1))


def test_a_backup_gives_up_on_a_file_that_stays_locked(
    filled: SimpleNamespace, monkeypatch: Any, path: Path
) -> None:
    filled.journal._backs_up_on_close = False
    filled.journal.close()
    monkeypatch.setattr(backups, "_PATIENCE_S", 0.1)
    with Journal.open(path) as journal:
        journal._backs_up_on_close = False
        journal._store.connection.execute("PRAGMA journal_mode = DELETE")
        journal._store.connection.execute("PRAGMA busy_timeout = 50")
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN EXCLUSIVE")
            with pytest.raises(BackupError, match="another program is using the journal") as error:
                journal.back_up()
            other.execute("ROLLBACK")
        assert error.value.fields["cause"] == "busy"
        assert journal.back_up() is not None


# ------------------------------------------------------------------ backups that cannot be made


def test_a_backup_folder_that_cannot_be_written_does_not_keep_the_journal_from_closing(
    filled: SimpleNamespace, contents: Contents, as_ordinary_user: Any
) -> None:
    journal, path = filled.journal, filled.journal.path
    held = contents(journal)
    folder_of(path).mkdir()
    folder_of(path).chmod(0o555)
    with as_ordinary_user():
        with pytest.raises(BackupError, match="the folder of the backups cannot be written") as error:
            journal.close()
        with Journal.open(path, read_only=True) as again:
            assert contents(again) == held
    assert error.value.fields["cause"] == "read_only"
    folder_of(path).chmod(0o755)
    with Journal.open(path) as again:
        assert again.back_up() is not None


def test_a_file_where_the_folder_should_be_is_told(filled: SimpleNamespace, path: Path) -> None:
    folder_of(path).write_text("mine")
    with pytest.raises(BackupError, match=r"No backup of My hens\.hatchbook could be made"):
        filled.journal.back_up()
    assert folder_of(path).read_text() == "mine"
    folder_of(path).unlink()


def test_a_failed_backup_is_not_tried_again_each_minute(
    filled: SimpleNamespace, path: Path, clock: Any
) -> None:
    folder_of(path).write_text("mine")
    with pytest.raises(BackupError):
        filled.journal.back_up_if_due()
    for _ in range(29):
        clock.now += 60
        assert filled.journal.back_up_if_due() is None
    clock.now += 60
    with pytest.raises(BackupError):
        filled.journal.back_up_if_due()
    folder_of(path).unlink()


def test_a_rename_that_fails_leaves_no_half_backup(
    filled: SimpleNamespace, path: Path, monkeypatch: Any
) -> None:
    def refuse(self: Path, target: Path) -> Path:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", refuse)
        with pytest.raises(BackupError, match="the disk refused") as error:
            filled.journal.back_up()
    assert error.value.fields["cause"] == "disk"
    assert list(folder_of(path).iterdir()) == []


def test_old_backups_that_cannot_be_removed_are_told_and_the_new_one_stays(
    journal: Journal, path: Path, clock: Any, monkeypatch: Any
) -> None:
    for days in (40, 39):
        clock.now = SET_AT - days * 86_400
        journal.machines.add(Machine(str(days), 1, 1))
        journal.back_up()
    clock.now = SET_AT
    journal.machines.add(Machine("now", 1, 1))

    def refuse(self: Path, missing_ok: bool = False) -> None:
        if self.suffix == ".hatchbook":
            raise PermissionError(errno.EACCES, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", refuse)
        with pytest.raises(
            BackupError, match="is backed up, but older backups could not be removed"
        ) as error:
            journal.back_up()
    assert error.value.fields["made"] == files(path)[-1].path
    assert len(files(path)) == 3


def test_a_journal_that_is_damaged_is_not_backed_up_as_sound(
    path: Path, filled: SimpleNamespace, readings_of: Callable[..., Any]
) -> None:
    """And the backups from before stay."""
    filled.journal.imports.bring_in(filled.probe, readings_of(SET_AT - 10**8, 400_000), SET_AT)
    filled.journal.close()
    present = files(path)
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'reading'").fetchone()
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\xa5" * 4096
    path.write_bytes(content)
    journal = Journal.open(path)  # the readings are not looked through when a large journal is opened
    journal.machines.add(Machine("Third", 1, 1))
    with pytest.raises(JournalDamagedError):
        journal.readings.series(filled.probe.number, 0, SET_AT * 2)
    with pytest.raises(BackupError, match="the journal itself may be damaged") as error:
        journal.close()
    assert error.value.fields["cause"] == "damaged"
    assert files(path) == present
    assert backups.latest_good(path) == present[-1].path


def test_an_error_inside_goes_out_with_a_note_of_the_backup_that_failed(path: Path) -> None:
    def work() -> None:
        with Journal.create(path) as journal:
            journal.machines.add(Machine("Blue one", 2, 4))
            folder_of(path).write_text("mine")
            raise KeyError("a fault of the program")

    with pytest.raises(KeyError) as error:
        work()
    assert error.value.__notes__[0].startswith("No backup of My hens.hatchbook could be made")
    folder_of(path).unlink()
    with Journal.open(path) as journal:
        assert len(journal.machines.all()) == 1
