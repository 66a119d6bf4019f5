"""A table of past seasons comes into the journal: every guess shown, every line accounted for, as one step."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFileDialog, QSizePolicy, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.importing.column_table import ColumnTable
from hatchbook.desk.importing.drop_hint import DropHint
from hatchbook.desk.importing.file_dialog import FileImportDialog, beside
from hatchbook.desk.importing.file_row import FileRow, WantedFile
from hatchbook.desk.importing.file_work import Job
from hatchbook.desk.past.comes_in import ComesIn
from hatchbook.desk.past.meaning_bar import MeaningBar
from hatchbook.desk.past.preview import preview_lines
from hatchbook.desk.past.questions import order_question
from hatchbook.desk.past.refused_pane import RefusedPane
from hatchbook.desk.past.table_options import TableReadAs, WhereUnsaid
from hatchbook.desk.past.work import PastOutcome, PastWork
from hatchbook.desk.widgets.notes import InlineNote, NoteKind
from hatchbook.desk.words.past_seasons import (
    account_sentences,
    field_word,
    missing_sentence,
    sum_sentence,
    table_problem,
    taken_sentence,
)
from hatchbook.exchange.past_seasons.bringing_in import PastPlan
from hatchbook.exchange.past_seasons.fields import PastField, with_field
from hatchbook.exchange.past_seasons.grid import TableFileError
from hatchbook.exchange.past_seasons.reading import PastHints, PastSeasonsTable
from hatchbook.exchange.past_seasons.saving import refused_ending, save_refused
from hatchbook.figures.offered import offered_species, only_species

_LEAST_TABLE = 84
_SIZE = QSize(1060, 668)


class ImportPastDialog(FileImportDialog):
    """Reads a table at once, shows how, and brings it in as one step."""

    def __init__(self, context: DeskContext, parent: QWidget | None, path: Path | None = None) -> None:
        super().__init__(self.tr("Import past seasons"), context, parent, _SIZE)
        self._outcome: PastOutcome | None = None
        self._plan: PastPlan | None = None
        self._new_labels = False
        self._given = only_species(context.door.journal)
        self._hints = PastHints(species=self._given)
        self._build()
        self._work: PastWork = PastWork(context, self)
        self._connect()
        self._start_with(path)

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        context = self._context
        species = [one.code for one in offered_species(context.door.journal)]
        wanted = WantedFile(
            hint=self.tr("Choose a table with one line a batch, or drop it here"),
            title=self.tr("Choose a table of past seasons"),
            kinds=self.tr("Tables (*.xlsx *.xlsm *.csv *.tsv *.tab *.txt)"),
        )
        self.file_row = FileRow(context.settings, wanted=wanted)
        self.read_as = TableReadAs()
        self.unsaid = WhereUnsaid(species, context.today().year)
        self.meaning = MeaningBar(species)
        self.taken = InlineNote("", NoteKind.WARN)
        self.preview = ColumnTable(with_field)
        self.refused = RefusedPane()
        self.comes_in = ComesIn()
        self.nothing = DropHint(
            self.tr("Choose the table of your past seasons, or drop it here."),
            self.tr("A spreadsheet (XLSX) or text in columns (CSV), one line a batch, with the eggs set."),
        )
        for table in (self.refused.table, self.comes_in.table):
            # The lines above them are looked at first.
            table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
            table.setMinimumHeight(_LEAST_TABLE)
        rows = (
            (self.tr("&File"), self.file_row),
            (self.tr("Read as"), self.read_as),
            (self.tr("Where a line does not say"), self.unsaid),
        )
        below = beside((self.refused, 3), (self.comes_in, 2))
        self._lay_out(rows, (self.meaning, self.taken), self.preview, below)

    def _connect(self) -> None:
        self.file_row.chosen.connect(self.load)
        self.read_as.hinted.connect(self._hint)
        self.unsaid.hinted.connect(self._hint)
        self.question.answered.connect(self._hint)
        self.meaning.answered.connect(self._explain)
        self.preview.roles_chosen.connect(lambda columns: self._hint({"columns": columns}))
        self.taken.link_clicked.connect(self._change_labels)
        self.refused.save_wanted.connect(self._ask_where_to_save)
        self.store.clicked.connect(self._store)
        self._follow(self._work)

    # ---------------------------------------------------------------- reading

    def load(self, path: Path) -> None:
        """Reads a file; nothing of the one before is kept."""
        self._path, self._outcome, self._plan = path, None, None
        self._hints, self._new_labels = PastHints(species=self._given), False
        self.file_row.show_path(path)
        self._read()

    def _hint(self, chosen: dict[str, object]) -> None:
        """The breeder decided something: the file is read again with it."""
        self._hints = replace(self._hints, **chosen)  # type: ignore[arg-type]
        self._read()

    def _explain(self, word: str, code: str) -> None:
        self._hint({"meant": {**self._hints.meant, word.casefold(): code}})

    def _read(self) -> None:
        if self._path is not None:
            self.tell("")
            self._work.read(self._path, self._hints, new_labels=self._new_labels)

    def _change_labels(self) -> None:
        """New numbers for batches whose number another has, or the file's own again."""
        if self._outcome is None:
            return
        self._new_labels = not self._new_labels
        if self._work.job is Job.READING:  # what was chosen a moment ago is still being read
            self._read()
        else:
            self._work.plan(self._outcome.table, new_labels=self._new_labels)

    def _show_read(self, outcome: PastOutcome) -> None:
        self._outcome = outcome
        table = outcome.table
        self.read_as.show_table(table)
        self.unsaid.show_given(self._hints.species, self._hints.season)
        self.question.ask(order_question(outcome.open_date))
        self.meaning.ask(outcome.unknown_species)
        self.pages.setCurrentWidget(self.shown)
        self._show_plan(outcome.plan)
        missing = table.missing
        if missing:
            self.tell(missing_sentence(missing[0]), "warn")
            self._go_to(missing[0])

    def _go_to(self, field: PastField) -> None:
        """Puts the focus where something missing can be chosen, unless the breeder is at work there."""
        if self.focusWidget() not in (None, self.file_row.choose, self.store):
            return
        if field is PastField.SPECIES:
            self.unsaid.species.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.preview.combos:
            self.preview.combos[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_plan(self, plan: PastPlan) -> None:
        self._plan = plan
        assert self._outcome is not None
        table = self._outcome.table
        choices = ((field, field_word(field)) for field in PastField)
        self.preview.show_columns(preview_lines(table, plan.refused), choices)
        self.refused.show_lines(plan.refused)
        self.refused.setVisible(bool(plan.refused))
        self.comes_in.show_plan(plan, table)
        self.taken.setVisible(bool(plan.taken))
        if plan.taken:
            link = self.tr("Keep the numbers") if self._new_labels else self.tr("Give them new numbers")
            kind = NoteKind.INFO if self._new_labels else NoteKind.WARN
            self.taken.set_note(taken_sentence(plan), kind, link)
        self.foot.show_sum(sum_sentence(table, plan), account_sentences(table))
        self._show_state()
        self._go_on_to_store()

    def _fail(self, error: BaseException) -> None:
        if isinstance(error, TableFileError):
            self._forget()
        self.tell(table_problem(error))
        self._show_state()

    def _forget(self) -> None:
        """Shows nothing of a file."""
        self._outcome = self._plan = None
        self.question.ask(None)
        self.meaning.ask(())
        self.taken.setVisible(False)
        self.foot.show_sum("")
        self.pages.setCurrentWidget(self.nothing)

    # ---------------------------------------------------------------- saving what stays out

    def _ask_where_to_save(self) -> None:
        if self._outcome is None or self._path is None:
            return
        ending = refused_ending(self._outcome.table)
        suggestion = self._path.with_name(self.tr("{file} refused").format(file=self._path.stem) + ending)
        dialog = QFileDialog(self, self.tr("Save the refused lines"), str(suggestion))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(ending.removeprefix("."))
        dialog.selectFile(str(suggestion))
        dialog.fileSelected.connect(lambda name: self.save_refused(Path(name)))
        dialog.open()

    def save_refused(self, path: Path) -> None:
        """Saves the refused lines as they are."""
        if self._outcome is None or self._plan is None:
            return
        try:
            save_refused(self._outcome.table, self._plan.refused, path)
        except TableFileError as error:
            reason = error.detail or table_problem(error)
            self.tell(self.tr("{file} could not be saved: {reason}").format(file=path.name, reason=reason))
        else:
            count = len(self._plan.refused)
            self.tell(self.tr("%Ln line(s) saved in {file}.", "", count).format(file=path.name), "info")

    # ---------------------------------------------------------------- storing

    @property
    def table(self) -> PastSeasonsTable | None:
        """What was read."""
        return self._outcome.table if self._outcome is not None else None

    def _store(self) -> None:
        if self._outcome is not None and self._may_store():
            self.tell("")
            self._work.store(self._outcome.table, new_labels=self._new_labels)

    # ---------------------------------------------------------------- what there is

    def _has_file(self) -> bool:
        return self._outcome is not None

    def _new(self) -> int:
        return len(self._plan.batches) if self._plan is not None else 0

    def _store_text(self, new: int) -> str:
        return self.tr("Import %Ln batch(es)", "", new)

    def _job_texts(self) -> dict[Job, str]:
        return {
            Job.READING: self.tr("Reading {file}…"),
            Job.PLANNING: self.tr("Looking up what the journal has already…"),
            Job.STORING: self.tr("Storing the batches of {file}…"),
        }
