"""The tray on the screen: glyphs in rows and columns, moved by mouse or keyboard."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen, QResizeEvent
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

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.tray.tray_model import EGG_ROLE, PLACE_ROLE, TrayModel
from hatchbook.figures.results import EggFigures

_EGG_LARGE, _EGG_MOST, _EGG_LEAST = 56, 34, 16
_HEADER = 20


class TrayDelegate(QStyledItemDelegate):
    """Paints an egg in its place; a small trapezoid at the lower right marks it for weighing."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paints one place."""
        scheme = scheme_of(option.widget)
        rect = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(rect, scheme.colour("select"))
        egg: EggFigures | None = index.data(EGG_ROLE)
        if egg is None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.colour("rule_strong"))
            painter.drawEllipse(rect.center(), 1.6, 1.6)
        else:
            side = min(rect.width(), rect.height()) - 4
            square = QRectF(0, 0, side, side)
            square.moveCenter(rect.center())
            paint_egg(painter, square, egg.outcome.fate, scheme)
            if egg.egg.marked:
                _paint_weight(painter, rect, scheme.colour("weight"))
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(scheme.colour("focus"), 2))
            painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 3, 3)
        painter.restore()


def _paint_weight(painter: QPainter, rect: QRectF, colour: QColor) -> None:
    x, y = rect.right() - 7.5, rect.bottom() - 7.5
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(
        [
            QPoint(round(x + 1), round(y)),
            QPoint(round(x + 5), round(y)),
            QPoint(round(x + 6), round(y + 6)),
            QPoint(round(x), round(y + 6)),
        ]
    )


class TrayView(QTableView):
    """A batch's trays. Enter or a double click opens the egg; dragging, or Ctrl+arrows, moves it.

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
        self.setModel(self.tray)
        self.setItemDelegate(TrayDelegate(self))
        self.setAccessibleName(self.tr("Tray"))
        self.setObjectName("tray")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setTabKeyNavigation(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDragDropOverwriteMode(True)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.viewport().setAutoFillBackground(False)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            header.setMinimumSectionSize(8)
            header.setSectionsClickable(False)
            header.setHighlightSections(False)
            header.setObjectName("tray_head")
            header.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
            header.setFont(role_font(TypeRole.CAPTION))
        self.horizontalHeader().setFixedHeight(_HEADER)
        self.verticalHeader().setFixedWidth(_HEADER)
        self.doubleClicked.connect(self._open)
        self.selectionModel().selectionChanged.connect(lambda *_: self.eggs_chosen.emit(self.chosen()))
        self.tray.modelReset.connect(self._fill_room)

    def chosen(self) -> list[EggFigures]:
        """The chosen eggs, by place."""
        eggs = [index.data(EGG_ROLE) for index in sorted(self.selectedIndexes())]
        return [egg for egg in eggs if egg is not None]

    def choose(self, uid: str) -> None:
        """Puts the cursor on an egg."""
        index = self.tray.index_of(uid)
        if index.isValid():
            self.setCurrentIndex(index)

    def fit(self, width: int, most: int) -> None:
        """Takes as much height as all trays need at a width, at most ``most`` px: eggs shrink, then it scrolls."""
        rows = max(self.tray.rowCount(), 1)
        columns = max(self.tray.columnCount(), 1)
        side = min((width - _HEADER - 2) // columns, (most - _HEADER - 2) // rows)
        side = max(_EGG_LEAST, min(_EGG_MOST, side))
        self._set_side(side)
        self.setFixedHeight(min(rows * side + _HEADER + 2, most))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens, Ctrl+arrows move the egg, arrows move the cursor."""
        step = _STEPS.get(Qt.Key(event.key()))
        index = self.currentIndex()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(index)
        elif step and event.modifiers() & Qt.KeyboardModifier.ControlModifier and index.isValid():
            target = index.siblingAtRow(index.row() + step[0]).siblingAtColumn(index.column() + step[1])
            egg = index.data(EGG_ROLE)
            if egg is not None and target.isValid():
                self.egg_moved.emit(egg, target.data(PLACE_ROLE))
                self.choose(egg.egg.uid)
        else:
            super().keyPressEvent(event)

    def dropEvent(self, event: object) -> None:
        """Drops an egg into a place; the model is told by the figures that follow, not here."""
        position = event.position().toPoint()  # type: ignore[attr-defined]
        target, source = self.indexAt(position), self.currentIndex()
        egg = source.data(EGG_ROLE)
        event.setDropAction(Qt.DropAction.IgnoreAction)  # type: ignore[attr-defined]
        event.accept()  # type: ignore[attr-defined]
        if target.isValid() and target != source and egg is not None:
            self.egg_moved.emit(egg, target.data(PLACE_ROLE))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Eggs grow and shrink with the room, unless ``fit`` has settled it."""
        super().resizeEvent(event)
        self._fill_room()

    def _fill_room(self) -> None:
        if self.minimumHeight() == self.maximumHeight():
            return
        rows, columns = max(self.tray.rowCount(), 1), max(self.tray.columnCount(), 1)
        side = min((self.width() - _HEADER - 2) // columns, (self.height() - _HEADER - 2) // rows)
        self._set_side(max(_EGG_LEAST, min(_EGG_LARGE, side)))

    def _set_side(self, side: int) -> None:
        self.horizontalHeader().setDefaultSectionSize(side)
        self.verticalHeader().setDefaultSectionSize(side)

    def _open(self, index: QModelIndex) -> None:
        egg = index.data(EGG_ROLE)
        if egg is not None:
            self.egg_opened.emit(egg)


_STEPS = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}
