"""The shapes by which the points of a chart tell their groups: told apart without colour."""

from __future__ import annotations

import math
from enum import Enum, auto

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from hatchbook.desk.painting.paths import disc, star

_EDGE = 1.7


class GroupShape(Enum):
    """Shapes in the order in which groups get them; ``DOT`` for all that come after."""

    CIRCLE = auto()
    TRIANGLE = auto()
    SQUARE = auto()
    DIAMOND = auto()
    POINT_UP = auto()
    CROSS = auto()
    STAR = auto()
    DOT = auto()


SHAPES = tuple(shape for shape in GroupShape if shape is not GroupShape.DOT)


def shape_path(shape: GroupShape, centre: QPointF, size: float) -> QPainterPath:
    """The outline of a shape about as large as a disc of that diameter."""
    x, y, half = centre.x(), centre.y(), size / 2
    match shape:
        case GroupShape.CIRCLE:
            return disc(x, y, half)
        case GroupShape.DOT:
            return disc(x, y, half * 0.55)
        case GroupShape.SQUARE:
            return _polygon(x, y, half * 1.25, 4, math.pi / 4)
        case GroupShape.DIAMOND:
            return _polygon(x, y, half * 1.3, 4, 0.0)
        case GroupShape.TRIANGLE:
            return _polygon(x, y - half * 0.2, half * 1.35, 3, math.pi / 2)
        case GroupShape.POINT_UP:
            return _polygon(x, y + half * 0.2, half * 1.35, 3, -math.pi / 2)
        case GroupShape.STAR:
            return star(x, y, half * 1.45, half * 0.62, 5, -math.pi / 2)
    path = QPainterPath()
    arm, thin = half * 1.2, half * 0.42
    corners = ((-thin, -arm), (thin, -arm), (thin, -thin), (arm, -thin), (arm, thin), (thin, thin))
    mirrored = (*corners, *((-across, -along) for across, along in corners))
    for number, (across, along) in enumerate(mirrored):
        point = QPointF(x + across, y + along)
        if number:
            path.lineTo(point)
        else:
            path.moveTo(point)
    path.closeSubpath()
    return path


def paint_shape(
    painter: QPainter,
    shape: GroupShape,
    centre: QPointF,
    size: float,
    colour: QColor,
    paper: QColor,
    *,
    filled: bool = False,
) -> None:
    """Paints a shape: open on paper, or filled with an edge of paper round it."""
    filled = filled or shape is GroupShape.DOT
    painter.setPen(QPen(paper if filled else colour, 1.0 if filled else _EDGE, Qt.PenStyle.SolidLine))
    painter.setBrush(colour if filled else paper)
    painter.drawPath(shape_path(shape, centre, size * (1.18 if filled else 1.0)))


def _polygon(x: float, y: float, radius: float, corners: int, turn: float) -> QPainterPath:
    path = QPainterPath()
    for corner in range(corners):
        angle = turn + 2 * math.pi * corner / corners
        point = QPointF(x + radius * math.cos(angle), y + radius * math.sin(angle))
        if corner:
            path.lineTo(point)
        else:
            path.moveTo(point)
    path.closeSubpath()
    return path
