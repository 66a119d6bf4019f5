"""The way back: a backup takes the place of the journal, and what was there is put aside."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    Journal,
    JournalBusyError,
    JournalDamagedError,
    JournalError,
    JournalMissingError,
    Machine,
    NewerJournalError,
    NotAJournalError,
    backups,
)
from hatchbook.journal.backup_files import folder_of

Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]
NOW = 1_776_708_000 + 10 * 86_400


@pytest.fixture
def two_states(filled: SimpleNamespace, contents: Contents, clock: Any) -> SimpleNamespace:
    """A closed journal with a backup from an hour before it was changed."""
    journal = filled.journal
    of = SimpleNamespace(path=journal.path, before=contents(journal), backup=journal.back_up())
    clock.now += 3600
    journal.batches.delete(filled.batch)
    of.after = contents(journal)
    journal.close()
    return of


def test_a_backup_takes_the_place_and_the_present_file_is_put_aside(
    two_states: SimpleNamespace, contents: Contents
) -> None:
    of = two_states
    content = of.path.read_bytes()
    aside = backups.restore(of.path, of.backup, now=NOW + 7200)
    assert aside == folder_of(of.path) / "My hens 2026-04-30 2000 before_restore.hatchbook"
    assert aside.read_bytes() == content
    with Journal.open(of.path, clock=lambda: NOW + 7300.0) as journal:
        assert contents(journal) == of.before
        assert journal.check().sound
        journal.machines.add(Machine("Third", 1, 1))
    assert of.backup.exists()
    listed = {info.reason: info for info in backups.list_backups(of.path)}
    assert listed["before_restore"].batches == 1
    # And back again.
    backups.restore(of.path, aside, now=NOW + 9000)
    with Journal.open(of.path, read_only=True) as journal:
        assert contents(journal) == of.after


def test_the_backup_after_a_restore_is_compared_with_what_was_restored(two_states: SimpleNamespace) -> None:
    of = two_states
    backups.restore(of.path, of.backup, now=NOW + 7200)
    count = len(backups.list_backups(of.path))
    with Journal.open(of.path, clock=lambda: NOW + 7300.0):
        pass
    made = backups.list_backups(of.path)
    assert len(made) == count + 1, "what was restored is not the latest backup's state any more"
    with Journal.open(of.path, clock=lambda: NOW + 7400.0):
        pass
    assert backups.list_backups(of.path) == made


@pytest.mark.parametrize("content", [b"", b"junk" * 5000], ids=["empty", "junk"])
def test_a_damaged_journal_is_put_aside_as_it_is(
    two_states: SimpleNamespace, contents: Contents, content: bytes
) -> None:
    of = two_states
    of.path.write_bytes(content)
    with pytest.raises(JournalError):
        Journal.open(of.path)
    good = backups.latest_good(of.path)
    assert good is not None
    aside = backups.restore(of.path, good)
    assert aside is not None
    assert aside.read_bytes() == content
    with Journal.open(of.path) as journal:
        assert contents(journal) == of.after
    assert backups.latest_good(of.path) == good, "a damaged file that was put aside passed for a good one"


def test_the_latest_good_backup_is_one_that_is_sound_throughout(two_states: SimpleNamespace) -> None:
    of = two_states
    newest, oldest = backups.list_backups(of.path)
    assert backups.latest_good(of.path) == newest.path
    content = newest.path.read_bytes()
    middle = len(content) // 8192 * 4096
    newest.path.write_bytes(content[:middle] + bytes(4096) + content[middle + 4096 :])
    assert backups.latest_good(of.path) == oldest.path == of.backup
    with pytest.raises(JournalDamagedError):
        backups.restore(of.path, newest.path)
    oldest.path.write_bytes(b"")
    assert backups.latest_good(of.path) is None
    assert backups.latest_good(of.path.with_name("Other.hatchbook")) is None


def test_a_journal_that_is_open_is_not_replaced(two_states: SimpleNamespace, contents: Contents) -> None:
    of = two_states
    with Journal.open(of.path) as journal:
        with pytest.raises(JournalBusyError):
            backups.restore(of.path, of.backup)
        assert contents(journal) == of.after
    assert {info.reason for info in backups.list_backups(of.path)} == {None}


def test_what_a_crash_left_beside_the_journal_goes_aside_with_it(
    two_states: SimpleNamespace, contents: Contents, in_other_process: Any
) -> None:
    """A log that stayed beside the restored file would be taken for its own."""
    of = two_states
    code = """
        import os, signal, sys
        from hatchbook.journal import Journal, Machine
        journal = Journal.open(sys.argv[1])
        journal.machines.add(Machine("only in the log", 2, 4))
        os.kill(os.getpid(), signal.SIGKILL)
    """
    assert in_other_process(code, of.path).returncode == -signal.SIGKILL
    aside = backups.restore(of.path, of.backup)
    assert aside is not None
    with Journal.open(of.path) as journal:
        assert contents(journal) == of.before
        assert journal.check().sound
    with Journal.open(aside, read_only=True) as journal:
        assert "only in the log" in [machine.name for machine in journal.machines.all()]


def test_a_journal_that_is_gone_comes_back(two_states: SimpleNamespace, contents: Contents) -> None:
    of = two_states
    of.path.unlink()
    assert backups.restore(of.path, of.backup) is None
    with Journal.open(of.path) as journal:
        assert contents(journal) == of.before


@pytest.mark.parametrize(
    ("change", "error"),
    [
        (lambda _: b"my notes", NotAJournalError),
        (lambda content: content[:60] + b"\0\0\0\x09" + content[64:], NewerJournalError),
        (lambda content: content[: len(content) // 2], JournalDamagedError),
    ],
    ids=["another file", "newer", "half"],
)
def test_what_is_no_good_backup_is_refused_and_nothing_is_touched(
    two_states: SimpleNamespace, change: Callable[[bytes], bytes], error: type[JournalError]
) -> None:
    of = two_states
    of.backup.write_bytes(change(of.backup.read_bytes()))
    before = of.path.read_bytes(), sorted(of.path.parent.rglob("*"))
    with pytest.raises(error):
        backups.restore(of.path, of.backup)
    assert (of.path.read_bytes(), sorted(of.path.parent.rglob("*"))) == before


def test_a_backup_that_is_gone_is_told(two_states: SimpleNamespace) -> None:
    of = two_states
    of.backup.unlink()
    with pytest.raises(JournalMissingError):
        backups.restore(of.path, of.backup)


def test_a_drive_that_knows_no_second_names_is_restored_to_by_copying(
    two_states: SimpleNamespace, contents: Contents, monkeypatch: Any
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    of, content = two_states, two_states.path.read_bytes()
    monkeypatch.setattr(os, "link", refuse)
    aside = backups.restore(of.path, of.backup)
    assert aside is not None
    assert aside.read_bytes() == content
    with Journal.open(of.path) as journal:
        assert contents(journal) == of.before


def test_a_rename_that_fails_leaves_the_journal_where_it_was(
    two_states: SimpleNamespace, contents: Contents, monkeypatch: Any
) -> None:
    of = two_states

    def refuse(self: Path, target: Path) -> Path:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", refuse)
        with pytest.raises(
            JournalError, match=r"could not be put in the place of My hens\.hatchbook: Perm"
        ) as error:
            backups.restore(of.path, of.backup)
    assert error.value.code == "read_only"
    with Journal.open(of.path) as journal:
        assert contents(journal) == of.after
    assert not [entry for entry in of.path.parent.iterdir() if entry.suffix == ".partial"]
