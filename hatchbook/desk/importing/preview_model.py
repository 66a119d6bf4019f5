"""The first lines of a file, with every kind of line that stays out, as a table model."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QBrush, QColor, QFont

from hatchbook.desk.painting.icons import icon
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.words.file_layout import column_word
from hatchbook.desk.words.imports import reject_reason
from hatchbook.exchange.left_out import rejected_line
from hatchbook.exchange.logger_file import (
    ColumnRole,
    LayoutNotFoundError,
    LoggerTable,
    PreviewRow,
    RejectedLine,
)

ROW_ROLE = Qt.ItemDataRole.UserRole + 1

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex

LINE_COLUMN = 0


class PreviewLine(Protocol):
    """A line to show: its number counted from 1, its cells, and the columns (from 0) for which it stays out."""

    @property
    def number(self) -> int: ...
    @property
    def cells(self) -> tuple[str, ...]: ...
    @property
    def bad_columns(self) -> tuple[int, ...]: ...


@dataclass(frozen=True)
class PreviewLines:
    """What the table shows: column names, what each column holds, rows, and why some stay out (by line number).

    ``unread``: columns (from 0) of which nothing comes in.
    """

    names: tuple[str, ...]
    roles: tuple[StrEnum, ...]
    rows: tuple[PreviewLine, ...]
    reasons: dict[int, str]
    unread: frozenset[int] = frozenset()

    @classmethod
    def of_table(cls, table: LoggerTable) -> PreviewLines:
        """Of a file that was read."""
        rows = table.preview()
        wanted = {row.number for row in rows if row.reason is not None}
        found: Sequence[RejectedLine] = [line for line in table.rejected if line.number in wanted]
        reasons = {line.number: reject_reason(line.code, line.fields) for line in map(rejected_line, found)}
        roles = table.layout.columns
        return cls(table.column_names, roles, rows, reasons, _left_out(roles))

    @classmethod
    def of_error(cls, error: LayoutNotFoundError) -> PreviewLines:
        """Of a file of which a column has to be chosen first."""
        rows = tuple(PreviewRow(number, cells, None, ()) for number, cells in error.rows)
        roles = error.guess.columns
        return cls(error.column_names, roles, rows, {}, _left_out(roles))

    @property
    def width(self) -> int:
        """Columns of the file."""
        return len(self.roles)


class PreviewModel(QAbstractTableModel):
    """Column 0 is the number of the line, flagged where it stays out; then the columns of the file.

    ``ROW_ROLE``: the ``PreviewLine``.
    """

    def __init__(self, scheme: Scheme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._scheme = scheme
        self._lines = PreviewLines((), (), (), {})

    @property
    def lines(self) -> PreviewLines:
        """What is shown."""
        return self._lines

    def show_lines(self, lines: PreviewLines) -> None:
        """Shows another file, or the same one read otherwise."""
        self.beginResetModel()
        self._lines = lines
        self.endResetModel()

    def set_scheme(self, scheme: Scheme) -> None:
        """Takes other colours."""
        self._scheme = scheme
        if self.rowCount() and self.columnCount():
            last = self.index(self.rowCount() - 1, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many lines are shown."""
        return 0 if parent.isValid() else len(self._lines.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """The line number and the columns of the file."""
        return 0 if parent.isValid() else 1 + self._lines.width

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The names of the columns."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(section)
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return None
        return self.tr("line") if section == LINE_COLUMN else self.column_name(section - 1)

    def column_name(self, place: int) -> str:
        """The name of a column of the file, or its number."""
        names = self._lines.names
        return column_word(names[place] if place < len(names) else "", place)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts, the flag, and in words why a line stays out."""
        if not index.isValid():
            return None
        row, column = self._lines.rows[index.row()], index.column()
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(row, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._reason(row) or self._text(row, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._spoken(row, column)
        if role == Qt.ItemDataRole.DecorationRole and column == LINE_COLUMN and self._stays_out(row):
            return icon("flag", self._scheme, "bad")
        if role == Qt.ItemDataRole.ForegroundRole:
            return QBrush(self._ink(row, column))
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(column)
        if role == Qt.ItemDataRole.FontRole and self._is_bad(row, column):
            return _bold()
        return None

    def _text(self, row: PreviewLine, column: int) -> str:
        if column == LINE_COLUMN:
            return QLocale().toString(row.number)
        return row.cells[column - 1] if column <= len(row.cells) else ""

    def _stays_out(self, row: PreviewLine) -> bool:
        return row.number in self._lines.reasons

    def _reason(self, row: PreviewLine) -> str:
        return self._lines.reasons.get(row.number, "")

    def _spoken(self, row: PreviewLine, column: int) -> str:
        text = self._text(row, column)
        if column == LINE_COLUMN:
            reason = self._reason(row)
            if reason:
                return self.tr("line {number}, left out: {reason}").format(number=text, reason=reason)
            return self.tr("line {number}").format(number=text)
        return self.tr("{column}: {text}").format(column=self.column_name(column - 1), text=text)

    def _is_bad(self, row: PreviewLine, column: int) -> bool:
        return column - 1 in row.bad_columns

    def _ink(self, row: PreviewLine, column: int) -> QColor:
        if self._is_bad(row, column):
            return self._scheme.bad
        if column == LINE_COLUMN or column - 1 in self._lines.unread:
            return self._scheme.ink3
        return self._scheme.ink2 if self._stays_out(row) else self._scheme.ink


def _left_out(roles: Sequence[ColumnRole]) -> frozenset[int]:
    return frozenset(place for place, role in enumerate(roles) if role is ColumnRole.LEAVE_OUT)


def _alignment(column: int) -> Qt.AlignmentFlag:
    """Line numbers stand below each other by their last figure."""
    side = Qt.AlignmentFlag.AlignRight if column == LINE_COLUMN else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter


def _bold() -> QFont:
    return role_font(TypeRole.BODY, bold=True)
