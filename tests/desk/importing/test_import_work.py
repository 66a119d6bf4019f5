"""Slow work on the thread: the window stays awake, and what is stopped leaves nothing behind."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hatchbook.desk.dialogs.import_readings import ImportDialog
from hatchbook.desk.importing import file_work, work
from hatchbook.desk.importing.file_work import Job, StopGate
from hatchbook.exchange.logger_file import DateOrder
from hatchbook.exchange.reading_import import read_readings
from hatchbook.journal import DiskFullError, imports
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

Yard = Any
Open = Callable[..., ImportDialog]


class Halt:
    """Where the worker waits until the test lets it go on."""

    def __init__(self) -> None:
        self.begin = threading.Event()
        self.reached = threading.Event()
        self.go_on = threading.Event()

    def wait(self) -> None:
        self.reached.set()
        assert self.go_on.wait(20)


@pytest.fixture
def halt(threaded: Yard) -> Any:
    """A halt that never holds the worker beyond the test."""
    halt = Halt()
    yield halt
    halt.begin.set()
    halt.go_on.set()


def wait_for(qtbot: QtBot, true: Callable[[], bool]) -> None:
    qtbot.waitUntil(true, timeout=20_000)


def ready(qtbot: QtBot, dialog: ImportDialog) -> ImportDialog:
    wait_for(qtbot, dialog.store.isEnabled)
    return dialog


# ------------------------------------------------------------------ the gate


def test_the_gate_stops_until_all_is_done_and_asked_once_more() -> None:
    gate = StopGate()
    assert not gate.asked()
    gate.told(1.0)
    assert gate.stop()
    assert gate.asked()
    late = StopGate()
    late.told(0.5)
    late.told(1.0)
    assert not late.asked()
    assert not late.stop()
    assert not late.asked()


# ------------------------------------------------------------------ storing


def test_a_file_comes_in_from_the_thread(
    open_dialog: Open, threaded: Yard, shelf_file: Path, qtbot: QtBot
) -> None:
    dialog = ready(qtbot, open_dialog(shelf_file))
    changes: list[Any] = []
    threaded.context.door.changed.connect(changes.append)
    dialog.store.click()
    wait_for(qtbot, lambda: not dialog.isVisible())
    assert threaded.count() == 1518
    assert [change.kinds for change in changes] == [{"import_run", "reading"}]
    assert threaded.context.door.undo() is not None
    assert threaded.count() == 0


class HaltingGate(StopGate):
    """Halts the import once a third is stored."""

    halt: Halt

    def asked(self) -> bool:
        # What is told before anyone listens is lost.
        assert self.halt.begin.wait(20)
        return super().asked()

    def told(self, share: float) -> None:
        super().told(share)
        if share > 0.33 and not self.halt.reached.is_set():
            self.halt.wait()


class LateGate(StopGate):
    """Halts the import after it was asked for the last time."""

    halt: Halt

    def asked(self) -> bool:
        stopped = super().asked()
        if self._closed:
            self.halt.wait()
        return stopped


def test_an_import_that_is_stopped_in_the_middle_leaves_nothing_behind(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(imports, "_CHUNK", 100)
    monkeypatch.setattr(HaltingGate, "halt", halt, raising=False)
    monkeypatch.setattr(file_work, "StopGate", HaltingGate)
    dialog = ready(qtbot, open_dialog(shelf_file))
    steps = threaded.journal.history.steps()
    dialog.store.click()
    halt.begin.set()
    wait_for(qtbot, halt.reached.is_set)
    # The window is awake: the bar comes, and the content waits.
    wait_for(qtbot, dialog.foot.bar.isVisible)
    assert dialog.foot.busy.text() == "Storing the readings of dairy-0514.csv…"
    assert 0.3 < dialog.foot.bar.value() / dialog.foot.bar.maximum() < 0.5
    assert dialog.leave.text() == "Stop"
    assert not dialog.content.isEnabled()
    assert not dialog.store.isEnabled()
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    halt.go_on.set()
    wait_for(qtbot, dialog.note.isVisible)
    assert dialog.isVisible()
    assert dialog.note.text() == "The import was stopped. Nothing of it was stored."
    assert threaded.count() == 0
    assert threaded.journal.imports.all() == []
    assert threaded.journal.history.steps() == steps
    assert threaded.journal.check().sound
    # And it can be tried again.
    monkeypatch.setattr(file_work, "StopGate", StopGate)
    assert dialog.leave.text() == "Cancel"
    dialog.store.click()
    wait_for(qtbot, lambda: not dialog.isVisible())
    assert threaded.count() == 1518


def test_an_import_past_stopping_is_stored_and_told(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(LateGate, "halt", halt, raising=False)
    monkeypatch.setattr(file_work, "StopGate", LateGate)
    dialog = ready(qtbot, open_dialog(shelf_file))
    changes: list[Any] = []
    threaded.context.door.changed.connect(changes.append)
    dialog.store.click()
    wait_for(qtbot, halt.reached.is_set)
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert dialog.isVisible()
    assert not dialog.leave.isEnabled()
    halt.go_on.set()
    wait_for(qtbot, lambda: not dialog.isVisible())
    assert threaded.count() == 1518
    assert len(changes) == 1


def test_closing_the_window_while_it_stores_leaves_nothing_behind(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(imports, "_CHUNK", 100)
    monkeypatch.setattr(HaltingGate, "halt", halt, raising=False)
    monkeypatch.setattr(file_work, "StopGate", HaltingGate)
    dialog = ready(qtbot, open_dialog(shelf_file))
    dialog.store.click()
    halt.begin.set()
    wait_for(qtbot, halt.reached.is_set)
    for task in list(threaded.context.worker._tasks):
        task.cancel()
    halt.go_on.set()
    threaded.context.worker.stop()
    assert threaded.count() == 0


def test_a_full_disk_is_told_in_the_dialog(
    open_dialog: Open, threaded: Yard, shelf_file: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_arguments: object) -> None:
        raise DiskFullError("The disk is full.", path=threaded.journal.path)

    dialog = ready(qtbot, open_dialog(shelf_file))
    monkeypatch.setattr(work, "run_import", full)
    dialog.store.click()
    wait_for(qtbot, dialog.note.isVisible)
    assert dialog.note.text().startswith("The disk is full. Nothing of this entry was stored")
    assert dialog.store.isEnabled()


# ------------------------------------------------------------------ reading


def halting_read(halt: Halt, when: Callable[[Any], bool]) -> Callable[..., Any]:
    """Reading that halts where the hints are so."""

    def read(path: Path, zone: Any, hints: Any, progress: Any, cancelled: Callable[[], bool]) -> Any:
        if when(hints):
            halt.wait()
        return read_readings(path, zone, hints, progress, cancelled)

    return read


def test_long_reading_shows_how_far_it_is_and_can_be_stopped(
    open_dialog: Open, shelf_file: Path, qtbot: QtBot, halt: Halt, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work, "read_readings", halting_read(halt, lambda _hints: True))
    dialog = open_dialog(shelf_file)
    assert not dialog.foot.bar.isVisible()
    wait_for(qtbot, dialog.foot.bar.isVisible)
    assert dialog.foot.busy.text() == "Reading dairy-0514.csv…"
    assert dialog.leave.text() == "Stop"
    dialog.leave.click()
    assert dialog.isVisible()
    assert dialog.note.text() == "Reading was stopped."
    assert not dialog.foot.bar.isVisible()
    halt.go_on.set()
    # Its outcome, if it comes, is passed over.
    qtbot.wait(50)
    assert not dialog.store.isEnabled()
    dialog.leave.click()
    assert not dialog.isVisible()


def test_a_choice_made_while_reading_ends_it_and_reads_anew(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(
        work, "read_readings", halting_read(halt, lambda hints: hints.date_order is DateOrder.MONTH_DAY_YEAR)
    )
    dialog = ready(qtbot, open_dialog(shelf_file))
    dialog.read_as.hinted.emit({"date_order": DateOrder.MONTH_DAY_YEAR})
    wait_for(qtbot, halt.reached.is_set)
    assert not dialog.store.isEnabled()
    assert dialog._work.job is Job.READING
    dialog.read_as.hinted.emit({"date_order": DateOrder.DAY_MONTH_YEAR})
    halt.go_on.set()
    ready(qtbot, dialog)
    assert dialog.read_as.dates.currentText() == "day.month.year"
    assert "1518" in dialog.store.text()


def test_leaving_while_it_reads_ends_the_reading(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(work, "read_readings", halting_read(halt, lambda _hints: True))
    dialog = open_dialog(shelf_file)
    wait_for(qtbot, halt.reached.is_set)
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    halt.go_on.set()
    threaded.context.worker.stop()
    assert threaded.count() == 0


def test_another_target_chosen_while_reading_does_not_lose_the_choice_before(
    open_dialog: Open,
    threaded: Yard,
    shelf_file: Path,
    qtbot: QtBot,
    halt: Halt,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = "date,temp,rh\n03/04/2026 09:00,37.5,50\n03/04/2026 09:10,37.5,50\n"
    shelf_file.write_text(text, encoding="utf-8")
    dialog = open_dialog(shelf_file)
    wait_for(qtbot, dialog.question.isVisible)
    monkeypatch.setattr(work, "read_readings", halting_read(halt, lambda hints: hints.date_order is not None))
    dialog.question.buttons[1].click()
    wait_for(qtbot, halt.reached.is_set)
    room = dialog.goes_to.choices()[-1]
    dialog.goes_to.combo.show_value(room)
    dialog.goes_to.combo.activated.emit(dialog.goes_to.combo.currentIndex())
    halt.go_on.set()
    ready(qtbot, dialog)
    assert dialog.goes_to.target() == room
    assert dialog.read_as.dates.currentText() == "month/day/year"
