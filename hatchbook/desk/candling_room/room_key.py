"""The verdicts as keys, drawn as they lie under the hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.candling_room.hands import HandLayout, VerdictPlace
from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedButton
from hatchbook.desk.words.candling import verdict_hint, verdict_title
from hatchbook.desk.words.numbers import number
from hatchbook.trade.candling import CandlingLook
from hatchbook.trade.codes import Fate, FindingCode

_LIT_MS = 120
_GAP, _PAD, _SIDE, _CAP = 8, 9, 4, 30
_LEAST = QSize(92, 132)
_MOST = QSize(148, 190)
_GLYPH_MOST = 64.0


class RoomKey(ThemedButton):
    """One verdict: the letter on its key, how often it was given, its glyph, its word, what it looks like."""

    def __init__(self, place: VerdictPlace, fate: Fate, look: CandlingLook, parent: QWidget) -> None:
        super().__init__(parent)
        self.place = place
        self._fate = fate
        self.printed = place.printed
        self.title = verdict_title(place.code)
        self.hint = verdict_hint(place.code, look)
        self.fonts = (role_font(TypeRole.CANDLE_VERDICT), role_font(TypeRole.CANDLE_BODY))
        self.count = 0
        self._as_last = False
        # The eggs keep the focus: that is where a screen reader is to be.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._lit = QTimer(self)
        self._lit.setSingleShot(True)
        self._lit.setInterval(_LIT_MS)
        self._lit.timeout.connect(self.update)
        self._name()

    def set_printed(self, printed: str) -> None:
        """What is printed on the key, where the layout is another."""
        if printed != self.printed:
            self.printed = printed
            self._name()

    def set_count(self, count: int) -> None:
        """Shows how often the verdict was given."""
        if count != self.count:
            self.count = count
            self._name()

    def set_as_last(self, as_last: bool) -> None:
        """Marks the verdict that Space would give."""
        if as_last != self._as_last:
            self._as_last = as_last
            self.update()

    def light_up(self) -> None:
        """Stays lit for a moment: the verdict was stored."""
        self._lit.start()
        self.update()

    def _name(self) -> None:
        self.setText(self.title)
        self.setAccessibleName(f"{self.title}, {self.printed}, {number(self.count, 0)}")
        self.setAccessibleDescription(self.hint)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The key."""
        scheme, radius = self.scheme, tokens().radii.box
        lit = self._lit.isActive() or self.isDown()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            rect = QRectF(self.rect()).adjusted(1, 1, -1, -1)
            edge = scheme.ink if lit else scheme.ink3 if self._as_last else scheme.rule_strong
            painter.setPen(QPen(edge, 2.0 if lit or self._as_last else 1.2))
            painter.setBrush(scheme.select if lit else scheme.page)
            painter.drawRoundedRect(rect, radius, radius)
            inner = rect.adjusted(_PAD, _PAD, -_PAD, -_PAD)
            self._paint_cap(painter, QRectF(inner.left(), inner.top(), _CAP, _CAP))
            painter.setFont(role_font(TypeRole.CANDLE_BODY))
            painter.setPen(scheme.ink2)
            count = QRectF(inner.left(), inner.top(), inner.width(), _CAP)
            painter.drawText(
                count, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, number(self.count, 0)
            )
            self._paint_face(painter, rect.adjusted(_SIDE, _PAD + _CAP, -_SIDE, -_PAD))

    def _paint_cap(self, painter: QPainter, cap: QRectF) -> None:
        scheme = self.scheme
        painter.setPen(QPen(scheme.rule_strong, 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(cap, 5, 5)
        painter.setFont(role_font(TypeRole.CANDLE_BODY, bold=True))
        painter.setPen(scheme.ink)
        painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, self.printed)
        if self.place.bump:
            bump = QRectF(cap.center().x() - 6, cap.bottom() - 5.2, 12, 2)
            painter.fillRect(bump, scheme.ink)

    def _paint_face(self, painter: QPainter, below: QRectF) -> None:
        title, hint = self.fonts
        hint_height, title_height = QFontMetricsF(hint).height(), QFontMetricsF(title).height()
        row = QRectF(below.left(), below.bottom() - hint_height, below.width(), hint_height)
        painter.setFont(hint)
        painter.setPen(self.scheme.ink2)
        painter.drawText(row, Qt.AlignmentFlag.AlignCenter, self.hint)
        row = QRectF(below.left(), row.top() - title_height, below.width(), title_height)
        painter.setFont(title)
        painter.setPen(self.scheme.ink)
        painter.drawText(row, Qt.AlignmentFlag.AlignCenter, self.title)
        side = min(row.top() - below.top() - 4, _GLYPH_MOST)
        if side > 8:
            centre = (below.top() + row.top()) / 2
            paint_egg(
                painter,
                QRectF(below.center().x() - side / 2, centre - side / 2, side, side),
                self._fate,
                self.scheme,
            )


def _fitting(texts: Sequence[str], role: TypeRole, width: float) -> QFont:
    """The font of a role, smaller where a text would not fit, but never smaller than text elsewhere is."""
    font = role_font(role)
    least = role_font(TypeRole.CAPTION).pointSizeF()
    wanted = max((QFontMetricsF(font).horizontalAdvance(text) for text in texts), default=0.0)
    if wanted > width and font.pointSizeF() > 0:
        font.setPointSizeF(max(font.pointSizeF() * width / wanted * 0.98, least))
    return font


class KeyBlock(QWidget):
    """The keys of a hand in their places.

    Signals:
        given: the ``FindingCode`` of a key that was clicked on.
    """

    given = Signal(object)

    def __init__(
        self, fate_of: Callable[[FindingCode], Fate], look: CandlingLook, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._fate_of, self._look = fate_of, look
        self._keys: dict[FindingCode, RoomKey] = {}
        self._columns = 1.0
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setMaximumHeight(2 * _MOST.height() + _GAP)

    def all(self) -> list[RoomKey]:
        """The keys."""
        return list(self._keys.values())

    def key(self, code: FindingCode) -> RoomKey:
        """The key of a verdict."""
        return self._keys[code]

    def show_hand(self, layout: HandLayout) -> None:
        """Lays the keys out for another hand."""
        counts = {code: key.count for code, key in self._keys.items()}
        for key in self._keys.values():
            key.hide()
            key.deleteLater()
        self._columns = layout.columns
        self._keys = {}
        for place in layout.verdicts:
            key = RoomKey(place, self._fate_of(place.code), self._look, self)
            key.set_count(counts.get(place.code, 0))
            key.clicked.connect(lambda _checked=False, code=place.code: self.given.emit(code))
            self._keys[place.code] = key
            key.show()
        self._lay()

    def show_counts(self, counts: Mapping[FindingCode, int], as_last: FindingCode | None) -> None:
        """How often each verdict was given, and which one Space would give."""
        for code, key in self._keys.items():
            key.set_count(counts.get(code, 0))
            key.set_as_last(code is as_last)

    def show_printed(self, printed: Mapping[str, str]) -> None:
        """What is printed on the keys, by place, as far as it is known."""
        for key in self._keys.values():
            key.set_printed(printed.get(key.place.place, key.place.printed))

    def sizeHint(self) -> QSize:
        """Room for large keys."""
        return QSize(self._width(_MOST.width()), 2 * _MOST.height() + _GAP)

    def minimumSizeHint(self) -> QSize:
        """Room for keys whose words can be read."""
        return QSize(self._width(_LEAST.width()), 2 * _LEAST.height() + _GAP)

    def _width(self, key: int) -> int:
        return round(self._columns * (key + _GAP) - _GAP)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keys grow and shrink with the room."""
        super().resizeEvent(event)
        self._lay()

    def _lay(self) -> None:
        step = (self.width() + _GAP) / self._columns
        width = min(step - _GAP, _MOST.width())
        height = min((self.height() - _GAP) / 2, _MOST.height())
        titles = [key.title for key in self._keys.values()]
        hints = [key.hint for key in self._keys.values()]
        room = width - 2 * _SIDE - 2
        fonts = (
            _fitting(titles, TypeRole.CANDLE_VERDICT, room),
            _fitting(hints, TypeRole.CANDLE_BODY, room),
        )
        for key in self._keys.values():
            key.fonts = fonts
            x, y = key.place.column * (width + _GAP), key.place.row * (height + _GAP)
            key.setGeometry(int(x), int(y), int(width), int(height))
