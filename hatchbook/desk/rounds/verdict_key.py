"""A verdict as a key: its letter, its glyph, its word, and how often it was given."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedButton
from hatchbook.desk.words.numbers import number
from hatchbook.trade.codes import Fate

_HEIGHT, _GLYPH, _PAD = 76, 26, 8


class VerdictKey(ThemedButton):
    """Wide enough for its word; pressed by mouse, Space, or its letter on the tray."""

    def __init__(self, letter: str, word: str, fate: Fate, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._letter, self._word, self._fate, self._count = letter, word, fate, 0
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip(f"{word}  ({letter})")
        self.set_count(0)

    def set_count(self, count: int) -> None:
        """Shows how often the verdict was given."""
        self._count = count
        self.setText(self._word)
        self.setAccessibleName(f"{self._word}, {self._letter}, {number(count, 0)}")
        self.update()

    def sizeHint(self) -> QSize:
        """Room for letter, glyph, count and word."""
        width = QFontMetricsF(role_font(TypeRole.BODY)).horizontalAdvance(self._word)
        return QSize(round(max(108.0, width + 2 * _PAD)), _HEIGHT)

    def minimumSizeHint(self) -> QSize:
        """The same: a verdict's word is never cut."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The key."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            rect = QRectF(self.rect()).adjusted(1, 1, -1, -1)
            focused = self.hasFocus()
            painter.setPen(QPen(scheme.colour("focus" if focused else "rule_strong"), 2 if focused else 1))
            painter.setBrush(scheme.colour("select" if self.isDown() else "page"))
            painter.drawRoundedRect(rect, 6, 6)
            inner = rect.adjusted(_PAD, _PAD - 2, -_PAD, -_PAD + 2)
            painter.setFont(role_font(TypeRole.SECTION))
            painter.setPen(scheme.colour("ink"))
            painter.drawText(inner, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft, self._letter)
            painter.setFont(role_font(TypeRole.BODY))
            painter.setPen(scheme.colour("ink2"))
            count = number(self._count, 0) if self._count else ""
            painter.drawText(inner, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight, count)
            painter.setPen(scheme.colour("ink"))
            painter.drawText(inner, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignHCenter, self._word)
            glyph = QRectF(0, 0, _GLYPH, _GLYPH)
            glyph.moveCenter(inner.center())
            glyph.translate(0, -8)
            paint_egg(painter, glyph, self._fate, scheme)
