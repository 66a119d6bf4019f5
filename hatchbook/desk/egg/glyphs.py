"""The glyph that shows what a finding, a mark, a result or a reason makes of an egg."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason

_FATES: dict[StrEnum, Fate] = {
    HatchMark.INTERNAL_PIP: Fate.INTERNAL_PIP,
    HatchMark.EXTERNAL_PIP: Fate.EXTERNAL_PIP,
    HatchMark.HATCHED: Fate.HATCHED,
    HatchMark.HELPED: Fate.HELPED,
    HatchMark.DIED_IN_PIP: Fate.PIPPED_DEAD,
    HatchMark.WEAK: Fate.HATCHED,
    HatchMark.CULLED: Fate.CULLED,
    RemovalReason.TAKEN_OUT_ALIVE: Fate.TAKEN_OUT,
    RemovalReason.BROKEN: Fate.CRACKED,
}
_SIZE = 18


def fate_of_code(code: StrEnum) -> Fate:
    """The fate whose glyph stands for a code."""
    if isinstance(code, Fate):
        return code
    return Fate(code.value) if isinstance(code, FindingCode | BreakOutResult) else _FATES[code]


def code_icon(code: StrEnum, widget: QWidget) -> QIcon:
    """That glyph as an icon in the colours of a widget."""
    ratio = widget.devicePixelRatioF()
    pixmap = QPixmap(QSize(_SIZE, _SIZE) * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    with QPainter(pixmap) as painter:
        paint_egg(painter, QRectF(0, 0, _SIZE, _SIZE), fate_of_code(code), scheme_of(widget))
    return QIcon(pixmap)
