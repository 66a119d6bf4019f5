"""What came of a pen's eggs, by dam where that is known: a table for reading."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.numbers import NONE_SIGN, count_of, number, rate_text
from hatchbook.figures.pens import EggsOf, PenFigures, pen_figures
from hatchbook.statistics.rates import Rate

_MOST_ROWS = 7


class PenOutcome(QWidget):
    """Reckoned beside, as soon as a pen is shown."""

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Label(self.tr("What came of its eggs"), role="section")
        self.line = Label("", ink="ink2", wraps=True)
        self.table = QTableWidget(0, 5)
        self.table.setHorizontalHeaderLabels(
            [
                self.tr("Hen"),
                self.tr("Eggs"),
                self.tr("Fertile, of set"),
                self.tr("Hatched, of fertile"),
                self.tr("Hatched, of set"),
            ]
        )
        self._dress()
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        for widget in (self.title, self.line, self.table):
            rows.addWidget(widget)
        self._work = LatestWork(context, self)
        self._work.answered.connect(self._show)
        self._work.failed.connect(self._raise)

    def _dress(self) -> None:
        self.table.setAccessibleName(self.tr("What came of the eggs, by hen"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.table.verticalHeader().hide()
        head = self.table.horizontalHeader()
        head.setObjectName("head")
        head.setSectionsClickable(False)
        head.setHighlightSections(False)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)

    def show_pen(self, pen: str | None) -> None:
        """Reckons a pen; None shows nothing."""
        self._work.stop()
        self.setVisible(False)
        if pen is not None:
            self._work.read(
                lambda journal, _task: pen_figures(journal, pen) if journal.pens.find(pen) else None
            )

    def _show(self, figures: PenFigures) -> None:
        whole = figures.whole
        self.setVisible(whole.eggs > 0)
        self.table.setVisible(bool(figures.dams))
        batches = self.tr("%n batch(es) that are over", "", whole.batches)
        eggs = self.tr("%n egg(s)", "", whole.eggs)
        text = self.tr("{eggs} in {batches}. Fertile of set: {fertile}. Hatched of fertile: {hatched}.")
        self.line.setText(
            text.format(
                eggs=eggs,
                batches=batches,
                fertile=self._rate(whole.fertility),
                hatched=self._rate(whole.hatch_of_fertile),
            )
        )
        self.table.setRowCount(len(figures.dams))
        for row, one in enumerate(figures.dams):
            for column, cell in enumerate(self._cells(one)):
                item = QTableWidgetItem(cell)
                if column == 1:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(row, column, item)
        line = self.table.verticalHeader().defaultSectionSize()
        shown = min(len(figures.dams), _MOST_ROWS)
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + shown * line + 4)

    def _cells(self, one: EggsOf) -> tuple[str, ...]:
        name = one.name if one.dam is not None else self.tr("hen not noted")
        if one.ring:
            name = self.tr("{name}, ring {ring}").format(name=name, ring=one.ring)
        rates = (one.fertility, one.hatch_of_fertile, one.hatch_of_set)
        return (name, number(one.eggs, 0), *(self._rate(rate) for rate in rates))

    @staticmethod
    def _rate(rate: Rate) -> str:
        """86 % 71–94, 31 of 36."""
        if rate.estimate is None:
            return NONE_SIGN
        return f"{rate_text(rate)}, {count_of(rate.hits, rate.trials)}"

    @staticmethod
    def _raise(error: BaseException) -> None:
        raise error
