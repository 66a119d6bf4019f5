"""The main window: batch list, calendar and duties on the left, the chosen batch on the right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QByteArray, QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QMainWindow, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.batch_actions import BatchActions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.files import JournalFiles
from hatchbook.desk.importing.file_row import dropped_file
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.menus import build_menus, build_tool_bar
from hatchbook.desk.page_switch import PageSwitch
from hatchbook.desk.pages.batch_pages import BatchPages
from hatchbook.desk.pages.first_run import FirstRunPage
from hatchbook.desk.pages.opening_page import OpeningPage
from hatchbook.desk.status import StatusBar
from hatchbook.desk.theme.theme import SchemeChoice, current_theme
from hatchbook.desk.trouble import TroubleBar
from hatchbook.desk.widgets.tab_order import tab_through

_LEFT_WIDTH, _LEFT_LEAST, _LEFT_MOST = 276, 236, 360
_BACK_UP_CHECK_MS = 60_000


class MainWindow(QMainWindow):
    """The window over one journal."""

    def __init__(self, context: DeskContext) -> None:
        super().__init__()
        self.setObjectName("desk")
        self.context = context
        self.actions_list = Actions(self)
        self.files = JournalFiles(context, self)
        self.batch_actions = BatchActions(context, self.actions_list, self)
        self._build()
        build_menus(self, self.actions_list, context.settings)
        bar = build_tool_bar(self, self.actions_list)
        self.addToolBar(bar)
        # It stands above the rest, and was made last.
        tab_through([bar, self.left])
        self._connect()
        self.setMinimumSize(1100, 700)
        self.setAcceptDrops(True)
        self._restore()
        self._show_journal()

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        self.left = LeftColumn(self.context, self.actions_list)
        self.first_run = FirstRunPage(self.context, self.actions_list)
        self.batch_pages = BatchPages(self.context, self.actions_list)
        self.pages = QStackedWidget()
        self.pages.addWidget(self.first_run)
        self.opening = OpeningPage()
        self.pages.addWidget(self.opening)
        self.pages.addWidget(self.batch_pages)
        self.switch = PageSwitch(self.context, self.actions_list, self.pages, self.first_run)
        self.columns = QSplitter(Qt.Orientation.Horizontal)
        self.columns.setObjectName("columns")
        self.columns.setHandleWidth(1)
        self.columns.setChildrenCollapsible(False)
        self.columns.addWidget(self.left)
        self.columns.addWidget(self.pages)
        self.columns.setStretchFactor(1, 1)
        self.left.setMinimumWidth(_LEFT_LEAST)
        self.left.setMaximumWidth(_LEFT_MOST)
        self.trouble = TroubleBar(self.context.door)
        whole = QWidget()
        rows = QVBoxLayout(whole)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.columns, 1)
        rows.addWidget(self.trouble)
        self.setCentralWidget(whole)
        self.setStatusBar(StatusBar(self.context, self.actions_list))

    def _connect(self) -> None:
        door = self.context.door
        door.journal_changed.connect(self._show_journal)
        door.changed.connect(lambda _change: self._name_steps())
        self.context.batch_chosen.connect(self._show_batch)
        self.left.copy_wanted.connect(self.batch_actions.copy_batch)
        self.actions_list.connect_all(
            {
                "quit": self.close,
                "undo": door.undo,
                "redo": door.redo,
                "fold_left": self._fold_left,
                "go_batches": self.left.focus_batches,
                "go_calendar": self.left.focus_calendar,
                "go_duties": self.left.focus_duties,
                "page_journal": self.switch.show_journal,
                "page_seasons": self.switch.show_seasons,
                "page_machines": self.switch.show_machines,
                "go_chart": self._in_journal(self.batch_pages.focus_chart),
                "go_tray": self._in_journal(self.batch_pages.focus_tray),
                "go_lines": self._in_journal(self.batch_pages.focus_lines),
                "go_today": lambda: self.context.choose_day(self.context.today()),
                "chart_table": self._in_journal(self.batch_pages.show_chart_table),
                "scheme_system": lambda: self._choose_scheme(SchemeChoice.SYSTEM),
                "scheme_light": lambda: self._choose_scheme(SchemeChoice.LIGHT),
                "scheme_dark": lambda: self._choose_scheme(SchemeChoice.DARK),
                **self.files.handlers(),
                **self.batch_actions.handlers(),
            }
        )
        self._back_up_timer = QTimer(self)
        self._back_up_timer.setInterval(_BACK_UP_CHECK_MS)
        self._back_up_timer.timeout.connect(self.files.back_up_if_due)
        self._back_up_timer.start()

    # ---------------------------------------------------------------- showing

    def _show_journal(self) -> None:
        door = self.context.door
        self.left.reload()
        self.switch.show_journal(self.batch_pages if self.left.has_batches else self.first_run)
        title = "Hatchbook"
        if door.is_open:
            name = self.tr("Demo") if door.journal.settings.is_demo else door.journal.path.stem
            title = f"{name} – Hatchbook"
        self.setWindowTitle(title)
        self.first_run.show_journal(door.journal if door.is_open else None)
        self.context.choose_batch(self.left.first_batch)
        self._show_batch(self.context.batch)
        self._name_steps()

    def _show_batch(self, uid: str | None) -> None:
        self.batch_pages.show_batch(uid)
        self.switch.set_journal_page(self.batch_pages if uid is not None else self.first_run)
        self.switch.batch_chosen()
        self.batch_actions.update_enabled()

    def _name_steps(self) -> None:
        from hatchbook.desk.words.history import step_sentence

        door = self.context.door
        for name, step, bare, named in (
            ("undo", door.next_undo(), self.tr("&Undo"), self.tr("&Undo: {step}")),
            ("redo", door.next_redo(), self.tr("&Redo"), self.tr("&Redo: {step}")),
        ):
            action = self.actions_list[name]
            action.setEnabled(step is not None and not door.journal.read_only)
            if step is None:
                action.setText(bare)
            else:
                sentence = step_sentence(step, self.context.zone).replace("&", "&&")
                action.setText(named.format(step=sentence))
        if door.is_open and not self.batch_pages.has_batch and self.left.has_batches:
            self.context.choose_batch(self.left.first_batch)
        if door.is_open and not self.left.has_batches:
            self.switch.set_journal_page(self.first_run)
        self.batch_actions.update_enabled()

    def _in_journal(self, show: Callable[[], None]) -> Callable[[], None]:
        """Something of the batch's page, which comes to the front first."""

        def shown() -> None:
            self.switch.show_journal()
            show()

        return shown

    def _choose_scheme(self, choice: SchemeChoice) -> None:
        current_theme().choose(choice)
        self.context.settings.keep(settings.SCHEME, str(choice))

    def _fold_left(self) -> None:
        shown = self.actions_list["fold_left"].isChecked()
        self.left.setVisible(shown)
        self.context.settings.keep(settings.LEFT_FOLDED, not shown)

    def open_file(self, path: Path) -> None:
        """Opens a journal; where it cannot be, the first page stands."""
        if not self.files.open(path):
            self._show_journal()

    def open_once_painted(self, name: str, opening: Callable[[], object]) -> None:
        """Opens a journal as soon as the window stands on the screen: it is there while the file is read."""
        self.opening.show_name(name)
        self.pages.setCurrentWidget(self.opening)
        FirstPaint(self, opening)

    # ---------------------------------------------------------------- keeping

    def _restore(self) -> None:
        kept = self.context.settings
        geometry = kept.get(settings.WINDOW)
        if not (geometry and self.restoreGeometry(QByteArray(geometry))):
            self.resize(1360, 860)
        columns = kept.get(settings.COLUMNS)
        if not (columns and self.columns.restoreState(QByteArray(columns))):
            self.columns.setSizes([_LEFT_WIDTH, self.width() - _LEFT_WIDTH])
        folded = kept.get(settings.LEFT_FOLDED)
        self.actions_list["fold_left"].setChecked(not folded)
        self.left.setVisible(not folded)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Takes one file: a logger's, a workbook, or a journal."""
        if dropped_file(event.mimeData()) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Opens a journal, or brings in past seasons from a workbook, or a logger's file."""
        path = dropped_file(event.mimeData())
        if path is None:
            return
        event.acceptProposedAction()
        if path.suffix == ".hatchbook":
            self.files.open(path)
        elif path.suffix.lower() in (".xlsx", ".xlsm"):
            self.files.import_past(path)
        else:
            self.files.import_readings(path)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keeps the window's shape and closes the journal."""
        kept = self.context.settings
        kept.keep(settings.WINDOW, bytes(self.saveGeometry().data()))
        kept.keep(settings.COLUMNS, bytes(self.columns.saveState().data()))
        self._back_up_timer.stop()
        self.context.worker.stop()
        self.files.close_journal()
        super().closeEvent(event)


class FirstPaint(QObject):
    """Does something once, after a window was painted for the first time."""

    def __init__(self, window: QWidget, then: Callable[[], object]) -> None:
        super().__init__(window)
        self._window = window
        self._then = then
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Waits for the paint; what follows it comes with the next turn of the loop."""
        if watched is self._window and event.type() == QEvent.Type.Paint:
            self._window.removeEventFilter(self)
            QTimer.singleShot(0, self, self._go_on)
        return False

    def _go_on(self) -> None:
        self._then()
        self.deleteLater()
