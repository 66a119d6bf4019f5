"""The marks of the chosen egg, and changing, moving or removing one of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.hatching.chick_fields import ChickFields
from hatchbook.desk.hatching.egg_marks import EggMarksView
from hatchbook.desk.hatching.mark_time import quarter_from
from hatchbook.desk.widgets.labels import Label
from hatchbook.journal import Batch, Hatching


class MarksPane(QWidget):
    """Every change is stored at once, but ring, mass and note: those are typed into the fields of the chick first.

    Signals:
        told: a sentence for the dialog's note ("" takes it away) and how much it matters.
        changing: ring, mass and note of a mark stand in the fields now.
        left: the keyboard is to go back to the tray.
    """

    told = Signal(str, str)
    changing = Signal()
    left = Signal()

    def __init__(
        self, context: DeskContext, batch: Batch, fields: ChickFields, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._context, self._batch, self._fields = context, batch, fields
        self._edited: Hatching | None = None
        self.title = Label("", role="section")
        self.view = EggMarksView(context.zone)
        self.keep = QPushButton(self.tr("Keep the change"))
        self.keep.setAutoDefault(False)
        self.keep.setVisible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.title)
        keys = self.tr("− + move the mark, Enter changes it, Del removes it")
        self._keys = Label(keys, "caption", "ink2", wraps=True)
        column.addWidget(self._keys)
        column.addWidget(self.view, 1)
        self.view.mark_removed.connect(self._remove)
        self.view.mark_shifted.connect(self._shift)
        self.view.mark_opened.connect(self._change)
        self.keep.clicked.connect(self.keep_change)

    @property
    def is_changing(self) -> bool:
        """Whether the fields hold a mark that is being changed."""
        return self._edited is not None

    def show_marks(self, egg: str, records: Sequence[Hatching]) -> None:
        """Shows the marks of another egg, by its name, or the same as they are now."""
        self.view.show_records(records)
        self.view.setEnabled(bool(records))
        self._keys.setVisible(bool(records))
        self.title.setText(self.tr("Marks of {egg}").format(egg=egg) if egg else self.tr("Marks"))
        if self._edited is not None and self._edited.uid not in {record.uid for record in records}:
            self.leave_change()

    def keep_change(self) -> None:
        """Stores what the fields hold for the mark that is being changed."""
        record = self._edited
        if record is None:
            return
        if self._fields.is_bad():
            self.told.emit(self.tr("Mend the mass of the chick, or take it away."), "bad")
            return
        changed = replace(
            record,
            ring=self._fields.ring_text(),
            chick_mass_g=self._fields.mass_g(),
            note=self._fields.note_text(),
        )
        if self._context.door.run(lambda journal: journal.hatchings.replace(changed)) is not None:
            self.leave_change()

    def leave_change(self) -> None:
        """The mark stays as it was; the fields are free again."""
        self._edited = None
        self.keep.setVisible(False)
        self._fields.ring.clear()
        self._fields.forget_one()
        self.told.emit("", "info")
        self.left.emit()

    def _change(self, record: Hatching) -> None:
        self._edited = record
        self._fields.show_record(record)
        self.keep.setVisible(True)
        self.told.emit(self.tr("Change ring, mass or note, then press Enter."), "info")
        self.changing.emit()

    def _remove(self, record: Hatching) -> None:
        self.told.emit("", "info")
        self._context.door.run(lambda journal: journal.hatchings.remove(record))
        if not self.view.isEnabled():
            self.left.emit()

    def _shift(self, record: Hatching, quarters: int) -> None:
        at = quarter_from(record.at, quarters)
        if at > self._context.now():
            self.told.emit(self.tr("That time is still to come."), "bad")
        elif at < self._batch.set_at:
            self.told.emit(self.tr("The batch was not set yet at that time."), "bad")
        else:
            self.told.emit("", "info")
            self._context.door.run(lambda journal: journal.hatchings.replace(replace(record, at=at)))
