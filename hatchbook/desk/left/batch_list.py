"""The batch list: a tree of seasons and batches, by mouse and keyboard."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QItemSelectionModel, QModelIndex, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QMenu, QTreeView, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.left.batch_delegate import BatchDelegate
from hatchbook.desk.left.batch_model import BATCH_ROLE, SEASON_ROLE, BatchModel, Index
from hatchbook.figures.results import BatchState, BatchSummary

_SETTLE_MS = 150
"""The page follows the arrow keys once they rest: running down the list does not open every batch."""
_TYPING_MS = 1200


class BatchList(QTreeView):
    """Batches by season. The chosen batch stays marked while the cursor stands on a season.

    Signals:
        batch_chosen: uid of the batch to show.
        batch_opened: uid of the batch to show and to go to.
        name_typed: uid of a batch and the name typed for it.
        copy_wanted: uid of the batch whose plan a new one is to have.
    """

    batch_chosen = Signal(str)
    batch_opened = Signal(str)
    name_typed = Signal(str, str)
    copy_wanted = Signal(str)

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._actions = actions
        self._folded: set[int] = set()
        self._typed = ""
        self._typed_at = QElapsedTimer()
        self.batches = BatchModel(self)
        self._delegate = BatchDelegate(self)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._choose_current)
        self._set_up()
        # Queued: the journal's answer changes the rows, and the field is still being closed.
        self._delegate.name_typed.connect(self.name_typed, Qt.ConnectionType.QueuedConnection)
        self.batches.modelAboutToBeReset.connect(self._remember)
        self.batches.modelReset.connect(self._restore)
        self.collapsed.connect(lambda index: self._fold(index, folded=True))
        self.expanded.connect(lambda index: self._fold(index, folded=False))

    def _set_up(self) -> None:
        self.setModel(self.batches)
        self.setItemDelegate(self._delegate)
        self.setAccessibleName(self.tr("Batches by season"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHeaderHidden(True)
        self.setIndentation(0)
        self.setRootIsDecorated(False)
        self.setExpandsOnDoubleClick(False)
        self.setMouseTracking(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.EditKeyPressed)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    # ---------------------------------------------------------------- choosing

    @property
    def chosen(self) -> str | None:
        """The uid of the batch that is marked as shown."""
        return self._delegate.chosen

    def show_chosen(self, uid: str | None) -> None:
        """Marks the batch that is shown, and puts the cursor on it."""
        self._settle.stop()
        self._delegate.chosen = uid
        index = self.batches.index_of(uid)
        if index.isValid() and index != self.currentIndex():
            self._go_to(index)
        elif not index.isValid() and self._batch_at(self.currentIndex()) is not None:
            self._go_to(QModelIndex())
        self.viewport().update()

    def choose_first(self) -> None:
        """Chooses the topmost batch that is shown."""
        self._go_to(self.batches.first_batch())
        self._choose_current()

    def currentChanged(self, current: Index, previous: Index) -> None:
        """The mark goes with the cursor; the page follows when the cursor rests."""
        super().currentChanged(current, previous)
        batch = self._batch_at(current)
        if batch is not None and batch.uid != self._delegate.chosen:
            self._delegate.chosen = batch.uid
            self._settle.start()
            self.viewport().update()

    def _choose_current(self) -> None:
        self._settle.stop()
        batch = self._batch_at(self.currentIndex())
        if batch is not None:
            self._delegate.chosen = batch.uid
            self.batch_chosen.emit(batch.uid)

    def _open_current(self) -> None:
        batch = self._batch_at(self.currentIndex())
        self._choose_current()
        if batch is not None:
            self.batch_opened.emit(batch.uid)

    def _go_to(self, index: QModelIndex) -> None:
        if index.isValid() and index.parent().isValid():
            self.expand(index.parent())
        self.setCurrentIndex(index)
        if index.isValid():
            self.scrollTo(index)

    @staticmethod
    def _batch_at(index: Index) -> BatchSummary | None:
        batch = index.data(BATCH_ROLE)
        return batch if isinstance(batch, BatchSummary) else None

    # ---------------------------------------------------------------- folding, and staying in place

    def _fold(self, index: QModelIndex, *, folded: bool) -> None:
        season = index.data(SEASON_ROLE)
        if season is None or self.batches.is_searching:
            return
        if folded:
            self._folded.add(season.season)
        else:
            self._folded.discard(season.season)

    def _remember(self) -> None:
        self._kept = (self.verticalScrollBar().value(), self._batch_at(self.currentIndex()))

    def _restore(self) -> None:
        scrolled, current = self._kept
        for row in range(self.batches.rowCount()):
            season = self.batches.index(row, 0)
            # What a search finds is never behind a fold.
            open_ = self.batches.is_searching or season.data(SEASON_ROLE).season not in self._folded
            self.setExpanded(season, open_)
        index = self.batches.index_of(self._delegate.chosen)
        if not index.isValid() and current is not None:
            index = self.batches.index_of(current.uid)
        if index.isValid():
            # Not currentChanged's way: nothing else was chosen, the rows are new.
            self.selectionModel().setCurrentIndex(
                index,
                QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows,
            )
        self.verticalScrollBar().setValue(scrolled)

    # ---------------------------------------------------------------- mouse and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A season folds at a click anywhere in its row; a batch is shown at once."""
        super().mousePressEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton:
            if self._batch_at(index) is not None:
                self._choose_current()
            elif index.isValid():
                self.setExpanded(index, not self.isExpanded(index))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Goes to the batch; over a season it is a second click."""
        index = self.indexAt(event.position().toPoint())
        if self._batch_at(index) is not None:
            self._open_current()
        elif index.isValid() and event.button() == Qt.MouseButton.LeftButton:
            self.setExpanded(index, not self.isExpanded(index))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens or folds, Del asks to delete; the rest is the tree's own."""
        current = self.currentIndex()
        batch = self._batch_at(current)
        if self.state() == QAbstractItemView.State.EditingState:
            super().keyPressEvent(event)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if batch is not None:
                self._open_current()
            elif current.isValid():
                self.setExpanded(current, not self.isExpanded(current))
        elif event.key() == Qt.Key.Key_Delete and batch is not None:
            self._choose_current()
            self._actions["delete_batch"].trigger()
        else:
            super().keyPressEvent(event)

    def keyboardSearch(self, search: str) -> None:
        """Typing jumps to the next batch whose number or name, or a word of it, begins so."""
        if not self._typed_at.isValid() or self._typed_at.elapsed() > _TYPING_MS:
            self._typed = ""
        self._typed_at.start()
        again = self._typed == search
        self._typed = search if again else self._typed + search
        rows = self.batches.indices()
        current = self.batches.index_of(getattr(self._batch_at(self.currentIndex()), "uid", None))
        at = rows.index(current) if current in rows else -1
        # The same letter again goes on to the next one; a longer word may stay where it is.
        first = at + 1 if again or len(self._typed) == 1 else max(at, 0)
        for index in rows[first:] + rows[:first]:
            if _begins(self._batch_at(index), self._typed.casefold()):
                self._go_to(index)
                return

    # ---------------------------------------------------------------- renaming

    def rename(self, uid: str, typed: str | None = None) -> None:
        """Opens the name of a batch for editing; with what was typed before, where the journal refused it."""
        index = self.batches.index_of(uid)
        if not index.isValid():
            return
        self._go_to(index)
        self.edit(index)
        if typed is not None and self._delegate.editor is not None:
            self._delegate.editor.setText(typed)

    # ---------------------------------------------------------------- menu

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """What can be done with the batch."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        batch = self._batch_at(index)
        if batch is None:
            return
        where = self.visualRect(index).bottomLeft() + QPoint(24, 0) if by_key else event.pos()
        self._choose_current()
        self.menu_for(batch).popup(self.viewport().mapToGlobal(where))

    def menu_for(self, batch: BatchSummary) -> QMenu:
        """The menu of a batch."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        open_ = menu.addAction(self.tr("Open"), self._open_current)
        menu.setDefaultAction(open_)
        rename = menu.addAction(self.tr("Rename"), lambda: self.rename(batch.uid))
        rename.setShortcut(Qt.Key.Key_F2)
        rename.setEnabled(bool(self.batches.index_of(batch.uid).flags() & Qt.ItemFlag.ItemIsEditable))
        copy = menu.addAction(self.tr("Copy as new batch"), lambda: self.copy_wanted.emit(batch.uid))
        copy.setEnabled(not batch.counts_only)
        menu.addSeparator()
        closed = batch.state is BatchState.CLOSED
        other = "change_batch" if batch.counts_only else "reopen_batch" if closed else "close_batch"
        menu.addAction(self._actions[other])
        menu.addAction(self._actions["delete_batch"])
        return menu


def _begins(batch: BatchSummary | None, typed: str) -> bool:
    if batch is None:
        return False
    name = batch.name.casefold()
    beginnings = (batch.label.casefold(), name, *name.split(), *batch.label.casefold().split("-"))
    return any(beginning.startswith(typed) for beginning in beginnings)
