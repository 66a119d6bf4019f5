"""A table of entries, one a row: arrows move, Enter or F2 opens, Del takes away, a ring shows the row."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.themed import paint_focus_ring


class EntryRows(QStyledItemDelegate):
    """Chosen rows as everywhere on our sheets, whatever the style makes of them."""

    def initStyleOption(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """The colours of the scheme, and no ring round a single cell."""
        super().initStyleOption(option, index)
        scheme = scheme_of(option.widget)
        option.palette.setColor(QPalette.ColorRole.Highlight, scheme.select)
        option.palette.setColor(QPalette.ColorRole.HighlightedText, scheme.ink)
        option.state &= ~QStyle.StateFlag.State_HasFocus


class EntryTable(QTableView):
    """Whole rows are chosen; the last column takes what is left of the width.

    Signals:
        opening_wanted, removal_wanted: the entry under the cursor is to be opened, or taken away.
    """

    opening_wanted = Signal()
    removal_wanted = Signal()

    def __init__(self, *, row_height: int, head_height: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(EntryRows(self))
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(row_height)
        self.verticalHeader().setDefaultSectionSize(row_height)
        head = self.horizontalHeader()
        head.setObjectName("head")
        head.setSectionsClickable(False)
        head.setHighlightSections(False)
        head.setFixedHeight(head_height)
        head.setStretchLastSection(True)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.doubleClicked.connect(lambda _index: self.opening_wanted.emit())

    def widest(self, column: int, *, with_title: bool = True) -> int:
        """How wide the longest text of a column is, px."""
        model = self.model()
        texts = [str(model.index(row, column).data()) for row in range(model.rowCount())]
        if with_title:
            texts.append(str(model.headerData(column, Qt.Orientation.Horizontal)))
        return max((self.fontMetrics().horizontalAdvance(text) for text in texts), default=0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A ring round the whole row that the keyboard is on."""
        super().paintEvent(event)
        current = self.currentIndex()
        if current.isValid() and self.hasFocus():
            last = self.model().columnCount() - 1
            row = self.visualRect(current.siblingAtColumn(0)).united(
                self.visualRect(current.siblingAtColumn(last))
            )
            with QPainter(self.viewport()) as painter:
                paint_focus_ring(painter, QRectF(row), scheme_of(self), 2.0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and F2 open, Del takes away; without an entry under the cursor they do what they do elsewhere."""
        there = self.currentIndex().isValid()
        if there and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.opening_wanted.emit()
        elif there and event.key() == Qt.Key.Key_Delete:
            self.removal_wanted.emit()
        else:
            super().keyPressEvent(event)
