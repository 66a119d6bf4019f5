"""The lines of a batch's journal as a list model."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.dates import date_time, day_month
from hatchbook.desk.words.effects import effect_sentence
from hatchbook.desk.words.lines import line_sentence
from hatchbook.figures.effects import EventEffect
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
        self._effects: Mapping[str, EventEffect] = {}

    def show_lines(
        self,
        lines: Sequence[JournalLine],
        zone: ZoneInfo,
        effects: Mapping[str, EventEffect] | None = None,
    ) -> None:
        """Shows other lines; ``effects``: what the events did to the humidity, by their uid."""
        self.beginResetModel()
        self._lines, self._zone = tuple(lines), zone
        self._effects = effects or {}
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
            return self._told_whole(line)
        if role == DATE_ROLE:
            return day_month(line.at, self._zone)
        if role == LINE_ROLE:
            return line
        if role == SORT_ROLE:
            return line.at
        return None

    def _told_whole(self, line: JournalLine) -> str:
        effect = None if line.record is None else self._effects.get(line.record[1])
        told = {"date": date_time(line.at, self._zone), "line": line_sentence(line)}
        if effect is None:
            return self.tr("{date}: {line}").format(**told)
        return self.tr("{date}: {line}; {effect}").format(**told, effect=effect_sentence(effect))

    def row_of(self, uid: str) -> int | None:
        """The row of the line that stands for a record; None where there is none."""
        for row, line in enumerate(self._lines):
            if line.record is not None and line.record[1] == uid:
                return row
        return None
