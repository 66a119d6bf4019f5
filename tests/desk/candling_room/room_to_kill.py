"""A candling room that says on its output what it has painted, until it is killed.

    python room_to_kill.py FILE SEED

``test_kill.py`` starts it, kills it at any moment, and looks at what is in the file.
"""

from __future__ import annotations

import json
import os
import random
import sys
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from hatchbook.desk.candling_room.room import CandlingRoom
from hatchbook.desk.candling_room.tray_model import CELL_ROLE, CellState
from hatchbook.desk.candling_room.tray_view import RoomTrayDelegate
from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.journal import Journal
from PySide6.QtCore import QEvent, QModelIndex, Qt
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QApplication, QStyleOptionViewItem

KEYS = [*"JJJJJJKLUIOP", "back", "back", "left", "skip"]
_NAMED = {"back": Qt.Key.Key_Backspace, "left": Qt.Key.Key_Left, "skip": Qt.Key.Key_Return}


def say(*words: object) -> None:
    """Tells what is on the screen."""
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


class TellingDelegate(RoomTrayDelegate):
    """Keeps in mind what it has painted of each egg."""

    painted: dict[int, str]

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex) -> None:  # type: ignore[override]
        """Paints, and notes what."""
        super().paint(painter, option, index)
        cell = index.data(CELL_ROLE)
        if cell is not None and cell.state is CellState.DONE:
            self.painted[cell.egg.number] = str(cell.fate)
        elif cell is not None:
            self.painted.pop(cell.egg.number, None)


def main(path: Path, seed: int) -> None:
    """Candles with random keys; begins again where it was."""
    application = QApplication([])
    rng = random.Random(seed)
    journal = Journal.open(path)
    (batch,) = journal.batches.all()
    seen = [finding.at for finding in journal.candlings.findings(batch.uid)]
    now = [max(seen, default=batch.set_at + 16 * 86_400)]
    door = Door(lambda: now[0])
    door.take(journal)
    room = CandlingRoom(DeskContext(door, InlineWorker(), DeskSettings()), batch)
    delegate = TellingDelegate(room.view.tray)
    delegate.painted = {}
    room.view.tray.setItemDelegate(delegate)
    room.resize(1360, 860)
    room.show()
    application.processEvents()
    say("painted", json.dumps(delegate.painted))
    while not room.sitting.state.finished:
        now[0] += 7
        key = rng.choice(KEYS)
        named = _NAMED.get(key, Qt.Key(ord(key[0])))
        event = QKeyEvent(
            QEvent.Type.KeyPress, named, Qt.KeyboardModifier.NoModifier, key[0] if len(key) == 1 else ""
        )
        say("press", key)
        application.sendEvent(room.view.tray, event)
        application.processEvents()
        say("painted", json.dumps(delegate.painted))
    say("done")
    # The last word: it is killed now at the latest.
    sys.stdin.read()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
