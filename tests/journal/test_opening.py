"""One writer, reading only, closing, and what a kill leaves behind."""

from __future__ import annotations

import signal
import sqlite3
import subprocess
import sys
import textwrap
import threading
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    Journal,
    JournalBusyError,
    JournalReadOnlyError,
    Machine,
)

# ------------------------------------------------------------------ one writer

HOLD = """
    import sys, time
    from hatchbook.journal import Journal
    journal = Journal.open(sys.argv[1])
    print("open", flush=True)
    time.sleep(100)
"""


def test_a_second_program_gets_a_clear_message_and_kill_frees_the_file(path: Path) -> None:
    Journal.create(path).close()
    command = [sys.executable, "-c", textwrap.dedent(HOLD), str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as first:
        assert first.stdout is not None
        assert first.stdout.readline() == "open\n"
        with pytest.raises(JournalBusyError, match="is open in another window or program"):
            Journal.open(path)
        with Journal.open(path, read_only=True) as reading:
            assert reading.machines.all() == []
        first.kill()
    with Journal.open(path) as journal:
        journal.machines.add(Machine("Blue one", 2, 4))


def test_a_second_window_of_the_same_program_gets_it_too(journal: Journal, path: Path) -> None:
    with pytest.raises(JournalBusyError):
        Journal.open(path)
    journal.machines.add(Machine("Blue one", 2, 4))


def test_a_look_at_an_open_journal_takes_none_of_its_locks_away(
    journal: Journal, path: Path, in_other_process: Any
) -> None:
    """Reading and closing a file drops all of a process's locks on it: POSIX, and SQLite's own trap."""
    journal.machines.add(Machine("Blue one", 2, 4))
    Journal.open(path, read_only=True).close()
    code = """
        import sqlite3, sys
        other = sqlite3.connect(sys.argv[1], timeout=0)
        try:
            other.execute("PRAGMA journal_mode = DELETE")
            print("took the log away")
        except sqlite3.OperationalError as error:
            print(error)
    """
    assert in_other_process(code, path).stdout == "database is locked\n"


def test_a_second_name_of_the_file_does_not_make_a_second_writer(journal: Journal, path: Path) -> None:
    link = path.with_name("elsewhere.hatchbook")
    link.symlink_to(path)
    with pytest.raises(JournalBusyError):
        Journal.open(link)
    journal.machines.add(Machine("Blue one", 2, 4))
    journal.close()
    with Journal.open(link) as again:
        assert again.path == path.resolve()
        assert len(again.machines.all()) == 1


@pytest.mark.parametrize(
    "name", ["100% hens #1?.hatchbook", "Hühner & Enten 🥚.hatchbook", "hens", "a b.c.d"]
)
def test_a_journal_may_have_any_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    with Journal.create(path) as journal:
        journal.machines.add(Machine("Blue one", 2, 4))
    with Journal.open(path) as journal:
        assert len(journal.machines.all()) == 1
        assert journal.back_up() is None, "the backup made on closing was not found again"


# ------------------------------------------------------------------ reading only


def test_a_journal_opened_for_reading_is_not_changed(path: Path, filled: SimpleNamespace) -> None:
    filled.journal.close()
    before = path.read_bytes()
    with Journal.open(path, read_only=True) as journal:
        assert journal.read_only
        assert journal.eggs.of_batch(filled.batch.uid) == filled.eggs
        for change in (lambda: journal.machines.add(Machine("Third", 1, 1)), journal.undo):
            with pytest.raises(JournalReadOnlyError, match="opened for reading only"):
                change()
        assert journal.back_up() is None
        assert journal.back_up_if_due() is None
    assert path.read_bytes() == before


def test_a_closed_journal_can_be_read_in_a_folder_that_cannot_be_written(
    path: Path, filled: SimpleNamespace, as_ordinary_user: Any
) -> None:
    filled.journal.close()
    path.with_name(f".{path.name}.lock").unlink()
    before = sorted(path.parent.iterdir())
    path.parent.chmod(0o555)
    try:
        with as_ordinary_user():
            with Journal.open(path, read_only=True) as journal:
                assert journal.eggs.of_batch(filled.batch.uid) == filled.eggs
            with pytest.raises(JournalReadOnlyError, match=r"folder of My hens\.hatchbook cannot be written"):
                Journal.open(path)
            with pytest.raises(JournalReadOnlyError, match="cannot be written"):
                Journal.create(path.with_name("Other.hatchbook"))
    finally:
        path.parent.chmod(0o755)
    assert sorted(path.parent.iterdir()) == before


def test_a_file_that_may_not_be_written_says_so_when_it_is_opened(path: Path, as_ordinary_user: Any) -> None:
    Journal.create(path).close()
    path.chmod(0o444)
    with as_ordinary_user():
        with pytest.raises(JournalReadOnlyError, match=r"My hens\.hatchbook cannot be written"):
            Journal.open(path)
        with Journal.open(path, read_only=True) as journal:
            assert journal.machines.all() == []


def test_a_file_that_may_not_be_read_says_so(path: Path, as_ordinary_user: Any) -> None:
    Journal.create(path).close()
    path.chmod(0)
    with as_ordinary_user(), pytest.raises(JournalReadOnlyError, match="cannot be read: Permission denied"):
        Journal.open(path)


# ------------------------------------------------------------------ closing


def test_a_journal_left_by_a_kill_is_opened_with_everything_in_it(path: Path, in_other_process: Any) -> None:
    Journal.create(path).close()
    code = """
        import os, signal, sys
        from hatchbook.journal import Journal, Machine
        journal = Journal.open(sys.argv[1])
        journal.machines.add(Machine("Blue one", 2, 4))
        os.kill(os.getpid(), signal.SIGKILL)
    """
    assert in_other_process(code, path).returncode == -signal.SIGKILL
    assert path.with_name(path.name + "-wal").stat().st_size > 0
    with Journal.open(path, read_only=True) as journal:
        assert [machine.name for machine in journal.machines.all()] == ["Blue one"]
    with Journal.open(path) as journal:
        assert [machine.name for machine in journal.machines.all()] == ["Blue one"]
        assert journal.check().sound
    assert not path.with_name(path.name + "-wal").exists()


def test_a_journal_may_be_closed_twice_and_knows_its_path(path: Path) -> None:
    journal = Journal.create(str(path))
    assert journal.path == path
    journal.close()
    journal.close()
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        journal.machines.all()


def test_another_thread_reads_while_this_one_writes(journal: Journal, filled: SimpleNamespace) -> None:
    seen = []

    def read() -> None:
        with journal.second() as second:
            seen.append(len(second.eggs.of_batch(filled.batch.uid)))
            with pytest.raises(JournalReadOnlyError):
                second.undo()

    with journal.step("eggs_removed") as step:
        step.remove(filled.eggs[5])
        thread = threading.Thread(target=read)
        thread.start()
        thread.join()
    assert seen == [6], "what is not yet stored was seen"


def test_another_thread_writes_and_this_one_sees_it(journal: Journal) -> None:
    def write() -> None:
        with journal.second(read_only=False) as second:
            second.machines.add(Machine("Blue one", 2, 4))

    thread = threading.Thread(target=write)
    thread.start()
    thread.join()
    assert [machine.name for machine in journal.machines.all()] == ["Blue one"]


def test_closing_while_another_thread_still_reads_loses_nothing(path: Path) -> None:
    journal = Journal.create(path)
    second = journal.second()
    reading = second._store.connection.execute("SELECT count(*) FROM machine")
    journal.machines.add(Machine("Blue one", 2, 4))
    journal.close()
    assert reading.fetchall() == [(0,)]
    second.close()
    with Journal.open(path) as journal:
        assert [machine.name for machine in journal.machines.all()] == ["Blue one"]
