"""Paints a duty, and ticks it where its box is clicked."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QEvent, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from hatchbook.desk.left.duties_model import LINE_ROLE, DutiesModel, Index
from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme, tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.dates import clock_time
from hatchbook.figures.results import DutyLine

_LEFT, _RIGHT = 12.0, 10.0
_BOX = 13.0
_GAP = 7.0
_FLAG = 13
_LONGEST_LABEL = 0.3
"""Share of the row that a batch's number may take."""
_CENTRE = Qt.AlignmentFlag.AlignVCenter
_LEFTWARD, _RIGHTWARD = _CENTRE | Qt.AlignmentFlag.AlignLeft, _CENTRE | Qt.AlignmentFlag.AlignRight


class DutyDelegate(QStyledItemDelegate):
    """Check box, time, what is to do, the batch. An overdue one has its time in red and a flag."""

    def __init__(self, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._view = view
        self._quick = False

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        """One row that is easy to hit."""
        least = round(QFontMetricsF(role_font()).height() + 6)
        return QSize(120, max(tokens().sizes.duty_row, tokens().sizes.hit_min, least))

    # ---------------------------------------------------------------- ticking

    def editorEvent(
        self, event: QEvent, model: QAbstractItemModel, option: QStyleOptionViewItem, index: Index
    ) -> bool:
        """Space, or a click on the box or its surroundings, ticks and unticks."""
        if isinstance(event, QKeyEvent):
            wanted = event.type() == QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Space
        elif isinstance(event, QMouseEvent):
            if event.button() != Qt.MouseButton.LeftButton or not in_box(event.position().x(), option.rect):
                return False
            # A quick second click is a second tick; the view may keep the release after it to itself.
            kind, after_quick = event.type(), self._quick
            self._quick = kind == QEvent.Type.MouseButtonDblClick
            if kind == QEvent.Type.MouseButtonPress:
                return True
            wanted = self._quick or (kind == QEvent.Type.MouseButtonRelease and not after_quick)
        else:
            return False
        if not wanted or not model.flags(index) & Qt.ItemFlag.ItemIsUserCheckable:
            return False
        done = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked
        state = Qt.CheckState.Unchecked if done else Qt.CheckState.Checked
        return model.setData(index, state, Qt.ItemDataRole.CheckStateRole)

    # ---------------------------------------------------------------- painting

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One duty."""
        scheme = scheme_of(self._view)
        line: DutyLine = index.data(LINE_ROLE)
        rect = QRectF(option.rect)
        focused = self._view.hasFocus() and index == self._view.currentIndex()
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if focused:
            painter.fillRect(rect, scheme.select)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, scheme.inset)
        done = line.duty.done_at is not None
        box = QRectF(rect.left() + _LEFT, rect.center().y() - _BOX / 2, _BOX, _BOX)
        _paint_box(painter, box, scheme, done=done)
        inner = QRectF(rect)
        inner.setLeft(box.right() + _GAP)
        inner.setRight(rect.right() - _RIGHT)
        self._paint_words(painter, inner, line, str(index.data()), scheme)
        if focused:
            paint_focus_ring(painter, rect, scheme, 2.0)
        painter.restore()

    def _paint_words(
        self, painter: QPainter, rect: QRectF, line: DutyLine, text: str, scheme: Scheme
    ) -> None:
        small, body = role_font(TypeRole.CAPTION), role_font()
        metrics = QFontMetricsF(small)
        done = line.duty.done_at is not None
        model = self._view.model()
        assert isinstance(model, DutiesModel)
        label = metrics.elidedText(
            line.batch_label, Qt.TextElideMode.ElideRight, rect.width() * _LONGEST_LABEL
        )
        painter.setFont(small)
        painter.setPen(scheme.ink3)
        painter.drawText(rect, _RIGHTWARD, label)
        right = rect.right() - (metrics.horizontalAdvance(label) + _GAP if label else 0)
        if line.overdue:
            flag = icon_pixmap("flag", scheme.bad, _FLAG, self._view.devicePixelRatioF())
            painter.drawPixmap(QPointF(right - _FLAG, rect.center().y() - _FLAG / 2), flag)
            right -= _FLAG + _GAP / 2
        metrics = QFontMetricsF(body)
        painter.setFont(body)
        time = clock_time(line.duty.due_at, model.zone)
        painter.setPen(scheme.bad if line.overdue else scheme.ink3 if done else scheme.ink2)
        painter.drawText(rect, _LEFTWARD, time)
        start = max(metrics.horizontalAdvance(time), metrics.horizontalAdvance("00:00")) + _GAP
        words = QRectF(rect.left() + start, rect.top(), right - rect.left() - start, rect.height())
        painter.setPen(scheme.ink3 if done else scheme.ink)
        painter.drawText(
            words, _LEFTWARD, metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(words.width(), 0.0))
        )


def in_box(x: float, row: QRect) -> bool:
    """Whether a place in a row belongs to its check box, or is so near that it must be meant."""
    return x <= row.left() + _LEFT + _BOX + _GAP / 2


def _paint_box(painter: QPainter, box: QRectF, scheme: Scheme, *, done: bool) -> None:
    painter.setPen(QPen(scheme.accent if done else scheme.ink2, 1.2))
    painter.setBrush(scheme.accent if done else scheme.field)
    painter.drawRoundedRect(box, 2.5, 2.5)
    if not done:
        return
    tick = QPainterPath()
    tick.moveTo(box.left() + 3, box.top() + 6.8)
    tick.lineTo(box.left() + 5.6, box.top() + 9.4)
    tick.lineTo(box.left() + 10, box.top() + 3.8)
    painter.setPen(QPen(scheme.accent_ink, 1.8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(tick)
