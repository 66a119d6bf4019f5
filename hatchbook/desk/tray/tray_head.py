"""The letters and numbers round a tray: as many as there is room for."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QHeaderView, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font

_AIR = 2.0
_EACH_OF_MANY = 5


class TrayHead(QHeaderView):
    """Names each row or column; where they are too narrow only the first and every fifth."""

    def __init__(self, orientation: Qt.Orientation, parent: QWidget | None = None) -> None:
        super().__init__(orientation, parent)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(4)
        self.setSectionsClickable(False)
        self.setHighlightSections(False)
        self.viewport().setAutoFillBackground(False)
        self.setFont(role_font(TypeRole.CAPTION))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The names alone, on whatever the tray lies on."""
        upright = self.orientation() is Qt.Orientation.Vertical
        crowded = self.is_crowded()
        metrics = QFontMetricsF(self.font())
        with QPainter(self.viewport()) as painter:
            painter.setFont(self.font())
            painter.setPen(scheme_of(self).ink2)
            for section in range(self.count()):
                text = str(self.model().headerData(section, self.orientation()) or "")
                if not text or (crowded and section and (section + 1) % _EACH_OF_MANY):
                    continue
                at, size = self.sectionViewportPosition(section), self.sectionSize(section)
                if upright:
                    room = QRectF(0, at, self.width(), size)
                else:
                    wide = max(size, metrics.horizontalAdvance(text) + 2 * _AIR)
                    room = QRectF(at + (size - wide) / 2, 0, wide, self.height())
                painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)

    def is_crowded(self) -> bool:
        """Whether not every name fits."""
        if not self.count():
            return False
        metrics = QFontMetricsF(self.font())
        size = self.sectionSize(self.count() - 1)
        if self.orientation() is Qt.Orientation.Vertical:
            return False  # letters are as low as the smallest egg
        widest = str(self.model().headerData(self.count() - 1, self.orientation()) or "")
        return size < metrics.horizontalAdvance(widest) + _AIR
