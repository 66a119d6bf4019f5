"""The table of causes: as high as its rows, since the page scrolls; Enter opens a row, and the record of a line."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QSizePolicy,
    QStyleOptionViewItem,
    QTreeView,
    QWidget,
)

from hatchbook.desk.causes.cause_delegate import LEFT, PAD, CauseDelegate, boxes_width
from hatchbook.desk.causes.causes_model import CAUSE_ROLE, DETAIL_ROLE, CausesModel, Column, Detail
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.causes import strength_word
from hatchbook.figures.cause_results import BatchCauses, Strength
from hatchbook.trade.cause_codes import CauseCode

_CAUSE_SHARE, _FOR_LEAST, _FOR_MOST = 0.30, 0.42, 0.62
"""Of the width that the evidence leaves for the cause; of what is left then for what speaks for it: the more, the
more there is of that."""
_CAUSE_LEAST, _CAUSE_MOST = 120, 210


class CausesView(QTreeView):
    """Arrows go from row to row, right and left open and fold, Enter does both and opens what a line rests on.

    Signals:
        record_opened: the ``RecordRef`` of the line that was opened.
    """

    record_opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._all_shown = False
        self.causes = CausesModel(self)
        self.setModel(self.causes)
        self.setItemDelegate(CauseDelegate(self))
        self.setAccessibleName(self.tr("Probable causes with evidence"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRootIsDecorated(False)
        self.setIndentation(0)
        self.setItemsExpandable(True)
        self.setExpandsOnDoubleClick(False)
        self.setAllColumnsShowFocus(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        head = self.header()
        head.setObjectName("head")
        head.setSectionsMovable(False)
        head.setSectionsClickable(False)
        head.setStretchLastSection(True)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.clicked.connect(self._choose)
        self.expanded.connect(lambda _index: self._fit())
        self.collapsed.connect(lambda _index: self._fit())

    def show_causes(self, causes: BatchCauses | None, zone: ZoneInfo) -> None:
        """Shows the causes of a batch; of the same batch, rows that were open stay open, and the cursor stays."""
        same = causes is not None and causes.batch == self.causes.batch
        opened, current = (self._opened(), self._current()) if same else (set(), None)
        self.causes.show_causes(causes, zone)
        self._hide_rows()
        for row in range(self.causes.rowCount()):
            cause = self.causes.index(row, 0)
            for line in range(self.causes.rowCount(cause)):
                self.setFirstColumnSpanned(line, cause, True)
            self.setExpanded(cause, self._code(row) in opened)
        if current is not None:
            self._go_to(*current)
        self._fit()

    def _code(self, row: int) -> CauseCode:
        code: CauseCode = self.causes.index(row, 0).data(CAUSE_ROLE).code
        return code

    def _opened(self) -> set[CauseCode]:
        rows = range(self.causes.rowCount())
        return {self._code(row) for row in rows if self.isExpanded(self.causes.index(row, 0))}

    def _current(self) -> tuple[CauseCode, int | None] | None:
        """The cause on which the cursor is, and which of its lines."""
        index = self.currentIndex()
        if not index.isValid():
            return None
        if index.parent().isValid():
            return self._code(index.parent().row()), index.row()
        return self._code(index.row()), None

    def _go_to(self, code: CauseCode, line: int | None) -> None:
        row = next((row for row in range(self.causes.rowCount()) if self._code(row) is code), None)
        if row is None or self.isRowHidden(row, QModelIndex()):
            return
        cause = self.causes.index(row, 0)
        lines = self.causes.rowCount(cause)
        within = line is not None and lines and self.isExpanded(cause)
        self.setCurrentIndex(self.causes.index(min(line or 0, lines - 1), 0, cause) if within else cause)

    @property
    def without_case(self) -> int:
        """How many causes have nothing that speaks for them."""
        return len(self._rows_without_case())

    @property
    def has_rows(self) -> bool:
        """Whether any cause is shown."""
        return any(not self.isRowHidden(row, QModelIndex()) for row in range(self.causes.rowCount()))

    def show_all(self, shown: bool) -> None:
        """Shows the causes that nothing speaks for too, or hides them."""
        self._all_shown = shown
        self._hide_rows()
        self._fit()

    def _rows_without_case(self) -> list[int]:
        causes = [self.causes.index(row, 0).data(CAUSE_ROLE) for row in range(self.causes.rowCount())]
        return [row for row, cause in enumerate(causes) if not cause.points_for]

    def _hide_rows(self) -> None:
        hidden = set() if self._all_shown else set(self._rows_without_case())
        for row in range(self.causes.rowCount()):
            self.setRowHidden(row, QModelIndex(), row in hidden)

    # ---------------------------------------------------------------- size

    def sizeHint(self) -> QSize:
        """As high as all rows."""
        return QSize(400, self._wanted_height())

    def minimumSizeHint(self) -> QSize:
        """It gives way in width only."""
        return QSize(200, self._wanted_height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Sentences wrap; their rows are as high as they need."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def _fit(self) -> None:
        width = self.viewport().width()
        words = max(self.fontMetrics().horizontalAdvance(strength_word(one)) for one in Strength)
        evidence = 2 * LEFT + boxes_width() + round(1.1 * words)
        cause = min(max(round(_CAUSE_SHARE * (width - evidence)), _CAUSE_LEAST), _CAUSE_MOST)
        self.setColumnWidth(Column.CAUSE, cause)
        self.setColumnWidth(Column.EVIDENCE, evidence)
        self.setColumnWidth(Column.FOR, max(round(self._for_share() * (width - evidence - cause)), 80))
        self.setColumnWidth(Column.AGAINST, max(width - evidence - cause - self.columnWidth(Column.FOR), 80))
        self.scheduleDelayedItemsLayout()
        self.setFixedHeight(self._wanted_height())

    def _for_share(self) -> float:
        """By the longest sentences of either side among the rows that are shown."""
        rows = [row for row in range(self.causes.rowCount()) if not self.isRowHidden(row, QModelIndex())]
        speaks_for, against = (
            max((len(str(self.causes.index(row, column).data())) for row in rows), default=0)
            for column in (Column.FOR, Column.AGAINST)
        )
        share = speaks_for / (speaks_for + against) if speaks_for + against else _FOR_MOST
        return min(max(share, _FOR_LEAST), _FOR_MOST)

    def _wanted_height(self) -> int:
        height = self.header().sizeHint().height() + 2
        for row in range(self.causes.rowCount()):
            if self.isRowHidden(row, QModelIndex()):
                continue
            cause = self.causes.index(row, 0)
            height += self._row_height(cause, len(Column))
            if self.isExpanded(cause):
                lines = self.causes.rowCount(cause)
                height += sum(self._row_height(self.causes.index(line, 0, cause), 1) for line in range(lines))
        return height

    def _row_height(self, index: QModelIndex, columns: int) -> int:
        delegate, option = self.itemDelegate(), self._option()
        least = self.fontMetrics().height() + 2 * PAD if columns > 1 else 0
        cells = [index.siblingAtColumn(column) for column in range(columns)]
        return max(least, *(delegate.sizeHint(option, cell).height() for cell in cells))

    def _option(self) -> QStyleOptionViewItem:
        option = QStyleOptionViewItem()
        self.initViewItemOption(option)
        return option

    # ---------------------------------------------------------------- opening

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens and folds a cause, and opens the record of a line; Space does as Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._choose(self.currentIndex())
            event.accept()
        else:
            super().keyPressEvent(event)

    def _choose(self, index: QModelIndex) -> None:
        if not index.isValid():
            return
        first = index.siblingAtColumn(0)
        if not index.parent().isValid():
            self.setExpanded(first, not self.isExpanded(first))
            return
        detail = first.data(DETAIL_ROLE)
        if isinstance(detail, Detail) and detail.record is not None:
            self.record_opened.emit(detail.record)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keyboard begins at the first cause."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.causes.rowCount():
            self.setCurrentIndex(self.causes.index(0, 0))

    def paintEvent(self, event: QPaintEvent) -> None:
        """A ring round the whole row that the keyboard is on."""
        super().paintEvent(event)
        current = self.currentIndex()
        if current.isValid() and self.hasFocus():
            row = self.visualRect(current.siblingAtColumn(0))
            row.setLeft(0)
            row.setRight(self.viewport().width() - 1)
            with QPainter(self.viewport()) as painter:
                paint_focus_ring(painter, QRectF(row), scheme_of(self), 2.0)
