"""The story of an egg as a table: day, when, what."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.dialogs.edit_table import row_height
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.themed import paint_focus_ring
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


class _Rows(QStyledItemDelegate):
    """Chosen rows as everywhere on our sheets, whatever the style makes of them."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """The colours of the scheme, and no ring round a single cell."""
        super().initStyleOption(option, index)
        scheme = scheme_of(option.widget)
        option.palette.setColor(QPalette.ColorRole.Highlight, scheme.select)
        option.palette.setColor(QPalette.ColorRole.HighlightedText, scheme.ink)
        option.state &= ~QStyle.StateFlag.State_HasFocus


class StoryTable(QTableView):
    """Arrows go from entry to entry, Enter or F2 into its form, Del takes it away.

    Signals:
        entry_chosen: the ``StoryEntry`` under the cursor, or None.
        form_wanted: the entry under the cursor is to be changed.
        removal_wanted: it is to be taken away.
    """

    entry_chosen = Signal(object)
    form_wanted = Signal()
    removal_wanted = Signal()

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.story = StoryModel(zone, self)
        self.setModel(self.story)
        self.setItemDelegate(_Rows(self))
        self.setAccessibleName(self.tr("Story of the egg"))
        self.setFrameShape(QFrame.Shape.Box)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(row_height() - 3)
        self.verticalHeader().setMinimumSectionSize(row_height() - 3)
        head = self.horizontalHeader()
        head.setObjectName("head")
        head.setSectionsClickable(False)
        head.setHighlightSections(False)
        head.setFixedHeight(row_height())
        head.setStretchLastSection(True)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.selectionModel().currentRowChanged.connect(
            lambda *_: self.entry_chosen.emit(self.current_entry())
        )
        self.doubleClicked.connect(lambda _index: self.form_wanted.emit())
        self.story.modelReset.connect(self._fit_columns)

    def _fit_columns(self) -> None:
        widest = max(
            (
                self.fontMetrics().horizontalAdvance(str(self.story.index(row, WHEN).data()))
                for row in range(self.story.rowCount())
            ),
            default=0,
        )
        self.setColumnWidth(DAY, self.fontMetrics().horizontalAdvance("−00.0") + _AIR)
        self.setColumnWidth(WHEN, widest + _AIR)
        self.resizeRowsToContents()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A ring round the whole row that the keyboard is on."""
        super().paintEvent(event)
        current = self.currentIndex()
        if current.isValid() and self.hasFocus():
            row = self.visualRect(current.siblingAtColumn(DAY)).united(
                self.visualRect(current.siblingAtColumn(WHAT))
            )
            with QPainter(self.viewport()) as painter:
                paint_focus_ring(painter, QRectF(row), scheme_of(self), 2.0)

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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and F2 go to the form, Del takes the entry away."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.form_wanted.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.removal_wanted.emit()
        else:
            super().keyPressEvent(event)
