"""Paints the places of a tray: eggs, marks, what is chosen, and where carried eggs would come to lie."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.painting.marks import duty_mark, paint_mark
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.tray.hand import Preview, TrayHand
from hatchbook.desk.tray.tray_model import EGG_ROLE, HEADING_ROLE, OTHERS_ROLE, PLACE_ROLE
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.figures.results import EggFigures
from hatchbook.trade.codes import DutyKind, Fate

Index = QModelIndex | QPersistentModelIndex

_AIR = 4.0
_FAINT = 0.28


class TrayDelegate(QStyledItemDelegate):
    """Paints an egg in its place.

    A trapezoid at the lower right marks it for weighing, a triangle at the upper right says that its records
    contradict each other. Eggs of other batches are faint.
    """

    def __init__(self, hand: TrayHand, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._hand = hand

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paints one place, or a heading."""
        scheme, rect = scheme_of(option.widget), QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        heading = index.data(HEADING_ROLE)
        if heading:
            painter.setFont(role_font(TypeRole.CAPTION))
            painter.setPen(scheme.ink2)
            painter.drawText(rect, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, str(heading))
        else:
            chosen = bool(option.state & QStyle.StateFlag.State_Selected)
            focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
            egg: EggFigures | None = index.data(EGG_ROLE)
            if egg is None and index.data(PLACE_ROLE) is None:
                painter.restore()
                return  # behind the last egg without a place
            place = index.data(PLACE_ROLE)
            shown = self._hand.preview(place, egg)
            others = bool(index.data(OTHERS_ROLE))
            if others:
                painter.setOpacity(_FAINT)
                paint_egg(painter, _square(rect), Fate.SET, scheme)
                painter.setOpacity(1.0)
            self._paint_place(
                painter, rect, shown, scheme, chosen=chosen and not self._hand.is_full, others=others
            )
            if focused and not shown.is_target:
                paint_focus_ring(painter, rect.adjusted(0.5, 0.5, -0.5, -0.5), scheme)
        painter.restore()

    def _paint_place(
        self,
        painter: QPainter,
        rect: QRectF,
        shown: Preview,
        scheme: Scheme,
        *,
        chosen: bool,
        others: bool,
    ) -> None:
        if chosen:
            painter.fillRect(rect, scheme.select)
        if shown.egg is None and not others:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.rule_strong)
            painter.drawEllipse(rect.center(), 1.6, 1.6)
        elif shown.egg is not None:
            painter.setOpacity(_FAINT if shown.is_left else 1.0)
            _paint_egg(painter, rect, shown.egg, scheme)
            painter.setOpacity(1.0)
        if shown.is_target:
            possible = self._hand.plan is not None
            pen = QPen(scheme.accent if possible else scheme.bad, 2.0)
            if possible:
                pen.setDashPattern([2.0, 1.2])
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 3, 3)


def _paint_egg(painter: QPainter, rect: QRectF, egg: EggFigures, scheme: Scheme) -> None:
    square = _square(rect)
    paint_egg(painter, square, egg.outcome.fate, scheme)
    mark = max(5.0, min(square.width() * 0.27, 11.0))
    if egg.egg.marked:
        corner = QPointF(rect.right() - mark / 2 - 0.5, rect.bottom() - mark / 2 - 0.5)
        paint_mark(painter, duty_mark(DutyKind.WEIGH), corner, mark, scheme.weight)
    if egg.outcome.contradictions:
        tip = QPointF(rect.right() - mark / 2 - 0.5, rect.top() + 0.5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.warn)
        half = QPointF(mark / 2, 0)
        base = tip + QPointF(0, mark * 0.9)
        painter.drawPolygon(QPolygonF([tip, base + half, base - half]))


def _square(rect: QRectF) -> QRectF:
    """Where the egg stands in its place."""
    side = min(rect.width(), rect.height()) - min(_AIR, rect.width() * 0.14)
    square = QRectF(0, 0, side, side)
    square.moveCenter(rect.center())
    return square
