"""The list of the day's duties, by mouse and keyboard."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListView, QMenu, QWidget

from hatchbook.desk.left.duties_model import LINE_ROLE, DutiesModel, Index, Ticker
from hatchbook.desk.left.duty_delegate import DutyDelegate, in_box
from hatchbook.figures.results import DutyLine
from hatchbook.trade.codes import DutyKind


class DutyList(QListView):
    """Space ticks, Enter shows the batch, Del removes a duty of one's own.

    Signals:
        batch_wanted: uid of the batch that a duty belongs to.
        add_wanted: a duty is to be added.
        remove_wanted: the ``Duty`` to remove, one of the breeder's own.
    """

    batch_wanted = Signal(str)
    add_wanted = Signal()
    remove_wanted = Signal(object)

    def __init__(self, ticker: Ticker, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.duties = DutiesModel(ticker, self)
        self.setModel(self.duties)
        self.setItemDelegate(DutyDelegate(self))
        self.setAccessibleName(self.tr("Duties of the chosen day"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setMouseTracking(True)
        self.setUniformItemSizes(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._follows_first = False

    def show_first_open(self) -> None:
        """Brings the first duty still to do into view, with what was done just before it.

        It is kept there while the list changes its height, until the breeder scrolls.
        """
        self._follows_first = True
        first = self.duties.first_open()
        if not first.isValid():
            self.scrollToBottom()
            return
        above = self.duties.index(first.row() - 1)
        room = self.viewport().height() // max(self.sizeHintForRow(0), 1)
        self.scrollTo(
            above if above.isValid() and room > 3 else first, QAbstractItemView.ScrollHint.PositionAtTop
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keeps the first duty still to do in view."""
        super().resizeEvent(event)
        if self._follows_first:
            self.show_first_open()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The breeder scrolls."""
        self._follows_first = False
        super().wheelEvent(event)

    def currentChanged(self, current: Index, previous: Index) -> None:
        """The breeder is somewhere else in the list."""
        super().currentChanged(current, previous)
        if current.isValid():
            self._follows_first = False

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The cursor begins on the first duty still to do."""
        if not self.currentIndex().isValid() and self.duties.rowCount():
            first = self.duties.first_open()
            self.setCurrentIndex(first if first.isValid() else self.duties.index(0))
        super().focusInEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter shows the batch of a duty, Del removes one's own; the list does the rest."""
        line = self.currentIndex().data(LINE_ROLE)
        if isinstance(line, DutyLine) and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._show_batch(line)
        elif isinstance(line, DutyLine) and event.key() == Qt.Key.Key_Delete and is_own(line):
            self.remove_wanted.emit(line.duty)
        else:
            super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Shows the batch, unless it is the box that is clicked twice."""
        super().mouseDoubleClickEvent(event)
        index = self.indexAt(event.position().toPoint())
        line = index.data(LINE_ROLE)
        if isinstance(line, DutyLine) and not in_box(event.position().x(), self.visualRect(index)):
            self._show_batch(line)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """What can be done with the duty."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        where = self.visualRect(index).bottomLeft() + QPoint(24, 0) if by_key else event.pos()
        self.menu_for(index.data(LINE_ROLE)).popup(self.viewport().mapToGlobal(where))

    def menu_for(self, line: DutyLine | None) -> QMenu:
        """The menu of a duty, or of the place below them."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        if line is not None:
            done = line.duty.done_at is not None
            tick = menu.addAction(self.tr("Take the tick away") if done else self.tr("Tick"))
            tick.triggered.connect(lambda: self._tick(line.duty.uid, done=not done))
            index = self.duties.index_of(line.duty.uid)
            tick.setEnabled(bool(index.flags() & Qt.ItemFlag.ItemIsUserCheckable))
            if line.duty.batch is not None:
                show = self.tr("Show batch {label}").format(label=line.batch_label)
                menu.addAction(show, lambda: self._show_batch(line))
            menu.addSeparator()
        menu.addAction(self.tr("Add duty…"), self.add_wanted.emit)
        if line is not None:
            remove = menu.addAction(self.tr("Remove duty"), lambda: self.remove_wanted.emit(line.duty))
            remove.setEnabled(is_own(line))
            remove.setShortcut(Qt.Key.Key_Delete)
        return menu

    def _tick(self, uid: str, *, done: bool) -> None:
        state = Qt.CheckState.Checked if done else Qt.CheckState.Unchecked
        self.duties.setData(self.duties.index_of(uid), state, Qt.ItemDataRole.CheckStateRole)

    def _show_batch(self, line: DutyLine) -> None:
        if line.duty.batch is not None:
            self.batch_wanted.emit(line.duty.batch)


def is_own(line: DutyLine) -> bool:
    """Whether a duty is the breeder's own, not one of a programme."""
    return line.duty.kind is DutyKind.OTHER
