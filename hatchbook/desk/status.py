"""The status bar: when the journal was saved, the latest reading, what undo would take back."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QLabel, QStatusBar

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.dates import clock_time
from hatchbook.desk.words.history import change_sentence, step_sentence


class StatusBar(QStatusBar):
    """Says what is stored and what undo would take back; never anything that is said nowhere else."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("status")
        self.setSizeGripEnabled(False)
        self._context = context
        self._undo_key = actions["undo"].shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        self._saved = Label("", role="caption", ink="ink2")
        self._last = Label("", role="caption", ink="ink2")
        self._undo = Label("", role="caption", ink="ink2")
        for label in (self._saved, self._last, self._undo):
            label.setContentsMargins(12, 0, 8, 0)
            self.addWidget(label)
        context.door.changed.connect(self._tell)
        context.door.journal_changed.connect(self._refresh)
        self._refresh()

    @property
    def parts(self) -> tuple[QLabel, QLabel, QLabel]:
        """The three parts: saved, latest change, undo."""
        return self._saved, self._last, self._undo

    def _tell(self, change: object) -> None:
        self._refresh()
        self._last.setText(change_sentence(change, self._context.zone))  # type: ignore[arg-type]

    def _refresh(self) -> None:
        door = self._context.door
        self._last.setText("")
        if not door.is_open:
            self._saved.setText(self.tr("No journal is open"))
            self._undo.setText("")
            return
        if door.journal.settings.is_demo:
            self._saved.setText(self.tr("Demo: invented data, and nothing you do here is kept"))
        elif door.journal.read_only:
            self._saved.setText(
                self.tr("{file}, opened for reading only").format(file=door.journal.path.name)
            )
        elif door.saved_at is not None:
            time = clock_time(door.saved_at, self._context.zone)
            self._saved.setText(self.tr("Saved {time}").format(time=time))
        else:
            self._saved.setText(door.journal.path.name)
        step = door.next_undo()
        if step is None:
            self._undo.setText("")
        else:
            text = self.tr("Undo: {step}  ({key})")
            sentence = step_sentence(step, self._context.zone)
            self._undo.setText(text.format(step=sentence, key=self._undo_key))
