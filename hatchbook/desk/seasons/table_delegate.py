"""Paints the rows of a comparison: dots with their ranges on the column's scale, and the same as text."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTreeView

from hatchbook.desk.seasons.columns import RateColumn
from hatchbook.desk.seasons.scale import RateScale
from hatchbook.desk.seasons.table_model import (
    FIRST_RATE,
    NAME,
    RATE_ROLE,
    ComparisonModel,
    Index,
    Line,
)
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.comparison_table import mean_text, span_text
from hatchbook.figures.comparison_results import GroupRate, GroupRow, Standing
from hatchbook.statistics.tallies import RateKind

_LEFT, _INDENT = 16.0, 24.0
_ROW, _TITLE = 24, 25
_DOT, _WHISKER = 4.0, 2.0
_EDGE = 3.0
_DRAWN = 9.0
"""The stroke at what is rather to be expected of a group with too few eggs."""
_DASH = (3.0, 3.0)


class ComparisonDelegate(QStyledItemDelegate):
    """``filtered``: the row by which charts and list are filtered is marked by it."""

    def __init__(self, view: QTreeView, model: ComparisonModel) -> None:
        super().__init__(view)
        self._view = view
        self._model = model
        self.filtered: GroupRow | None = None

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as its text needs; titles stand a little apart."""
        least = _TITLE if self._model.line(index.row()).is_title else _ROW
        return QSize(60, max(least, round(QFontMetricsF(role_font()).height() + 7)))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One cell."""
        scheme = scheme_of(self._view)
        line = self._model.line(index.row())
        rect = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setClipRect(rect)
        current = self._view.currentIndex()
        chosen = index.row() == current.row() and not line.is_title
        filtered = line.row is not None and line.row is self.filtered
        pointed_at = bool(option.state & QStyle.StateFlag.State_MouseOver) and not line.is_title
        ground = scheme.select if filtered or (chosen and self._view.hasFocus()) else scheme.page
        if pointed_at and ground is scheme.page:
            ground = scheme.inset
        painter.fillRect(rect, ground)
        strong = line.is_title
        painter.fillRect(
            QRectF(rect.left(), rect.bottom() - 1, rect.width(), 1),
            scheme.rule_strong if strong else scheme.rule,
        )
        column = index.column()
        if line.is_title:
            self._paint_title_grid(painter, rect, scheme)
        if column >= FIRST_RATE:
            self._paint_rate(painter, rect, line, index, scheme)
        else:
            self._paint_text(painter, rect, line, index, scheme)
        if filtered and column == NAME:
            painter.fillRect(QRectF(rect.left(), rect.top(), _EDGE, rect.height()), scheme.accent)
        if chosen and self._view.hasFocus():
            self._paint_ring(painter, rect, column, scheme)
        painter.restore()

    def _paint_ring(self, painter: QPainter, rect: QRectF, column: int, scheme: Scheme) -> None:
        """The ring goes round the whole row, of which this cell shows its part."""
        left = rect.left() - self._view.columnViewportPosition(column)
        whole = QRectF(left, rect.top(), self._view.viewport().width(), rect.height() - 1)
        paint_focus_ring(painter, whole, scheme, 2.0)

    def _paint_text(self, painter: QPainter, rect: QRectF, line: Line, index: Index, scheme: Scheme) -> None:
        text = str(index.data() or "")
        bold = line.is_title or line.section is None or line.row is self.filtered
        font = role_font(bold=bold)
        painter.setFont(font)
        if index.column() == NAME:
            indent = _LEFT if line.is_title or line.section is None else _INDENT
            words = rect.adjusted(indent, 0, -4, -1)
            unknown = line.row is not None and line.row.group is not None and line.row.group.key is None
            painter.setPen(scheme.ink2 if line.is_title or unknown else scheme.ink)
            cut = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, words.width())
            painter.drawText(words, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, cut)
        else:
            painter.setPen(scheme.ink2)
            words = rect.adjusted(0, 0, -8, -1)
            painter.drawText(words, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, text)

    # ---------------------------------------------------------------- rates

    def _paint_rate(self, painter: QPainter, rect: QRectF, line: Line, index: Index, scheme: Scheme) -> None:
        kind = self._model.rates[index.column() - FIRST_RATE]
        column, scale = RateColumn.within(rect), self._model.scale(kind)
        self._paint_grid(painter, rect, column, scale, kind, scheme)
        rate = index.data(RATE_ROLE)
        if not isinstance(rate, GroupRate):
            return
        whole = line.section is None
        colour = _colour(rate, kind, whole=whole, scheme=scheme)
        if rate.mean is not None:
            _paint_range(painter, rect, column, scale, rate, colour)
            if rate.standing is Standing.TOO_FEW and rate.drawn is not None:
                x = column.x(scale, rate.drawn)
                painter.fillRect(QRectF(x - 1, rect.center().y() - _DRAWN / 2 - 0.5, 2, _DRAWN), scheme.ink2)
            centre = QPointF(column.x(scale, rate.mean), rect.center().y() - 0.5)
            _paint_mark(painter, centre, rate.standing, colour, scheme, whole=whole)
        stands_out = rate.standing in (Standing.LOWER, Standing.HIGHER)
        painter.setFont(role_font(bold=whole or stands_out))
        small = rate.standing in (Standing.TOO_FEW, Standing.NOT_COMPARED) and not whole
        painter.setPen(colour if stands_out else scheme.ink3 if small else scheme.ink)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip
        painter.drawText(
            column.mean.adjusted(0, 0, 0, -1), middle | Qt.AlignmentFlag.AlignRight, mean_text(rate)
        )
        painter.setFont(role_font())
        painter.setPen(scheme.ink3 if small else scheme.ink2)
        painter.drawText(
            column.span.adjusted(0, 0, 0, -1), middle | Qt.AlignmentFlag.AlignLeft, span_text(rate)
        )

    def _paint_title_grid(self, painter: QPainter, rect: QRectF, scheme: Scheme) -> None:
        """A title reaches over all columns; the lines of the scales go on behind it."""
        header = self._view.header()
        for at, kind in enumerate(self._model.rates):
            left = header.sectionViewportPosition(FIRST_RATE + at)
            cell = QRectF(left, rect.top(), header.sectionSize(FIRST_RATE + at), rect.height())
            self._paint_grid(painter, cell, RateColumn.within(cell), self._model.scale(kind), kind, scheme)

    def _paint_grid(
        self,
        painter: QPainter,
        rect: QRectF,
        column: RateColumn,
        scale: RateScale,
        kind: RateKind,
        scheme: Scheme,
    ) -> None:
        painter.setPen(QPen(scheme.rule, 1.0))
        for at in scale.ticks:
            x = round(column.x(scale, at)) + 0.5
            painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))
        reference = self._model.reference(kind)
        if reference is not None:
            pen = QPen(scheme.ink2, 1.0)
            pen.setDashPattern(list(_DASH))
            # From row to row the dashes go on where they left off.
            pen.setDashOffset(rect.top() % sum(_DASH))
            painter.setPen(pen)
            x = round(column.x(scale, reference)) + 0.5
            painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))


def _colour(rate: GroupRate, kind: RateKind, *, whole: bool, scheme: Scheme) -> QColor:
    if whole:
        return scheme.ink
    match rate.standing:
        case Standing.LOWER:
            return scheme.ok if kind.is_loss else scheme.bad
        case Standing.HIGHER:
            return scheme.bad if kind.is_loss else scheme.ok
        case Standing.WITHIN:
            return scheme.water_deep
    return scheme.ink3


def _paint_range(
    painter: QPainter, rect: QRectF, column: RateColumn, scale: RateScale, rate: GroupRate, colour: QColor
) -> None:
    y = rect.center().y() - 0.5
    left, right = column.x(scale, rate.low), column.x(scale, rate.high)
    pen = QPen(colour, _WHISKER)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.drawLine(QPointF(left, y), QPointF(right, y))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    for end, share, outward in ((left, rate.low, -1.0), (right, rate.high, 1.0)):
        if not scale.holds(share):  # it goes on beyond the scale
            tip = QPointF(end + outward * 4, y)
            painter.drawPolygon(
                QPolygonF([tip, tip + QPointF(-outward * 5, -3.5), tip + QPointF(-outward * 5, 3.5)])
            )


def _paint_mark(
    painter: QPainter, centre: QPointF, standing: Standing, colour: QColor, scheme: Scheme, *, whole: bool
) -> None:
    if standing in (Standing.LOWER, Standing.HIGHER):
        down = 1.0 if standing is Standing.LOWER else -1.0
        painter.setPen(QPen(scheme.page, 1.2))
        painter.setBrush(colour)
        corners = ((-5.4, -4.0 * down), (5.4, -4.0 * down), (0.0, 5.4 * down))
        painter.drawPolygon(QPolygonF([centre + QPointF(x, y) for x, y in corners]))
    elif whole:
        painter.setPen(QPen(scheme.page, 1.2))
        painter.setBrush(colour)
        painter.drawEllipse(centre, _DOT + 0.6, _DOT + 0.6)
    else:
        painter.setPen(QPen(colour, 1.7))
        painter.setBrush(scheme.page)
        painter.drawEllipse(centre, _DOT, _DOT)
