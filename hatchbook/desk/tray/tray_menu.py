"""The menu of the chosen eggs of a tray."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import StrEnum
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from hatchbook.desk.egg.glyphs import code_icon
from hatchbook.desk.words.codes import fate_word, finding_word, hatch_mark_word, in_sentence, removal_word
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.numbers import number
from hatchbook.figures.results import BatchFigures, BatchState, EggFigures
from hatchbook.trade.codes import Fate, FindingCode, HatchMark, RemovalReason

if TYPE_CHECKING:
    from hatchbook.desk.tray.tray_work import TrayWork

_FINDINGS = (
    FindingCode.ALIVE,
    FindingCode.CLEAR,
    FindingCode.UNSURE,
    FindingCode.EARLY_DEAD,
    FindingCode.DEAD,
    FindingCode.CRACKED,
    FindingCode.ROTTEN,
)
_HATCH_DAYS = 3.0
"""The hatch is looked after from lockdown on, or the last days where lockdown is shorter (our choice)."""


class TrayMenu(QMenu):
    """What can be done with the chosen eggs; what cannot is said at the top."""

    def __init__(self, work: TrayWork, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        figures = work.figures
        assert figures is not None
        self._figures: BatchFigures = figures
        self._eggs: Sequence[EggFigures] = work.tray.chosen()
        self.setToolTipsVisible(True)
        if self._eggs:
            self._add_for_eggs()
            self.addSeparator()
        self._add_choosing()

    def _add_for_eggs(self) -> None:
        eggs, work = self._eggs, self._work
        reason = work.fixed_because()
        self._add_title(
            egg_title(eggs[0], self._figures.trays)
            if len(eggs) == 1
            else self.tr("%n egg(s) chosen", "", len(eggs))
        )
        if reason:
            self._add_title(reason)
        if len(eggs) == 1:
            self._add("open", self.tr("&Open"), lambda: work.open_egg(eggs[0]), "Return")
        self.addSeparator()
        free = not reason
        set_already = self._figures.state is not BatchState.PLANNED
        self._add_verdicts(enabled=free and set_already)
        self._add_taking_out(enabled=free and set_already)
        marked = all(egg.egg.marked for egg in eggs)
        mark = self._add(
            "mark", self.tr("Mark for &weighing"), lambda: work.mark(eggs, marked=not marked), enabled=free
        )
        mark.setCheckable(True)
        mark.setChecked(marked)
        self._add(
            "note",
            self.tr("&Note…"),
            lambda: work.ask_note(eggs),
            enabled=not work.context.door.journal.read_only,
        )
        self.addSeparator()
        self._add("carry", self.tr("Ca&rry"), work.tray.take_up, "M", enabled=free)
        self._add("move_to", self.tr("&Move to…"), lambda: work.ask_place(eggs), enabled=free)
        placed = [egg for egg in eggs if egg.egg.place is not None]
        self._add(
            "take_off",
            self.tr("Take &off the tray"),
            lambda: work.take_off(placed),
            enabled=free and bool(placed),
        )

    def _add_verdicts(self, *, enabled: bool) -> None:
        menu = QMenu(self.tr("&Verdict"), self)
        menu.setEnabled(enabled)
        self.addMenu(menu)
        for code in _FINDINGS:
            self._add_code(menu, code, finding_word(code), partial(self._find, code))
        if in_hatch_days(self._figures):
            menu.addSeparator()
            for mark in HatchMark:
                self._add_code(menu, mark, hatch_mark_word(mark), partial(self._hatch, mark))

    def _find(self, code: FindingCode) -> None:
        self._work.note_finding(self._eggs, code)

    def _hatch(self, mark: HatchMark) -> None:
        self._work.note_mark(self._eggs, mark)

    def _add_taking_out(self, *, enabled: bool) -> None:
        menu = QMenu(self.tr("&Taken out"), self)
        menu.setEnabled(enabled)
        self.addMenu(menu)
        for reason in RemovalReason:
            self._add_code(
                menu,
                reason,
                removal_word(reason),
                partial(self._work.note_removal, self._eggs, reason),
            )

    # ---------------------------------------------------------------- choosing

    def _add_choosing(self) -> None:
        tray = self._work.tray
        shown = tray.tray.eggs()
        if len(self._eggs) == 1:
            fate = self._eggs[0].outcome.fate
            alike = [egg for egg in shown if egg.outcome.fate is fate]
            if len(alike) > 1:
                text = self.tr("Choose all %n: {fate}", "", len(alike)).format(
                    fate=in_sentence(fate_word(fate))
                )
                self._add("choose_alike", text, lambda: self._choose(alike))
        menu = QMenu(self.tr("&Choose"), self)
        self.addMenu(menu)
        everything = self._add("choose_all", self.tr("&All eggs"), lambda: self._choose(shown), "Ctrl+A")
        self.removeAction(everything)
        menu.addAction(everything)
        menu.addSeparator()
        for fate in Fate:
            same = [egg for egg in shown if egg.outcome.fate is fate]
            if same:
                text = self.tr("{what} ({count})").format(what=fate_word(fate), count=number(len(same), 0))
                action = self._made(f"choose_{fate}", text, partial(self._choose, same))
                action.setIcon(code_icon(fate, self))
                menu.addAction(action)
        menu.addSeparator()
        groups = [(self.tr("Marked for weighing"), [egg for egg in shown if egg.egg.marked])]
        if len(self._figures.pen_names) > 1:
            groups += [
                (name, [egg for egg in shown if egg.pen_name == name]) for name in self._figures.pen_names
            ]
        for name, group in groups:
            if group:
                text = self.tr("{what} ({count})").format(what=name, count=number(len(group), 0))
                menu.addAction(self._made("choose_group", text, partial(self._choose, group)))

    def _choose(self, eggs: Sequence[EggFigures]) -> None:
        self._work.tray.choose_all([egg.egg.uid for egg in eggs])

    # ---------------------------------------------------------------- entries

    def _made(self, name: str, text: str, run: Callable[[], object], key: str = "") -> QAction:
        action = QAction(text, self)
        action.setObjectName(name)
        action.triggered.connect(lambda _checked=False: run())
        if key:
            # Shown only: the tray itself listens to the key.
            action.setShortcut(QKeySequence(key))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        return action

    def _add(
        self, name: str, text: str, run: Callable[[], object], key: str = "", *, enabled: bool = True
    ) -> QAction:
        action = self._made(name, text, run, key)
        action.setEnabled(enabled)
        self.addAction(action)
        return action

    def _add_title(self, text: str) -> None:
        action = QAction(text.replace("&", "&&"), self)
        action.setEnabled(False)
        self.addAction(action)

    def _add_code(self, menu: QMenu, code: StrEnum, word: str, run: Callable[[], object]) -> None:
        action = self._made(f"verdict_{code}", word, run)
        action.setIcon(code_icon(code, self))
        menu.addAction(action)


def in_hatch_days(figures: BatchFigures) -> bool:
    """Whether eggs can pip and hatch now, or have begun to."""
    begins = min(figures.lockdown_day, figures.batch.incubation_days - _HATCH_DAYS)
    return figures.day >= begins or figures.timing.first_pip_day is not None
