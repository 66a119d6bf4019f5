"""The Seasons page: is it better, or is it luck? Findings first, then the table, then every batch."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.seasons.charts_pane import ChartsPane
from hatchbook.desk.seasons.header import SeasonsHeader
from hatchbook.desk.seasons.keeping import SeasonsKeeping
from hatchbook.desk.seasons.kept_question import kept_question, question_text
from hatchbook.desk.seasons.story_pane import StoryPane
from hatchbook.desk.seasons.table_view import ComparisonTable
from hatchbook.desk.tasks import Task
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.groups import group_word
from hatchbook.desk.words.seasons import Story, story_of
from hatchbook.figures.comparison import busiest_species, compare
from hatchbook.figures.comparison_results import BatchPoint, ComparisonFigures, GroupRow, Question
from hatchbook.figures.comparison_rows import ComparedBatch, compared_batches
from hatchbook.journal import Change, Journal, JournalError

#: Changes of other kinds leave a comparison as it was.
_KINDS = frozenset(
    {
        "batch",
        "break_out",
        "candling",
        "egg",
        "finding",
        "hatching",
        "machine",
        "past_batch",
        "pen",
        "pen_member",
        "programme",
        "removal",
        "setting",
    }
)
_TABLE_MOST = 0.56
"""Of the height of table and charts: a longer table scrolls, a shorter one leaves the rest to the charts."""


class _StoppedError(Exception):
    """Nobody wants the answer any more."""


@dataclass(frozen=True)
class Answer:
    """What the worker found: the batches as they were read, and their comparison."""

    batches: tuple[ComparedBatch, ...]
    figures: ComparisonFigures


class SeasonsPage(QWidget):
    """Compares on the worker whenever it is shown and something has changed; the latest question counts.

    Signals:
        batch_opened: the uid of a batch that the breeder wants to see in its journal.
    """

    batch_opened = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._actions = actions
        self._batches: tuple[ComparedBatch, ...] | None = None
        self._figures: ComparisonFigures | None = None
        self._filter: GroupRow | None = None
        self._is_stale = True
        self._species_chosen = False
        self._shares_kept = False
        self.work = LatestWork(context, self)
        self.header = SeasonsHeader()
        self.story = StoryPane()
        self.table = ComparisonTable()
        self.charts = ChartsPane()
        self.filter_note = InlineNote("", "info", self.tr("Show all batches"))
        self.trouble = InlineNote("", "bad")
        self.keeping = SeasonsKeeping(context, self.charts, self.trouble, self)
        self.header.show_question(kept_question(context.settings.get(settings.SEASONS_QUESTION)))
        self._build()
        self._connect()

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        self.trouble.setVisible(False)
        lower = QWidget()
        rows = QVBoxLayout(lower)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        self._note_row = QWidget()
        note = QHBoxLayout(self._note_row)
        note.setContentsMargins(12, 6, 12, 0)
        note.addWidget(self.filter_note)
        self._note_row.setVisible(False)
        rows.addWidget(self._note_row)
        rows.addWidget(self.charts, 1)
        self.parts = QSplitter(Qt.Orientation.Vertical)
        self.parts.setObjectName("columns")
        self.parts.setHandleWidth(1)
        self.parts.setChildrenCollapsible(False)
        self.parts.addWidget(self.table)
        self.parts.addWidget(lower)
        self.parts.splitterMoved.connect(self._keep_shares)
        self.parts.installEventFilter(self)
        self.table.setMinimumHeight(120)
        lower.setMinimumHeight(170)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        trouble = QHBoxLayout()
        trouble.setContentsMargins(0, 0, 0, 0)
        trouble.addWidget(self.trouble)
        whole.addWidget(self.header)
        whole.addLayout(trouble)
        whole.addWidget(HLine())
        whole.addWidget(self.story)
        whole.addWidget(HLine(strong=True))
        whole.addWidget(self.parts, 1)
        whole.addStretch()
        tab_through([self.header, self.story, self.table, self.filter_note, self.charts])

    def _connect(self) -> None:
        context = self._context
        self.header.asked.connect(self._ask_anew)
        self.header.export_wanted.connect(self.keeping.export_table)
        self.header.picture_wanted.connect(self.keeping.save_picture)
        self.table.row_wanted.connect(self.filter_by)
        self.filter_note.link_clicked.connect(lambda: self.filter_by(None))
        self.charts.batch_chosen.connect(context.choose_batch)
        self.charts.batch_opened.connect(self.batch_opened)
        self.work.answered.connect(self._show_answer)
        self.work.failed.connect(self._show_failure)
        self.work.busy_changed.connect(lambda busy: self.header.show_busy(busy=busy))
        context.batch_chosen.connect(self.charts.choose)
        context.filter_ended.connect(lambda: self.filter_by(None))
        context.door.changed.connect(self._follow)
        context.door.journal_changed.connect(self._take_journal)

    # ---------------------------------------------------------------- showing

    def show_page(self) -> None:
        """The page has come to the front: it is up to date, or will be soon."""
        self.charts.choose(self._context.batch)
        if self._is_stale:
            self._compare()

    def focus_first(self) -> None:
        """Puts the focus where one begins to read."""
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def figures(self) -> ComparisonFigures | None:
        """The comparison that is shown."""
        return self._figures

    def _follow(self, change: Change) -> None:
        if change.kinds & _KINDS:
            self._batches = None
            self._is_stale = True
            if self.isVisible():
                self._compare()

    def _take_journal(self) -> None:
        self.work.stop()
        self._batches, self._is_stale, self._species_chosen = None, True, False
        self.filter_by(None)
        self._figures = self.keeping.figures = None
        self.header.show_question(replace(self.header.question, species=None, seasons=None))
        self.header.show_no_figures()
        self.story.show_story(Story(""))
        self.table.show_figures(None)
        self.charts.show_no_figures()
        self.parts.setVisible(False)
        self.trouble.setVisible(False)
        if self.isVisible() and self._context.door.is_open:
            self._compare()

    def _ask_anew(self, question: Question) -> None:
        # Until the first answer is there only all species are offered: nobody has chosen them.
        self._species_chosen = self._species_chosen or self._figures is not None
        self._context.settings.keep(settings.SEASONS_QUESTION, question_text(question))
        self._compare()

    def _compare(self) -> None:
        """Asks the worker; batches that have not changed are not read again."""
        if not self._context.door.is_open:
            return
        self._is_stale = False
        question, known, now = self.header.question, self._batches, self._context.now()
        guess = not self._species_chosen

        def reading(journal: Journal, task: Task) -> Answer:
            def tell(done: float) -> None:
                if task.cancelled:
                    raise _StoppedError
                task.report(done)

            batches = compared_batches(journal, tell) if known is None else known
            asked = replace(question, species=busiest_species(batches)) if guess else question
            return Answer(batches, compare(journal, batches, asked, now, tell))

        self.work.read(reading)

    def _show_answer(self, answer: Answer) -> None:
        self._batches, self._figures = answer.batches, answer.figures
        self._species_chosen = self._species_chosen or bool(answer.batches)
        self.trouble.setVisible(False)
        self.keeping.figures = answer.figures
        self.header.show_figures(answer.figures)
        self.story.show_story(story_of(answer.figures))
        self._filter = self._same_row(answer.figures)
        self.table.show_figures(answer.figures, self._filter)
        self.parts.setVisible(answer.figures.batches > 0)
        self._show_filtered()
        self._share_height()

    def _show_failure(self, error: Exception) -> None:
        self._is_stale = True
        if not isinstance(error, JournalError):
            raise error
        self.trouble.set_note(error_sentence(error), "bad")
        self.trouble.setVisible(True)

    # ---------------------------------------------------------------- table and charts

    def _keep_shares(self) -> None:
        """Whoever moves the line between table and charts wants it there."""
        self._shares_kept = True

    def _share_height(self) -> None:
        """The table is as high as its rows, as far as that leaves the charts their share."""
        whole = self.parts.height()
        if self._shares_kept or whole < 1:
            return
        most = whole * _TABLE_MOST if self.charts.has_charts else whole
        table = round(min(self.table.wanted_height(), most))
        self.parts.setSizes([table, whole - table])

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Table and charts have more or less room."""
        if watched is self.parts and event.type() == QEvent.Type.Resize:
            self._share_height()
        return super().eventFilter(watched, event)

    # ---------------------------------------------------------------- filtering

    def filter_by(self, row: GroupRow | None) -> None:
        """Charts and batch list show only the batches of a group; all of them for None."""
        if row is self._filter:
            return
        self._filter = row
        self.table.show_filter(row)
        self._show_filtered()

    def _same_row(self, figures: ComparisonFigures) -> GroupRow | None:
        """The row of the group by which it was filtered before, in other figures."""
        if self._filter is None:
            return None
        rows = (row for section in figures.sections for row in section.rows)
        return next((row for row in rows if row.group == self._filter.group), None)

    def _show_filtered(self) -> None:
        figures, row = self._figures, self._filter
        self._note_row.setVisible(row is not None)
        if figures is None:
            return
        if row is None or row.group is None:
            self.charts.show_figures(figures)
            self._filter_list(None, "")
            return
        name = group_word(row.group, figures.season_first_month)
        text = self.tr("Charts and list show only {group}: %n batch(es).", "", row.batches)
        self.filter_note.set_note(text.format(group=name), "info", self.tr("Show all batches"))
        self.charts.show_figures(figures, [point for point in figures.points if _is_of(point, row)])
        self._filter_list(row.uids, name)

    def _filter_list(self, uids: frozenset[str] | None, name: str) -> None:
        self._context.filter_batches(uids if self.isVisible() else None, name)

    def showEvent(self, event: QShowEvent) -> None:
        """The list follows the filter while the page is in front."""
        super().showEvent(event)
        if self._filter is not None:
            self._show_filtered()

    def hideEvent(self, event: QHideEvent) -> None:
        """The list shows all batches beside other pages."""
        super().hideEvent(event)
        self._context.filter_batches(None, "")


def _is_of(point: BatchPoint, row: GroupRow) -> bool:
    assert row.group is not None
    if point.group is not None and point.group.grouping is row.group.grouping:
        return point.group == row.group and point.uid in row.uids
    return point.uid in row.uids
