"""The whole window over a small journal: nothing dead, everything by keyboard, undo named, files handled."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import hatchbook.desk.left.column
import hatchbook.desk.window
import pytest
from hatchbook.desk import settings
from hatchbook.desk.actions import SPECS
from hatchbook.desk.batch_actions import BatchActions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.files import JournalFiles
from hatchbook.desk.importing.file_row import dropped_file
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.desk.window import MainWindow
from hatchbook.journal import Event, Journal
from hatchbook.trade.codes import EventKind
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtGui import QAccessible, QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QMessageBox, QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Iterator[MainWindow]:
    """The main window over the small journal, shown."""
    shown = MainWindow(desk.context)
    qtbot.addWidget(shown)
    shown.show()
    qtbot.waitExposed(shown)
    yield shown
    shown.close()


@pytest.fixture
def empty(qtbot: QtBot) -> Iterator[MainWindow]:
    """The main window without a journal."""
    shown = MainWindow(DeskContext(Door(), InlineWorker(), DeskSettings()))
    qtbot.addWidget(shown)
    shown.show()
    yield shown
    shown.close()


def dialogs() -> list[QDialog]:
    return [
        widget
        for widget in QApplication.topLevelWidgets()
        if isinstance(widget, QDialog) and widget.isVisible()
    ]


def test_every_action_does_something(qtbot: QtBot) -> None:
    """Each is connected: in the window, its left column, the files or the batch actions."""
    sources = [hatchbook.desk.window.__file__, hatchbook.desk.left.column.__file__]
    source = "".join(Path(file or "").read_text(encoding="utf-8") for file in sources)
    context = DeskContext(Door(), InlineWorker(), DeskSettings())
    holder = QWidget()
    handled = {
        *JournalFiles(context, holder).handlers(),
        *BatchActions.handlers(BatchActions.__new__(BatchActions)),
    }
    for spec in SPECS:
        assert spec.name in handled or f'"{spec.name}"' in source, spec.name
    holder.deleteLater()


def test_a_letter_in_a_menu_means_one_action(window: MainWindow) -> None:
    for menu in window.menuBar().findChildren(QMenu):
        texts = [action.text().replace("&&", "") for action in menu.actions() if action.text()]
        letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
        assert len(letters) == len(texts), f"no letter: {texts}"
        assert len(set(letters)) == len(letters), texts


def test_the_first_page_stands_where_there_is_no_batch(empty: MainWindow) -> None:
    assert empty.pages.currentWidget() is empty.first_run
    assert not empty.actions_list["candle"].isEnabled()
    assert not empty.actions_list["undo"].isEnabled()
    assert empty.actions_list["new_batch"].isEnabled()


def test_enter_on_the_first_page_begins_a_batch_and_its_chart_shows_what_hen_eggs_would_ask(
    empty: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = empty.first_run.buttons[0]
    assert empty.focusWidget() is first
    asked: list[str] = []
    monkeypatch.setattr(empty.files, "ensure_journal", lambda: bool(asked.append("journal")))
    qtbot.keyClick(first, Qt.Key.Key_Return)
    assert asked == ["journal"]
    material = empty.first_run.chart.chart.graph.material
    assert material is not None
    assert [phase.from_day for phase in material.phases] == [0.0, 19.0]
    assert not material.has_readings


def test_the_first_page_leads_to_past_seasons_too(
    empty: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(empty.files, "ensure_journal", lambda: bool(asked.append("journal")))
    table, paper = empty.first_run.past
    assert (table.label(), paper.label()) == ("Import past seasons…", "Enter a past batch…")
    table.click()
    assert asked == ["journal"]
    empty.actions_list["import_past"].setEnabled(False)
    assert not table.isEnabled()


def test_a_batch_is_shown_with_its_figures(window: MainWindow) -> None:
    page = window.batch_pages.journal_page
    assert window.pages.currentWidget() is window.batch_pages
    assert page.figures.mean.figure().value == "46.0"
    assert page.figures.alive.figure().value == "12"
    assert "Day 11 of 21" in page.header.accessibleName()


def tab_walk(window: MainWindow) -> list[str]:
    """The names at which Tab stops, from the batches on once round."""
    window.actions_list["go_batches"].trigger()
    names: list[str] = []
    while True:
        at = window.focusWidget()
        assert at is not None
        name = at.accessibleName() or QAccessible.queryAccessibleInterface(at).text(QAccessible.Text.Name)
        if names and name == names[0]:
            return names
        assert name, f"{type(at).__name__} has no name"
        names.append(name)
        assert len(names) < 60
        QTest.keyClick(at, Qt.Key.Key_Tab)


def test_tab_goes_over_the_window_as_it_is_read(window: MainWindow, desk: Desk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: window.batch_pages.journal_page.chart.is_built)
    wanted = [
        "Batches by season", "Calendar of duties", "Add duty", "Duties of the chosen day", "Candle",
        "Mean humidity", "Alive", "Chart: humidity", "Tray", "Journal of the batch", "New batch",
    ]  # fmt: skip
    walked = tab_walk(window)
    places = [next(n for n, name in enumerate(walked) if name.startswith(part)) for part in wanted[1:]]
    assert places == sorted(places), walked
    desk.door.run(lambda journal: journal.batches.close(desk.batch, desk.context.now()))
    walked = tab_walk(window)
    wanted = [
        "Reopen batch",
        "Fertile, of set",
        "Hatched, of fertile",
        "Hatched, of set",
        "Days, phases",
        "Change",
        "Tray",
    ]
    places = [next(n for n, name in enumerate(walked) if name.startswith(part)) for part in wanted]
    assert places == sorted(places), walked


def test_undo_and_redo_are_named_in_the_menu(window: MainWindow, desk: Desk) -> None:
    event = Event(desk.context.now(), EventKind.VENT, machine=desk.batch.machine, vent=0.75)
    desk.door.run(lambda journal: journal.events.add(event))
    assert window.actions_list["undo"].text() == "&Undo: vent 3/4 logged"
    window.actions_list["undo"].trigger()
    assert window.actions_list["redo"].text() == "&Redo: vent 3/4 logged"
    assert desk.journal.events.find(event.uid) is None
    window.actions_list["redo"].trigger()
    assert desk.journal.events.find(event.uid) is not None


def test_the_page_follows_every_change(window: MainWindow, desk: Desk) -> None:
    before = window.batch_pages.journal_page.side.lines.lines.rowCount()
    desk.door.run(
        lambda journal: journal.events.add(
            Event(desk.context.now(), EventKind.NOTE, batch=desk.batch.uid, text="Damp weather")
        )
    )
    assert window.batch_pages.journal_page.side.lines.lines.rowCount() == before + 1


def test_closing_a_batch_shows_its_rates_and_reopening_brings_the_page_back(
    window: MainWindow, desk: Desk
) -> None:
    desk.door.run(lambda journal: journal.batches.close(desk.batch, desk.context.now()))
    assert window.batch_pages.currentWidget() is window.batch_pages.finished_page
    assert window.actions_list["reopen_batch"].isEnabled()
    assert not window.actions_list["candle"].isEnabled()
    window.actions_list["reopen_batch"].trigger()
    assert window.batch_pages.currentWidget() is window.batch_pages.journal_page


def test_turned_now_ticks_the_duty_that_is_due(window: MainWindow, desk: Desk) -> None:
    window.actions_list["log_turned"].trigger()
    done = [duty for duty in desk.journal.duties.of_batch(desk.batch.uid) if duty.done_at is not None]
    assert [(duty.kind.value, duty.ordinal) for duty in done] == [("turn", 2)]
    window.actions_list["log_turned"].trigger()
    turned = [
        event
        for event in desk.journal.events.of_batch(desk.batch.uid, [], 0, desk.context.now() + 1)
        if event.kind is EventKind.TURNED
    ]
    assert len(turned) == 2


@pytest.mark.parametrize(
    "name",
    [
        "candle",
        "log_event",
        "add_reading",
        "add_note",
        "hatch_day",
        "open_unhatched",
        "take_out",
        "batch_history",
        "close_batch",
        "new_batch",
        "change_batch",
        "keep_holding",
        "show_keys",
        "cautions",
        "about",
        "restore_backup",
        "check_journal",
        "import_readings",
        "chart_table",
        "delete_batch",
    ],
)
def test_each_dialog_opens_and_leaves_without_a_trace(
    window: MainWindow, desk: Desk, qtbot: QtBot, name: str
) -> None:
    steps = len(desk.journal.history.steps())
    action: QAction = window.actions_list[name]
    assert action.isEnabled()
    action.trigger()
    qtbot.waitUntil(lambda: bool(dialogs()))
    qtbot.wait(20)
    for dialog in dialogs():
        assert dialog.windowTitle() or isinstance(dialog, QMessageBox)
        dialog.reject()
    qtbot.waitUntil(lambda: not dialogs())
    assert len(desk.journal.history.steps()) == steps


def test_deleting_asks_and_undo_brings_all_of_it_back(window: MainWindow, desk: Desk, qtbot: QtBot) -> None:
    window.actions_list["delete_batch"].trigger()
    (box,) = [one for one in dialogs() if isinstance(one, QMessageBox)]
    delete = next(button for button in box.buttons() if button.text() == "Delete batch 26-05")
    delete.click()
    qtbot.waitUntil(lambda: desk.journal.batches.find(desk.batch.uid) is None)
    assert window.pages.currentWidget() is window.first_run
    window.actions_list["undo"].trigger()
    assert len(desk.journal.eggs.of_batch(desk.batch.uid)) == 12
    assert window.pages.currentWidget() is window.batch_pages


def test_what_the_journal_refuses_is_said_and_stays_until_solved(window: MainWindow, desk: Desk) -> None:
    desk.door.run(lambda journal: journal.events.add(Event(0, EventKind.NOTE)))
    assert window.trouble.isVisible()
    assert "does not accept" in window.trouble.note.text()
    desk.door.run(lambda journal: journal.batches.rename(desk.batch, "Other"))
    assert not window.trouble.isVisible()


def test_a_new_journal_is_made_and_the_old_one_closed(window: MainWindow, desk: Desk, tmp_path: Path) -> None:
    assert window.files.create(tmp_path / "second.hatchbook")
    assert window.pages.currentWidget() is window.first_run
    assert window.windowTitle().startswith("second")
    with Journal.open(tmp_path / "small.hatchbook") as first:
        assert first.batches.find(desk.batch.uid) is not None


def test_trouble_with_a_file_is_told_plainly(
    empty: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: told.append(box.text()))
    other = tmp_path / "letter.hatchbook"
    other.write_text("Dear breeder, " * 20, encoding="utf-8")
    before = other.read_bytes()
    assert not empty.files.open(other)
    assert not empty.files.open(tmp_path / "nowhere.hatchbook")
    assert told == [
        "letter.hatchbook is not a Hatchbook journal. It has been left untouched.",
        "There is no journal nowhere.hatchbook.",
    ]
    assert other.read_bytes() == before


def test_a_journal_open_elsewhere_can_be_read(
    empty: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "busy.hatchbook"
    writer = Journal.create(path)

    def choose_reading(box: QMessageBox) -> None:
        monkeypatch.setattr(box, "clickedButton", lambda: box.buttons()[0], raising=False)

    monkeypatch.setattr(QMessageBox, "exec", choose_reading)
    clicked: Callable[[QMessageBox], object] = lambda box: next(  # noqa: E731
        button for button in box.buttons() if "reading only" in button.text()
    )
    monkeypatch.setattr(QMessageBox, "clickedButton", clicked)
    assert empty.files.open(path)
    assert empty.context.door.journal.read_only
    assert not empty.actions_list["candle"].isEnabled()
    empty.files.close_journal()
    writer.close()


def test_a_file_dropped_on_the_window_is_opened(empty: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "dropped.hatchbook"
    Journal.create(path).close()
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(path))])
    assert dropped_file(dropped) == path
    assert dropped_file(QMimeData()) is None
    assert empty.files.open(path)


def test_the_demo_keeps_nothing(empty: MainWindow) -> None:
    empty.files.open_demo()
    path = empty.context.door.journal.path
    assert empty.context.door.journal.settings.is_demo
    assert empty.windowTitle().startswith("Demo")
    assert "nothing you do here is kept" in empty.statusBar().parts[0].text()
    assert empty.context.settings.get(settings.LAST_JOURNAL) == ""
    empty.files.close_journal()
    assert not path.parent.exists()


def test_the_scheme_that_was_chosen_is_kept(window: MainWindow) -> None:
    window.actions_list["scheme_dark"].trigger()
    assert window.context.settings.get(settings.SCHEME) == "dark"
    window.actions_list["scheme_system"].trigger()


def test_the_left_column_folds_and_stays_folded(window: MainWindow) -> None:
    window.actions_list["fold_left"].trigger()
    assert not window.left.isVisible()
    assert window.context.settings.get(settings.LEFT_FOLDED)
    window.actions_list["go_batches"].trigger()
    assert window.left.isVisible()
