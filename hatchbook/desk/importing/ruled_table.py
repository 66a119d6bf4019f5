"""A table for reading: whole rows, hairlines between them, a flat head."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.theme.theme import scheme_of

ROW_HEIGHT = 23
CELL_INDENT = 3


class RuledTable(QTableView):
    """Nothing in it can be edited; Tab leaves it."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setItemDelegate(_RuledDelegate(self))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setCornerButtonEnabled(False)
        rows = self.verticalHeader()
        rows.hide()
        height = max(ROW_HEIGHT, self.fontMetrics().height() + 6)
        rows.setMinimumSectionSize(height)
        rows.setDefaultSectionSize(height)
        head = self.horizontalHeader()
        head.setObjectName("head")
        head.setHighlightSections(False)
        head.setSectionsClickable(False)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class _RuledDelegate(QStyledItemDelegate):
    """The usual cell, in line with the head, and a hairline under it."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        view = self.parent()
        assert isinstance(view, QWidget)
        whole = QStyleOptionViewItem(option)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, option.palette.highlight())
        whole.rect = option.rect.adjusted(CELL_INDENT, 0, -CELL_INDENT, 0)
        super().paint(painter, whole, index)
        painter.fillRect(
            option.rect.left(), option.rect.bottom(), option.rect.width(), 1, scheme_of(view).rule
        )
