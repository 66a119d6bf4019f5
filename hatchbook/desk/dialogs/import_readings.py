"""A logger's file comes into the journal: every guess shown, every line accounted for, nothing without a look."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.importing.curve_pane import CurvePane
from hatchbook.desk.importing.drop_hint import DropHint
from hatchbook.desk.importing.file_dialog import FileImportDialog, beside
from hatchbook.desk.importing.file_row import FileRow
from hatchbook.desk.importing.file_work import Job
from hatchbook.desk.importing.goes_to import GoesTo
from hatchbook.desk.importing.left_out_pane import LeftOutPane
from hatchbook.desk.importing.preview_model import PreviewLines
from hatchbook.desk.importing.preview_table import PreviewTable
from hatchbook.desk.importing.questions import questions_of
from hatchbook.desk.importing.read_as import ReadAs, with_hints
from hatchbook.desk.importing.work import ImportWork, ReadOutcome
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.imports import (
    account_sentences,
    coverage_sentence,
    file_problem,
    remarks,
    sum_sentences,
)
from hatchbook.exchange.logger_file import LayoutHints, LayoutNotFoundError, LoggerFileError
from hatchbook.exchange.reading_import import ImportPlan, ReadFile, Target

_SIZE = QSize(960, 668)


class ImportDialog(FileImportDialog):
    """Reads a file at once, shows how, and brings it in as one step."""

    def __init__(self, context: DeskContext, parent: QWidget | None, path: Path | None = None) -> None:
        super().__init__(self.tr("Import readings"), context, parent, _SIZE)
        self._hints = LayoutHints()
        self._file: ReadFile | None = None
        self._plan: ImportPlan | None = None
        self._target: Target | None = None
        self._build()
        self._work: ImportWork = ImportWork(context, self)
        self._connect()
        self._start_with(path)

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        context = self._context
        self.file_row = FileRow(context.settings)
        self.read_as = ReadAs(context.zone)
        self.goes_to = GoesTo(context.door.journal, context.now())
        self.remarks = InlineNote("", "info")
        self.preview = PreviewTable()
        self.left_out = LeftOutPane()
        self.curve = CurvePane(context.zone)
        self.nothing = DropHint(
            self.tr("Choose the file that your logger wrote, or drop it here."),
            self.tr("Any text file is fine that has dates, and temperature or humidity, in columns."),
        )
        rows = (
            (self.tr("&File"), self.file_row),
            (self.tr("&Read as"), self.read_as),
            (self.tr("&Goes to"), self.goes_to),
        )
        self.below = beside((self.left_out, 5), (self.curve, 4))
        self._lay_out(rows, (self.remarks,), self.preview, self.below)

    def _connect(self) -> None:
        self.file_row.chosen.connect(self.load)
        self.read_as.hinted.connect(self._hint)
        self.question.answered.connect(self._hint)
        self.preview.roles_chosen.connect(lambda roles: self._hint({"columns": roles}))
        self.goes_to.changed.connect(self._retarget)
        self.store.clicked.connect(self._store)
        self._follow(self._work)

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
        self._go_on_to_store()

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

    # ---------------------------------------------------------------- what there is

    def _has_file(self) -> bool:
        return self._file is not None

    def _new(self) -> int:
        return self._plan.new if self._plan is not None else 0

    def _store_text(self, new: int) -> str:
        return self.tr("Import %Ln reading(s)", "", new)

    def _job_texts(self) -> dict[Job, str]:
        return {
            Job.READING: self.tr("Reading {file}…"),
            Job.PLANNING: self.tr("Looking up what the journal has already…"),
            Job.STORING: self.tr("Storing the readings of {file}…"),
        }
