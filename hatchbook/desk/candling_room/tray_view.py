"""The tray in the candling room: what is done shines, what is to do is dim, what is out is a dot."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPen, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QSizePolicy,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.candling_room.sitting import Sitting
from hatchbook.desk.candling_room.tray_model import CELL_ROLE, Cell, CellState, RoomTrayModel
from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.trade.codes import Fate

_HEADER = 26
_LEAST, _MOST = 18, 68
_DIM = 0.8
_RING, _RADIUS, _DOT = 2.0, 5.0, 1.8


class RoomTrayDelegate(QStyledItemDelegate):
    """Paints one place; glyphs are drawn once for each size and light."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._drawn: dict[tuple[str, Fate, int, float], QPixmap] = {}

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paints one place."""
        view = self.parent()
        assert isinstance(view, QTableView)
        scheme, rect = scheme_of(view), QRectF(option.rect)
        cell: Cell | None = index.data(CELL_ROLE)
        if cell is None:
            return
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        current = index == view.currentIndex()
        if current:
            painter.setPen(QPen(scheme.focus, _RING))
            painter.setBrush(scheme.select)
            painter.drawRoundedRect(rect.adjusted(1.5, 1.5, -1.5, -1.5), _RADIUS, _RADIUS)
        if cell.state is CellState.PASSED:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.gone)
            painter.drawEllipse(rect.center(), _DOT, _DOT)
        else:
            side = int(min(rect.width(), rect.height())) - 8
            painter.setOpacity(1.0 if current or cell.state is CellState.DONE else _DIM)
            drawn = self._glyph(cell.fate, side, scheme, view.devicePixelRatioF())
            painter.drawPixmap(
                round(rect.center().x() - side / 2), round(rect.center().y() - side / 2), drawn
            )
        painter.restore()

    def _glyph(self, fate: Fate, side: int, scheme: Scheme, ratio: float) -> QPixmap:
        known = self._drawn.get((scheme.name, fate, side, ratio))
        if known is None:
            known = QPixmap(QSize(side, side) * ratio)
            known.setDevicePixelRatio(ratio)
            known.fill(Qt.GlobalColor.transparent)
            with QPainter(known) as painter:
                paint_egg(painter, QRectF(0, 0, side, side), fate, scheme)
            self._drawn[scheme.name, fate, side, ratio] = known
        return known


class RoomTray(QTableView):
    """Holds the focus of the room and hands every key on to it.

    Signals:
        egg_pointed_at: the uid of an egg that was clicked on.
    """

    egg_pointed_at = Signal(str)

    def __init__(self, sitting: Sitting, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.eggs = RoomTrayModel(sitting, self)
        self.setModel(self.eggs)
        self.setItemDelegate(RoomTrayDelegate(self))
        self.setAccessibleName(self.tr("Tray"))
        self.setObjectName("tray")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAutoScroll(False)
        self.viewport().setAutoFillBackground(False)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            header.setMinimumSectionSize(8)
            header.setSectionsClickable(False)
            header.setHighlightSections(False)
            header.setObjectName("tray_head")
            header.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
            header.setFont(role_font(TypeRole.BODY))
        self.horizontalHeader().setFixedHeight(_HEADER)
        self.verticalHeader().setFixedWidth(_HEADER)
        self.clicked.connect(self._point)

    def show_current(self, uid: str) -> None:
        """Puts the ring round an egg, on the tray that lies in the room."""
        index = self.eggs.index_of(uid)
        if index.isValid() and index != self.currentIndex():
            self.setCurrentIndex(index)

    def fit(self, width: int, height: int) -> QSize:
        """Makes the eggs as large as they can be in so much room, and tells how much of it the tray takes."""
        rows, columns = max(self.eggs.rowCount(), 1), max(self.eggs.columnCount(), 1)
        side = min((width - _HEADER) // columns, (height - _HEADER) // rows)
        side = max(_LEAST, min(_MOST, side))
        self.horizontalHeader().setDefaultSectionSize(side)
        self.verticalHeader().setDefaultSectionSize(side)
        return QSize(_HEADER + columns * side, _HEADER + rows * side).boundedTo(QSize(width, height))

    def focusNextPrevChild(self, _forward: bool) -> bool:
        """Tab is a key like any other here."""
        return False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The room reads the keys."""
        event.ignore()

    def keyboardSearch(self, _search: str) -> None:
        """Letters are verdicts, not the beginning of a word."""

    def _point(self, index: QModelIndex) -> None:
        cell: Cell | None = index.data(CELL_ROLE)
        if cell is not None:
            self.egg_pointed_at.emit(cell.egg.uid)
