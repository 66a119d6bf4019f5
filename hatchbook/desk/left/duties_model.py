"""The duties of a day as a list that can be ticked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.duties import duty_line_sentence, duty_sentence
from hatchbook.figures.results import DutyLine

Index = QModelIndex | QPersistentModelIndex

LINE_ROLE = Qt.ItemDataRole.UserRole + 1
SORT_ROLE = Qt.ItemDataRole.UserRole + 2
DONE_ROLE = Qt.ItemDataRole.UserRole + 3

_NOWHERE = QModelIndex()

Ticker = Callable[[DutyLine, bool], bool]
"""Ticks a duty, or takes its tick away; False where the journal refused."""


class DutiesModel(QAbstractListModel):
    """The duties of a day, by time.

    Roles: ``LINE_ROLE`` the ``DutyLine``, ``SORT_ROLE`` the instant at which it is due, ``DONE_ROLE`` whether it
    was done, ``CheckStateRole`` the same to be ticked: that asks the ticker.
    """

    def __init__(self, ticker: Ticker, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._ticker = ticker
        self._lines: tuple[DutyLine, ...] = ()
        self._zone = ZoneInfo("UTC")
        self._can_tick = False

    def show_lines(self, lines: Sequence[DutyLine], zone: ZoneInfo, *, can_tick: bool = True) -> None:
        """Shows other duties, or the same ones as they are now."""
        new = tuple(lines)
        same = [line.duty.uid for line in new] == [line.duty.uid for line in self._lines]
        if not same:
            self.beginResetModel()
        self._lines, self._zone, self._can_tick = new, zone, can_tick
        if not same:
            self.endResetModel()
        elif new:
            self.dataChanged.emit(self.index(0), self.index(len(new) - 1))

    @property
    def zone(self) -> ZoneInfo:
        """The zone in which times are shown."""
        return self._zone

    @property
    def done(self) -> int:
        """How many are done."""
        return sum(line.duty.done_at is not None for line in self._lines)

    def first_open(self) -> QModelIndex:
        """The first duty still to do; an invalid index where there is none."""
        for row, line in enumerate(self._lines):
            if line.duty.done_at is None:
                return self.index(row)
        return QModelIndex()

    def index_of(self, uid: str) -> QModelIndex:
        """The row of a duty; an invalid index where it is not shown."""
        for row, line in enumerate(self._lines):
            if line.duty.uid == uid:
                return self.index(row)
        return QModelIndex()

    # ---------------------------------------------------------------- the list

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many duties there are."""
        return 0 if parent.isValid() else len(self._lines)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Chosen and ticked."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        return flags | Qt.ItemFlag.ItemIsUserCheckable if self._can_tick else flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """What is to do, whether it was done, or the line itself."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        done = line.duty.done_at is not None
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return duty_sentence(line.duty)
            case Qt.ItemDataRole.CheckStateRole:
                return Qt.CheckState.Checked if done else Qt.CheckState.Unchecked
            case Qt.ItemDataRole.ToolTipRole | Qt.ItemDataRole.AccessibleTextRole:
                return duty_line_sentence(line, self._zone)
            case _ if role == LINE_ROLE:
                return line
            case _ if role == SORT_ROLE:
                return line.duty.due_at
            case _ if role == DONE_ROLE:
                return done
        return None

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Ticks or unticks through the journal, which then shows the list anew."""
        if role != Qt.ItemDataRole.CheckStateRole or not self.flags(index) & Qt.ItemFlag.ItemIsUserCheckable:
            return False
        return self._ticker(self._lines[index.row()], Qt.CheckState(value) == Qt.CheckState.Checked)
