"""The Machines page: what to do about water and vent and why, every setting, how its batches fared, its care."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.machines.advice_pane import AdvicePane, bands_of
from hatchbook.desk.machines.body import MachineBody
from hatchbook.desk.machines.guide_pane import GuidePane
from hatchbook.desk.machines.header import MachineHeader
from hatchbook.desk.machines.logging import MachineLogging
from hatchbook.desk.machines.lower_panes import CarePane, HistoryPane
from hatchbook.desk.machines.reckoning import MachineWork, ModelMaker, Reckoned, fitted_model
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.machines import capacity_sentence, holds_sentence, probe_sentence
from hatchbook.figures.course import Course
from hatchbook.figures.guide_results import RoomAir
from hatchbook.figures.results import BatchState
from hatchbook.journal import Change, JournalError, Machine

#: Changes of other kinds leave what is known of a machine as it was.
_KINDS = frozenset(
    {
        "machine",
        "channel",
        "probe",
        "probe_placement",
        "probe_check",
        "reading",
        "import_run",
        "event",
        "batch",
        "batch_phase",
        "egg",
        "egg_mass",
        "weighing",
        "hatching",
        "finding",
        "removal",
        "setting",
    }
)


class MachinesPage(QWidget):
    """Reads and fits a machine on the worker whenever it is shown and something relevant has changed.

    Signals:
        batch_opened: the uid of a batch that the breeder wants to see in its journal.
    """

    batch_opened = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions, make_model: ModelMaker = fitted_model) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._actions = actions
        self._machine: str | None = None
        self._batch: str | None = None
        self._room: RoomAir | None = None
        self._shown: Reckoned | None = None
        self._is_stale = True
        self._focus_wanted = False
        self.work = MachineWork(context, self, make_model)
        self.logging = MachineLogging(context, self)
        self.header = MachineHeader()
        self.advice = AdvicePane(context.zone)
        self.guide = GuidePane(context.zone)
        self.history = HistoryPane()
        self.care = CarePane(context.zone)
        self.trouble = InlineNote("", "bad")
        self.trouble.setVisible(False)
        self._build()
        self._connect()

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        self.area = MachineBody(self.advice, self.guide, self.history, self.care)
        self.body = QStackedWidget()
        self.waiting = self._said(self.tr("Reckoning what this machine does…"))
        self.nothing = self._no_machine()
        for part in (self.nothing, self.waiting, self.area):
            self.body.addWidget(part)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.header)
        rows.addWidget(HLine())
        rows.addWidget(self.trouble)
        rows.addWidget(self.body, 1)
        tab_through([self.header, self.advice, self.guide, self.history, self.care])

    @staticmethod
    def _said(text: str) -> QWidget:
        pane = QWidget()
        rows = QVBoxLayout(pane)
        rows.setContentsMargins(16, 14, 16, 14)
        rows.addWidget(Label(text, ink="ink2", wraps=True))
        rows.addStretch(1)
        return pane

    def _no_machine(self) -> QWidget:
        pane = self._said(
            self.tr(
                "No machine is noted yet. Note the one you have with its water channels, and set a batch in it: "
                "from the readings of its first days on, this page says which channels to fill and how far to open "
                "the vent."
            )
        )
        rows = pane.layout()
        assert isinstance(rows, QVBoxLayout)
        self.add_machine = FlatButton(self._actions["keep_holding"])
        rows.insertWidget(1, self.add_machine, 0, Qt.AlignmentFlag.AlignLeft)
        return pane

    def _connect(self) -> None:
        door = self._context.door
        door.changed.connect(self._note_change)
        door.journal_changed.connect(self._forget)
        self.work.answered.connect(self._show)
        self.work.failed.connect(self._tell_failed)
        self.work.busy_changed.connect(lambda busy: self.header.show_busy(busy=busy))
        self.header.machine_chosen.connect(self._choose_machine)
        self.header.check_wanted.connect(
            lambda: self._with_shown(lambda shown: self.logging.log_check(shown, self.header.check))
        )
        self.header.setting_wanted.connect(lambda: self._with_shown(self.logging.log_setting))
        self.header.care_wanted.connect(
            lambda: self._with_shown(lambda shown: self.logging.add_care(shown, self.header.care))
        )
        self.advice.batch_chosen.connect(self._choose_batch)
        self.guide.fill.channels_wanted.connect(self.logging.keep_holding)
        self.advice.room.room_typed.connect(self._take_room)
        self.guide.setting_chosen.connect(self._log_cell)
        self.history.batch_opened.connect(self.batch_opened)
        self.care.entry_opened.connect(
            lambda entry: self._with_shown(lambda shown: self.logging.open_entry(shown, entry))
        )
        self.care.removal_wanted.connect(self.logging.remove_entry)
        self.care.add_wanted.connect(
            lambda: self._with_shown(lambda shown: self.logging.add_care(shown, self.care.add))
        )

    def _with_shown(self, run) -> None:  # type: ignore[no-untyped-def]
        if self._shown is not None:
            run(self._shown)

    # ---------------------------------------------------------------- which machine

    @property
    def shown(self) -> Reckoned | None:
        """What is shown of a machine; None while nothing is."""
        return self._shown

    def show_page(self, machine_uid: str | None = None) -> None:
        """Shows a machine, the one in which the chosen batch lies, or the one shown last."""
        if not self._context.door.is_open:
            self._forget()
            return
        wanted = machine_uid or self._machine_of_batch() or self._machine
        # Where the chosen batch lies in another machine, the first that lies in this one is advised for.
        self._batch = self._context.batch or self._batch
        machines = self._machines(wanted)
        if not machines:
            self._forget()
            return
        known = {one.uid for one in machines}
        self._reckon(wanted if wanted in known else machines[0].uid)
        self._focus_wanted = self._has_focus()
        if self._shown is not None:
            self._take_focus()

    def focus_first(self) -> None:
        """Puts the focus where one begins to read: on the table of the guide."""
        if self._shown is None:
            self.header.setting.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.guide.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _has_focus(self) -> bool:
        """Whether the focus is here, or nowhere: what had it on another page is hidden by now."""
        focused = QApplication.focusWidget()
        return focused is None or self.isAncestorOf(focused)

    def _take_focus(self) -> None:
        if self._focus_wanted and self._has_focus():
            self.focus_first()
        self._focus_wanted = False

    def _machine_of_batch(self) -> str | None:
        """Where the chosen batch lies, as long as it is not over."""
        journal = self._context.door.journal
        batch = None if self._context.batch is None else journal.batches.find(self._context.batch)
        if batch is None or batch.closed_at is not None:
            return None
        now = self._context.now()
        return Course(journal, batch.uid, now).machine_at(now)

    def _machines(self, wanted: str | None) -> list[Machine]:
        """The machines in use, and a retired one that is asked for."""
        everyone = self._context.door.journal.machines.all()
        return [one for one in everyone if one.retired_on is None or one.uid == wanted] or everyone

    def _choose_machine(self, uid: str) -> None:
        self._batch = None
        self._reckon(uid)

    def _choose_batch(self, uid: str) -> None:
        self._batch = uid
        self._ask()

    # ---------------------------------------------------------------- reckoning

    def _reckon(self, uid: str) -> None:
        if uid != self._machine:
            self._machine = uid
            self._shown = None
            self.trouble.setVisible(False)
        self.header.show_machines(self._machines(uid), uid)
        self.header.setVisible(True)
        if self._shown is None:
            self.header.show_facts("")
            self.header.allow(writing=False, checking=True)
            self.body.setCurrentWidget(self.waiting)
        self._is_stale = False
        self.work.reckon(uid, self._context.now(), self._batch, self._room)

    def _ask(self) -> None:
        """Asks the fitted machine anew; where it is not fitted yet, or not any more, it is fitted first."""
        if self._machine is None:
            return
        if self._shown is None or self._is_stale:
            self._reckon(self._machine)
        else:
            self.work.reckon_again(self._shown, self._batch, self._room)

    def _take_room(self, room: RoomAir | None) -> None:
        self._room = room
        self._ask()

    def _note_change(self, change: Change) -> None:
        if not change.kinds & _KINDS:
            return
        self._is_stale = True
        if self.isVisible():
            self._again()

    def _again(self) -> None:
        """Reckons the same machine again, or what is left where it is gone."""
        if self._machine is None or self._context.door.journal.machines.find(self._machine) is None:
            self._machine = None
            self.show_page()
        else:
            self._reckon(self._machine)

    def _forget(self) -> None:
        """Another journal, or none, or one without a machine."""
        self.work.stop()
        self._machine = self._batch = self._room = self._shown = None
        self._is_stale = True
        self.header.setVisible(False)
        self.trouble.setVisible(False)
        self.body.setCurrentWidget(self.nothing)

    # ---------------------------------------------------------------- showing

    def _show(self, reckoned: Reckoned) -> None:
        if reckoned.uid != self._machine:
            return
        first = self._shown is None
        self._shown = reckoned
        self.trouble.setVisible(False)
        figures, guide, zone = reckoned.figures, reckoned.guide, self._context.zone
        for pane in (self.advice, self.guide, self.care, self.advice.room, self.care.table.care):
            pane.zone = zone
        watched = {flags.uid: flags for flags in reckoned.watch.probes}
        facts = [holds_sentence(figures, reckoned.now, zone)]
        facts += [probe_sentence(one, watched.get(one.probe.uid), zone) for one in figures.probes]
        if not figures.probes:
            facts.append(self.tr("No probe hangs in it."))
        facts.append(capacity_sentence(figures))
        self.header.show_facts("  ".join(facts))
        writing = not self._context.door.journal.read_only
        self.header.allow(writing=writing, checking=bool(figures.probes))
        self.care.add.setEnabled(writing)
        served = guide.wanted.batch if guide.wanted is not None else None
        phases = next((batch.phases for batch in figures.batches if batch.uid == served), ())
        bands = bands_of(phases)
        self.advice.show_guide(guide, reckoned.read_room, bands)
        labels = {batch.uid: batch.label for batch in figures.batches if batch.state is not BatchState.CLOSED}
        choices = tuple((uid, labels[uid]) for uid in reckoned.model.batches if uid in labels)
        self.advice.show_batches(choices, served)
        self.guide.show_guide(guide, bands, reckoned.now)
        self.history.show_figures(figures)
        self.care.show_care(reckoned.care, guide.dry_runs, reckoned.watch)
        self.body.setCurrentWidget(self.area)
        if first:
            self._take_focus()
            self.area.verticalScrollBar().setValue(0)

    def _tell_failed(self, error: Exception) -> None:
        if not isinstance(error, JournalError):
            raise error
        text = self.tr("This machine could not be reckoned: {reason}")
        self.trouble.set_note(text.format(reason=error_sentence(error)), "bad")
        self.trouble.setVisible(True)

    def _log_cell(self, channels: int, vent: float) -> None:
        if self._shown is not None and not self._context.door.journal.read_only:
            self.logging.log_setting(self._shown, channels, vent)

    # ---------------------------------------------------------------- as a widget

    def showEvent(self, event: QShowEvent) -> None:
        """What changed meanwhile is reckoned now."""
        super().showEvent(event)
        if self._is_stale and self._machine is not None and self._context.door.is_open:
            self._again()

    def hideEvent(self, event: QHideEvent) -> None:
        """A page that is not seen asks for nothing."""
        super().hideEvent(event)
        if self.work.is_busy:
            self.work.stop()
            self._is_stale = True
