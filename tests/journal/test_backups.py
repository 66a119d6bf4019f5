"""Backups are made on closing and at intervals, only when something changed, and can be looked into."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from hatchbook.journal import Journal, Machine, NotAJournalError, Reading, backups
from hatchbook.journal.backup_files import files, folder_of

Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]
#: 2026-04-30 18:00 UTC, where the clock of the tests stands.
NOW = 1_776_708_000 + 10 * 86_400
HALF_HOUR = 1800


def names(path: Path) -> list[str]:
    folder = folder_of(path)
    return sorted(entry.name for entry in folder.iterdir()) if folder.exists() else []


def test_the_clock_of_these_tests() -> None:
    assert datetime.fromtimestamp(NOW, UTC).isoformat() == "2026-04-30T18:00:00+00:00"


def test_closing_makes_a_backup_beside_the_journal(
    filled: SimpleNamespace, contents: Contents, path: Path
) -> None:
    held, steps = contents(filled.journal), filled.journal.history.steps()
    filled.journal.close()
    assert names(path) == ["My hens 2026-04-30 1800.hatchbook"]
    (backup,) = files(path)
    with Journal.open(backup.path, read_only=True) as copy:
        assert contents(copy) == held
        assert copy.check().sound
        assert copy.history.steps() == steps
    assert backup.path.read_bytes()[18:20] == b"\x01\x01", "a log beside the file is needed to read it"


def test_a_journal_in_which_nothing_was_entered_makes_none(path: Path) -> None:
    with Journal.create(path) as journal:
        assert journal.back_up() is None
    assert names(path) == []


def test_nothing_is_made_when_nothing_changed_since_the_latest(filled: SimpleNamespace, path: Path) -> None:
    journal = filled.journal
    assert journal.back_up() is not None
    assert journal.back_up() is None
    journal.machines.add(Machine("Third", 1, 1))
    journal.undo()
    assert journal.back_up() is not None  # a step that was taken back is history, too
    journal.redo()
    assert journal.back_up() is not None
    journal.close()
    assert len(names(path)) == 3
    with Journal.open(path):
        pass
    assert len(names(path)) == 3


def test_undo_and_redo_back_to_the_same_need_no_backup(filled: SimpleNamespace) -> None:
    filled.journal.back_up()
    filled.journal.undo()
    filled.journal.redo()
    assert filled.journal.back_up() is None


def test_backups_of_one_minute_are_counted(journal: Journal, path: Path) -> None:
    for name in ("A", "B", "C"):
        journal.machines.add(Machine(name, 1, 1))
        journal.back_up()
    assert names(path) == [
        "My hens 2026-04-30 1800 (2).hatchbook",
        "My hens 2026-04-30 1800 (3).hatchbook",
        "My hens 2026-04-30 1800.hatchbook",
    ]
    assert [info.last_step.details["name"] for info in backups.list_backups(path) if info.last_step] == list(
        "CBA"
    )


def test_a_backup_is_due_after_half_an_hour_in_which_something_changed(
    journal: Journal, path: Path, clock: Any
) -> None:
    assert journal.back_up_if_due() is None  # nothing entered yet
    journal.machines.add(Machine("A", 1, 1))
    assert journal.back_up_if_due() is None  # it was tried at this very instant
    clock.now += HALF_HOUR
    assert journal.back_up_if_due() is not None
    journal.machines.add(Machine("B", 1, 1))
    for _ in range(29):
        clock.now += 60
        assert journal.back_up_if_due() is None
    clock.now += 60
    assert journal.back_up_if_due() is not None
    clock.now += 10 * HALF_HOUR
    assert journal.back_up_if_due() is None
    journal.machines.add(Machine("C", 1, 1))
    clock.now += HALF_HOUR
    assert journal.back_up_if_due() is not None
    assert len(names(path)) == 3


def test_a_clock_that_was_put_back_does_not_stop_the_backups(journal: Journal, clock: Any) -> None:
    journal.machines.add(Machine("A", 1, 1))
    assert journal.back_up_if_due() is not None
    clock.now -= 400 * 86_400
    journal.machines.add(Machine("B", 1, 1))
    assert journal.back_up_if_due() is not None


def test_the_backup_of_an_hour_ago_is_enough_at_opening(journal: Journal, path: Path, clock: Any) -> None:
    journal.machines.add(Machine("A", 1, 1))
    journal.close()
    clock.now += 600
    with Journal.open(path, clock=clock) as again:
        again.machines.add(Machine("B", 1, 1))
        assert again.back_up_if_due() is None
    assert len(names(path)) == 2


def test_a_worker_can_make_the_backup(journal: Journal, path: Path) -> None:
    journal.machines.add(Machine("A", 1, 1))
    with journal.second() as second:
        assert second.back_up_if_due() is not None
        journal.machines.add(Machine("B", 1, 1))
    assert len(names(path)) == 1, "closing a further connection made a backup"


def test_the_demo_keeps_nothing(filled: SimpleNamespace, path: Path) -> None:
    filled.journal.settings.mark_as_demo()
    assert filled.journal.back_up() is None
    filled.journal.close()
    assert names(path) == []


def test_old_backups_are_thinned_out_and_those_of_a_reason_stay(
    journal: Journal, path: Path, clock: Any
) -> None:
    for days in range(20, 0, -1):
        clock.now = NOW - days * 86_400
        for hour in (0, 1):
            clock.now += 3600 * hour
            journal.machines.add(Machine(f"{days}-{hour}", 1, 1))
            journal.back_up()
    old = next(folder_of(path).iterdir())
    for reason in ("before_migration", "before_restore"):
        shutil.copy(old, folder_of(path) / f"My hens 2024-01-05 0800 {reason}.hatchbook")
        shutil.copy(old, folder_of(path) / f"My hens 2024-01-05 0900 {reason}.hatchbook")
    strange = folder_of(path) / "notes.txt"
    strange.write_text("mine")
    clock.now = NOW
    journal.machines.add(Machine("now", 1, 1))
    journal.back_up()
    kept = files(path)
    ages = [round((NOW - backup.at) / 86_400, 2) for backup in kept if backup.reason is None]
    assert ages == [17.96, 14.96, 13.96, *[n - 0.04 for n in range(13, 2, -1)], 2.0, 1.96, 1.0, 0.96, 0.0]
    assert sum(backup.reason is not None for backup in kept) == 4
    assert strange.exists()


def test_files_of_someone_else_are_no_backups(journal: Journal, path: Path) -> None:
    journal.machines.add(Machine("A", 1, 1))
    made = journal.back_up()
    assert made is not None
    for name in (
        "My hens.hatchbook",
        "My hens 2026-04-30.hatchbook",
        "My hens 2026-13-30 1800.hatchbook",
        "My hens 2026-04-30 1800 holiday.hatchbook",
        "My hens 2 2026-04-30 1800.hatchbook",
        "Your hens 2026-04-30 1800.hatchbook",
        "My hens 2026-04-30 1800.txt",
    ):
        shutil.copy(made, made.with_name(name))
    made.with_name("My hens 2026-04-30 1900.hatchbook").mkdir()
    assert [backup.path for backup in files(path)] == [made]


def test_the_list_shows_what_each_backup_holds(filled: SimpleNamespace, path: Path, clock: Any) -> None:
    journal = filled.journal
    journal.back_up()
    clock.now += 3600
    journal.readings.add(Reading(filled.probe.number, NOW, humidity=45.0))
    journal.batches.delete(filled.batch)
    journal.undo()
    journal.batches.rename(filled.batch, "Late")
    journal.batches.delete(filled.batch)
    journal.close()
    newest, oldest = backups.list_backups(path)
    assert (newest.at, oldest.at) == (NOW + 3600, NOW)
    assert (newest.batches, newest.eggs, newest.readings) == (1, 0, 42)
    assert (oldest.batches, oldest.eggs, oldest.readings) == (2, 6, 41)
    assert newest.last_step is not None
    assert oldest.last_step is not None
    assert (newest.last_step.code, oldest.last_step.code) == ("batch_removed", "setting_changed")
    assert newest.last_step.details["label"] == "2026-03"
    assert newest.size_bytes == newest.path.stat().st_size
    assert newest.trouble is newest.reason is None
    assert backups.list_backups(path.with_name("Other.hatchbook")) == []


def test_a_backup_that_cannot_be_read_is_listed_as_such(
    filled: SimpleNamespace, path: Path, clock: Any
) -> None:
    made = filled.journal.back_up()
    assert made is not None
    made.write_bytes(b"overwritten")
    (info,) = backups.list_backups(path)
    assert isinstance(info.trouble, NotAJournalError)
    assert (info.batches, info.size_bytes) == (0, 11)
    clock.now += 3600
    assert filled.journal.back_up() is not None, "an unreadable backup passed for the latest state"


def test_looking_at_backups_leaves_nothing_beside_them(filled: SimpleNamespace, path: Path) -> None:
    filled.journal.close()
    before = names(path)
    backups.list_backups(path)
    backups.latest_good(path)
    assert names(path) == before


def test_what_a_crash_left_of_a_backup_goes_with_the_next(journal: Journal, path: Path) -> None:
    folder_of(path).mkdir()
    left = folder_of(path) / ".0123abcd.partial"
    left.write_bytes(b"half")
    journal.machines.add(Machine("A", 1, 1))
    journal.back_up()
    assert not left.exists()
    assert len(names(path)) == 1


def test_a_backup_is_a_copy_and_can_be_opened_by_any_program(filled: SimpleNamespace) -> None:
    made = filled.journal.back_up()
    assert made is not None
    with closing(sqlite3.connect(made)) as any_program:
        assert any_program.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert any_program.execute("SELECT label FROM batch").fetchall() == [("2026-03",)]
