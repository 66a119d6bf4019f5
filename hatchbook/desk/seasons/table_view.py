"""The table of a comparison: sorted by a click on a head or a key, a row filters charts and list."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFontMetricsF, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QMenu,
    QStyleOptionViewItem,
    QTreeView,
    QWidget,
)

from hatchbook.desk.seasons.table_delegate import ComparisonDelegate
from hatchbook.desk.seasons.table_header import ComparisonHeader
from hatchbook.desk.seasons.table_model import BATCHES, EGGS, FIRST_RATE, NAME, ROW_ROLE, ComparisonModel
from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.figures.comparison_results import ComparisonFigures, GroupRow

_NAME_SHARE, _NAME_LEAST, _NAME_MOST = 0.2, 120, 260
_COUNT_AIR, _NUMBER_AIR = 26, 16


class ComparisonTable(QTreeView):
    """Groups with their rates.

    Signals:
        row_wanted: the ``GroupRow`` by which to filter; None for no filter.
    """

    row_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.groups = ComparisonModel(self)
        self._delegate = ComparisonDelegate(self, self.groups)
        self.setModel(self.groups)
        self.setItemDelegate(self._delegate)
        header = ComparisonHeader(self.groups, self)
        self.setHeader(header)
        header.sectionClicked.connect(self.sort_by)
        self.setAccessibleName(self.tr("Rates with 95 percent ranges"))
        self.setAccessibleDescription(
            self.tr("Enter shows only the batches of a row in charts and list. The menu key sorts.")
        )
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRootIsDecorated(False)
        self.setIndentation(0)
        self.setItemsExpandable(False)
        self.setMouseTracking(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAllColumnsShowFocus(True)

    def show_figures(self, figures: ComparisonFigures | None, filtered: GroupRow | None = None) -> None:
        """Shows another comparison; the cursor stays on its group where that is still there."""
        before = self.currentIndex().data(ROW_ROLE)
        scrolled = self.verticalScrollBar().value()
        self._delegate.filtered = filtered
        self.groups.show_figures(figures)
        self._share_width()
        self._span_titles()
        for row in range(self.groups.rowCount()):
            found = self.groups.line(row).row
            if found is not None and isinstance(before, GroupRow) and found.group == before.group:
                self.setCurrentIndex(self.groups.index(row, NAME))
                break
        self.verticalScrollBar().setValue(scrolled)

    def show_filter(self, row: GroupRow | None) -> None:
        """Marks the row by which charts and list are filtered."""
        self._delegate.filtered = row
        self.viewport().update()

    def sort_by(self, column: int) -> None:
        """Sorts by a column: falling, rising, and the third time by the groups' own order. Names rise first."""
        falling, rising = Qt.SortOrder.DescendingOrder, Qt.SortOrder.AscendingOrder
        first, second = (rising, falling) if column == NAME else (falling, rising)
        now = self.groups.sorted_by
        if now is None or now[0] != column:
            self.groups.sort(column, first)
        elif now[1] is first:
            self.groups.sort(column, second)
        else:
            self.groups.sort(-1)
        self._show_order()
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())

    def wanted_height(self) -> int:
        """As high as the head and all rows."""
        option = QStyleOptionViewItem()
        rows = (self.groups.index(row, NAME) for row in range(self.groups.rowCount()))
        return self.header().sizeHint().height() + sum(
            self._delegate.sizeHint(option, row).height() for row in rows
        )

    def _span_titles(self) -> None:
        for row in range(self.groups.rowCount()):
            self.setFirstColumnSpanned(row, QModelIndex(), self.groups.line(row).is_title)

    # ---------------------------------------------------------------- keys and mouse

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter filters by the row, Esc shows all again."""
        match event.key():
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self._want(self.currentIndex())
            case Qt.Key.Key_Escape if self._delegate.filtered is not None:
                self.row_wanted.emit(None)
            case _:
                super().keyPressEvent(event)

    def focusInEvent(self, event: object) -> None:
        """There is always a row to begin with."""
        super().focusInEvent(event)  # type: ignore[arg-type]
        if not self.currentIndex().isValid() and self.groups.rowCount():
            self.setCurrentIndex(self.groups.index(0, NAME))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Filters by the row."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._want(self.indexAt(event.position().toPoint()))

    def _want(self, index: QModelIndex) -> None:
        row = index.data(ROW_ROLE)
        if isinstance(row, GroupRow):
            same = row is self._delegate.filtered or row.group is None
            self.row_wanted.emit(None if same else row)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Filtering and sorting."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        where = self.visualRect(index).bottomLeft() + QPoint(24, 0) if by_key else event.pos()
        self.menu_for(index).popup(self.viewport().mapToGlobal(where))

    def menu_for(self, index: QModelIndex) -> QMenu:
        """The menu of a row."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        row = index.data(ROW_ROLE)
        only = menu.addAction(
            self.tr("Show only these batches in charts and list"), lambda: self._want(index)
        )
        only.setEnabled(
            isinstance(row, GroupRow) and row.group is not None and row is not self._delegate.filtered
        )
        every = menu.addAction(self.tr("Show all batches"), lambda: self.row_wanted.emit(None))
        every.setEnabled(self._delegate.filtered is not None)
        menu.addSeparator()
        sorting = menu.addMenu(self.tr("Sort by"))
        for column in range(self.groups.columnCount()):
            title = str(self.groups.headerData(column, Qt.Orientation.Horizontal))
            sorting.addAction(title, partial(self.sort_by, column))
        sorting.addSeparator()
        sorting.addAction(self.tr("Their own order"), self._sort_not)
        return menu

    def _sort_not(self) -> None:
        self.groups.sort(-1)
        self._show_order()

    def _show_order(self) -> None:
        self._span_titles()
        self.header().viewport().update()

    # ---------------------------------------------------------------- columns

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The rates share what names and counts leave."""
        super().resizeEvent(event)
        self._share_width()

    def changeEvent(self, event: QEvent) -> None:
        """Notices another font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self.model() is not None:
            self._share_width()

    def _share_width(self) -> None:
        if not self.groups.rates:
            return
        width = self.viewport().width()
        small = QFontMetricsF(role_font(TypeRole.CAPTION))
        strong = QFontMetricsF(role_font(bold=True))
        counts = []
        for column in (BATCHES, EGGS):
            title = small.horizontalAdvance(str(self.groups.headerData(column, Qt.Orientation.Horizontal)))
            largest = strong.horizontalAdvance(str(self.groups.index(0, column).data()))
            counts.append(round(max(title + _COUNT_AIR, largest + _NUMBER_AIR)))
        name = min(max(round(width * _NAME_SHARE), _NAME_LEAST), _NAME_MOST)
        header = self.header()
        header.resizeSection(NAME, name)
        for column, wide in zip((BATCHES, EGGS), counts, strict=True):
            header.resizeSection(column, wide)
        left = max(0, width - name - sum(counts))
        share = left // len(self.groups.rates)
        for at in range(len(self.groups.rates)):
            last = at == len(self.groups.rates) - 1
            header.resizeSection(FIRST_RATE + at, left - share * at if last else share)
