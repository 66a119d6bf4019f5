"""A logger's file comes into the journal: every guess shown, every line accounted for, nothing without a look."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDropEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.importing.curve_pane import CurvePane
from hatchbook.desk.importing.drop_hint import DropHint
from hatchbook.desk.importing.file_row import FileRow, dropped_file
from hatchbook.desk.importing.file_work import Job
from hatchbook.desk.importing.foot import ImportFoot
from hatchbook.desk.importing.goes_to import GoesTo
from hatchbook.desk.importing.left_out_pane import LeftOutPane
from hatchbook.desk.importing.preview_model import PreviewLines
from hatchbook.desk.importing.preview_table import PreviewTable
from hatchbook.desk.importing.question_bar import QuestionBar
from hatchbook.desk.importing.questions import questions_of
from hatchbook.desk.importing.read_as import ReadAs, with_hints
from hatchbook.desk.importing.work import ImportWork, ReadOutcome
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.words.imports import (
    account_sentences,
    coverage_sentence,
    file_problem,
    remarks,
    sum_sentences,
)
from hatchbook.exchange.logger_file import LayoutHints, LayoutNotFoundError, LoggerFileError
from hatchbook.exchange.reading_import import ImportPlan, ReadFile, Target
from hatchbook.journal import Change

_SIZE, _LEAST = QSize(960, 668), QSize(860, 560)


class ImportDialog(FramedDialog):
    """Reads a file at once, shows how, and brings it in as one step."""

    def __init__(self, context: DeskContext, parent: QWidget | None, path: Path | None = None) -> None:
        super().__init__(self.tr("Import readings"), parent, _SIZE)
        self._context = context
        self._hints = LayoutHints()
        self._path: Path | None = None
        self._file: ReadFile | None = None
        self._plan: ImportPlan | None = None
        self._target: Target | None = None
        self.setAcceptDrops(True)
        # Else Qt asks for the height that wrapped texts have at the least width.
        self.setMinimumSize(_LEAST)
        self._build()
        self._work = ImportWork(context, self)
        self._connect()
        self._forget()
        self._show_state()
        if path is not None:
            self.load(path)
        else:
            self.file_row.choose.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        context = self._context
        self.file_row = FileRow(context.settings)
        self.read_as = ReadAs(context.zone)
        self.goes_to = GoesTo(context.door.journal, context.now())
        self.question = QuestionBar()
        self.remarks = InlineNote("", "info")
        self.preview = PreviewTable()
        self.left_out = LeftOutPane()
        self.curve = CurvePane(context.zone)
        self.foot = ImportFoot()
        top = QGridLayout()
        top.setHorizontalSpacing(14)
        top.setVerticalSpacing(8)
        rows = (
            (self.tr("&File"), self.file_row),
            (self.tr("&Read as"), self.read_as),
            (self.tr("&Goes to"), self.goes_to),
        )
        for row, (text, widget) in enumerate(rows):
            label = Label(text)
            label.setBuddy(widget)
            top.addWidget(label, row, 0, Qt.AlignmentFlag.AlignTop)
            label.setMinimumHeight(self.file_row.sizeHint().height())
            top.addWidget(widget, row, 1)
        top.setColumnStretch(1, 1)
        self.below = QWidget()
        pair = QHBoxLayout(self.below)
        pair.setContentsMargins(0, 0, 0, 0)
        pair.setSpacing(16)
        pair.addWidget(self.left_out, 5)
        pair.addWidget(self.curve, 4)
        self.shown = QWidget()
        column = QVBoxLayout(self.shown)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(9)
        column.addWidget(self.preview, 5)
        column.addWidget(self.below, 4)
        self.nothing = DropHint(
            self.tr("Choose the file that your logger wrote, or drop it here."),
            self.tr("Any text file is fine that has dates, and temperature or humidity, in columns."),
        )
        self.pages = QStackedWidget()
        self.pages.addWidget(self.nothing)
        self.pages.addWidget(self.shown)
        self.content = QWidget()
        whole = QVBoxLayout(self.content)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(9)
        whole.addLayout(top)
        whole.addWidget(HLine())
        self._rows.removeWidget(self.note)
        whole.addWidget(self.note)
        whole.addWidget(self.question)
        whole.addWidget(self.remarks)
        whole.addWidget(self.pages, 1)
        self.set_content(self.content)
        self._rows.setSpacing(9)
        self._rows.removeWidget(self.buttons)
        foot = QHBoxLayout()
        foot.setSpacing(14)
        foot.addWidget(self.foot, 1)
        foot.addWidget(self.buttons)
        self._rows.addWidget(HLine())
        self._rows.addLayout(foot)
        self.store = self.add_main_button(self.tr("Import"))
        self.leave = self.add_leave_button(self.tr("Cancel"))

    def _connect(self) -> None:
        self.file_row.chosen.connect(self.load)
        self.read_as.hinted.connect(self._hint)
        self.question.answered.connect(self._hint)
        self.preview.roles_chosen.connect(lambda roles: self._hint({"columns": roles}))
        self.goes_to.changed.connect(self._retarget)
        self.store.clicked.connect(self._store)
        work = self._work
        work.was_read.connect(self._show_read)
        work.planned.connect(self._show_plan)
        work.imported.connect(self._finish)
        work.stopped.connect(self._tell_stopped)
        work.failed.connect(self._fail)
        work.began.connect(self._begin)
        work.ended.connect(self._show_state)
        work.took_long.connect(self._show_long)
        work.progressed.connect(self._progress)

    # ---------------------------------------------------------------- reading

    def load(self, path: Path) -> None:
        """Reads a file; nothing of the one before is kept."""
        self._path, self._hints, self._target = path, LayoutHints(), None
        self._file = self._plan = None
        self.file_row.show_path(path)
        self._read()

    def _hint(self, chosen: dict[str, object]) -> None:
        """The breeder decided something: the file is read again with it."""
        self._hints = with_hints(self._hints, chosen)
        self._read()

    def _read(self) -> None:
        if self._path is not None:
            self.tell("")
            self._work.read(self._path, self._hints, self.goes_to.choices(), self._target)

    def _retarget(self) -> None:
        self._target = self.goes_to.target()
        if self._work.job is Job.READING:
            self._read()
        elif self._file is not None:
            self._work.plan(self._file, self._target)

    def _show_read(self, outcome: ReadOutcome) -> None:
        self._file = outcome.file
        table = outcome.file.table
        if self._target is None:
            self.goes_to.show_target(outcome.plan.target)
        self.read_as.show_layout(
            table.layout, table.guesses, int(table.at[0]) if table.stored else self._context.now()
        )
        self.preview.show_lines(PreviewLines.of_table(table), table.layout.temperature_unit)
        self.curve.show_table(table)
        questions = questions_of(table, self._context.zone)
        self.question.ask(questions[0] if questions else None)
        self._show_page(whole=True)
        self._show_plan(outcome.plan)

    def _show_plan(self, plan: ImportPlan) -> None:
        self._plan = plan
        now, zone = self._context.now(), self._context.zone
        assert self._file is not None
        table = self._file.table
        self.goes_to.sentence.setText(coverage_sentence(plan, zone, now))
        self.left_out.show_lines(plan.left_out)
        self.left_out.setVisible(bool(plan.left_out.lines))
        self.foot.show_sum(sum_sentences(plan), account_sentences(table))
        self._show_remarks(remarks(plan, table, zone, now))
        self._show_state()
        if self.store.isEnabled() and self.focusWidget() in (None, self.file_row.choose):
            self.store.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_remarks(self, sentences: list[str]) -> None:
        self.remarks.setVisible(bool(sentences))
        self.remarks.set_note(" ".join(sentences), "info")

    def _fail(self, error: BaseException) -> None:
        if isinstance(error, LoggerFileError):
            self._forget()
        if isinstance(error, LayoutNotFoundError):
            self.read_as.show_layout(error.guess)
            self.preview.show_lines(PreviewLines.of_error(error), error.guess.temperature_unit)
            self._show_page(whole=False)
            if not self.preview.isAncestorOf(self.focusWidget() or self):
                self.preview.combos[0].setFocus(Qt.FocusReason.OtherFocusReason)
        self.tell(file_problem(error))
        self._show_state()

    def _forget(self) -> None:
        """Shows nothing of a file."""
        self._file = self._plan = None
        self.question.ask(None)
        self._show_remarks([])
        self.goes_to.sentence.setText("")
        self.foot.show_sum("")
        self.pages.setCurrentWidget(self.nothing)

    def _show_page(self, *, whole: bool) -> None:
        """The lines of the file; what would come in as well, if that is known."""
        self.below.setVisible(whole)
        self.pages.setCurrentWidget(self.shown)

    # ---------------------------------------------------------------- storing

    def _store(self) -> None:
        if self._file is None or not self._may_store():
            return
        if not self.goes_to.is_named():
            self.goes_to.name.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.tell("")
        self._work.store(self._file, self.goes_to.target())

    def _finish(self, change: Change) -> None:
        self._context.door.announce(change)
        self.accept()

    def _tell_stopped(self) -> None:
        self.tell(self.tr("The import was stopped. Nothing of it was stored."), "info")

    # ---------------------------------------------------------------- state

    def _may_store(self) -> bool:
        plan = self._plan
        return (
            self._work.job is None
            and self._file is not None
            and plan is not None
            and plan.new > 0
            and self.question.question is None
        )

    def _show_state(self) -> None:
        storing = self._work.job is Job.STORING
        self.content.setEnabled(not storing)
        self.store.setEnabled(self._may_store())
        new = self._plan.new if self._plan is not None else 0
        self.store.setText(self.tr("Import %Ln reading(s)", "", new) if new else self.tr("Import"))
        if self._work.job is None:
            self.foot.show_rest()
            self.leave.setText(self.tr("Cancel"))
            self.leave.setEnabled(True)

    def _begin(self, _job: Job) -> None:
        self.foot.show_progress(0.0)
        self._show_state()

    def _show_long(self, job: Job) -> None:
        assert self._path is not None
        if self._file is None:
            self._forget()
        self.foot.show_busy(job, self._path.name)
        self.leave.setText(self.tr("Stop"))

    def _progress(self, share: float) -> None:
        self.foot.show_progress(share)

    def reject(self) -> None:
        """Esc and Cancel: stops what goes on for long; else leaves."""
        job = self._work.job
        if job is Job.STORING:
            self.leave.setEnabled(self._work.stop())
            return
        if job is not None and self.foot.bar.isVisible():
            self._work.stop()
            self.tell(self.tr("Reading was stopped."), "info")
            return
        self._work.stop()
        super().reject()

    # ---------------------------------------------------------------- dropping

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """One file may be dropped."""
        if dropped_file(event.mimeData()) is not None and self._work.job is not Job.STORING:
            event.acceptProposedAction()
            self.nothing.set_inviting(True)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        """It was not dropped."""
        self.nothing.set_inviting(False)
        super().dragLeaveEvent(event)

    def dropEvent(self, event: QDropEvent) -> None:
        """Reads the file that was dropped."""
        self.nothing.set_inviting(False)
        path = dropped_file(event.mimeData())
        if path is not None:
            event.acceptProposedAction()
            self.load(path)
