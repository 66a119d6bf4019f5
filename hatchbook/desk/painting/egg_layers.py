"""What the drawings of the eggs are made of: layers in a field of 32 × 32, blunt end up.

Eggs stand with the blunt end up, in the tray and before the lamp, so the air cell is on top.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Flag, auto

from PySide6.QtGui import QPainterPath

from hatchbook.desk.painting.paths import path_of

FIELD = 32.0
"""Side of the field all egg drawings live in."""


class Drawing(Flag):
    """The three drawings of a glyph: small to 22 px, middle to 56 px, large above."""

    S = auto()
    M = auto()
    L = auto()


S, M, L = Drawing.S, Drawing.M, Drawing.L
ML = M | L
SM = S | M
ALL = S | M | L


@dataclass(frozen=True)
class Layer:
    """One path: filled with a colour role, stroked with another, or both."""

    on: Drawing
    """The drawings the layer belongs to."""
    path: QPainterPath
    fill: str | None = None
    stroke: str | None = None
    width: float = 1.0
    """As a multiple of the glyph's own stroke."""
    dash: tuple[float, float] | None = None
    """Dash and gap in multiples of the line's width."""


EGG = path_of(
    "M16 2.2 C22.2 2.2 26.8 7.2 26.8 13.5 C26.8 21.3 22.9 29.8 16 29.8"
    " C9.1 29.8 5.2 21.3 5.2 13.5 C5.2 7.2 9.8 2.2 16 2.2 Z"
)


def _side(line: str, far: float) -> QPainterPath:
    """The part of the egg on one side of a line that runs from left to right across the field."""
    area = path_of(line)
    area.lineTo(34, far)
    area.lineTo(-2, far)
    area.closeSubpath()
    return EGG.intersected(area)


def below(line: str) -> QPainterPath:
    """The egg below a line."""
    return _side(line, 36)


def above(line: str) -> QPainterPath:
    """The egg above a line."""
    return _side(line, -4)


AIR_CELL = path_of("M6.4 9.15 Q16 12.5 25.6 9.15")
"""The lower edge of the air cell."""
BODY = below("M-2 8.4 L5.6 8.9 Q16 12.6 26.4 8.9 L34 8.4")
"""The egg below its air cell."""
SLASH = path_of("M6 27 L26 4.8")
"""The stroke through an egg or chick that was taken out."""
