"""Closing a batch: what is still open is said before its eggs' fates are final."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QFormLayout, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.tray.tally import Tally
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.errors import error_sentence
from hatchbook.figures import batch_figures
from hatchbook.journal import Batch
from hatchbook.trade.codes import Fate
from hatchbook.trade.instants import InstantError

_OPEN = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE, Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP, Fate.DEAD})


class CloseBatchDialog(FramedDialog):
    """Shows the tally and the eggs without an end; closes at an instant; reopening undoes it at any time."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = self.tr("Close {label} {name}").format(label=batch.label, name=batch.name)
        super().__init__(title, parent, QSize(480, 0))
        self._context = context
        self._batch = batch
        figures = batch_figures(context.door.journal, batch.uid, context.now())
        self.at = InstantEdit(context.zone, max(context.now(), batch.set_at))
        self.at.set_accessible_name(self.tr("Closed at"))
        form = QFormLayout()
        form.addRow(self.tr("&Closed at"), self.at)
        tally = Tally()
        tally.show_counts(figures.counts)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(form)
        rows.addWidget(tally)
        unended = sum(figures.counts.get(fate, 0) for fate in _OPEN)
        clear = figures.counts.get(Fate.CLEAR, 0)
        if unended:
            rows.addWidget(
                InlineNote(
                    self.tr(
                        "%n egg(s) without an end: what did not hatch and is not opened stays “not known”.",
                        "",
                        unended,
                    ),
                    "warn",
                )
            )
        if clear:
            rows.addWidget(
                InlineNote(
                    self.tr(
                        "%n clear egg(s) not opened: only opening tells infertile from early dead.", "", clear
                    ),
                    "info",
                )
            )
        rows.addWidget(Label(self.tr("A closed batch can be reopened at any time."), ink="ink2"))
        rows.addStretch(1)
        self.set_content(rows)
        self.add_main_button(self.tr("Close batch")).clicked.connect(self._close)
        self.add_leave_button(self.tr("Keep it open"))

    def _close(self) -> None:
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return
        if at < self._batch.set_at:
            self.tell(self.tr("A batch cannot be closed before it was set."))
            return
        if self._context.door.run(lambda journal: journal.batches.close(self._batch, at)) is not None:
            self.accept()
