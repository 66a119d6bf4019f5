"""The dialog of a new batch on the screen, driven by keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.new_batch import NewBatchDialog
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.journal import Journal
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

ZONE = "Europe/Lisbon"
TAB, ENTER, ESCAPE = Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Escape


@contextmanager
def empty_context(folder: Path, clock: Callable[[], float]) -> Iterator[DeskContext]:
    """The desk over a journal in which nothing has been entered yet."""
    journal = Journal.create(folder / "first.hatchbook", time_zone=ZONE, clock=clock)
    door = Door(clock)
    door.take(journal)
    yield DeskContext(door, InlineWorker(), DeskSettings())
    door.take(None)


def opened(qtbot: QtBot, context: DeskContext, *given: Any, **named: Any) -> NewBatchDialog:
    """The dialog, on the screen and ready to be typed into."""
    dialog = NewBatchDialog(context, None, *given, **named)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def focused() -> QWidget:
    """Where the keyboard is."""
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def press(*keys: str | Qt.Key) -> None:
    """Types texts and presses keys where the keyboard is, one after the other."""
    for key in keys:
        if isinstance(key, str):
            for letter in key:
                # The first letter may open an editor, which takes the others.
                QTest.keyClicks(focused(), letter)
        else:
            QTest.keyClick(focused(), key)
        # Editors in tables close when the event loop comes round.
        QApplication.processEvents()


def is_gone(dialog: QWidget) -> bool:
    """Whether a dialog was closed, which deletes it."""
    return not isValid(dialog) or not dialog.isVisible()


def tab_to(widget: QWidget) -> None:
    """Tab until the keyboard is at a widget, as a breeder does who knows no other way."""
    for _ in range(60):
        if focused() is widget:
            return
        press(TAB)
    raise AssertionError(f"Tab does not lead to {widget.accessibleName()!r}")


def alt(letter: str) -> None:
    """Presses Alt with a letter."""
    QTest.keyClick(focused(), getattr(Qt.Key, f"Key_{letter.upper()}"), Qt.KeyboardModifier.AltModifier)
    QApplication.processEvents()


def contents(journal: Journal) -> dict[str, int]:
    """How many rows of each kind a journal holds, without its history."""
    tables = (
        "machine",
        "channel",
        "probe",
        "probe_placement",
        "pen",
        "batch",
        "batch_phase",
        "duty",
        "egg",
    )
    return {name: int((journal._store.one(f"SELECT count(*) FROM {name}") or (0,))[0]) for name in tables}
