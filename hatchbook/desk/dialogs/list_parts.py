"""Parts of dialogs that have a list at the left and the form of what is chosen at the right."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from hatchbook.desk.dialogs.edit_table import row_height


class RowDelegate(QStyledItemDelegate):
    """Rows that are easy to hit."""

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """A line of text and some air."""
        return super().sizeHint(option, index).expandedTo(QSize(0, row_height()))


def scrolling(form: QWidget) -> QScrollArea:
    """A form in an area that scrolls it, without an edge of its own."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(form)
    area.viewport().setAutoFillBackground(False)
    form.setAutoFillBackground(False)
    return area
