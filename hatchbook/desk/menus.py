"""The menu bar and the tool bar, built from the list of actions."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QSize, Qt
from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QMainWindow, QSizePolicy, QToolBar, QToolButton, QWidget

from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.settings import DeskSettings

_SEPARATOR = ""

_MENUS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "&File",
        (
            "new_journal",
            "open_journal",
            "open_demo",
            _SEPARATOR,
            "import_readings",
            "import_past",
            _SEPARATOR,
            "journal_settings",
            "restore_backup",
            "check_journal",
            _SEPARATOR,
            "quit",
        ),
    ),
    ("&Edit", ("undo", "redo")),
    (
        "&Batch",
        (
            "new_batch",
            "add_past_batch",
            "change_batch",
            _SEPARATOR,
            "candle",
            "candle_from_paper",
            "weigh",
            "add_reading",
            "log_event",
            "add_note",
            "log_turned",
            "hatch_day",
            "open_unhatched",
            "take_out",
            _SEPARATOR,
            "batch_history",
            "close_batch",
            "reopen_batch",
            "delete_batch",
        ),
    ),
    (
        "&Go",
        (
            "page_journal",
            "page_seasons",
            "page_machines",
            _SEPARATOR,
            "go_batches",
            "go_calendar",
            "go_duties",
            "go_chart",
            "go_tray",
            "go_lines",
            _SEPARATOR,
            "go_today",
            _SEPARATOR,
            "keep_holding",
            "keep_programmes",
        ),
    ),
    (
        "&View",
        ("fold_left", "chart_table", _SEPARATOR, "scheme_system", "scheme_light", "scheme_dark"),
    ),
    ("&Help", ("show_keys", "cautions", _SEPARATOR, "about")),
)

_TOOL_BAR_HEIGHT = 40
_PAGES = ("page_journal", "page_seasons", "page_machines")
_TOOL_BAR = (*_PAGES, _SEPARATOR, "undo", "redo", "import_readings", "new_batch")


def build_menus(window: QMainWindow, actions: Actions, kept: DeskSettings) -> None:
    """Fills the window's menu bar."""
    for title, names in _MENUS:
        menu = window.menuBar().addMenu(QCoreApplication.translate("Menus", title))
        menu.setToolTipsVisible(False)
        for name in names:
            if name == _SEPARATOR:
                menu.addSeparator()
            else:
                menu.addAction(actions[name])
    schemes = QActionGroup(window)
    for choice in ("system", "light", "dark"):
        schemes.addAction(actions[f"scheme_{choice}"])
    actions[f"scheme_{kept.get(settings.SCHEME)}"].setChecked(True)


def build_tool_bar(window: QMainWindow, actions: Actions) -> QToolBar:
    """The tool bar: what is wanted on any page."""
    bar = QToolBar(QCoreApplication.translate("Menus", "Tools"), window)
    bar.setObjectName("tools")
    bar.setMovable(False)
    bar.setFloatable(False)
    bar.setIconSize(QSize(18, 18))
    bar.setMinimumHeight(_TOOL_BAR_HEIGHT)
    bar.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
    for name in _TOOL_BAR:
        if name == _SEPARATOR:
            gap = QWidget()
            gap.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
            bar.addWidget(gap)
            continue
        button = QToolButton()
        button.setObjectName("page" if name in _PAGES else "flat")
        button.setDefaultAction(actions[name])
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setAccessibleName(actions[name].iconText())
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        bar.addWidget(button)
    return bar
