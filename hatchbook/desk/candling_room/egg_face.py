"""The egg under the lamp: its place, large, and how it was seen last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.egg_layers import EGG, FIELD
from hatchbook.desk.painting.glyphs import paint_egg, stroke_width
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.trade.codes import Fate

_DIM = 0.62
_LARGEST = 420
#: So many drawings of eggs are kept.
_KEPT = 24
_GAP, _BETWEEN = 10, 3
_WRAPPED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)


@dataclass(frozen=True)
class Face:
    """What is shown: a title, an egg or none, lines below it; the first line is the strongest.

    ``bright``: the egg was seen now, not some days ago.
    """

    title: str
    fate: Fate | None
    lines: tuple[str, ...]
    bright: bool = False


@dataclass(frozen=True)
class _Line:
    text: str
    font: QFont
    ink: str
    height: float


class EggFace(ThemedWidget):
    """Title, egg, and lines, in the middle of the room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._face = Face("", None, ())
        self._drawn: dict[tuple[str, Fate | None, bool, int, float], QPixmap] = {}
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def face(self) -> Face:
        """What is shown."""
        return self._face

    def show_face(self, face: Face) -> None:
        """Shows another egg, or the same one as it is now."""
        if face != self._face:
            self._face = face
            self.setAccessibleName(face.title)
            self.setAccessibleDescription(". ".join(line for line in face.lines if line))
            self.update()

    def minimumSizeHint(self) -> QSize:
        """An egg that can still be made out."""
        return QSize(170, 300)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The face."""
        scheme, face = self.scheme, self._face
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            area = QRectF(self.rect())
            title = role_font(TypeRole.CANDLE_BIG)
            # A long title gets smaller rather than cut.
            while (
                QFontMetricsF(title).horizontalAdvance(face.title) > area.width() and title.pointSizeF() > 12
            ):
                title.setPointSizeF(title.pointSizeF() * 0.85)
            painter.setFont(title)
            painter.setPen(scheme.ink)
            high = QFontMetricsF(role_font(TypeRole.CANDLE_BIG)).height()
            lines = self._lines(area.width())
            low = sum(line.height for line in lines)
            side = min(area.width(), area.height() - high - low - 2 * _GAP, _LARGEST)
            drawn = side if face.fate is not None else 0.0
            top = area.top() + max((area.height() - high - low - drawn - 2 * _GAP) / 2, 0) * 0.6
            head = QRectF(area.left(), top, area.width(), high)
            painter.drawText(head, Qt.AlignmentFlag.AlignCenter, face.title)
            top += high + _GAP
            if face.fate is not None and side > 0:
                self._paint_egg(painter, QRectF(area.center().x() - side / 2, top, side, side))
                top += side
            top += _GAP
            self._paint_lines(painter, lines, area, top)

    def _lines(self, width: float) -> list[_Line]:
        """Each line with its font and height; a long one takes several rows."""
        lines = []
        for at, text in enumerate(self._face.lines):
            role = TypeRole.CANDLE_BODY if at else TypeRole.CANDLE_VERDICT
            font = role_font(role, bold=self._face.bright and not at)
            room = QRectF(0, 0, width, 10_000)
            needed = QFontMetricsF(font).boundingRect(room, _WRAPPED, text)
            lines.append(_Line(text, font, "ink2" if at else "ink", needed.height() + _BETWEEN))
        return lines

    def _paint_lines(self, painter: QPainter, lines: Sequence[_Line], area: QRectF, top: float) -> None:
        for line in lines:
            painter.setFont(line.font)
            painter.setPen(self.scheme.colour(line.ink))
            painter.drawText(QRectF(area.left(), top, area.width(), line.height), _WRAPPED, line.text)
            top += line.height

    def _paint_egg(self, painter: QPainter, square: QRectF) -> None:
        """Blits the egg; it is drawn once for each look, size and light, as that takes longer than all the rest."""
        face, ratio = self._face, self.devicePixelRatioF()
        side = int(square.width())
        look = (self.scheme.name, face.fate, face.bright, side, ratio)
        drawn = self._drawn.get(look)
        if drawn is None:
            if len(self._drawn) >= _KEPT:
                self._drawn.clear()
            drawn = self._drawn[look] = self._draw_egg(side, ratio)
        painter.drawPixmap(square.topLeft(), drawn)

    def _draw_egg(self, side: int, ratio: float) -> QPixmap:
        """As it was seen, dim unless that was now; the outline is bright, for this egg is before the lamp."""
        fate, scheme = self._face.fate, self.scheme
        assert fate is not None
        drawn = QPixmap(QSize(side, side) * ratio)
        drawn.setDevicePixelRatio(ratio)
        drawn.fill(Qt.GlobalColor.transparent)
        with QPainter(drawn) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setOpacity(1.0 if self._face.bright else _DIM)
            paint_egg(painter, QRectF(0, 0, side, side), fate, scheme)
            painter.setOpacity(1.0)
            painter.scale(side / FIELD, side / FIELD)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(scheme.ink, 1.25 * stroke_width(side) * FIELD / side))
            painter.drawPath(EGG)
        return drawn
