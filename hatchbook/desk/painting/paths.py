"""Building blocks of the drawings: a small reader of path descriptions, and a few shapes.

Descriptions use the upper-case commands M L C Q Z of SVG paths, so that a shape can be tried out in any
drawing program.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

_TOKEN = re.compile(r"([A-Za-z])|(-?\d*\.?\d+)")


def path_of(description: str) -> QPainterPath:
    """The path of a description such as "M0 0 L10 0 L5 8 Z". ValueError for an unknown command."""
    path = QPainterPath()
    for command, values in _commands(description):
        match command:
            case "M":
                path.moveTo(values[0], values[1])
            case "L":
                path.lineTo(values[0], values[1])
            case "Q":
                path.quadTo(*values)
            case "C":
                path.cubicTo(*values)
            case "Z":
                path.closeSubpath()
    return path


_ARGUMENTS = {"M": 2, "L": 2, "Q": 4, "C": 6, "Z": 0}


def _commands(description: str) -> Iterator[tuple[str, list[float]]]:
    """Commands with their numbers; a command repeated without its letter is given back with it."""
    command = ""
    pending: list[float] = []
    for match in _TOKEN.finditer(description):
        letter, number = match.groups()
        if letter:
            if letter not in _ARGUMENTS:
                raise ValueError(f"Path command {letter} is not known: {description}")
            if pending:
                raise ValueError(f"Numbers are missing before {letter}: {description}")
            command = letter
            if command == "Z":
                yield command, []
            continue
        if not command or command == "Z":
            raise ValueError(f"A number without a command: {description}")
        pending.append(float(number))
        if len(pending) == _ARGUMENTS[command]:
            yield command, pending
            pending = []
            if command == "M":
                command = "L"
    if pending:
        raise ValueError(f"Numbers are missing at the end: {description}")


def disc(x: float, y: float, radius: float, radius_y: float | None = None) -> QPainterPath:
    """A circle, or an ellipse when the second radius is given."""
    path = QPainterPath()
    path.addEllipse(QPointF(x, y), radius, radius if radius_y is None else radius_y)
    return path


def discs(*places: tuple[float, float, float]) -> QPainterPath:
    """Several circles (x, y, radius) as one path."""
    path = QPainterPath()
    for x, y, radius in places:
        path.addEllipse(QPointF(x, y), radius, radius)
    return path


def star(x: float, y: float, outer: float, inner: float, points: int, turn: float = 0.2) -> QPainterPath:
    """A star; `turn` in radians."""
    path = QPainterPath()
    for corner in range(2 * points):
        radius = inner if corner % 2 else outer
        angle = turn + math.pi * corner / points
        place = QPointF(x + radius * math.cos(angle), y + radius * math.sin(angle))
        if corner == 0:
            path.moveTo(place)
        else:
            path.lineTo(place)
    path.closeSubpath()
    return path
