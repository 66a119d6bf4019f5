"""Paints the days of the calendar."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from hatchbook.desk.left.calendar_model import DATE_ROLE, DAY_ROLE, DayCell, Index, Stretch
from hatchbook.desk.painting.marks import duty_mark, paint_mark
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme, tokens
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import paint_focus_ring

MARK = 7.6
_INDENT, _TIGHT = 7.0, 4.5
_STEP = 10.5
_FULL = 3
_WIDE = 36.0
"""From here on marks have their full size."""
_THIN, _THICK = 1.5, 3.0


class CalendarDelegate(QStyledItemDelegate):
    """Number at the top left, marks under it, along the foot the stretch of the chosen batch."""

    def __init__(self, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._view = view
        self.chosen: object = None

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        """As the view makes its cells."""
        return QSize(24, tokens().sizes.calendar_cell_low)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One day."""
        scheme = scheme_of(self._view)
        cell: DayCell = index.data(DAY_ROLE)
        rect = QRectF(option.rect)
        box = rect.adjusted(1, 1, -1, -1)
        chosen = index.data(DATE_ROLE) == self.chosen
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        radius = tokens().radii.calendar_day
        if chosen:
            painter.setPen(QPen(scheme.accent, 1.6))
            painter.setBrush(scheme.select)
            painter.drawRoundedRect(box.adjusted(0.3, 0.3, -0.3, -0.3), radius, radius)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.inset)
            painter.drawRoundedRect(box, radius, radius)
        below = self._paint_number(painter, rect, cell, scheme)
        self._paint_stretch(painter, rect, box if chosen else None, cell, scheme)
        self._paint_marks(painter, rect, below, cell, scheme)
        if chosen and self._view.hasFocus():
            paint_focus_ring(painter, rect, scheme, radius)
        painter.restore()

    def _paint_number(self, painter: QPainter, rect: QRectF, cell: DayCell, scheme: Scheme) -> float:
        """The day's number, on a plate when it is today; returns the height of its foot."""
        font = role_font(bold=cell.is_today)
        metrics = QFontMetricsF(font)
        text = str(cell.day.day)
        # The digits' own height: nothing of a number hangs below the line.
        digits = metrics.capHeight()
        baseline = rect.top() + 4.5 + digits
        painter.setPen(scheme.ink if cell.in_month else scheme.ink3)
        if cell.is_today:
            width = metrics.horizontalAdvance(text)
            plate = QRectF(rect.left() + _INDENT - 3.5, baseline - digits - 3, width + 7, digits + 6)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.ink)
            painter.drawRoundedRect(plate, 3, 3)
            painter.setPen(scheme.page)
        painter.setFont(font)
        painter.drawText(QPointF(rect.left() + _INDENT, baseline), text)
        return baseline + 3

    def _paint_marks(
        self, painter: QPainter, rect: QRectF, below: float, cell: DayCell, scheme: Scheme
    ) -> None:
        count = len(cell.marks) + cell.more
        size = MARK if rect.width() >= _WIDE else MARK - 0.6
        # Three fill the cell from side to side; fewer stand under the number.
        indent = _INDENT if count < _FULL else _TIGHT
        step = min(_STEP, (rect.width() - 2 * _TIGHT - size) / (_FULL - 1))
        foot = rect.bottom() - _THICK - 1
        y = min(below + size / 2 + 0.8, foot - size / 2)
        x = rect.left() + indent + size / 2
        for kind, own in cell.marks:
            colour = scheme.water_deep if own else scheme.ink2
            paint_mark(painter, duty_mark(kind), QPointF(x, y), size, colour, filled=own)
            x += step
        if cell.more:
            painter.setPen(QPen(scheme.ink2, 1.4))
            painter.drawLine(QPointF(x - 3, y), QPointF(x + 3, y))
            painter.drawLine(QPointF(x, y - 3), QPointF(x, y + 3))

    def _paint_stretch(
        self, painter: QPainter, rect: QRectF, box: QRectF | None, cell: DayCell, scheme: Scheme
    ) -> None:
        if cell.stretch is Stretch.NONE:
            return
        left = rect.left() + (_INDENT if cell.begins else 0)
        right = rect.right() - (4 if cell.ends else 0)
        if box is not None:
            left, right = max(left, box.left() + 1), min(right, box.right() - 1)
        thick = _THICK if cell.stretch is Stretch.LOCKDOWN else _THIN
        painter.fillRect(QRectF(left, rect.bottom() - 2 - thick / 2, right - left, thick), scheme.accent)
