"""The story of an egg as a table: day, when, what."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QWidget

from hatchbook.desk.dialogs.edit_table import row_height
from hatchbook.desk.widgets.entry_table import EntryTable
from hatchbook.desk.words.egg_story import entry_day, entry_sentence, entry_when
from hatchbook.figures.egg_story import EggStory, StoryEntry
from hatchbook.trade.units import Unit

Index = QModelIndex | QPersistentModelIndex

ENTRY_ROLE = Qt.ItemDataRole.UserRole + 1

DAY, WHEN, WHAT = range(3)
_NOWHERE = QModelIndex()
_AIR = 18


class StoryModel(QAbstractTableModel):
    """One row an entry, oldest first. Role: ``ENTRY_ROLE`` the ``StoryEntry``."""

    def __init__(self, zone: ZoneInfo, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self._story: EggStory | None = None
        self._unit = Unit.GRAM

    def show_story(self, story: EggStory, unit: Unit) -> None:
        """Shows another egg, or the same one as it is now."""
        self.beginResetModel()
        self._story, self._unit = story, unit
        self.endResetModel()

    @property
    def entries(self) -> tuple[StoryEntry, ...]:
        """The entries, oldest first."""
        return () if self._story is None else self._story.entries

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Entries."""
        return 0 if parent.isValid() else len(self.entries)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Day, when, what."""
        return 0 if parent.isValid() else 3

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The words of an entry, or the entry."""
        if not index.isValid() or self._story is None:
            return None
        entry, column = self._story.entries[index.row()], index.column()
        if role == ENTRY_ROLE:
            return entry
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(entry, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._text(entry, WHAT)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.tr("day {day}, {when}: {what}").format(
                day=self._text(entry, DAY), when=self._text(entry, WHEN), what=self._text(entry, WHAT)
            )
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column == DAY else Qt.AlignmentFlag.AlignLeft
            return Qt.AlignmentFlag.AlignVCenter | side
        return None

    def _text(self, entry: StoryEntry, column: int) -> str:
        assert self._story is not None
        if column == DAY:
            return entry_day(entry)
        if column == WHEN:
            return entry_when(entry, self._story, self._zone)
        return entry_sentence(entry, self._story, self._unit)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The titles of the columns."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return (self.tr("Day"), self.tr("When"), self.tr("What"))[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if section == DAY else Qt.AlignmentFlag.AlignLeft
            return Qt.AlignmentFlag.AlignVCenter | side
        return None


class StoryTable(EntryTable):
    """Arrows go from entry to entry, Enter or F2 into its form, Del takes it away.

    Signals:
        entry_chosen: the ``StoryEntry`` under the cursor, or None.
    """

    entry_chosen = Signal(object)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(row_height=row_height() - 3, head_height=row_height(), parent=parent)
        self.story = StoryModel(zone, self)
        self.setModel(self.story)
        self.setAccessibleName(self.tr("Story of the egg"))
        self.setFrameShape(QFrame.Shape.Box)
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.selectionModel().currentRowChanged.connect(
            lambda *_: self.entry_chosen.emit(self.current_entry())
        )
        self.story.modelReset.connect(self._fit_columns)

    def _fit_columns(self) -> None:
        self.setColumnWidth(DAY, self.fontMetrics().horizontalAdvance("−00.0") + _AIR)
        self.setColumnWidth(WHEN, self.widest(WHEN, with_title=False) + _AIR)
        self.resizeRowsToContents()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Sentences wrap; their rows are as high as they need."""
        super().resizeEvent(event)
        self.resizeRowsToContents()
        self.scrollTo(self.currentIndex())

    def current_entry(self) -> StoryEntry | None:
        """The entry under the cursor."""
        entry: StoryEntry | None = self.currentIndex().data(ENTRY_ROLE)
        return entry

    def choose_row(self, row: int) -> None:
        """Puts the cursor on an entry."""
        self.setCurrentIndex(self.story.index(row, WHAT))
        self.scrollTo(self.currentIndex())
