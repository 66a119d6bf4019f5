"""Labels that sit on what they name: each in the first of its places that is free, the higher ranks first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter

from hatchbook.desk.charts.inks import Inks

_AIR = 3.0
"""Two labels nearer to each other than this touch."""


@dataclass(frozen=True)
class Label:
    """A text that wants a place.

    ``places``: where its corner or edge may lie, best first; each with the side of the point on which the text
    stands: ``right``, ``left`` or ``centre`` of it, and ``above``, ``below`` or ``middle``.
    ``rank``: the lower the number, the less it gives way. ``texts``: shorter and shorter, all saying the same.
    ``over_data``: it may lie over curves, on a plate of paper. ``last_places``: tried when no text fits elsewhere.
    """

    texts: Sequence[str]
    role: str
    font: QFont
    places: Sequence[tuple[QPointF, str, str]]
    rank: int
    over_data: bool = False
    last_places: Sequence[tuple[QPointF, str, str]] = ()


@dataclass(frozen=True)
class Placed:
    """A label in its place."""

    label: Label
    text: str
    rect: QRectF


@dataclass
class Room:
    """The room for labels: its bounds, and what must not be written over."""

    bounds: QRectF
    taken: list[QRectF] = field(default_factory=list)

    def is_free(self, rect: QRectF) -> bool:
        """Whether a label may lie there."""
        grown = rect.adjusted(-_AIR, 0, _AIR, 0)
        return self.bounds.contains(rect) and not any(grown.intersects(other) for other in self.taken)


def place_labels(labels: Iterable[Label], room: Room, inks: Inks) -> list[Placed]:
    """The labels that find a place, by rank; the others are left out."""
    placed: list[Placed] = []
    for label in sorted(labels, key=lambda label: label.rank):
        found = _place(label, room, inks)
        if found is not None:
            room.taken.append(found.rect)
            placed.append(found)
    return placed


def _place(label: Label, room: Room, inks: Inks) -> Placed | None:
    metrics = inks.metrics(label.font)
    for places in (label.places, label.last_places):
        for text in label.texts:
            width, height = inks.width(label.font, text), metrics.height()
            for point, across, along in places:
                rect = anchored(point, across, along, width, height)
                if room.is_free(rect):
                    return Placed(label, text, rect)
    return None


def anchored(point: QPointF, across: str, along: str, width: float, height: float) -> QRectF:
    """The rectangle of a text that stands on the given sides of a point."""
    left = {"right": point.x(), "left": point.x() - width, "centre": point.x() - width / 2}[across]
    top = {"below": point.y(), "above": point.y() - height, "middle": point.y() - height / 2}[along]
    return QRectF(left, top, width, height)


def paint_labels(painter: QPainter, placed: Iterable[Placed], inks: Inks) -> None:
    """Paints labels in the colours of what they name."""
    for one in placed:
        if one.label.over_data:
            painter.fillRect(one.rect.adjusted(-_AIR, 1, _AIR, -1), inks.scheme.alpha("page", 0.75))
        painter.setFont(one.label.font)
        painter.setPen(inks.colour(one.label.role))
        painter.drawText(one.rect, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, one.text)
