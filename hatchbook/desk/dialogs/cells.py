"""Rows of typed text: the model behind the tables of a form, which keeps every letter until it can be read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

Index = QModelIndex | QPersistentModelIndex

TROUBLE_ROLE = Qt.ItemDataRole.UserRole + 1
GHOST_ROLE = Qt.ItemDataRole.UserRole + 2
CHOICES_ROLE = Qt.ItemDataRole.UserRole + 3

_NOWHERE = QModelIndex()


@dataclass(frozen=True)
class Column:
    """A column: its title, what belongs into it (tooltip), whether numbers stand at its right edge."""

    title: str
    tip: str = ""
    width: int = 90
    number: bool = False
    editable: bool = True


class CellModel(QAbstractTableModel):
    """A table of texts. With ``ghost`` a last row asks for one more; typing there makes it a row.

    Subclasses say by ``trouble_of`` what is wrong with a cell, by ``choices_of`` what can be chosen in it.

    Roles: ``TROUBLE_ROLE`` what is wrong ("" where nothing is), ``GHOST_ROLE`` whether the cell is of the last row
    that is none yet, ``CHOICES_ROLE`` the texts to choose from, or None.

    Signals:
        edited: the breeder changed a cell, added a row or took one away.
    """

    edited = Signal()

    def __init__(self, columns: Sequence[Column], ghost: str = "", parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._ghost = ghost
        self._asks = bool(ghost)
        self._rows: list[list[str]] = []

    # ---------------------------------------------------------------- what it holds

    def texts(self) -> list[list[str]]:
        """The rows as they were typed."""
        return [list(row) for row in self._rows]

    def set_texts(self, rows: Sequence[Sequence[str]]) -> None:
        """Shows other rows."""
        self.beginResetModel()
        self._rows = [[*row, *[""] * len(self.columns)][: len(self.columns)] for row in rows]
        self.endResetModel()

    def is_ghost(self, row: int) -> bool:
        """Whether a row is the last one that asks for more."""
        return row >= len(self._rows)

    def remove_row(self, row: int) -> bool:
        """Takes a row away; False where it can not be."""
        if not self._ghost or not 0 <= row < len(self._rows):
            return False
        self.beginRemoveRows(QModelIndex(), row, row)
        self._forget(row)
        del self._rows[row]
        self.endRemoveRows()
        self._look_again()
        self.edited.emit()
        return True

    # ---------------------------------------------------------------- for subclasses

    def trouble_of(self, row: int, column: int) -> str:
        """What is wrong with a cell."""
        del row, column
        return ""

    def choices_of(self, column: int) -> Sequence[str] | None:
        """What can be chosen in a column; None where anything is typed."""
        del column
        return None

    def added(self, row: int) -> None:
        """A row was begun: fill in what is likely."""

    def changed(self, row: int, column: int) -> None:
        """A cell was typed: other cells of the row may follow."""

    def _forget(self, row: int) -> None:
        """A row is about to go."""

    def first_trouble(self) -> tuple[int, int, str] | None:
        """Row, column and sentence of the first cell with which something is wrong."""
        for row in range(len(self._rows)):
            for column in range(len(self.columns)):
                if text := self.trouble_of(row, column):
                    return row, column, text
        return None

    def _look_again(self) -> None:
        """What is wrong with one cell may depend on others."""
        rows = self.rowCount()
        if rows:
            self.dataChanged.emit(self.index(0, 0), self.index(rows - 1, len(self.columns) - 1))

    # ---------------------------------------------------------------- as a model

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Rows, with the one that asks for more."""
        return 0 if parent.isValid() else len(self._rows) + self._asks

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Columns."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The text of a cell, and what is to be known of it."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        ghost = self.is_ghost(row)
        if role == GHOST_ROLE:
            return ghost
        if role == CHOICES_ROLE:
            return self.choices_of(column)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            if ghost:
                return self._ghost if column == 0 and role == Qt.ItemDataRole.DisplayRole else ""
            return self._rows[row][column]
        if role == TROUBLE_ROLE:
            return "" if ghost else self.trouble_of(row, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return (not ghost and self.trouble_of(row, column)) or self.columns[column].tip or None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._spoken(row, column)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if self.columns[column].number else Qt.AlignmentFlag.AlignLeft
            return Qt.AlignmentFlag.AlignVCenter | side
        return None

    def _spoken(self, row: int, column: int) -> str:
        if self.is_ghost(row):
            return self._ghost if column == 0 else ""
        text = self._rows[row][column] or self.tr("nothing entered")
        said = self.tr("{column}: {text}").format(column=self.columns[column].title, text=text)
        trouble = self.trouble_of(row, column)
        return self.tr("{cell}. {trouble}").format(cell=said, trouble=trouble) if trouble else said

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The titles of the columns."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section].title
        if role == Qt.ItemDataRole.ToolTipRole:
            return self.columns[section].tip or None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if self.columns[section].number else Qt.AlignmentFlag.AlignLeft
            return Qt.AlignmentFlag.AlignVCenter | side
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Cells can be typed into; of the row that asks for more only the first."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if self.is_ghost(index.row()) and index.column() > 0:
            return Qt.ItemFlag.NoItemFlags
        plain = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        return plain | Qt.ItemFlag.ItemIsEditable if self.columns[index.column()].editable else plain

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Keeps what was typed, whether or not it can be read."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        row, column = index.row(), index.column()
        text = str(value).strip()
        if self.is_ghost(row):
            if not text:
                return False
            # The row that asked becomes a row, and another one that asks comes behind it.
            self._rows.append([""] * len(self.columns))
            self._asks = False
            self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.columns) - 1))
            self.beginInsertRows(QModelIndex(), row + 1, row + 1)
            self._asks = True
            self.endInsertRows()
            self.added(row)
        elif self._rows[row][column] == text:
            return True
        self._rows[row][column] = text
        self.changed(row, column)
        self._look_again()
        self.edited.emit()
        return True
