"""Checks and care of a machine, newest first."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QApplication, QFrame, QStyleOptionViewItem, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.entry_table import EntryRows, EntryTable
from hatchbook.desk.words.machines import care_date, care_result, care_sentence, care_what
from hatchbook.figures.care import CareEntry

Index = QModelIndex | QPersistentModelIndex

ENTRY_ROLE = Qt.ItemDataRole.UserRole + 1
DATE, WHAT, RESULT = range(3)
_NOWHERE = QModelIndex()
_AIR = 18
_ROWS_SHOWN = 6


class CareModel(QAbstractTableModel):
    """One row an entry. Role: ``ENTRY_ROLE`` the ``CareEntry``."""

    def __init__(self, zone: ZoneInfo, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.zone = zone
        self._entries: tuple[CareEntry, ...] = ()
        self._dry_runs: dict[int, str] = {}

    def show_entries(self, entries: Sequence[CareEntry], dry_runs: dict[int, str]) -> None:
        """Shows other entries; ``dry_runs``: by their instants what they showed, in words."""
        self.beginResetModel()
        self._entries, self._dry_runs = tuple(entries), dict(dry_runs)
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Entries."""
        return 0 if parent.isValid() else len(self._entries)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Date, what, result."""
        return 0 if parent.isValid() else 3

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """An entry in words, or itself."""
        if not index.isValid():
            return None
        entry, column = self._entries[index.row()], index.column()
        dry_run = self._dry_runs.get(entry.at, "")
        if role == ENTRY_ROLE:
            return entry
        if role == Qt.ItemDataRole.DisplayRole:
            if column == DATE:
                return care_date(entry, self.zone)
            return care_what(entry) if column == WHAT else care_result(entry, dry_run)
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return care_sentence(entry, self.zone, dry_run)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The titles of the columns."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return (self.tr("Date"), self.tr("What"), self.tr("Result"))[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        return None


class _Rows(EntryRows):
    """A hairline under each row."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """The usual cell on its rule."""
        super().paint(painter, option, index)
        scheme = scheme_of(option.widget)
        painter.fillRect(option.rect.left(), option.rect.bottom(), option.rect.width(), 1, scheme.rule)


class CareTable(EntryTable):
    """Enter opens an entry, Del takes it away."""

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        height = max(24, QFontMetrics(QApplication.font()).height() + 8)
        super().__init__(row_height=height, head_height=height, parent=parent)
        self._row = height
        self.care = CareModel(zone, self)
        self.setModel(self.care)
        self.setItemDelegate(_Rows(self))
        self.setAccessibleName(self.tr("Checks and care"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWordWrap(False)
        self.care.modelReset.connect(self._fit)

    def show_entries(self, entries: Sequence[CareEntry], dry_runs: dict[int, str]) -> None:
        """Shows other entries; the cursor stays in its row where there still is one."""
        row = self.currentIndex().row()
        self.care.show_entries(entries, dry_runs)
        if entries and row >= 0:
            self.setCurrentIndex(self.care.index(min(row, len(entries) - 1), WHAT))

    def current_entry(self) -> CareEntry | None:
        """The entry under the cursor."""
        entry: CareEntry | None = self.currentIndex().data(ENTRY_ROLE)
        return entry

    def sizeHint(self) -> QSize:
        """A handful of rows; more of them scroll."""
        return QSize(380, self._row * (_ROWS_SHOWN + 1))

    def _fit(self) -> None:
        """Dates in full; what was done as far as there is room beside its result."""
        date = self.widest(DATE) + _AIR
        self.setColumnWidth(DATE, date)
        rest = max(self.viewport().width() - date, 120)
        self.setColumnWidth(WHAT, min(self.widest(WHAT) + _AIR, round(rest * 0.55)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The columns share another width."""
        super().resizeEvent(event)
        self._fit()
