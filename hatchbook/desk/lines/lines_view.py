"""The lines of a batch's journal: date and sentence; Enter edits what a line stands for."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hatchbook.desk.lines.lines_model import DATE_ROLE, LINE_ROLE, LinesModel
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font

_PAD = 4.0


class LineDelegate(QStyledItemDelegate):
    """Paints the date in a column of its own and the sentence beside it, elided from the right."""

    def sizeHint(self, _option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        """One row."""
        return QSize(120, max(24, round(QFontMetricsF(role_font(TypeRole.BODY)).height() + 6)))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paints one line."""
        scheme = scheme_of(option.widget)
        rect = QRectF(option.rect)
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, scheme.colour("select"))
        small, body = role_font(TypeRole.CAPTION), role_font(TypeRole.BODY)
        width = QFontMetricsF(small).horizontalAdvance("30 MMM.") + _PAD
        painter.setFont(small)
        painter.setPen(scheme.colour("ink2"))
        centred = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(rect.adjusted(_PAD, 0, 0, 0), centred, str(index.data(DATE_ROLE)))
        words = rect.adjusted(_PAD + width, 0, -_PAD, 0)
        painter.setFont(body)
        painter.setPen(scheme.colour("ink"))
        text = QFontMetricsF(body).elidedText(str(index.data()), Qt.TextElideMode.ElideRight, words.width())
        painter.drawText(words, centred, text)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(scheme.colour("focus"), 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -1))
        painter.restore()


class LinesView(QListView):
    """The journal of a batch.

    Signals:
        line_chosen: the ``JournalLine`` under the cursor: the chart shows its instant.
        line_opened: the ``JournalLine`` to edit.
    """

    line_chosen = Signal(object)
    line_opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines = LinesModel(self)
        self.setModel(self.lines)
        self.setItemDelegate(LineDelegate(self))
        self.setAccessibleName(self.tr("Journal of the batch"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.clicked.connect(lambda index: self.line_chosen.emit(index.data(LINE_ROLE)))
        self.doubleClicked.connect(lambda index: self.line_opened.emit(index.data(LINE_ROLE)))

    def choose_record(self, uid: str) -> None:
        """Puts the cursor on the line of a record."""
        row = self.lines.row_of(uid)
        if row is not None:
            self.setCurrentIndex(self.lines.index(row))
            self.scrollTo(self.lines.index(row))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens a line; moving the cursor shows its instant."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.line_opened.emit(self.currentIndex().data(LINE_ROLE))
            return
        before = self.currentIndex().row()
        super().keyPressEvent(event)
        if self.currentIndex().isValid() and self.currentIndex().row() != before:
            self.line_chosen.emit(self.currentIndex().data(LINE_ROLE))
