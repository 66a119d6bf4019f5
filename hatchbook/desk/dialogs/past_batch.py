"""A batch of a past season entered by its counts, with the rates that follow as they are typed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialogButtonBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.with_trouble import focus
from hatchbook.desk.past.fields import CountFields
from hatchbook.desk.past.identity import IdentityFields
from hatchbook.desk.past.live_rates import LiveRates
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.words.past_seasons import count_sentence
from hatchbook.figures import PastDraft, past_draft
from hatchbook.figures.offered import likely_species
from hatchbook.figures.past_batches import COUNTS, CountFault
from hatchbook.journal import PastBatch
from hatchbook.journal.table import new_uid

_SIZE = QSize(940, 0)
_LONGEST_NOTE = 2000


class PastBatchDialog(FramedDialog):
    """Enters a past batch, or changes one; several can be entered one after the other."""

    def __init__(self, context: DeskContext, parent: QWidget | None, batch: PastBatch | None = None) -> None:
        title = self.tr("Add a past batch") if batch is None else self.tr("Change a past batch")
        super().__init__(title, parent, _SIZE)
        self._context = context
        self._batch = batch
        self._uid = batch.uid if batch is not None else new_uid()
        self.identity = IdentityFields(context, self._uid)
        self.counts = CountFields()
        self.remark = QLineEdit()
        self.remark.setMaxLength(_LONGEST_NOTE)
        self.remark.setAccessibleName(self.tr("Note"))
        self.live = LiveRates()
        self._lay_out()
        shown = batch if batch is not None else self._proposed()
        self.identity.show_batch(shown, is_new=batch is None)
        if batch is not None:
            self.counts.show_counts({name: getattr(batch, name) for name in COUNTS})
        self.remark.setText(shown.note)
        self.counts.edited.connect(self._follow)
        self._follow()
        first = self.identity.set_on if batch is None else self.counts.fields["eggs_set"]
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _proposed(self) -> PastBatch:
        """Where entering begins: the season before the present one, the species of the newest batch."""
        journal = self._context.door.journal
        newest = journal.past_batches.all()
        species = newest[0].species if newest else likely_species(journal)
        return PastBatch("", self._context.today().year - 1, species, 0, uid=self._uid)

    def _lay_out(self) -> None:
        note = Label(self.tr("Note"))
        note.setBuddy(self.remark)
        row = QHBoxLayout()
        row.setSpacing(10)
        row.addWidget(note)
        row.addWidget(self.remark, 1)
        left = QVBoxLayout()
        left.setSpacing(10)
        left.addWidget(self.identity)
        left.addWidget(HLine())
        left.addWidget(Label(self.tr("Counts; what was not counted stays empty"), role="section"))
        left.addWidget(self.counts)
        left.addLayout(row)
        left.addStretch(1)
        whole = QHBoxLayout()
        whole.setSpacing(16)
        whole.addLayout(left, 3)
        whole.addWidget(VLine())
        whole.addWidget(self.live, 2)
        self.set_content(whole)
        if self._batch is None:
            self.store = self.add_main_button(self.tr("Add batch"))
            another = self.tr("Add, and enter another")
            self.another = self.buttons.addButton(another, QDialogButtonBox.ButtonRole.ActionRole)
            self.another.setAutoDefault(False)
            self.another.clicked.connect(self._add_and_go_on)
        else:
            self.store = self.add_main_button(self.tr("Keep the change"))
        self.leave = self.add_leave_button(self.tr("Cancel"))
        self.store.clicked.connect(self._store)

    # ---------------------------------------------------------------- following

    def _follow(self) -> None:
        """The rates of the counts as they stand, and what cannot be about them."""
        self._draft()

    def _draft(self, *, asks: bool = False) -> tuple[dict[str, Any], PastDraft] | None:
        """The counts and what follows from them; None where one cannot be read."""
        counts = self.counts.read()
        if counts is None:
            self.live.show_draft(None)
            return None
        typed: dict[str, Any] = {**counts, "eggs_set": counts["eggs_set"] or 0}
        draft = past_draft(PastBatch("", 0, "", **typed))
        for trouble in draft.troubles:
            if trouble.fault is not CountFault.NO_EGGS or asks or self._counts_typed(counts):
                self.counts.tell(trouble.field, count_sentence(trouble))
        self.live.show_draft(draft)
        return typed, draft

    def _counts_typed(self, counts: dict[str, int | None]) -> bool:
        return any(count for name, count in counts.items() if name != "eggs_set")

    # ---------------------------------------------------------------- storing

    def _read(self) -> PastBatch | None:
        """The batch as it was typed; None where something cannot be, to which the focus goes."""
        found = self._draft(asks=True)
        typed, draft = found if found is not None else ({"eggs_set": 0}, None)
        batch = self.identity.read(PastBatch("", 0, "", typed["eggs_set"]))
        good = draft is not None and not draft.troubles
        wrong = self.identity.first_trouble() or self.counts.first_trouble()
        if batch is None or not good:
            if wrong is not None:
                focus(wrong)
            return None
        return replace(batch, **typed, note=self.remark.text().strip())

    def _keep(self) -> PastBatch | None:
        """Stores the batch; None where it cannot be, or the journal refused it."""
        self.tell("")
        batch = self._read()
        if batch is None:
            return None
        new = self._batch is None
        change = self._context.door.run(
            lambda journal: journal.past_batches.add(batch) if new else journal.past_batches.replace(batch)
        )
        if change is None:
            self.tell(self.tr("This was not stored; what you typed is still here."))
            return None
        return batch

    def _store(self) -> None:
        batch = self._keep()
        if batch is not None:
            self._context.choose_batch(batch.uid)
            self.accept()

    def _add_and_go_on(self) -> None:
        batch = self._keep()
        if batch is None:
            return
        self._uid = new_uid()
        self.identity.begin_another(self._uid)
        self.counts.show_counts({})
        self.remark.clear()
        self._follow()
        self.tell(self.tr("Batch {label} is added.").format(label=batch.label), "info")
        focus(self.identity.set_on)
