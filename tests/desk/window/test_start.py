"""Starting: the window stands first, then the journal is opened in it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.desk import settings
from hatchbook.desk.demo_making import DemoMaking
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.start import build_window
from hatchbook.desk.window import MainWindow
from hatchbook.journal import Journal
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot


def shown(qtbot: QtBot, window: MainWindow) -> MainWindow:
    qtbot.addWidget(window)
    assert not window.context.door.is_open
    window.show()
    return window


def test_the_demo_made_beside_is_opened_once_the_window_stands(qtbot: QtBot) -> None:
    making = DemoMaking(1_779_000_000)
    making.begin()
    window = shown(qtbot, build_window(making=making))
    assert window.pages.currentWidget() is window.opening
    assert window.opening.line.text() == "Opening the demo…"
    qtbot.waitUntil(lambda: window.context.door.is_open, timeout=20_000)
    assert window.context.door.journal.settings.is_demo
    assert window.pages.currentWidget() is window.batch_pages
    window.close()


def test_a_demo_whose_process_failed_is_made_here(tmp_path: Path) -> None:
    making = DemoMaking(1_779_000_000)
    making._path.write_text("half", encoding="utf-8")
    with making.finish() as journal:
        assert journal.settings.is_demo
    making.folder.cleanup()


def test_the_journal_open_last_is_opened_again(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "mine.hatchbook"
    Journal.create(path).close()
    DeskSettings().keep(settings.LAST_JOURNAL, str(path))
    window = shown(qtbot, build_window())
    qtbot.waitUntil(lambda: window.context.door.is_open)
    assert window.context.door.journal.path == path
    window.close()


def test_a_file_that_cannot_be_opened_leaves_the_first_page(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: told.append(box.text()))
    window = shown(qtbot, build_window(tmp_path / "none.hatchbook"))
    qtbot.waitUntil(lambda: bool(told))
    qtbot.waitUntil(lambda: window.pages.currentWidget() is window.first_run)
    window.close()
