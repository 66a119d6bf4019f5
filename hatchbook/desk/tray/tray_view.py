"""The tray on the screen: glyphs in rows and columns, chosen and opened by mouse or keyboard."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QTableView, QWidget

from hatchbook.desk.tray.hand import TrayHand
from hatchbook.desk.tray.tray_delegate import TrayDelegate
from hatchbook.desk.tray.tray_head import TrayHead
from hatchbook.desk.tray.tray_layout import lay_out, side_for
from hatchbook.desk.tray.tray_model import EGG_ROLE, TrayModel
from hatchbook.figures.results import EggFigures

Index = QModelIndex | QPersistentModelIndex

_HEADER = 20
_TYPED_TOGETHER_MS = 1000


class TrayView(QTableView):
    """A batch's trays. Enter or a double click opens the egg; typing a number goes to the egg that has it.

    ``ArrangingTray`` is the one on which eggs are moved.

    Signals:
        egg_opened: the ``EggFigures`` whose sheet is wanted.
        egg_moved: an ``EggFigures`` and the place (tray, row, column) it is to lie in.
        eggs_chosen: the list of chosen ``EggFigures``.
    """

    egg_opened = Signal(object)
    egg_moved = Signal(object, object)
    eggs_chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tray = TrayModel(self)
        self.hand = TrayHand(self.tray)
        self._kept: tuple[list[str], str | None] = ([], None)
        self._typed = ""
        self._typing_over = QTimer(self)
        self._typing_over.setSingleShot(True)
        self._typing_over.setInterval(_TYPED_TOGETHER_MS)
        self._typing_over.timeout.connect(self._forget_typed)
        self.setHorizontalHeader(TrayHead(Qt.Orientation.Horizontal, self))
        self.setVerticalHeader(TrayHead(Qt.Orientation.Vertical, self))
        self.setModel(self.tray)
        self.setItemDelegate(TrayDelegate(self.hand, self))
        self._dress()
        self.doubleClicked.connect(self._open)
        self.selectionModel().selectionChanged.connect(lambda *_: self.eggs_chosen.emit(self.chosen()))
        self.tray.eggs_leaving.connect(self._keep_chosen)
        self.tray.modelReset.connect(self._lay_out)
        self.tray.eggs_shown.connect(self._choose_kept)

    def _dress(self) -> None:
        self.setAccessibleName(self.tr("Tray"))
        # The corner between the heads, as the style draws it, is the only thing here that is not ours.
        self.setStyleSheet("QTableCornerButton::section { background: transparent; border: none; }")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setTabKeyNavigation(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setDragDropMode(QAbstractItemView.DragDropMode.NoDragDrop)
        self.setCornerButtonEnabled(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.viewport().setAutoFillBackground(False)
        self._hide_plate()
        self.horizontalHeader().setFixedHeight(_HEADER)
        self.verticalHeader().setFixedWidth(_HEADER)

    def _hide_plate(self) -> None:
        """The style's own plate under chosen cells goes; ours is painted with the egg."""
        palette = self.palette()
        clear = QColor(0, 0, 0, 0)
        if palette.color(QPalette.ColorRole.Highlight) != clear:
            palette.setColor(QPalette.ColorRole.Highlight, clear)
            self.setPalette(palette)

    def changeEvent(self, event: QEvent) -> None:
        """Another scheme brings another palette."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._hide_plate()

    # ---------------------------------------------------------------- what is chosen

    def chosen(self) -> list[EggFigures]:
        """The chosen eggs, by place."""
        eggs = [index.data(EGG_ROLE) for index in sorted(self.selectedIndexes())]
        return [egg for egg in eggs if egg is not None]

    def choose(self, uid: str) -> None:
        """Puts the cursor on an egg."""
        index = self.tray.index_of(uid)
        if index.isValid():
            self.setCurrentIndex(index)

    def choose_all(self, uids: list[str]) -> None:
        """Chooses several eggs; the cursor goes to the first of them unless it is on one already."""
        selection = self.selectionModel()
        indexes = [index for uid in uids if (index := self.tray.index_of(uid)).isValid()]
        flags = selection.SelectionFlag
        if indexes and self.currentIndex() not in indexes:
            selection.setCurrentIndex(indexes[0], flags.NoUpdate)
        selection.clearSelection()
        for index in indexes:
            selection.select(index, flags.Select)

    def _keep_chosen(self) -> None:
        current: EggFigures | None = self.currentIndex().data(EGG_ROLE)
        self._kept = [egg.egg.uid for egg in self.chosen()], None if current is None else current.egg.uid

    def _choose_kept(self) -> None:
        """Eggs stay chosen wherever they lie now."""
        uids, current = self._kept
        selection = self.selectionModel()
        if current is not None and (index := self.tray.index_of(current)).isValid():
            selection.setCurrentIndex(index, selection.SelectionFlag.NoUpdate)
        if uids != [egg.egg.uid for egg in self.chosen()]:
            self.choose_all(uids)

    # ---------------------------------------------------------------- how large

    def fit(self, width: int, most: int) -> None:
        """Takes as much height as all trays need at a width, at most ``most`` px: eggs shrink, then it scrolls."""
        room = width - _HEADER - 2
        side = side_for(self.tray, room, most - _HEADER - 2, fixed=True)
        needed = lay_out(self, side)
        if needed + _HEADER + 2 > most:
            room -= self.verticalScrollBar().sizeHint().width()
            side = side_for(self.tray, room, most - _HEADER - 2, fixed=True)
            needed = lay_out(self, side)
        if side * self.tray.columnCount() > room + 2:
            needed += self.horizontalScrollBar().sizeHint().height()
        self.setFixedHeight(max(_HEADER + 2, min(needed + _HEADER + 2, most)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Eggs grow and shrink with the room, unless ``fit`` has settled it."""
        super().resizeEvent(event)
        self._fill_room()

    def _lay_out(self) -> None:
        lay_out(self, self.horizontalHeader().defaultSectionSize())
        self._fill_room()

    def _fill_room(self) -> None:
        if self.minimumHeight() != self.maximumHeight():
            lay_out(
                self,
                side_for(self.tray, self.width() - _HEADER - 2, self.height() - _HEADER - 2, fixed=False),
            )

    # ---------------------------------------------------------------- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens, arrows move the cursor, digits go to an egg."""
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier == Qt.KeyboardModifier.NoModifier
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self.currentIndex())
        elif plain and event.text().isdecimal():
            self._go_to_number(event.text())
        elif event.key() == Qt.Key.Key_Escape:
            event.ignore()  # it leaves the tray, for whatever holds it
        else:
            super().keyPressEvent(event)

    def _go_to_number(self, digits: str) -> None:
        """Digits that are typed quickly are one number."""
        self._typed += digits
        self._typing_over.start()
        for egg in self.tray.eggs():
            if str(egg.egg.number) == self._typed:
                self.choose(egg.egg.uid)

    def _forget_typed(self) -> None:
        self._typed = ""

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A typed number ends."""
        super().focusOutEvent(event)
        self._forget_typed()

    def _open(self, index: Index) -> None:
        egg = index.data(EGG_ROLE)
        if egg is not None:
            self.egg_opened.emit(egg)
