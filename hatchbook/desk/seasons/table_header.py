"""The head of the comparison's table: a rate's column carries the scale that its dots are drawn against."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QHeaderView, QWidget

from hatchbook.desk.seasons.columns import RateColumn
from hatchbook.desk.seasons.table_model import FIRST_RATE, NAME, ComparisonModel
from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.words.comparison_table import range_caption, scale_number

_LEFT, _PAD, _ARROW = 16.0, 4.0, 4.0
_TICK = 3.0
_LABEL_GAP = 5.0


class ComparisonHeader(QHeaderView):
    """Titles above, ticks and numbers of the scale below; a click sorts."""

    def __init__(self, model: ComparisonModel, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._shown = model
        self.setSectionsClickable(True)
        self.setHighlightSections(False)
        self.setSectionsMovable(False)
        self.setMinimumSectionSize(40)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMouseTracking(True)

    def sizeHint(self) -> QSize:
        """Two lines of text."""
        title, small = role_font(bold=True), role_font(TypeRole.CAPTION)
        height = QFontMetricsF(title).height() + QFontMetricsF(small).height() + 2 * _PAD + _TICK + 1
        return QSize(super().sizeHint().width(), round(height))

    def changeEvent(self, event: QEvent) -> None:
        """Notices another scheme or font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self.updateGeometries()
            self.viewport().update()

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        """One column's head."""
        scheme = scheme_of(self)
        area = QRectF(rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(area, scheme.inset)
        painter.fillRect(QRectF(area.left(), area.bottom(), area.width(), 1), scheme.rule_strong)
        if section >= FIRST_RATE:
            self._paint_rate(painter, area, section, scheme)
        else:
            self._paint_count(painter, area, section, scheme)
        painter.restore()

    def _paint_count(self, painter: QPainter, area: QRectF, section: int, scheme: Scheme) -> None:
        font = role_font(TypeRole.CAPTION)
        text = str(self._shown.headerData(section, Qt.Orientation.Horizontal))
        metrics = QFontMetricsF(font)
        base = area.bottom() - _PAD - metrics.descent()
        painter.setFont(font)
        painter.setPen(scheme.ink2)
        width = metrics.horizontalAdvance(text)
        x = area.left() + _LEFT if section == NAME else area.right() - 8 - width
        painter.drawText(QPointF(x, base), text)
        arrow_x = x + width + 3 + _ARROW if section == NAME else x - 5 - _ARROW
        self._paint_arrow(painter, QPointF(arrow_x, base - metrics.xHeight() / 2), section, scheme)

    def _paint_rate(self, painter: QPainter, area: QRectF, section: int, scheme: Scheme) -> None:
        kind = self._shown.rates[section - FIRST_RATE]
        column, scale = RateColumn.within(area), self._shown.scale(kind)
        bold, small = role_font(bold=True), role_font(TypeRole.CAPTION)
        title, metrics = QFontMetricsF(bold), QFontMetricsF(small)
        base = area.top() + _PAD + title.ascent()
        room = area.right() - 8 - column.plot.left() - 2 * _ARROW - 6
        text = title.elidedText(
            str(self._shown.headerData(section, Qt.Orientation.Horizontal)),
            Qt.TextElideMode.ElideRight,
            room,
        )
        painter.setFont(bold)
        painter.setPen(scheme.ink)
        painter.drawText(QPointF(column.plot.left(), base), text)
        arrow = QPointF(
            column.plot.left() + title.horizontalAdvance(text) + 6 + _ARROW, base - title.xHeight() / 2
        )
        self._paint_arrow(painter, arrow, section, scheme)
        base = area.bottom() - _PAD - _TICK - metrics.descent() + 1
        painter.setFont(small)
        every = _every(scale.ticks, column.plot.width(), metrics)
        free_from = area.left()
        for number, at in enumerate(reversed(scale.ticks)):
            x = column.x(scale, at)
            painter.setPen(QPen(scheme.rule_strong, 1.0))
            edge = round(x) + 0.5
            painter.drawLine(QPointF(edge, area.bottom() - _TICK), QPointF(edge, area.bottom()))
            text = scale_number(at)
            width = metrics.horizontalAdvance(text)
            if number % every == 0:
                painter.setPen(scheme.ink2)
                painter.drawText(QPointF(x - width / 2, base), text)
                free_from = max(free_from, x + width / 2 + _LABEL_GAP)
        caption = range_caption()
        width = metrics.horizontalAdvance(caption)
        left = max(column.mean.left(), column.span.right() - width)
        if left >= free_from:
            painter.setPen(scheme.ink2)
            painter.drawText(QPointF(left, base), caption)

    def _paint_arrow(self, painter: QPainter, centre: QPointF, section: int, scheme: Scheme) -> None:
        if self._shown.sorted_by is None or self._shown.sorted_by[0] != section:
            return
        up = -1.0 if self._shown.sorted_by[1] is Qt.SortOrder.AscendingOrder else 1.0
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.accent)
        corners = ((-_ARROW, -up * _ARROW / 2), (_ARROW, -up * _ARROW / 2), (0.0, up * _ARROW / 2))
        painter.drawPolygon(QPolygonF([centre + QPointF(x, y) for x, y in corners]))


def _every(ticks: Sequence[float], width: float, metrics: QFontMetricsF) -> int:
    """Every how many ticks get their number, from the last one on, so that none touches its neighbour."""
    needed = metrics.horizontalAdvance("100") + _LABEL_GAP
    between = width / max(1, len(ticks) - 1)
    return max(1, math.ceil(needed / max(between, 1.0)))
