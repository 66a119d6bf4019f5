"""A room over a batch of any size, with a clock that the test moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
import shiboken6
from hatchbook.desk.candling_room.room import CandlingRoom
from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.journal import Batch, Candling, Change, Journal
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.candling_room.kit import DAY, SET_AT, candled_batch, findings


@dataclass
class House:
    """A journal, the context over it, and rooms opened in it; time goes on by ``pace`` seconds with each key."""

    journal: Journal
    context: DeskContext
    qtbot: QtBot
    now: list[float]
    batch: Batch | None = None
    pace: int = 9
    told: list[Change] = field(default_factory=list)
    rooms: list[CandlingRoom] = field(default_factory=list)

    def set_batch(self, rows: int, columns: int, *, day: float = 14.0, empty: tuple[int, ...] = ()) -> Batch:
        self.batch = candled_batch(self.journal, rows, columns, empty=empty)
        self.now[0] = SET_AT + day * DAY
        return self.batch

    def candle(self, day: float, codes: dict[int, FindingCode]) -> None:
        """An earlier candling, by the numbers of the eggs."""
        assert self.batch is not None
        eggs = {egg.number: egg.uid for egg in self.journal.eggs.of_batch(self.batch.uid)}
        at = SET_AT + round(day * DAY)
        found = {eggs[number]: code for number, code in codes.items()}
        self.journal.candlings.note_findings(Candling(self.batch.uid, at), found, at)

    def open(self, *, platform: str = "offscreen", size: tuple[int, int] = (1360, 860)) -> CandlingRoom:
        assert self.batch is not None
        room = CandlingRoom(self.context, self.batch, platform=platform)
        # It is looked at after it has closed, and must not go with Python's garbage while another is painted.
        room.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        self.rooms.append(room)
        room.resize(*size)
        room.show()
        return room

    def press(self, room: CandlingRoom, *keys: str | Qt.Key) -> None:
        """Presses keys one after the other, as a keyboard without scan codes sends them."""
        for key in keys:
            self.now[0] += self.pace
            self.qtbot.keyClick(room.view.tray, key)

    def scan(
        self,
        room: CandlingRoom,
        code: int,
        text: str = "",
        key: Qt.Key = Qt.Key.Key_unknown,
        *,
        repeated: bool = False,
        modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
    ) -> None:
        """Presses a key with a scan code, as it comes from X11, Wayland or Windows."""
        self.now[0] += self.pace
        event = QKeyEvent(QEvent.Type.KeyPress, key, modifiers, code, 0, 0, text, repeated, 1)
        QApplication.sendEvent(room.view.tray, event)

    def findings(self) -> dict[int, FindingCode]:
        assert self.batch is not None
        return findings(self.journal, self.batch)


@pytest.fixture
def house(qtbot: QtBot, tmp_path: Path) -> Iterator[House]:
    now = [float(SET_AT + 14 * DAY)]
    clock: Callable[[], float] = lambda: now[0]  # noqa: E731
    journal = Journal.create(tmp_path / "house.hatchbook", time_zone="Europe/Lisbon", clock=clock)
    door = Door(clock)
    door.take(journal)
    made = House(journal, DeskContext(door, InlineWorker(), DeskSettings()), qtbot, now)
    door.changed.connect(made.told.append)
    yield made
    for room in made.rooms:
        room.close()
        shiboken6.delete(room)
    door.take(None)
