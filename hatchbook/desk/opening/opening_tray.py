"""The tray while eggs are opened: shells are still to open, full ink is opened, the rest is pale."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.tray.tray_model import EGG_ROLE
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.figures.openings import OpeningState
from hatchbook.figures.results import EggFigures
from hatchbook.trade.codes import Fate

_PALE = 0.38


class OpeningTrayDelegate(QStyledItemDelegate):
    """Paints an egg by how it stands for opening; ``states`` are by the egg's uid. All else is left to the tray's
    own delegate."""

    def __init__(self, otherwise: QAbstractItemDelegate, parent: QWidget) -> None:
        super().__init__(parent)
        self._otherwise = otherwise
        self.states: Mapping[str, OpeningState] = {}

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paints one place."""
        egg: EggFigures | None = index.data(EGG_ROLE)
        if egg is None:
            self._otherwise.paint(painter, option, index)
            return
        scheme, rect = scheme_of(option.widget), QRectF(option.rect)
        state = self.states.get(egg.egg.uid, OpeningState.GONE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, scheme.select)
        side = min(rect.width(), rect.height()) - 4
        square = QRectF(0, 0, side, side)
        square.moveCenter(rect.center())
        if state in (OpeningState.GONE, OpeningState.NOT_YET):
            painter.setOpacity(_PALE)
        fate = Fate.SET if state is OpeningState.TO_OPEN else egg.outcome.fate
        paint_egg(painter, square, fate, scheme)
        painter.setOpacity(1.0)
        if option.state & QStyle.StateFlag.State_HasFocus:
            paint_focus_ring(painter, rect.adjusted(0.5, 0.5, -0.5, -0.5), scheme)
        painter.restore()
