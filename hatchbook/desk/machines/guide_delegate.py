"""Paints the cells of the water and vent guide."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.guide import half_text
from hatchbook.desk.words.guide_cells import hours_text, hours_texts, is_advice, is_setting, mark_texts
from hatchbook.desk.words.numbers import number
from hatchbook.figures.guide_results import GuideCell, MachineGuide
from hatchbook.trade.codes import PhaseKind

Index = QModelIndex | QPersistentModelIndex

CELL_ROLE = Qt.ItemDataRole.UserRole + 1
GUIDE_ROLE = Qt.ItemDataRole.UserRole + 2

_AIR = 2.0
_LEFT = 8.0
_HATCHED, _WIDE_CELL = 14.0, 76.0
_FRAME = 2.4


class GuideDelegate(QStyledItemDelegate):
    """The expected mean large, its range beside it, the evidence and the mark below."""

    def __init__(self, view: QTableView) -> None:
        super().__init__(view)
        self._view = view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One cell."""
        cell: GuideCell | None = index.data(CELL_ROLE)
        guide: MachineGuide | None = index.data(GUIDE_ROLE)
        if cell is None or guide is None:
            return
        scheme = scheme_of(self._view)
        rect = QRectF(option.rect).adjusted(_AIR, _AIR, -_AIR, -_AIR)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        # The style fills what is selected; here only the ring shows where the keyboard is.
        painter.fillRect(option.rect, scheme.page)
        paint_ground(painter, rect, scheme, cell)
        pointed_at = bool(option.state & QStyle.StateFlag.State_MouseOver)
        self._frame(painter, rect, scheme, cell, guide, pointed_at=pointed_at)
        self._texts(painter, rect, scheme, cell, guide)
        if self._view.hasFocus() and index == self._view.currentIndex():
            paint_focus_ring(painter, QRectF(option.rect), scheme, 2.0)
        painter.restore()

    @staticmethod
    def _frame(
        painter: QPainter,
        rect: QRectF,
        scheme: Scheme,
        cell: GuideCell,
        guide: MachineGuide,
        *,
        pointed_at: bool,
    ) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if is_setting(cell, guide):
            half = _FRAME / 2
            painter.setPen(QPen(scheme.accent, _FRAME))
            painter.drawRect(rect.adjusted(half, half, -half, -half))
        elif is_advice(cell, guide):
            painter.setPen(QPen(scheme.accent, 1.6, Qt.PenStyle.DashLine))
            painter.drawRect(rect.adjusted(0.8, 0.8, -0.8, -0.8))
        else:
            painter.setPen(QPen(scheme.rule_strong if pointed_at else scheme.rule, 1.0))
            painter.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))

    @staticmethod
    def _texts(painter: QPainter, rect: QRectF, scheme: Scheme, cell: GuideCell, guide: MachineGuide) -> None:
        marked = is_setting(cell, guide) or is_advice(cell, guide)
        mean_font = _mean_font(bold=marked)
        small, strong = role_font(TypeRole.CAPTION), role_font(TypeRole.CAPTION, bold=True)
        mean, half = number(cell.humidity.value, 0), half_text(cell.humidity)
        big, tiny, bold = QFontMetricsF(mean_font), QFontMetricsF(small), QFontMetricsF(strong)
        height = big.height() + tiny.height()
        top = rect.top() + (rect.height() - height) / 2
        baseline = top + big.ascent()
        hatched = hatched_width(rect) - 2 if PhaseKind.LOCKDOWN in cell.fits else 0.0
        left, right = rect.left() + _LEFT, rect.right() - _LEFT - hatched
        painter.setFont(mean_font)
        painter.setPen(scheme.ink if cell.allowed else scheme.ink2)
        painter.drawText(QPointF(left, baseline), mean)
        painter.setFont(small)
        painter.setPen(scheme.ink2)
        beside = left + big.horizontalAdvance(mean) + 5
        if beside + tiny.horizontalAdvance(half) > right + 4:
            half = half.removesuffix("%").rstrip()
        painter.drawText(QPointF(beside, baseline), half)
        below = top + big.height() + tiny.ascent()
        mark = next(
            (
                text
                for text in mark_texts(cell, guide)
                if tiny.horizontalAdvance(hours_text(cell)) + bold.horizontalAdvance(text) + 10
                <= right - left
            ),
            "",
        )
        texts = mark_texts(cell, guide)
        if texts and not mark and marked:
            # The mark counts for more than the evidence, which the tooltip tells as well.
            painter.setFont(strong)
            painter.setPen(scheme.accent)
            painter.drawText(
                QPointF(left, below), bold.elidedText(texts[-1], Qt.TextElideMode.ElideRight, right - left)
            )
            return
        hours = hours_texts(cell)
        evidence = next((text for text in hours if tiny.horizontalAdvance(text) <= right - left), hours[-1])
        painter.setPen(scheme.ink2)
        painter.drawText(
            QPointF(left, below), tiny.elidedText(evidence, Qt.TextElideMode.ElideRight, right - left)
        )
        if mark:
            painter.setFont(strong if marked else small)
            painter.setPen(scheme.accent if marked else scheme.ink2)
            width = (bold if marked else tiny).horizontalAdvance(mark)
            painter.drawText(QPointF(right - width, below), mark)


def _mean_font(*, bold: bool) -> QFont:
    """Larger than the text, smaller than a key figure."""
    font = role_font(TypeRole.SECTION, bold=bold)
    ratio = 1.12
    if font.pointSizeF() > 0:
        font.setPointSizeF(font.pointSizeF() * ratio)
    else:
        font.setPixelSize(round(font.pixelSize() * ratio))
    return font


def hatched_width(rect: QRectF) -> float:
    """How wide the hatched edge of a cell is."""
    return _HATCHED if rect.width() > _WIDE_CELL else _HATCHED / 2


def paint_ground(painter: QPainter, rect: QRectF, scheme: Scheme, cell: GuideCell) -> None:
    """The fill of the band a cell falls into; that of lockdown has a hatched edge as well."""
    if PhaseKind.LOCKDOWN in cell.fits:
        painter.fillRect(rect, scheme.band2)
        wide = hatched_width(rect)
        edge = QRectF(rect.right() - wide, rect.top(), wide, rect.height())
        painter.fillRect(edge, QBrush(scheme.water_deep, Qt.BrushStyle.BDiagPattern))
        if PhaseKind.INCUBATION in cell.fits:
            painter.fillRect(QRectF(rect.left(), rect.top(), rect.width() / 2, rect.height()), scheme.band)
    elif PhaseKind.INCUBATION in cell.fits:
        painter.fillRect(rect, scheme.band)
    else:
        painter.fillRect(rect, scheme.page)
