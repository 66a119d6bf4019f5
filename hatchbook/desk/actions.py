"""Every action of the window in one place: its words, key and icon."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QObject
from PySide6.QtGui import QAction, QKeySequence

from hatchbook.desk.painting.icons import icon
from hatchbook.desk.theme.theme import current_theme
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP

_CONTEXT = "Actions"


@dataclass(frozen=True)
class ActionSpec:
    """One action: a stable name, its text (English, translated when shown), key, icon and longer tip."""

    name: str
    text: str
    key: str = ""
    icon: str = ""
    tip: str = ""
    checkable: bool = False


def _spec(
    name: str, text: str, key: str = "", icon_name: str = "", tip: str = "", *, checkable: bool = False
) -> ActionSpec:
    return ActionSpec(name, text, key, icon_name, tip, checkable)


SPECS: tuple[ActionSpec, ...] = (
    # File
    _spec("new_journal", QT_TRANSLATE_NOOP("Actions", "New &journal…"), "", "journal"),
    _spec("open_journal", QT_TRANSLATE_NOOP("Actions", "&Open journal…"), "Ctrl+O", "journal"),
    _spec("open_demo", QT_TRANSLATE_NOOP("Actions", "Open the &demo"), "Ctrl+D", "seasons"),
    _spec("import_readings", QT_TRANSLATE_NOOP("Actions", "&Import readings…"), "Ctrl+I", "import"),
    _spec("import_past", QT_TRANSLATE_NOOP("Actions", "Import past s&easons…"), "", "import"),
    _spec("restore_backup", QT_TRANSLATE_NOOP("Actions", "&Restore a backup…"), "", "undo"),
    _spec("journal_settings", QT_TRANSLATE_NOOP("Actions", "&Settings of this journal…"), "", "settings"),
    _spec("check_journal", QT_TRANSLATE_NOOP("Actions", "&Check this journal"), "", "check"),
    _spec("quit", QT_TRANSLATE_NOOP("Actions", "&Quit"), "Ctrl+Q"),
    # Edit
    _spec("undo", QT_TRANSLATE_NOOP("Actions", "&Undo"), "Ctrl+Z", "undo"),
    _spec("redo", QT_TRANSLATE_NOOP("Actions", "&Redo"), "Ctrl+Shift+Z", "redo"),
    _spec("find", QT_TRANSLATE_NOOP("Actions", "&Find…"), "Ctrl+F", "search"),
    # Batch
    _spec("new_batch", QT_TRANSLATE_NOOP("Actions", "&New batch…"), "Ctrl+N", "newbatch"),
    _spec("add_past_batch", QT_TRANSLATE_NOOP("Actions", "&Add a past batch…")),
    _spec("change_batch", QT_TRANSLATE_NOOP("Actions", "Chan&ge batch…")),
    _spec("candle", QT_TRANSLATE_NOOP("Actions", "&Candle…"), "F6", "candle"),
    _spec("candle_from_paper", QT_TRANSLATE_NOOP("Actions", "Enter a candling from &paper…"), "Shift+F6"),
    _spec("weigh", QT_TRANSLATE_NOOP("Actions", "&Weigh…"), "F7", "weigh"),
    _spec("log_event", QT_TRANSLATE_NOOP("Actions", "&Log event…"), "F8", "water"),
    _spec("add_reading", QT_TRANSLATE_NOOP("Actions", "Log &reading…"), "Ctrl+R", "thermometer"),
    _spec("add_note", QT_TRANSLATE_NOOP("Actions", "No&te…"), "F9", "note"),
    _spec("log_turned", QT_TRANSLATE_NOOP("Actions", "Log “t&urned” now"), "Ctrl+T", "turn"),
    _spec("hatch_day", QT_TRANSLATE_NOOP("Actions", "&Hatch day…"), "F10", "hatch"),
    _spec("open_unhatched", QT_TRANSLATE_NOOP("Actions", "&Open unhatched eggs…"), "F11", "egg"),
    _spec("take_out", QT_TRANSLATE_NOOP("Actions", "Ta&ke eggs out…")),
    _spec("batch_history", QT_TRANSLATE_NOOP("Actions", "Histor&y of this batch…")),
    _spec("close_batch", QT_TRANSLATE_NOOP("Actions", "Clo&se batch…"), "", "check"),
    _spec("reopen_batch", QT_TRANSLATE_NOOP("Actions", "R&eopen batch"), "", "undo"),
    _spec("delete_batch", QT_TRANSLATE_NOOP("Actions", "&Delete batch…")),
    # Go
    _spec("page_journal", QT_TRANSLATE_NOOP("Actions", "&Journal"), "Ctrl+1", "journal", checkable=True),
    _spec("page_seasons", QT_TRANSLATE_NOOP("Actions", "&Seasons"), "Ctrl+2", "seasons", checkable=True),
    _spec("page_machines", QT_TRANSLATE_NOOP("Actions", "&Machines"), "Ctrl+3", "machine", checkable=True),
    _spec("go_batches", QT_TRANSLATE_NOOP("Actions", "&Batches"), "Ctrl+4"),
    _spec("go_calendar", QT_TRANSLATE_NOOP("Actions", "&Calendar"), "Ctrl+5", "calendar"),
    _spec("go_duties", QT_TRANSLATE_NOOP("Actions", "&Duties of the day"), "Ctrl+6", "check"),
    _spec("go_chart", QT_TRANSLATE_NOOP("Actions", "C&hart"), "Ctrl+7"),
    _spec("go_tray", QT_TRANSLATE_NOOP("Actions", "&Tray"), "Ctrl+8"),
    _spec("go_lines", QT_TRANSLATE_NOOP("Actions", "Journal &lines"), "Ctrl+9"),
    _spec("go_today", QT_TRANSLATE_NOOP("Actions", "T&oday"), "Ctrl+Home", "calendar"),
    _spec("keep_holding", QT_TRANSLATE_NOOP("Actions", "Machines, probes and &pens…"), "Ctrl+M", "settings"),
    _spec("keep_programmes", QT_TRANSLATE_NOOP("Actions", "P&rogrammes…"), "Ctrl+Shift+M"),
    # View
    _spec("fold_left", QT_TRANSLATE_NOOP("Actions", "&Left column"), "Ctrl+L", checkable=True),
    _spec("scheme_system", QT_TRANSLATE_NOOP("Actions", "Colours as the &system"), checkable=True),
    _spec("scheme_light", QT_TRANSLATE_NOOP("Actions", "L&ight colours"), checkable=True),
    _spec("scheme_dark", QT_TRANSLATE_NOOP("Actions", "&Dark colours"), checkable=True),
    _spec("chart_table", QT_TRANSLATE_NOOP("Actions", "Chart as &table…"), "Ctrl+Shift+T"),
    # Help
    _spec("show_keys", QT_TRANSLATE_NOOP("Actions", "&Keys"), "F1"),
    _spec("cautions", QT_TRANSLATE_NOOP("Actions", "&Cautions")),
    _spec("about", QT_TRANSLATE_NOOP("Actions", "&About Hatchbook")),
)


class Actions(QObject):
    """The window's actions, made from the list above; two with one key stop the start."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._actions: dict[str, QAction] = {}
        keys: dict[str, str] = {}
        for spec in SPECS:
            if spec.key and spec.key in keys:
                raise ValueError(f"{spec.name} and {keys[spec.key]} have the same key {spec.key}")
            keys[spec.key] = spec.name
            self._actions[spec.name] = self._made(spec)
        current_theme().scheme_changed.connect(self._dress)
        self._dress()

    def __getitem__(self, name: str) -> QAction:
        return self._actions[name]

    def __iter__(self) -> Iterator[QAction]:
        return iter(self._actions.values())

    def connect_all(self, handlers: dict[str, Callable[[], object]]) -> None:
        """Connects actions to what they do.

        Raises:
            KeyError: there is no such action.
        """
        for name, handler in handlers.items():
            # A slot that takes no "checked".
            self._actions[name].triggered.connect(lambda _checked=False, run=handler: run())

    def _made(self, spec: ActionSpec) -> QAction:
        action = QAction(QCoreApplication.translate(_CONTEXT, spec.text), self.parent())
        action.setObjectName(spec.name)
        action.setCheckable(spec.checkable)
        if spec.key:
            action.setShortcut(QKeySequence(spec.key))
        plain = action.text().replace("&", "").rstrip("…")
        tip = QCoreApplication.translate(_CONTEXT, spec.tip) if spec.tip else plain
        key = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        action.setToolTip(f"{tip}  ({key})" if key else tip)
        action.setIconText(plain)
        return action

    def _dress(self) -> None:
        for spec in SPECS:
            if spec.icon:
                self._actions[spec.name].setIcon(icon(spec.icon, current_theme().scheme))
