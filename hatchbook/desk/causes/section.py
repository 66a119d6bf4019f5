"""Probable causes on the page of a finished batch: weighed beside the window, shown when they are there."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.causes.causes_view import CausesView
from hatchbook.desk.causes.open_record import open_record
from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.tasks import Task
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.words.causes import caution_sentences, more_causes_text, summary_sentence
from hatchbook.figures.cause_results import BatchCauses, RecordRef
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.journal import Journal

_SETTLE_MS = 30
"""The page is painted first."""


class CausesSection(QWidget):
    """Title, what there is to say in one sentence, the table, and cautions.

    Signals:
        weighed: the ``BatchCauses`` of the batch that is shown.
    """

    weighed = Signal(object)

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._figures: BatchFigures | None = None
        self.state = ElidedLabel("", "caption", "ink2")
        self.summary = Label("", wraps=True)
        self.table = CausesView()
        self.more = LinkButton("")
        self.cautions = Label("", "caption", "ink2", wraps=True)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        head = QHBoxLayout()
        head.setSpacing(10)
        head.addWidget(Label(self.tr("Probable causes"), role="section"))
        head.addWidget(self.state, 1)
        self.how = LinkButton(self.tr("How causes are weighed"))
        self.how.clicked.connect(self._explain)
        head.addWidget(self.how)
        rows.addLayout(head)
        for part in (self.summary, self.table, self.more, self.cautions):
            rows.addWidget(part)
        self._all_shown = False
        self.more.clicked.connect(self._show_more)
        self._work = LatestWork(context, self)
        self._work.answered.connect(self._show)
        self._work.failed.connect(self._fail)
        self.table.record_opened.connect(self._open)
        self._show_parts(None)

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Has the causes of a batch weighed; those of the batch that is shown stay until then."""
        same = figures is not None and self._figures is not None
        same = same and figures.batch.uid == self._figures.batch.uid  # type: ignore[union-attr]
        self._figures = figures
        if not same:
            self._show_parts(None)
        if figures is None or curves is None:
            self._work.stop()
            self.state.setText("")
            return
        self.state.setText(self.tr("weighing the causes…"))
        uid = figures.batch.uid

        def weigh(journal: Journal, _task: Task) -> BatchCauses | None:
            from hatchbook.figures.causes import causes_of

            return causes_of(journal, figures, curves) if journal.batches.find(uid) else None

        self._work.read_soon(weigh, _SETTLE_MS)

    def _show(self, causes: BatchCauses) -> None:
        self.state.setText(self.tr("weighed from this journal; a guide, not a verdict"))
        self._show_parts(causes)
        self.weighed.emit(causes)

    def _show_parts(self, causes: BatchCauses | None) -> None:
        summary = "" if causes is None else summary_sentence(causes)
        cautions = [] if causes is None else caution_sentences(causes)
        self.summary.setText(summary)
        self.summary.setVisible(bool(summary))
        self.table.show_causes(causes, self._context.zone)
        self.table.setVisible(self.table.has_rows)
        self._name_more()
        self.cautions.setText("  ".join(cautions))
        self.cautions.setVisible(bool(cautions))

    def _show_more(self) -> None:
        self._all_shown = not self._all_shown
        self.table.show_all(self._all_shown)
        self.table.setVisible(self.table.has_rows)
        self._name_more()

    def _name_more(self) -> None:
        count = self.table.without_case
        self.more.set_text(more_causes_text(count, shown=self._all_shown))
        self.more.setVisible(count > 0)

    def _fail(self, error: BaseException) -> None:
        self.state.setText(self.tr("the causes could not be weighed"))
        raise error

    def _explain(self) -> None:
        from hatchbook.desk.dialogs.explain import ExplanationDialog
        from hatchbook.desk.words.cause_weighing import weighing_explanation

        ExplanationDialog(*weighing_explanation(), self.window()).open()

    def _open(self, record: RecordRef) -> None:
        if self._figures is not None:
            open_record(self._context, record, self.window())
