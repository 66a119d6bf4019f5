"""Journals that cannot be opened as they are: each with its sentence and a way on."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.restore import RestoreDialog
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.desk.window import MainWindow
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import (
    BackupError,
    Journal,
    JournalReadOnlyError,
    JournalUnreadableError,
    Pen,
    backups,
)
from hatchbook.trade.instants import InstantError, from_local
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot
from tests.desk.conftest import ZONE

Told = list[tuple[str, list[str]]]


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """The main window without a journal."""
    shown = MainWindow(DeskContext(Door(), InlineWorker(), DeskSettings()))
    qtbot.addWidget(shown)
    shown.show()
    yield shown
    shown.close()


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Told]:
    """Answers every box with the button that has this text; what was told is in the list."""

    def answer(text: str) -> Told:
        told: Told = []

        def ask(box: QMessageBox) -> None:
            told.append((box.text(), [button.text() for button in box.buttons()]))

        def clicked(box: QMessageBox) -> object:
            return next((button for button in box.buttons() if text and text in button.text()), None)

        monkeypatch.setattr(QMessageBox, "exec", ask)
        monkeypatch.setattr(QMessageBox, "clickedButton", clicked)
        return told

    return answer


@pytest.fixture
def backed_up(tmp_path: Path) -> Path:
    """A closed journal with a pen and a backup."""
    path = tmp_path / "hens.hatchbook"
    with Journal.create(path) as journal:
        journal.pens.add(Pen("Brook pen"))
    return path


def refusing(error: type[Exception], monkeypatch: pytest.MonkeyPatch) -> None:
    """Opening for writing is refused, as on a drive that cannot be written."""
    opened = Journal.open

    def refuse(path: Path, *, read_only: bool = False) -> Journal:
        if read_only:
            return opened(path, read_only=True)
        raise error("refused", path=path)

    monkeypatch.setattr(Journal, "open", staticmethod(refuse))


def test_what_cannot_be_written_can_be_read_and_offers_nothing_that_writes(
    window: MainWindow,
    backed_up: Path,
    answers: Callable[[str], Told],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told = answers("reading only")
    refusing(JournalReadOnlyError, monkeypatch)
    assert window.files.open(backed_up)
    assert told[0][0] == "hens.hatchbook, or the folder in which it lies, cannot be written."
    assert "opened for reading only" in window.statusBar().parts[0].text()
    actions = window.actions_list
    for name in ("undo", "redo", "new_batch", "import_readings", "restore_backup", "candle"):
        assert not actions[name].isEnabled(), name
    assert actions["check_journal"].isEnabled()
    window.files.close_journal()
    assert actions["new_batch"].isEnabled()


def test_what_cannot_be_read_is_not_offered_for_reading(
    window: MainWindow, backed_up: Path, answers: Callable[[str], Told], monkeypatch: pytest.MonkeyPatch
) -> None:
    told = answers("")
    refusing(JournalUnreadableError, monkeypatch)
    assert not window.files.open(backed_up)
    assert told == [("hens.hatchbook may not be read here. It has been left untouched.", ["Close"])]


@pytest.mark.parametrize("left", [b"", b"\x00" * 4096, b"SQLite format 3\x00" + b"\xff" * 200])
def test_a_file_whose_beginning_is_gone_has_a_way_back_to_its_backup(
    window: MainWindow, backed_up: Path, answers: Callable[[str], Told], left: bytes
) -> None:
    backed_up.write_bytes(left + backed_up.read_bytes()[len(left) :] if left else b"")
    told = answers("Go back")
    assert window.files.open(backed_up)
    assert told[0][1] == ["Go back to the backup", "Leave it"]
    assert [pen.name for pen in window.context.door.journal.pens.all()] == ["Brook pen"]
    assert [path for path in backed_up.with_name("hens backups").iterdir() if "before_restore" in path.name]


def test_a_file_of_another_program_has_no_such_way(
    window: MainWindow, tmp_path: Path, answers: Callable[[str], Told]
) -> None:
    other = tmp_path / "letter.hatchbook"
    other.write_text("Dear breeder", encoding="utf-8")
    told = answers("Go back")
    assert not window.files.open(other)
    assert told[0][1] == ["Close"]


def test_a_folder_that_is_not_there_is_told(
    window: MainWindow, tmp_path: Path, answers: Callable[[str], Told]
) -> None:
    told = answers("")
    assert not window.files.create(tmp_path / "nowhere" / "hens.hatchbook")
    assert told[0][0] == f"There is no folder {tmp_path / 'nowhere'}."


def test_a_journal_deleted_while_it_is_open_is_told_at_the_next_entry(
    window: MainWindow, backed_up: Path, answers: Callable[[str], Told]
) -> None:
    assert window.files.open(backed_up)
    backed_up.unlink()
    window.context.door.run(lambda journal: journal.pens.add(Pen("Orchard")))
    assert "moved, deleted or replaced while it was open" in window.trouble.note.text()
    told = answers("")
    window.files.close_journal()
    assert "moved, deleted or replaced" in told[0][0]


def test_what_a_restore_has_set_aside_is_told_from_a_backup(
    window: MainWindow, backed_up: Path, qtbot: QtBot
) -> None:
    assert window.files.open(backed_up)
    window.context.door.run(lambda journal: journal.pens.add(Pen("Orchard")))
    dialog = RestoreDialog(window.context, window)
    dialog.chosen.connect(lambda backup: window.files._restore(backed_up, backup))
    dialog.open()
    qtbot.waitUntil(lambda: dialog.tree.topLevelItemCount() == 1)
    dialog._choose()
    assert [pen.name for pen in window.context.door.journal.pens.all()] == ["Brook pen"]
    again = RestoreDialog(window.context, window)
    again.open()
    qtbot.waitUntil(lambda: again.tree.topLevelItemCount() > 1)
    made = [again.tree.topLevelItem(row).text(0) for row in range(again.tree.topLevelItemCount())]
    assert made[0].endswith(", set aside by a restore")
    assert not made[-1].endswith("restore")
    again.reject()


def test_a_name_with_an_ampersand_is_named_whole_in_the_menu(window: MainWindow, backed_up: Path) -> None:
    assert window.files.open(backed_up)
    window.context.door.run(lambda journal: journal.pens.add(Pen("Alder & Birch")))
    assert "Alder && Birch" in window.actions_list["undo"].text()


def test_a_backup_that_failed_says_why(tmp_path: Path) -> None:
    path = tmp_path / "hens.hatchbook"
    full = BackupError("x", path=path, cause="disk_full")
    assert error_sentence(full) == "No backup of hens.hatchbook could be made: the disk is full."
    assert (
        error_sentence(BackupError("x", path=path, cause="other"))
        == "No backup of hens.hatchbook could be made."
    )
    made = BackupError("x", path=path, cause="disk", made=path)
    assert error_sentence(made).startswith("hens.hatchbook is backed up")


def test_an_hour_that_never_was_is_told_with_its_date() -> None:
    from datetime import datetime

    with pytest.raises(InstantError) as told:
        from_local(datetime(2026, 3, 29, 1, 30), ZONE)  # noqa: DTZ001
    sentence = error_sentence(told.value)
    assert sentence == "There was no 01:30 on Sun 29 Mar 2026: the clocks were put forward over it."


def test_the_backup_that_is_due_is_made_beside_the_window(
    window: MainWindow, backed_up: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert window.files.open(backed_up)
    journal = window.context.door.journal
    folder = backed_up.with_name("hens backups")
    before = set(folder.iterdir())
    journal.pens.add(Pen("Orchard"))
    started: list[object] = []
    start = window.context.worker.start
    monkeypatch.setattr(window.context.worker, "start", lambda work: started.append(work) or start(work))
    window.files.back_up_if_due()
    assert started == []  # the one from closing is not old yet
    monkeypatch.setattr(journal, "_clock", lambda: time.time() + 3600)
    window.files.back_up_if_due()
    assert len(started) == 1
    assert len(set(folder.iterdir()) - before) == 1
    window.files.back_up_if_due()
    assert len(started) == 1


def test_a_backup_that_fails_is_told_in_the_window(
    window: MainWindow, backed_up: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert window.files.open(backed_up)
    journal = window.context.door.journal
    journal.pens.add(Pen("Orchard"))
    monkeypatch.setattr(journal, "_clock", lambda: time.time() + 3600)

    def full(*_given: object, **_named: object) -> None:
        raise BackupError("full", path=backed_up, cause="disk_full")

    monkeypatch.setattr(backups, "make", full)
    window.files.back_up_if_due()
    qtbot.waitUntil(window.trouble.isVisible)
    assert window.trouble.note.text() == "No backup of hens.hatchbook could be made: the disk is full."
    monkeypatch.undo()
