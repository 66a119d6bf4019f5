"""Paints a cause: its name, three boxes of evidence with their word, and sentences that wrap."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTreeView

from hatchbook.desk.causes.causes_model import CAUSE_ROLE, DETAIL_ROLE, Column, Detail
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.figures.cause_results import CauseFigures

PAD, LEFT = 7, 8
ARROW = 16
_BOX_WIDTH, _BOX_HEIGHT, _BOX_APART = 13, 10, 2
_BOXES = 3
_DEPTH = 22
_WRAPS = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
Index = QModelIndex | QPersistentModelIndex


def boxes_width() -> int:
    """The boxes with the room behind them."""
    return _BOXES * (_BOX_WIDTH + _BOX_APART) + 8


class CauseDelegate(QStyledItemDelegate):
    """A row is as high as its longest cell at the width that the column has."""

    def __init__(self, view: QTreeView) -> None:
        super().__init__(view)
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as the wrapped text."""
        font, inset = self._font(index), self._inset(index)
        width = self._width(index) - inset - LEFT
        box = QFontMetrics(font).boundingRect(QRect(0, 0, max(width, 40), 10_000), _WRAPS, self._shown(index))
        pad = 3 if index.parent().isValid() else PAD
        return QSize(width, box.height() + 2 * pad)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paints one cell."""
        scheme = scheme_of(option.widget)
        rect = option.rect
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, scheme.colour("select"))
        elif index.parent().isValid():
            painter.fillRect(rect, scheme.colour("inset"))
        painter.setPen(QPen(scheme.colour("rule")))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        cause = index.data(CAUSE_ROLE)
        if isinstance(cause, CauseFigures) and index.column() == Column.EVIDENCE:
            self._paint_boxes(painter, rect, cause.level, scheme)
        if isinstance(cause, CauseFigures) and index.column() == Column.CAUSE:
            self._paint_arrow(painter, rect, index, scheme)
        painter.setFont(self._font(index))
        painter.setPen(scheme.colour(self._ink(index)))
        text = rect.adjusted(self._inset(index), 1, -LEFT, -1)
        painter.drawText(text, _WRAPS, self._shown(index))
        painter.restore()

    # ---------------------------------------------------------------- parts

    def _shown(self, index: Index) -> str:
        detail = index.data(DETAIL_ROLE)
        text = str(index.data() or "")
        if isinstance(detail, Detail) and detail.record is not None and index.column() == 0:
            return f"→ {text}"
        return text

    def _width(self, index: Index) -> int:
        if index.parent().isValid():
            return self._view.viewport().width()
        return self._view.columnWidth(index.column())

    def _inset(self, index: Index) -> int:
        detail = index.data(DETAIL_ROLE)
        if isinstance(detail, Detail):
            return LEFT + ARROW + detail.depth * _DEPTH
        if index.column() == Column.CAUSE:
            return LEFT + ARROW
        return LEFT + boxes_width() if index.column() == Column.EVIDENCE else LEFT

    def _font(self, index: Index) -> QFont:
        cause = index.data(CAUSE_ROLE)
        heavy = (
            isinstance(cause, CauseFigures) and cause.level == _BOXES and index.column() <= Column.EVIDENCE
        )
        return role_font(TypeRole.BODY, bold=heavy)

    def _ink(self, index: Index) -> str:
        detail, cause = index.data(DETAIL_ROLE), index.data(CAUSE_ROLE)
        if isinstance(detail, Detail):
            return "ink" if detail.record is not None or detail.depth else "ink2"
        if isinstance(cause, CauseFigures) and not cause.level:
            return "ink2"
        return "ink2" if index.column() == Column.AGAINST else "ink"

    @staticmethod
    def _paint_boxes(painter: QPainter, rect: QRect, level: int, scheme: Scheme) -> None:
        top = rect.center().y() - _BOX_HEIGHT / 2
        painter.setPen(QPen(scheme.colour("ink2"), 1))
        for box in range(_BOXES):
            left = rect.left() + LEFT + box * (_BOX_WIDTH + _BOX_APART)
            painter.setBrush(scheme.colour("ink2") if box < level else Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(left + 0.5, round(top) + 0.5, _BOX_WIDTH - 1, _BOX_HEIGHT - 1))

    def _paint_arrow(self, painter: QPainter, rect: QRect, index: Index, scheme: Scheme) -> None:
        x, y = rect.left() + LEFT + 2.0, rect.center().y() + 0.5
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.colour("ink2"))
        arrow = QPolygonF()
        if self._view.isExpanded(index):
            points = ((x - 1, y - 2.5), (x + 7, y - 2.5), (x + 3, y + 3))
        else:
            points = ((x, y - 4), (x, y + 4), (x + 5.5, y))
        for across, down in points:
            arrow.append(QRectF(across, down, 0, 0).topLeft())
        painter.drawPolygon(arrow)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
