"""The groups of a comparison as the rows of a table, under the batches as a whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.seasons.scale import RateScale, scale_of
from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.comparison_table import (
    all_batches_word,
    column_title,
    counts_column,
    rate_cell_sentence,
    row_sentence,
    sorting_words,
)
from hatchbook.desk.words.groups import group_word, section_title
from hatchbook.desk.words.numbers import number
from hatchbook.figures.comparison_results import ComparisonFigures, GroupRate, GroupRow, Section
from hatchbook.statistics.tallies import RateKind

Index = QModelIndex | QPersistentModelIndex

ROW_ROLE = Qt.ItemDataRole.UserRole + 1
RATE_ROLE = Qt.ItemDataRole.UserRole + 2
SORT_ROLE = Qt.ItemDataRole.UserRole + 3

NAME, BATCHES, EGGS = range(3)
"""The first columns; a column for each rate follows."""
FIRST_RATE = 3
_NOWHERE = QModelIndex()
SortValue = float | str | tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A line of the table: of all batches, of a group, or the title over the groups of a grouping."""

    row: GroupRow | None
    section: Section | None = None

    @property
    def is_title(self) -> bool:
        """Whether it is a title over groups."""
        return self.row is None


class ComparisonModel(QAbstractTableModel):
    """All batches first, then the groups of each grouping under its title; sorted within their grouping.

    Roles: ``ROW_ROLE`` the ``GroupRow`` (None in a title), ``RATE_ROLE`` the ``GroupRate`` of a column,
    ``SORT_ROLE`` the value by which a column sorts.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._figures: ComparisonFigures | None = None
        self._lines: tuple[Line, ...] = ()
        self._scales: dict[RateKind, RateScale] = {}
        self.sorted_by: tuple[int, Qt.SortOrder] | None = None

    # ---------------------------------------------------------------- showing

    def show_figures(self, figures: ComparisonFigures | None) -> None:
        """Shows another comparison, in the order chosen last."""
        self.beginResetModel()
        self._figures = figures
        self._scales = {}
        if figures is not None:
            rows = [figures.overall, *(row for section in figures.sections for row in section.rows)]
            self._scales = {
                kind: scale_of([row.rates[kind] for row in rows], kind) for kind in figures.question.rates
            }
        self._lines = self._in_order()
        self.endResetModel()

    @property
    def figures(self) -> ComparisonFigures | None:
        """What is shown."""
        return self._figures

    @property
    def rates(self) -> tuple[RateKind, ...]:
        """The rates of the columns from ``FIRST_RATE`` on."""
        return () if self._figures is None else self._figures.question.rates

    def scale(self, kind: RateKind) -> RateScale:
        """What a column's dots and ranges are drawn against."""
        return self._scales[kind]

    def reference(self, kind: RateKind) -> float | None:
        """The mean of all batches, as a share."""
        return None if self._figures is None else self._figures.overall.rates[kind].mean

    def line(self, row: int) -> Line:
        """A line of the table."""
        return self._lines[row]

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sorts the groups within their grouping by a column; by their own order for a column below 0."""
        wanted = None if column < 0 else (column, order)
        if wanted == self.sorted_by:
            return
        self.layoutAboutToBeChanged.emit()
        before = {id(line.row): row for row, line in enumerate(self._lines) if line.row is not None}
        self.sorted_by = wanted
        self._lines = self._in_order()
        moved = {before[id(line.row)]: row for row, line in enumerate(self._lines) if line.row is not None}
        old = self.persistentIndexList()
        new = [self.index(moved.get(index.row(), index.row()), index.column()) for index in old]
        self.changePersistentIndexList(old, new)
        self.layoutChanged.emit()

    def _in_order(self) -> tuple[Line, ...]:
        if self._figures is None:
            return ()
        lines = [Line(self._figures.overall)]
        for section in self._figures.sections:
            rows = list(section.rows)
            if self.sorted_by is not None:
                column, order = self.sorted_by
                known = [row for row in rows if self._sort_value(row, column) is not None]
                unknown = [row for row in rows if self._sort_value(row, column) is None]
                known.sort(key=self._by(column), reverse=order is Qt.SortOrder.DescendingOrder)
                rows = known + unknown
            lines.append(Line(None, section))
            lines += [Line(row, section) for row in rows]
        return tuple(lines)

    def _by(self, column: int) -> Callable[[GroupRow], SortValue]:
        def value(row: GroupRow) -> SortValue:
            found = self._sort_value(row, column)
            assert found is not None
            return found

        return value

    def _sort_value(self, row: GroupRow, column: int) -> SortValue | None:
        match column:
            case 0:
                return None if row.group is None or row.group.key is None else self._name(row).casefold()
            case 1:
                return row.batches
            case 2:
                return row.eggs_set
        rate = row.rates[self.rates[column - FIRST_RATE]]
        # Where nothing tells groups apart all are drawn to one value: then their own means part them.
        return None if rate.drawn is None or rate.mean is None else (rate.drawn, rate.mean)

    # ---------------------------------------------------------------- structure

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Lines; none below one."""
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Name, batches, eggs, and a column for each rate."""
        return 0 if parent.isValid() else FIRST_RATE + len(self.rates)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Titles can not be chosen."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if self._lines[index.row()].is_title:
            return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemNeverHasChildren
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A cell."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if line.row is None:
            return self._title_data(line, index.column(), role)
        return self._row_data(line.row, index.column(), role)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The names of the columns."""
        if orientation is not Qt.Orientation.Horizontal or section >= self.columnCount():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            if section >= FIRST_RATE:
                return column_title(self.rates[section - FIRST_RATE])
            return counts_column(section)
        if role == Qt.ItemDataRole.ToolTipRole and section >= FIRST_RATE:
            return sorting_words(self.rates[section - FIRST_RATE])
        return None

    @staticmethod
    def _title_data(line: Line, column: int, role: int) -> object:
        assert line.section is not None
        texts = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
        if role in texts:
            return section_title(line.section.grouping) if column == NAME else ""
        return None

    def _row_data(self, row: GroupRow, column: int, role: int) -> object:
        if role == ROW_ROLE:
            return row
        if role == SORT_ROLE:
            return self._sort_value(row, column)
        rate = self._rate(row, column)
        if role == RATE_ROLE:
            return rate
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            if rate is not None:
                return rate_cell_sentence(self.rates[column - FIRST_RATE], rate)
            if column == NAME:
                return row_sentence(self._name(row), row)
        if role == Qt.ItemDataRole.DisplayRole:
            if rate is not None:
                return rate_cell_sentence(self.rates[column - FIRST_RATE], rate)
            return (self._name(row), number(row.batches, 0), number(row.eggs_set, 0))[column]
        return None

    def _rate(self, row: GroupRow, column: int) -> GroupRate | None:
        return row.rates[self.rates[column - FIRST_RATE]] if column >= FIRST_RATE else None

    def _name(self, row: GroupRow) -> str:
        assert self._figures is not None
        if row.group is None:
            species = self._figures.question.species
            return all_batches_word("" if species is None else in_sentence(species_word(species)))
        return group_word(row.group, self._figures.season_first_month)
