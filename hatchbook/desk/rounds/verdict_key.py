"""A verdict as a key: its letter, its glyph, its word, and how often it was given."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import ThemedButton, paint_focus_ring
from hatchbook.desk.words.numbers import number
from hatchbook.trade.codes import Fate

_GLYPH, _PAD, _CAP, _LIT_MS = 36, 7, 22, 120
_TALLEST, _LARGEST_GLYPH = 150, 80
_NARROWEST = 84.0


class VerdictKey(ThemedButton):
    """Wide enough for its word; pressed by mouse, Space, or its letter on the tray.

    ``hint`` says how the verdict is told from others, in the tooltip and to screen readers. A key that is expected
    wears a thicker edge of its own colour, and says so to screen readers.
    """

    def __init__(
        self, letter: str, word: str, fate: Fate, parent: QWidget | None = None, *, hint: str = ""
    ) -> None:
        super().__init__(parent)
        self._letter, self._word, self._fate, self._hint = letter, word, fate, hint
        self._count = 0
        self._expected = False
        self._lit = QTimer(self)
        self._lit.setSingleShot(True)
        self._lit.setInterval(_LIT_MS)
        self._lit.timeout.connect(self.update)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        # Where there is room, a larger egg is easier to hit and to tell from the others.
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setMaximumHeight(_TALLEST)
        self.setToolTip(f"{word}: {hint}  ({letter})" if hint else f"{word}  ({letter})")
        self.set_count(0)

    @property
    def is_expected(self) -> bool:
        """Whether what is known already speaks for this verdict."""
        return self._expected

    def set_count(self, count: int) -> None:
        """Shows how often the verdict was given."""
        self._count = count
        self.setText(self._word)
        self._name()

    def set_expected(self, expected: bool) -> None:
        """Marks the key as one that what is known already speaks for."""
        self._expected = expected
        self._name()

    def light_up(self) -> None:
        """Stays lit for a moment: the verdict was taken."""
        self._lit.start()
        self.update()

    def _name(self) -> None:
        name = f"{self._word}, {self._letter}, {number(self._count, 0)}"
        self.setAccessibleName(name)
        fits = [self.tr("fits what is known")] if self._expected else []
        self.setAccessibleDescription("; ".join([*([self._hint] if self._hint else []), *fits]))
        self.update()

    def sizeHint(self) -> QSize:
        """Room for letter, glyph, count and word."""
        metrics = QFontMetricsF(role_font(bold=True))
        width = metrics.horizontalAdvance(self._word) + 2 * _PAD
        return QSize(round(max(_NARROWEST, width)), round(_GLYPH + metrics.height() + 2 * _PAD + 4))

    def minimumSizeHint(self) -> QSize:
        """The same: a verdict's word is never cut."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The key."""
        scheme, radius = self.scheme, tokens().radii.box
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            rect = QRectF(self.rect()).adjusted(1, 1, -1, -1)
            pressed = self.isDown() or self._lit.isActive()
            edge = QPen(scheme.colour("accent" if self._expected or pressed else "rule_strong"))
            edge.setWidthF(2.0 if self._expected else 1.0)
            painter.setPen(edge)
            painter.setBrush(scheme.select if pressed else scheme.inset if self.underMouse() else scheme.page)
            painter.drawRoundedRect(rect, radius, radius)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), scheme, radius)
            self._paint_face(painter, rect.adjusted(_PAD - 1, _PAD - 1, -_PAD + 1, -_PAD + 1))

    def _paint_face(self, painter: QPainter, inner: QRectF) -> None:
        scheme = self.scheme
        cap = QRectF(inner.left(), inner.top(), _CAP, _CAP)
        painter.setPen(QPen(scheme.rule_strong, 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(cap, 4, 4)
        painter.setFont(role_font(bold=True))
        painter.setPen(scheme.ink)
        painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, self._letter)
        painter.setFont(role_font())
        painter.setPen(scheme.ink2)
        count = number(self._count, 0) if self._count else ""
        painter.drawText(inner, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight, count)
        painter.setFont(role_font(bold=True))
        painter.setPen(scheme.ink)
        line = QFontMetricsF(painter.font()).height()
        row = QRectF(inner.left() - 4, inner.bottom() - line, inner.width() + 8, line)
        painter.drawText(row, Qt.AlignmentFlag.AlignCenter, self._word)
        room = QRectF(inner.left(), inner.top(), inner.width(), row.top() - inner.top())
        # Beside letter and count where it is low, below them where it is high.
        if room.height() > _CAP + 1.3 * _GLYPH:
            room.setTop(room.top() + 0.6 * _CAP)
        else:
            room.setLeft(room.left() + 0.8 * _CAP)
            room.setRight(room.right() - QFontMetricsF(role_font()).horizontalAdvance(count))
        side = min(_LARGEST_GLYPH, room.width(), max(_GLYPH, room.height() - 4))
        glyph = QRectF(0, 0, side, side)
        glyph.moveCenter(room.center())
        paint_egg(painter, glyph, self._fate, scheme)
