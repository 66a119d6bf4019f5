"""Past seasons in the window: the actions, a workbook that is dropped, the page of a past batch, deleting it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hatchbook.desk.dialogs.import_past import ImportPastDialog
from hatchbook.desk.dialogs.past_batch import PastBatchDialog
from hatchbook.desk.window import MainWindow
from hatchbook.journal import PastBatch
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.exchange.past_seasons.kit import book

PAST = PastBatch("19-03", 2019, "hen", 24, name="Spring", clear=4, hatched=14)


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Iterator[MainWindow]:
    """The main window over the small journal with a past batch, shown."""
    desk.journal.past_batches.add(PAST)
    shown = MainWindow(desk.context)
    qtbot.addWidget(shown)
    shown.show()
    qtbot.waitExposed(shown)
    yield shown
    shown.close()


def leave(qtbot: QtBot, kind: type[QDialog]) -> Any:
    """Leaves the one dialog of a kind that is open, and returns it."""
    (dialog,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, kind) and one.isVisible()]
    dialog.reject()
    return dialog


@pytest.mark.parametrize(
    ("name", "kind"), [("import_past", ImportPastDialog), ("add_past_batch", PastBatchDialog)]
)
def test_each_action_opens_its_dialog(
    window: MainWindow, qtbot: QtBot, name: str, kind: type[QDialog]
) -> None:
    assert window.actions_list[name].isEnabled()
    window.actions_list[name].trigger()
    leave(qtbot, kind)


def test_a_workbook_dropped_on_the_window_is_read_as_past_seasons(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(book(tmp_path, [["Year", "Eggs"], [2021, 12], [2020, 18]])))])
    event = QDropEvent(
        QPointF(9, 9),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    QApplication.processEvents()
    dialog = leave(qtbot, ImportPastDialog)
    assert len(dialog.table.rows) == 2


def test_a_past_batch_is_shown_and_only_what_can_be_done_with_it_is_enabled(
    window: MainWindow, desk: Desk
) -> None:
    desk.context.choose_batch(PAST.uid)
    assert window.batch_pages.currentWidget() is window.batch_pages.past_page
    actions = window.actions_list
    assert [name for name in ("change_batch", "delete_batch") if actions[name].isEnabled()] == [
        "change_batch", "delete_batch",
    ]  # fmt: skip
    for name in ("candle", "weigh", "close_batch", "reopen_batch", "batch_history", "add_note", "go_chart"):
        assert not actions[name].isEnabled(), name
    desk.context.choose_batch(desk.batch.uid)
    assert window.batch_pages.currentWidget() is window.batch_pages.journal_page
    assert actions["candle"].isEnabled()


def test_a_past_batch_is_changed_in_its_own_dialog(window: MainWindow, desk: Desk, qtbot: QtBot) -> None:
    desk.context.choose_batch(PAST.uid)
    window.actions_list["change_batch"].trigger()
    dialog = leave(qtbot, PastBatchDialog)
    assert dialog.counts.fields["eggs_set"].text() == "24"


def test_deleting_a_past_batch_asks_and_undo_brings_it_back(
    window: MainWindow, desk: Desk, qtbot: QtBot
) -> None:
    desk.context.choose_batch(PAST.uid)
    window.actions_list["delete_batch"].trigger()
    (box,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, QMessageBox)]
    assert box.text() == "Delete the past batch 19-03 Spring with its counts?"
    next(button for button in box.buttons() if button.text() == "Delete batch 19-03").click()
    qtbot.waitUntil(lambda: desk.journal.past_batches.find(PAST.uid) is None)
    assert desk.context.batch == desk.batch.uid
    window.actions_list["undo"].trigger()
    assert desk.journal.past_batches.get(PAST.uid) == PAST


def test_a_journal_of_past_batches_alone_shows_the_newest(window: MainWindow, desk: Desk) -> None:
    newer = PastBatch("21-01", 2021, "duck", 12)
    desk.door.run(lambda journal: journal.past_batches.add(newer))
    desk.door.run(lambda journal: journal.batches.delete(desk.batch))
    assert window.left.first_batch == newer.uid
    assert desk.context.batch == newer.uid
    assert window.batch_pages.currentWidget() is window.batch_pages.past_page


def test_undoing_what_is_shown_shows_another_batch(window: MainWindow, desk: Desk) -> None:
    newer = PastBatch("21-01", 2021, "duck", 12)
    desk.door.run(lambda journal: journal.past_batches.add(newer))
    desk.context.choose_batch(newer.uid)
    window.actions_list["undo"].trigger()
    assert desk.context.batch == desk.batch.uid
    assert window.batch_pages.currentWidget() is window.batch_pages.journal_page
