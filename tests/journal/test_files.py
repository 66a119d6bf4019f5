"""Making a journal file, and the files that are refused untouched."""

from __future__ import annotations

import os
import signal
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    Journal,
    JournalDamagedError,
    JournalError,
    JournalExistsError,
    JournalMissingError,
    NewerJournalError,
    NotAJournalError,
)
from hatchbook.journal.schema import APPLICATION_ID


def names(folder: Path) -> set[str]:
    """What a breeder sees in a folder."""
    return {entry.name for entry in folder.iterdir() if not entry.name.startswith(".")}


# ------------------------------------------------------------------ making


def test_a_new_journal_is_one_file_that_tells_what_it_is(path: Path) -> None:
    Journal.create(path, time_zone="Europe/Lisbon").close()
    assert names(path.parent) == {path.name}
    header = path.read_bytes()[:100]
    assert header.startswith(b"SQLite format 3\0")
    assert int.from_bytes(header[68:72], "big") == APPLICATION_ID == int.from_bytes(b"HtBk", "big")
    assert int.from_bytes(header[60:64], "big") == 1
    assert header[18:20] == b"\x01\x01", "a log beside the file is needed to read it"
    with Journal.open(path) as journal:
        assert journal.zone.key == "Europe/Lisbon"
        assert journal.check().sound


@pytest.mark.parametrize("content", [b"", b"my notes", b"SQLite format 3\0" + bytes(200)])
def test_a_new_journal_never_overwrites_a_file(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    with pytest.raises(JournalExistsError, match=r"My hens\.hatchbook is there already"):
        Journal.create(path)
    assert path.read_bytes() == content
    assert names(path.parent) == {path.name}


def test_a_new_journal_never_overwrites_one_that_came_in_between(path: Path, monkeypatch: Any) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(Path, "exists", lambda _: False)
        path.write_bytes(b"my notes")
        with pytest.raises(JournalExistsError):
            Journal.create(path)
    assert path.read_bytes() == b"my notes"
    assert sorted(entry.name for entry in path.parent.iterdir()) == [f".{path.name}.lock", path.name]


def test_a_drive_that_knows_no_second_names_takes_a_new_journal_too(path: Path, monkeypatch: Any) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    Journal.create(path).close()
    with Journal.open(path) as journal:
        assert journal.check().sound
    with pytest.raises(JournalExistsError):
        Journal.create(path)
    assert names(path.parent) == {path.name}


def test_an_unknown_time_zone_is_refused_before_anything_is_made(path: Path) -> None:
    for zone in ("Mars/Olympus", "", "../../etc/passwd"):
        with pytest.raises(JournalError, match="no time zone"):
            Journal.create(path, time_zone=zone)
    assert not path.exists()


def test_a_missing_folder_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(JournalMissingError, match="no folder"):
        Journal.create(tmp_path / "stick" / "My hens.hatchbook")
    assert not (tmp_path / "stick").exists()


def test_what_stops_halfway_leaves_no_half_journal(path: Path, monkeypatch: Any) -> None:
    from hatchbook.journal import migrations

    def stop(*_: object) -> int:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(migrations, "migrate", stop)
        with pytest.raises(KeyboardInterrupt):
            Journal.create(path)
    assert names(path.parent) == set()
    Journal.create(path).close()


# ------------------------------------------------------------------ refused, and untouched


def foreign_database(path: Path, application_id: int = 0, version: int = 0) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute(f"PRAGMA application_id = {application_id}")
        other.execute(f"PRAGMA user_version = {version}")
        other.execute("CREATE TABLE notes (text)")
        other.commit()


@pytest.mark.parametrize("read_only", [False, True])
@pytest.mark.parametrize(
    ("make", "error"),
    [
        (lambda path: path.write_bytes(b""), NotAJournalError),
        (lambda path: path.write_bytes(b"2026-04-20;45;37.5\n" * 50), NotAJournalError),
        (lambda path: path.write_bytes(b"SQLite format 3\0"), NotAJournalError),
        (lambda path: foreign_database(path), NotAJournalError),
        (lambda path: foreign_database(path, APPLICATION_ID + 1, 1), NotAJournalError),
        (lambda path: foreign_database(path, APPLICATION_ID, 2), NewerJournalError),
        (lambda path: foreign_database(path, APPLICATION_ID, 1), JournalDamagedError),
        (lambda path: foreign_database(path, APPLICATION_ID, 0), JournalDamagedError),
    ],
    ids=[
        "empty",
        "text",
        "short",
        "database",
        "other program",
        "newer",
        "no tables",
        "no tables, no version",
    ],
)
def test_a_file_of_another_kind_is_refused_untouched(
    path: Path, make: Callable[[Path], object], error: type[JournalError], read_only: bool
) -> None:
    make(path)
    before = path.read_bytes()
    with pytest.raises(error) as refused:
        Journal.open(path, read_only=read_only)
    assert refused.type is error
    assert path.name in str(refused.value)
    assert path.read_bytes() == before
    assert names(path.parent) == {path.name}


def test_a_newer_journal_is_named_with_its_format(path: Path) -> None:
    foreign_database(path, APPLICATION_ID, 7)
    with pytest.raises(NewerJournalError, match=r"newer Hatchbook \(format 7") as refused:
        Journal.open(path)
    assert refused.value.fields["version"] == 7


def test_a_newer_journal_that_was_not_closed_properly_is_left_untouched_too(
    path: Path, in_other_process: Any
) -> None:
    """Its version is still in the log beside it: opening it for writing would fold that in."""
    Journal.create(path).close()
    code = """
        import os, signal, sqlite3, sys
        newer = sqlite3.connect(sys.argv[1])
        newer.execute("PRAGMA journal_mode = WAL")
        newer.execute("PRAGMA user_version = 2")
        newer.commit()
        os.kill(os.getpid(), signal.SIGKILL)
    """
    assert in_other_process(code, path).returncode == -signal.SIGKILL
    log = path.with_name(path.name + "-wal")
    before = path.read_bytes(), log.read_bytes()
    assert before[0][60:64] == b"\0\0\0\1"
    with pytest.raises(NewerJournalError):
        Journal.open(path)
    assert (path.read_bytes(), log.read_bytes()) == before


def test_a_missing_file_is_not_made(path: Path) -> None:
    for wanted in (path, path.parent):
        with pytest.raises(JournalMissingError, match="There is no journal"):
            Journal.open(wanted)
    assert list(path.parent.iterdir()) == []


def damaged_everywhere(content: bytes) -> bytes:
    return content[:100] + bytes(byte ^ 0x5A for byte in content[100:])


def damaged_in_the_middle(content: bytes) -> bytes:
    middle = len(content) // 8192 * 4096
    return content[:middle] + bytes(range(256)) * 16 + content[middle + 4096 :]


@pytest.mark.parametrize("read_only", [False, True])
@pytest.mark.parametrize(
    "damage",
    [
        damaged_everywhere,
        damaged_in_the_middle,
        lambda content: content[: len(content) // 2],
        lambda content: content[:5000],
        lambda content: content[:16] + b"\xff\xff" + content[18:],
    ],
    ids=["all", "a page", "second half missing", "most missing", "page size"],
)
def test_a_damaged_file_is_told_and_left_as_it_is(
    path: Path, filled: SimpleNamespace, damage: Callable[[bytes], bytes], read_only: bool
) -> None:
    filled.journal.close()
    path.write_bytes(damage(path.read_bytes()))
    before = path.read_bytes()
    with pytest.raises(JournalDamagedError, match=r"damaged\. It has been left as it is"):
        Journal.open(path, read_only=read_only)
    assert path.read_bytes() == before
    assert not path.with_name(path.name + "-wal").exists()
    with pytest.raises(JournalDamagedError):  # and the lock was given back
        Journal.open(path)
