"""Candling a tray of 120 eggs: from the key pressed to the verdict stored and painted.

The reference is the disk's own: one row inserted and committed, as durably as the journal does it, in a file in the
same folder and in the same moments. The window lies open behind the room, with a month of readings. What counts is
the 99th of 100 keys; it is told against one frame of a 60 Hz screen as well.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from bench_open import DAY, SET_AT, insert_readings
from hatchbook.journal import Batch, BatchPhase, Candling, Egg, Journal, Machine
from hatchbook.trade.codes import FindingCode, PhaseKind
from result import Result, seconds

ROWS, COLUMNS = 10, 12
#: One frame of a 60 Hz screen, seconds.
FRAME_S = 1 / 60
#: As fast as nobody presses, but slow enough that what a key lights up goes out again.
BETWEEN_S = 0.13
#: A key may take as long as a bare commit and a repaint of the whole room together. Against the commit alone it is
#: only told: a key paints besides, which takes the same milliseconds on every disk. The slowest of 100 are more a
#: matter of chance.
LIMIT, SLOW_LIMIT = 1.0, 1.5
VERDICTS = "JJJJJKJJULJJJIJJ"


def candled_journal(folder: Path) -> Path:
    """A journal with one batch of 120 eggs on day 14, candled on day 7, and 20,000 readings of its machine."""
    path = folder / "candled.hatchbook"
    with Journal.create(path, time_zone="Europe/Lisbon") as journal:
        machine = Machine("Blue one", ROWS, COLUMNS)
        journal.machines.add(machine)
        journal.probes.add_to("P1", machine=machine.uid, from_at=SET_AT - DAY)
        batch = Batch("26-05", "hen", machine.uid, SET_AT, 21.0, "{}", 7.0, 14.0, name="Orchard hens")
        warmth = (37.2, 37.5, 37.8)
        phases = [BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, 40.0, 45.0, 50.0, *warmth)]
        eggs = [
            Egg(batch.uid, at + 1, 1, at // COLUMNS + 1, at % COLUMNS + 1, laid_on="2026-04-29")
            for at in range(ROWS * COLUMNS)
        ]
        journal.batches.set_batch(batch, phases, [], eggs)
        first = Candling(batch.uid, SET_AT + 7 * DAY)
        journal.candlings.note_findings(first, {egg.uid: FindingCode.ALIVE for egg in eggs}, first.at)
        insert_readings(journal, 1, SET_AT, 20_000)
    return path


class BareCommits:
    """A file of its own, committed to as the journal is: through a log, flushed with every commit."""

    def __init__(self, folder: Path) -> None:
        self._connection = sqlite3.connect(folder / "bare.sqlite", isolation_level=None)
        self._connection.execute("PRAGMA journal_mode = WAL")
        self._connection.execute("PRAGMA synchronous = FULL")
        self._connection.execute("CREATE TABLE row (at INTEGER, code TEXT)")

    def commit(self, at: int) -> float:
        """How long one row takes, seconds."""
        began = time.perf_counter()
        self._connection.execute("BEGIN IMMEDIATE")
        self._connection.execute("INSERT INTO row VALUES (?, 'alive')", (at,))
        self._connection.execute("COMMIT")
        return time.perf_counter() - began

    def close(self) -> None:
        """Closes the file."""
        self._connection.close()


def measured(folder: Path) -> tuple[list[float], list[float], list[float]]:
    """The times of 120 keys, and of as many bare commits and repaints of the whole room between them, seconds."""
    from hatchbook.desk.candling_room.room import CandlingRoom
    from hatchbook.desk.context import DeskContext
    from hatchbook.desk.door import Door
    from hatchbook.desk.settings import DeskSettings
    from hatchbook.desk.tasks import InlineWorker
    from hatchbook.desk.theme.theme import current_theme
    from hatchbook.desk.window import MainWindow
    from PySide6.QtCore import QEvent, QObject, QSettings, Qt
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QApplication

    QSettings.setPath(QSettings.Format.NativeFormat, QSettings.Scope.UserScope, str(folder / "settings"))
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    current_theme().apply(application)
    door = Door(lambda: SET_AT + 14 * DAY + time.monotonic() % DAY)
    door.take(Journal.open(candled_journal(folder)))
    window = MainWindow(DeskContext(door, InlineWorker(), DeskSettings()))
    window.resize(1360, 860)
    window.show()
    (batch,) = door.journal.batches.all()
    room = CandlingRoom(window.context, batch, window)
    room.resize(1360, 860)
    room.show()
    application.processEvents()

    class Painted(QObject):
        """Counts what is painted of the eggs."""

        count = 0

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            self.count += event.type() == QEvent.Type.Paint
            return super().eventFilter(watched, event)

    painted = Painted()
    room.view.tray.viewport().installEventFilter(painted)
    bare = BareCommits(folder)
    keys, commits, repaints = [], [], []
    for at in range(ROWS * COLUMNS):
        letter = VERDICTS[at % len(VERDICTS)]
        event = QKeyEvent(
            QEvent.Type.KeyPress, Qt.Key(ord(letter)), Qt.KeyboardModifier.NoModifier, letter.lower()
        )
        before = painted.count
        began = time.perf_counter()
        application.sendEvent(room.view.tray, event)
        application.processEvents()
        keys.append(time.perf_counter() - began)
        assert painted.count > before, "the verdict was not painted"
        commits.append(bare.commit(at))
        repaints.append(seconds(room.repaint))
        until = time.perf_counter() + BETWEEN_S
        while time.perf_counter() < until:
            application.processEvents()
            time.sleep(0.005)
    stored = door.journal.candlings.findings_of(room.sitting.candling.uid)
    assert len(stored) == ROWS * COLUMNS
    room.close()
    bare.close()
    window.close()
    application.processEvents()
    return keys, commits, repaints


def run() -> list[Result]:
    """The 99th of 100 keys and the middle one, against a frame, and what disk and screen take by themselves."""
    with tempfile.TemporaryDirectory() as name:
        keys, commits, repaints = measured(Path(name))

    def at(share: float, times: list[float]) -> float:
        return float(np.percentile(times, share))

    slow, middle = at(99, keys), at(50, keys)
    commit, repaint = at(50, commits), at(50, repaints)
    by_itself = [one + other for one, other in zip(commits, repaints, strict=True)]
    return [
        Result(f"99th key of 100, {slow * 1000:.1f} ms / a frame at 60 Hz, 16.7 ms", slow, FRAME_S),
        Result(f"99th key of 100 / 99th commit, {at(99, commits) * 1000:.1f} ms", slow, at(99, commits)),
        Result("99th key of 100 / 99th commit with repaint", slow, at(99, by_itself), SLOW_LIMIT),
        Result(
            f"middle key, {middle * 1000:.1f} ms / commit, {commit * 1000:.1f} ms",
            middle,
            commit,
        ),
        Result(
            f"middle key / commit with repaint, {repaint * 1000:.1f} ms",
            middle,
            at(50, by_itself),
            LIMIT,
        ),
    ]
