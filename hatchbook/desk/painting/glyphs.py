"""Paints the glyph of an egg's fate.

Shape and amount of ink carry the fate; colour only repeats it.
"""

from __future__ import annotations

from bisect import bisect_right

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPen

from hatchbook.desk.painting import egg_living, egg_lost
from hatchbook.desk.painting.egg_layers import FIELD, Drawing, Layer
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.trade.codes import Fate

_LAYERS: dict[Fate, tuple[Layer, ...]] = {**egg_living.DRAWINGS, **egg_lost.DRAWINGS}

# Size of the glyph and width of its lines, both in px; between them straight.
_STROKES = ((12.0, 1.05), (18.0, 1.25), (32.0, 1.5), (96.0, 2.2), (300.0, 3.4))


def drawing_for(size: float) -> Drawing:
    """Which of the three drawings is used at a size in px."""
    if size <= 22:
        return Drawing.S
    return Drawing.M if size <= 56 else Drawing.L


def stroke_width(size: float) -> float:
    """The width in px of the lines of a glyph of a size in px."""
    smallest, largest = _STROKES[0], _STROKES[-1]
    if size <= smallest[0]:
        # Below 12 px lines shrink along, so that they stay inside the field.
        return smallest[1] * size / smallest[0]
    if size >= largest[0]:
        return largest[1]
    index = bisect_right([at for at, _ in _STROKES], size)
    (size_a, width_a), (size_b, width_b) = _STROKES[index - 1], _STROKES[index]
    return width_a + (width_b - width_a) * (size - size_a) / (size_b - size_a)


def paint_egg(painter: QPainter, rect: QRectF, fate: Fate, scheme: Scheme) -> None:
    """Paint the glyph of a fate in the middle of `rect`, as large as fits. Nothing falls outside it.

    A caller that wants it dim sets the painter's opacity.
    """
    side = min(rect.width(), rect.height())
    if side <= 0:
        return
    scale = side / FIELD
    drawing = drawing_for(side)
    line = stroke_width(side) / scale
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.x() + (rect.width() - side) / 2, rect.y() + (rect.height() - side) / 2)
    painter.scale(scale, scale)
    for layer in _LAYERS[fate]:
        if drawing & layer.on:
            painter.setBrush(QBrush(scheme.colour(layer.fill)) if layer.fill else Qt.BrushStyle.NoBrush)
            painter.setPen(_pen(layer, line, scheme))
            painter.drawPath(layer.path)
    painter.restore()


def _pen(layer: Layer, line: float, scheme: Scheme) -> QPen:
    if layer.stroke is None:
        return QPen(Qt.PenStyle.NoPen)
    pen = QPen(scheme.colour(layer.stroke), line * layer.width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if layer.dash is None:
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    else:
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern(list(layer.dash))
    return pen
