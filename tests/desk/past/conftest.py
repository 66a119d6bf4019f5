"""Opens the dialogs of past seasons over the small journal; they are closed at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hatchbook.desk.dialogs.import_past import ImportPastDialog
from hatchbook.desk.dialogs.past_batch import PastBatchDialog
from hatchbook.journal import PastBatch
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.desk.english import english_plurals

OpenImport = Callable[..., ImportPastDialog]
OpenPast = Callable[..., PastBatchDialog]


@pytest.fixture(autouse=True)
def english(qapp: QApplication) -> Iterator[None]:
    """Plurals as a breeder reads them."""
    with english_plurals():
        yield


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk) -> Iterator[list[QDialog]]:
    """The dialogs that a test opened."""
    dialogs: list[QDialog] = []
    yield dialogs
    desk.context.worker.stop()
    for dialog in dialogs:
        dialog.done(0)
        dialog.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def show(dialog: QDialog, opened: list[QDialog]) -> None:
    """Opens a dialog, which stays for the test to look at after it has closed."""
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    opened.append(dialog)
    dialog.open()
    QApplication.processEvents()


@pytest.fixture
def open_import(desk: Desk, opened: list[QDialog]) -> OpenImport:
    """Opens the import, on a file if one is given."""

    def open_it(path: Path | None = None) -> ImportPastDialog:
        dialog = ImportPastDialog(desk.context, None, path)
        show(dialog, opened)
        return dialog

    return open_it


@pytest.fixture
def open_past(desk: Desk, opened: list[QDialog]) -> OpenPast:
    """Opens the entry of a past batch, or of a given one."""

    def open_it(batch: PastBatch | None = None) -> PastBatchDialog:
        dialog = PastBatchDialog(desk.context, None, batch)
        show(dialog, opened)
        return dialog

    return open_it
