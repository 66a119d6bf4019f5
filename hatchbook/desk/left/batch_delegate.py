"""Paints the rows of the batch list, and gives the field in which a batch is renamed."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import (
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTreeView,
    QWidget,
)

from hatchbook.desk.left.batch_model import BATCH_ROLE, NOTE_ROLE, SHORT_NOTE_ROLE, BatchModel, Index
from hatchbook.desk.left.batch_words import batch_name, from_paper, progress_short_text, progress_text
from hatchbook.desk.painting.outcome_bar import paint_outcome
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme, tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.figures.results import BatchState, BatchSummary

_LEFT, _RIGHT = 14.0, 10.0
_EDGE = 3.0
_GAP = 8.0
_RAIL, _LOCKDOWN, _OUTCOME = 4.0, 8.0, 7.0
_LONGEST_LABEL = 0.4
"""Share of the row that a batch's number may take."""
_CENTRE = Qt.AlignmentFlag.AlignVCenter
_LEFTWARD, _RIGHTWARD = _CENTRE | Qt.AlignmentFlag.AlignLeft, _CENTRE | Qt.AlignmentFlag.AlignRight


class BatchDelegate(QStyledItemDelegate):
    """Season rows with a triangle, batch rows with their bar.

    ``chosen``: the uid of the batch that is shown; it stays marked while the cursor is elsewhere.
    ``editor``: the field that was opened last.

    Signals:
        name_typed: uid of a batch and the name that was typed for it.
    """

    name_typed = Signal(str, str)

    def __init__(self, view: QTreeView) -> None:
        super().__init__(view)
        self._view = view
        self.chosen: str | None = None
        self.editor: QLineEdit | None = None

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """26 px for a season, 46 px for a batch, or what larger type needs."""
        body = QFontMetricsF(role_font()).height()
        if index.data(BATCH_ROLE) is None:
            return QSize(120, max(tokens().sizes.season_row, round(body + 8)))
        return QSize(120, max(tokens().sizes.batch_row, round(body + 28)))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One row."""
        scheme = scheme_of(self._view)
        # The view leaves the branches' place out of the rectangle; there are none.
        rect = QRectF(option.rect)
        rect.setLeft(0)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        batch = index.data(BATCH_ROLE)
        focused = self._view.hasFocus() and index == self._view.currentIndex()
        if batch is None:
            self._paint_season(painter, rect, index, scheme)
        else:
            pointed_at = bool(option.state & QStyle.StateFlag.State_MouseOver)
            self._paint_batch(painter, rect, batch, scheme, pointed_at=pointed_at)
        if focused:
            paint_focus_ring(painter, rect.adjusted(0, 0, 0, -1), scheme, 2.0)
        painter.restore()

    # ---------------------------------------------------------------- seasons

    def _paint_season(self, painter: QPainter, rect: QRectF, index: Index, scheme: Scheme) -> None:
        painter.fillRect(rect, scheme.inset)
        _underline(painter, rect, 0.0, scheme)
        painter.fillPath(
            _triangle(QPointF(_LEFT, rect.center().y()), open_=self._view.isExpanded(_plain(index))),
            scheme.ink2,
        )
        words = rect.adjusted(_LEFT + 10, 0, -_RIGHT, 0)
        name = str(index.data())
        bold, small = role_font(TypeRole.CAPTION, bold=True), role_font(TypeRole.CAPTION)
        room = words.width() - QFontMetricsF(bold).horizontalAdvance(name) - _GAP
        note = str(index.data(NOTE_ROLE))
        if QFontMetricsF(small).horizontalAdvance(note) > room:
            note = str(index.data(SHORT_NOTE_ROLE))
        painter.setFont(bold)
        painter.setPen(scheme.ink2)
        painter.drawText(words, _LEFTWARD, _cut(name, bold, words.width()))
        painter.setFont(small)
        painter.setPen(scheme.ink3)
        painter.drawText(words, _RIGHTWARD, _cut(note, small, room))

    # ---------------------------------------------------------------- batches

    def _paint_batch(
        self, painter: QPainter, rect: QRectF, batch: BatchSummary, scheme: Scheme, *, pointed_at: bool
    ) -> None:
        chosen = batch.uid == self.chosen
        ground = scheme.select if chosen else scheme.inset if pointed_at else scheme.page
        painter.fillRect(rect, ground)
        _underline(painter, rect, 12.0, scheme)
        if chosen:
            painter.fillRect(QRectF(0, rect.top(), _EDGE, rect.height()), scheme.accent)
        left, right = rect.left() + _LEFT, rect.right() - _RIGHT
        line = QFontMetricsF(role_font()).height()
        rows = rect.height() - 1
        top = rect.top() + (rows - line - 5 - _LOCKDOWN) / 2
        self._paint_words(painter, QRectF(left, top, right - left, line), batch, scheme, chosen=chosen)
        bar = QRectF(left, round(top + line + 5), right - left, _LOCKDOWN)
        if batch.counts_only:
            small = role_font(TypeRole.CAPTION)
            note = from_paper()
            painter.setFont(small)
            painter.setPen(scheme.ink2 if chosen else scheme.ink3)
            painter.drawText(bar.adjusted(0, -4, 0, 4), _RIGHTWARD, note)
            bar.setWidth(bar.width() - QFontMetricsF(small).horizontalAdvance(note) - _GAP)
        if batch.state is BatchState.CLOSED:
            bar.setHeight(_OUTCOME)
            paint_outcome(painter, bar, batch.counts, scheme)
        else:
            rail = scheme.band_edge if chosen else scheme.rule
            _paint_progress(painter, bar, batch, rail, ground, scheme)

    def _paint_words(
        self, painter: QPainter, row: QRectF, batch: BatchSummary, scheme: Scheme, *, chosen: bool
    ) -> None:
        small, body = role_font(TypeRole.CAPTION), role_font(bold=chosen)
        metrics, zone = QFontMetricsF(small), self._zone()
        label = _cut(batch.label, small, row.width() * _LONGEST_LABEL)
        usual = metrics.horizontalAdvance("00-00")
        start = max(usual, metrics.horizontalAdvance(label)) + 12
        name, progress = batch_name(batch), progress_text(batch, zone)
        room = row.width() - start - _GAP - metrics.horizontalAdvance(progress)
        if QFontMetricsF(body).horizontalAdvance(name) > room:
            progress = progress_short_text(batch, zone)
            room = row.width() - start - _GAP - metrics.horizontalAdvance(progress)
        painter.setFont(small)
        painter.setPen(scheme.ink2)
        painter.drawText(row, _RIGHTWARD, progress)
        painter.setPen(scheme.ink2 if chosen else scheme.ink3)
        painter.drawText(row, _LEFTWARD, label)
        painter.setFont(body)
        painter.setPen(scheme.ink)
        painter.drawText(row.adjusted(start, 0, 0, 0), _LEFTWARD, _cut(name, body, room))

    def _zone(self) -> ZoneInfo:
        model = self._view.model()
        assert isinstance(model, BatchModel)
        return model.zone

    # ---------------------------------------------------------------- renaming

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: Index) -> QWidget:
        """A line for the name."""
        editor = QLineEdit(parent)
        editor.setFont(role_font())
        editor.setMaxLength(80)
        batch: BatchSummary = index.data(BATCH_ROLE)
        editor.setAccessibleName(self.tr("Name of batch {label}").format(label=batch.label))
        editor.setPlaceholderText(batch_name(batch))
        self.editor = editor
        return editor

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, _index: Index) -> None:
        """Over the name, from the number to the right edge."""
        start = _LEFT + QFontMetricsF(role_font(TypeRole.CAPTION)).horizontalAdvance("00-00") + 6
        height = editor.sizeHint().height()
        left = round(start)
        editor.setGeometry(QRect(left, option.rect.top() + 2, option.rect.right() - left - 4, height))

    def setModelData(self, editor: QWidget, _model: QAbstractItemModel, index: Index) -> None:
        """Tells what was typed; the journal has the last word."""
        assert isinstance(editor, QLineEdit)
        batch: BatchSummary = index.data(BATCH_ROLE)
        self.name_typed.emit(batch.uid, editor.text().strip())


def _plain(index: Index) -> QModelIndex:
    return index.model().index(index.row(), index.column(), index.parent())


def _cut(text: str, font: QFont, width: float) -> str:
    return QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, max(width, 0.0))


def _underline(painter: QPainter, rect: QRectF, indent: float, scheme: Scheme) -> None:
    painter.fillRect(QRectF(rect.left() + indent, rect.bottom() - 1, rect.width() - indent, 1), scheme.rule)


def _triangle(centre: QPointF, *, open_: bool) -> QPainterPath:
    """Points down over an open season, to the side of a folded one."""
    path = QPainterPath()
    x, y = centre.x(), centre.y()
    if open_:
        path.moveTo(x - 4, y - 2)
        path.lineTo(x + 4, y - 2)
        path.lineTo(x, y + 3)
    else:
        path.moveTo(x - 2, y - 4)
        path.lineTo(x - 2, y + 4)
        path.lineTo(x + 3, y)
    path.closeSubpath()
    return path


def _paint_progress(
    painter: QPainter, bar: QRectF, batch: BatchSummary, rail: QColor, ground: QColor, scheme: Scheme
) -> None:
    """A thin rail to lockdown, a taller one to the hatch, filled up to today, where a needle stands."""
    days = max(batch.incubation_days, 0.1)
    to_lockdown = min(max(batch.lockdown_day / days, 0.0), 1.0)
    middle = round(bar.left() + bar.width() * to_lockdown)
    thin_top = bar.top() + (bar.height() - _RAIL) / 2
    thin = QRectF(bar.left(), thin_top, max(middle - 2 - bar.left(), 0), _RAIL)
    tall = QRectF(middle, bar.top(), max(bar.right() - middle, 0), bar.height())
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.fillRect(thin, rail)
    painter.fillRect(tall, rail)
    if batch.state is not BatchState.RUNNING:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        return
    today = bar.left() + bar.width() * min(max(batch.day / days, 0.0), 1.0)
    for part in (thin, tall):
        gone = QRectF(part)
        gone.setRight(min(part.right(), today))
        if gone.width() > 0:
            painter.fillRect(gone, scheme.accent)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for colour, width in ((ground, 4.0), (scheme.ink, 1.8)):
        painter.setPen(QPen(colour, width, c=Qt.PenCapStyle.FlatCap))
        painter.drawLine(QPointF(today, bar.top() - 2.5), QPointF(today, bar.bottom() + 2.5))
