"""The lines of a batch's journal as a list model."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.dates import date_time, day_month
from hatchbook.desk.words.lines import line_sentence
from hatchbook.figures.results import JournalLine

LINE_ROLE = Qt.ItemDataRole.UserRole + 1
DATE_ROLE = Qt.ItemDataRole.UserRole + 2
SORT_ROLE = Qt.ItemDataRole.UserRole + 3

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex


class LinesModel(QAbstractListModel):
    """Newest first. Roles: ``LINE_ROLE`` the ``JournalLine``, ``DATE_ROLE`` its date, ``SORT_ROLE`` its instant."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[JournalLine, ...] = ()
        self._zone = ZoneInfo("UTC")

    def show_lines(self, lines: Sequence[JournalLine], zone: ZoneInfo) -> None:
        """Shows other lines."""
        self.beginResetModel()
        self._lines, self._zone = tuple(lines), zone
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many lines there are."""
        return 0 if parent.isValid() else len(self._lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The sentence of a line, its date, or the line itself."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return line_sentence(line)
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"{date_time(line.at, self._zone)}: {line_sentence(line)}"
        if role == DATE_ROLE:
            return day_month(line.at, self._zone)
        if role == LINE_ROLE:
            return line
        if role == SORT_ROLE:
            return line.at
        return None

    def row_of(self, uid: str) -> int | None:
        """The row of the line that stands for a record; None where there is none."""
        for row, line in enumerate(self._lines):
            if line.record is not None and line.record[1] == uid:
                return row
        return None
