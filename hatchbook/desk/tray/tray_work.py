"""What is done with the eggs of a tray: moved, marked, judged, noted, opened; each as one step."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, QPoint, Qt, Signal
from PySide6.QtWidgets import QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.tray.arranging_tray import ArrangingTray
from hatchbook.desk.tray.carry import Place
from hatchbook.figures.machine_room import machine_room
from hatchbook.figures.results import BatchFigures, BatchState, EggFigures
from hatchbook.journal import Candling, Change, Journal, Removal
from hatchbook.trade.codes import FindingCode, HatchMark, RemovalReason


class TrayWork(QObject):
    """Stores what is done on a tray through the door, and opens its menu and its dialogs.

    Signals:
        egg_shown: the uid of the egg whose sheet is shown.
    """

    egg_shown = Signal(str)

    def __init__(self, context: DeskContext, tray: ArrangingTray, parent: QWidget) -> None:
        super().__init__(parent)
        self.context = context
        self.tray = tray
        self.figures: BatchFigures | None = None
        self._window = parent
        tray.egg_moved.connect(lambda egg, place: self.move({egg.egg.uid: place}))
        tray.eggs_moved.connect(self.move)
        tray.egg_opened.connect(self.open_egg)
        tray.menu_wanted.connect(self.show_menu)

    def show_figures(self, figures: BatchFigures | None) -> None:
        """Works on the eggs of another batch, or on the same ones as they are now."""
        self.figures = figures
        self.tray.fix(self.fixed_because())
        self.tray.tray.show_view(figures, self._others())

    def _others(self) -> frozenset[Place]:
        """Where eggs of other batches lie in the same machine, now or when this batch lay in it last."""
        figures = self.figures
        if figures is None or figures.state is BatchState.CLOSED:
            return frozenset()
        journal, batch = self.context.door.journal, figures.batch
        at = max(batch.set_at, min(figures.now, figures.hatch_due_at))
        machine = journal.machines.get(batch.machine)
        return machine_room(journal, machine, at, at + 1, without=batch.uid).taken

    def fixed_because(self) -> str:
        """Why nothing but notes can be entered; "" where everything can."""
        if self.figures is None:
            return self.tr("No batch is shown.")
        if self.context.door.journal.read_only:
            return self.tr("This journal is opened for reading only.")
        if self.figures.state is BatchState.CLOSED:
            return self.tr("Batch {label} is closed. Reopen it to change its eggs.").format(
                label=self.figures.batch.label
            )
        return ""

    # ---------------------------------------------------------------- one step each

    def move(self, places: Mapping[str, Place | None]) -> Change | None:
        """Puts eggs (uid → place, None: without one) where they are to lie."""
        batch = self._batch
        return self.context.door.run(lambda journal: journal.eggs.move_many(batch, places))

    def take_off(self, eggs: Sequence[EggFigures]) -> Change | None:
        """Takes eggs off the tray; they stay in the batch, without a place."""
        return self.move({egg.egg.uid: None for egg in eggs})

    def mark(self, eggs: Sequence[EggFigures], *, marked: bool) -> Change | None:
        """Marks eggs for weighing, or no longer."""
        changed = [replace(egg.egg, marked=marked) for egg in eggs if egg.egg.marked != marked]
        return self.context.door.run(lambda journal: journal.eggs.change_many(changed)) if changed else None

    def note_finding(self, eggs: Sequence[EggFigures], code: FindingCode) -> Change | None:
        """Stores what was seen in eggs just now; in the candling of the last hours, else in a new one."""
        batch, now, uids = self._batch, self.context.now(), _uids(eggs)

        def note(journal: Journal) -> Change:
            candling = journal.candlings.going_on(batch, now) or Candling(batch, now)
            return journal.candlings.note_findings(candling, dict.fromkeys(uids, code), now)

        return self.context.door.run(note)

    def note_mark(self, eggs: Sequence[EggFigures], mark: HatchMark) -> Change | None:
        """Stores what was seen of eggs just now while they hatch."""
        batch, now, uids = self._batch, self.context.now(), _uids(eggs)
        return self.context.door.run(lambda journal: journal.hatchings.note_marks(batch, uids, mark, now))

    def note_removal(self, eggs: Sequence[EggFigures], reason: RemovalReason) -> Change | None:
        """Stores that eggs left the batch just now."""
        batch, now = self._batch, self.context.now()
        records = [Removal(uid, now, reason) for uid in _uids(eggs)]
        return self.context.door.run(lambda journal: journal.removals.note(batch, records))

    @property
    def _batch(self) -> str:
        return "" if self.figures is None else self.figures.batch.uid

    # ---------------------------------------------------------------- what opens

    def show_menu(self, at: QPoint) -> None:
        """The menu of the chosen eggs."""
        from hatchbook.desk.tray.tray_menu import TrayMenu

        if self.figures is not None:
            menu = TrayMenu(self, self._window)
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(at)

    def open_egg(self, egg: EggFigures) -> None:
        """Opens an egg's sheet; the tray's cursor follows it from egg to egg."""
        from hatchbook.desk.dialogs.egg_sheet import EggSheet

        sheet = EggSheet(self.context, egg, self._window.window())
        sheet.egg_shown.connect(self.tray.choose)
        sheet.open()

    def ask_place(self, eggs: Sequence[EggFigures]) -> None:
        """Asks for the place that eggs are to lie in."""
        from hatchbook.desk.tray.move_to import MoveToDialog

        MoveToDialog(self, eggs, self._window.window()).open()

    def ask_note(self, eggs: Sequence[EggFigures]) -> None:
        """Asks for a note on eggs."""
        from hatchbook.desk.egg.egg_note import EggNoteDialog

        EggNoteDialog(self.context, self._batch, eggs, self._window.window()).open()


def _uids(eggs: Sequence[EggFigures]) -> list[str]:
    return [egg.egg.uid for egg in eggs]
