"""What a check of the journal found."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QListWidget, QProgressBar, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.tasks import Task
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.problems import held_sentence, problem_sentence
from hatchbook.journal import CheckReport


class CheckDialog(FramedDialog):
    """Checks on the worker, then lists problems and remarks."""

    def __init__(self, context: DeskContext, parent: QWidget | None) -> None:
        super().__init__(self.tr("Check of the journal"), parent, QSize(560, 260))
        self._journal = context.door.journal
        self.verdict = Label(self.tr("Checking…"), role="section", wraps=True)
        self.counts = Label("", ink="ink2", wraps=True)
        self._busy = QProgressBar()
        self._busy.setRange(0, 0)
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("What was found"))
        self.list.setWordWrap(True)
        self.list.hide()
        rows = QVBoxLayout()
        rows.setSpacing(8)
        for widget in (self.verdict, self._busy, self.counts):
            rows.addWidget(widget)
        rows.addWidget(self.list, 1)
        rows.addStretch(0)
        self.set_content(rows)
        self.add_leave_button(self.tr("Close"))
        self._task = context.worker.start(self._check)
        self._task.finished.connect(self._show)
        self._task.failed.connect(self._fail)
        self.finished.connect(lambda _result: self._task.cancel())

    def _check(self, _task: Task) -> CheckReport:
        journal = self._journal.second()
        try:
            return journal.check()
        finally:
            journal.close()

    def _show(self, report: CheckReport) -> None:
        self._busy.hide()
        if report.sound:
            self.verdict.setText(self.tr("The journal is sound."))
        else:
            self.verdict.setText(self.tr("%n problem(s) found.", "", len(report.problems)))
        self.counts.setText(held_sentence(report.counts))
        for problem in report.problems:
            self.list.addItem(problem_sentence(problem))
        for remark in report.remarks:
            self.list.addItem(self.tr("Worth a look: {remark}").format(remark=problem_sentence(remark)))
        self.list.setVisible(self.list.count() > 0)

    def _fail(self, error: BaseException) -> None:
        self._busy.hide()
        self.verdict.setText(self.tr("The check could not be finished."))
        self.tell(error_sentence(error))
