"""What the Batch menu does with the chosen batch."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMainWindow, QMessageBox

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.journal import Batch, Change, Event, Journal, PastBatch
from hatchbook.trade.codes import EventKind

_NEED_JOURNAL = (
    "check_journal",
    "journal_settings",
    "keep_holding",
    "keep_programmes",
    "page_seasons",
    "page_machines",
)
#: Where no journal is open, they ask for a new one.
_NEED_NO_READER = ("new_batch", "add_past_batch", "import_readings", "import_past")
_NEED_BATCH = ("batch_history", "delete_batch", "chart_table", "go_chart", "go_tray", "go_lines", "add_note")
_NEED_OPEN_BATCH = (
    "change_batch",
    "candle",
    "candle_from_paper",
    "weigh",
    "log_event",
    "add_reading",
    "log_turned",
    "hatch_day",
    "open_unhatched",
    "take_out",
    "close_batch",
)


class BatchActions(QObject):
    """Carries out the batch actions, and says which of them can be carried out now."""

    def __init__(self, context: DeskContext, actions: Actions, window: QMainWindow) -> None:
        super().__init__(window)
        self._context = context
        self._actions = actions
        self._window = window

    def handlers(self) -> dict[str, Callable[[], object]]:
        """The actions that this part carries out."""
        return {
            "new_batch": self.new_batch,
            "add_past_batch": self.add_past_batch,
            "change_batch": self.change_batch,
            "candle": self.candle,
            "candle_from_paper": self.candle_from_paper,
            "weigh": self.weigh,
            "log_event": self.log_event,
            "add_reading": self.add_reading,
            "add_note": self.add_note,
            "log_turned": self.log_turned,
            "hatch_day": self.hatch_day,
            "open_unhatched": self.open_unhatched,
            "take_out": self.take_out,
            "batch_history": self.show_history,
            "close_batch": self.close_batch,
            "reopen_batch": self.reopen_batch,
            "delete_batch": self.delete_batch,
            "keep_holding": self.keep_holding,
            "keep_programmes": self.keep_programmes,
            "show_keys": self.show_keys,
            "cautions": self.show_cautions,
            "about": self.show_about,
        }

    def update_enabled(self) -> None:
        """Enables what can be done with the journal and the batch as they are."""
        door = self._context.door
        batch = self._batch()
        writable = door.is_open and not door.journal.read_only
        for name in _NEED_JOURNAL:
            self._actions[name].setEnabled(door.is_open)
        for name in _NEED_NO_READER:
            self._actions[name].setEnabled(writable or not door.is_open)
        self._actions["restore_backup"].setEnabled(writable and not door.journal.settings.is_demo)
        for name in _NEED_BATCH:
            self._actions[name].setEnabled(batch is not None)
        running = batch is not None and batch.closed_at is None and writable
        for name in _NEED_OPEN_BATCH:
            self._actions[name].setEnabled(running)
        self._actions["reopen_batch"].setEnabled(
            batch is not None and batch.closed_at is not None and writable
        )
        for name in ("delete_batch", "add_note"):
            self._actions[name].setEnabled(batch is not None and writable)
        if self._past() is not None and writable:
            for name in ("change_batch", "delete_batch"):
                self._actions[name].setEnabled(True)

    def _batch(self) -> Batch | None:
        if not self._context.door.is_open or self._context.batch is None:
            return None
        return self._context.door.journal.batches.find(self._context.batch)

    def _past(self) -> PastBatch | None:
        """The chosen batch, if only counts are known of it."""
        if not self._context.door.is_open or self._context.batch is None:
            return None
        return self._context.door.journal.past_batches.find(self._context.batch)

    # ---------------------------------------------------------------- dialogs

    def new_batch(self) -> None:
        """Plans and sets a new batch."""
        from hatchbook.desk.dialogs.new_batch import NewBatchDialog

        files = self._window.files  # type: ignore[attr-defined]
        if files.ensure_journal():
            NewBatchDialog(self._context, self._window).open()

    def add_past_batch(self) -> None:
        """Enters a batch of a past season by its counts."""
        from hatchbook.desk.dialogs.past_batch import PastBatchDialog

        files = self._window.files  # type: ignore[attr-defined]
        if files.ensure_journal():
            PastBatchDialog(self._context, self._window).open()

    def copy_batch(self, uid: str) -> None:
        """Plans a new batch like an earlier one."""
        from hatchbook.desk.dialogs.new_batch import NewBatchDialog

        batch = self._context.door.journal.batches.find(uid)
        if batch is not None:
            NewBatchDialog(self._context, self._window, copy_of=batch).open()

    def change_batch(self) -> None:
        """Changes what was planned for the chosen batch, or what is known of a past one."""
        from hatchbook.desk.dialogs.new_batch import NewBatchDialog
        from hatchbook.desk.dialogs.past_batch import PastBatchDialog

        if (past := self._past()) is not None:
            PastBatchDialog(self._context, self._window, past).open()
        if (batch := self._batch()) is not None:
            NewBatchDialog(self._context, self._window, batch).open()

    def candle(self) -> None:
        """Opens the dark room, to enter what is seen in the eggs."""
        from hatchbook.desk.candling_room.room import CandlingRoom

        if (batch := self._batch()) is not None:
            CandlingRoom(self._context, batch, self._window).enter()

    def candle_from_paper(self) -> None:
        """Enters what was seen in the eggs and noted on paper."""
        from hatchbook.desk.dialogs.candling import CandlingDialog

        if (batch := self._batch()) is not None:
            CandlingDialog(self._context, batch, self._window).open()

    def weigh(self) -> None:
        """Enters what the eggs weigh."""
        from hatchbook.desk.weighing.dialog import WeighDialog

        if (batch := self._batch()) is not None:
            WeighDialog(self._context, batch, self._window).open()

    def log_event(self) -> None:
        """Logs water, vent, lid, a power cut, a misting."""
        from hatchbook.desk.dialogs.log_event import LogEventDialog

        if (batch := self._batch()) is not None:
            LogEventDialog(self._context, batch, self._window).open()

    def add_note(self) -> None:
        """Writes a note into the chosen batch's journal."""
        from hatchbook.desk.dialogs.log_event import LogEventDialog

        if (batch := self._batch()) is not None:
            LogEventDialog(self._context, batch, self._window, kind=EventKind.NOTE).open()

    def add_reading(self) -> None:
        """Enters a reading by hand."""
        from hatchbook.desk.dialogs.reading import ReadingDialog

        if (batch := self._batch()) is not None:
            ReadingDialog(self._context, batch, self._window).open()

    def log_turned(self) -> None:
        """Logs that the eggs were turned just now; ticks the turning that was due, if one was."""
        batch = self._batch()
        if batch is None:
            return
        now = self._context.now()
        journal = self._context.door.journal
        due = journal.duties.turn_due(batch.uid, now)
        if due is not None:
            self._context.door.run(lambda journal: journal.duties.tick(due, now))
        else:
            event = Event(now, EventKind.TURNED, batch=batch.uid)
            self._context.door.run(lambda journal: journal.events.add(event))

    def hatch_day(self) -> None:
        """Enters pips and chicks by time."""
        from hatchbook.desk.hatching.hatch_day import HatchDayDialog

        if (batch := self._batch()) is not None:
            HatchDayDialog(self._context, batch, self._window).open()

    def open_unhatched(self) -> None:
        """Enters what the eggs that did not hatch show when they are opened."""
        from hatchbook.desk.opening.open_unhatched import OpenUnhatchedDialog

        if (batch := self._batch()) is not None:
            OpenUnhatchedDialog(self._context, batch, self._window).open()

    def take_out(self) -> None:
        """Enters eggs that left the batch alive, or broke."""
        from hatchbook.desk.opening.take_out import TakeOutDialog

        if (batch := self._batch()) is not None:
            TakeOutDialog(self._context, batch, self._window).open()

    def show_history(self) -> None:
        """Shows what was changed in the chosen batch, when, from what to what."""
        from hatchbook.desk.dialogs.batch_history import BatchHistoryDialog

        if (batch := self._batch()) is not None:
            BatchHistoryDialog(self._context, batch, self._window).open()

    def close_batch(self) -> None:
        """Closes the chosen batch: its eggs' fates are final."""
        from hatchbook.desk.dialogs.close_batch import CloseBatchDialog

        if (batch := self._batch()) is not None:
            CloseBatchDialog(self._context, batch, self._window).open()

    def reopen_batch(self) -> None:
        """Opens the chosen batch again."""
        if (batch := self._batch()) is not None:
            self._context.door.run(lambda journal: journal.batches.reopen(batch))

    def delete_batch(self) -> None:
        """Asks, then deletes the chosen batch with its eggs, or a past one; undo brings it back."""
        past, batch = self._past(), self._batch()
        if past is not None:
            question = self.tr("Delete the past batch {batch} with its counts?")
            self._ask_to_delete(past, question, "", lambda journal: journal.past_batches.remove(past))
        elif batch is not None:
            question = self.tr("Delete batch {batch} with its eggs and all that was recorded of them?")
            remark = self.tr("Readings stay with their probe.")
            self._ask_to_delete(batch, question, remark, lambda journal: journal.batches.delete(batch))

    def _ask_to_delete(
        self, batch: Batch | PastBatch, question: str, remark: str, delete: Callable[[Journal], Change]
    ) -> None:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setWindowTitle(self.tr("Delete batch"))
        box.setText(question.format(batch=f"{batch.label} {batch.name}".strip()))
        box.setInformativeText(" ".join([*[remark] * bool(remark), self.tr("Undo brings the batch back.")]))
        button = box.addButton(
            self.tr("Delete batch {label}").format(label=batch.label), QMessageBox.ButtonRole.DestructiveRole
        )
        keep = box.addButton(self.tr("Keep it"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(keep)

        def finish(_result: int) -> None:
            if box.clickedButton() is button:
                self._context.choose_batch(None)
                self._context.door.run(delete)

        box.finished.connect(finish)
        box.open()

    def keep_holding(self) -> None:
        """Shows machines, probes and pens, and where each hangs or lies."""
        from hatchbook.desk.dialogs.holding import HoldingDialog

        files = self._window.files  # type: ignore[attr-defined]
        if files.ensure_journal():
            HoldingDialog(self._context, self._window).open()

    def keep_programmes(self) -> None:
        """Shows the trade's programmes with their sources, and the breeder's own to change."""
        from hatchbook.desk.dialogs.programmes import ProgrammesDialog

        files = self._window.files  # type: ignore[attr-defined]
        if files.ensure_journal():
            ProgrammesDialog(self._context, self._window).open()

    def show_keys(self) -> None:
        """Shows the keys of the program."""
        from hatchbook.desk.dialogs.keys import KeysDialog

        KeysDialog(self._actions, self._window).open()

    def show_cautions(self) -> None:
        """Shows the cautions of the trade."""
        from hatchbook.desk.dialogs.cautions import CautionsDialog

        CautionsDialog(self._window).open()

    def show_about(self) -> None:
        """Says what the program is."""
        from hatchbook.desk.dialogs.about import show_about

        show_about(self._window)
