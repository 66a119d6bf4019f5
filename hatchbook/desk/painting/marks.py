"""Marks of duties and events: small solid shapes, told apart by shape alone.

All live in a field of 1 × 1 around the origin, so that they serve the calendar, the phase lane, lists and,
as they are, the plot's scatter symbols. They are put together a thousand times larger and then scaled
down, because Qt's unions and intersections flatten small curves.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from hatchbook.desk.painting.paths import disc, path_of, star
from hatchbook.trade.codes import DutyKind, EventKind

_R = 500.0
"""Half the side of the field the shapes are drawn in."""


def _box(left: float, top: float, width: float, height: float) -> QPainterPath:
    path = QPainterPath()
    path.addRect(QRectF(left, top, width, height))
    return path


def _egg() -> QPainterPath:
    return path_of(
        "M0 -500 C220 -500 390 -320 390 -95 C390 220 240 500 0 500"
        " C-240 500 -390 220 -390 -95 C-390 -320 -220 -500 0 -500 Z"
    )


def _ring() -> QPainterPath:
    """Candle: the lamp seen from the front."""
    return disc(0, 0, _R).subtracted(disc(0, 0, _R * 0.45))


def _weight() -> QPainterPath:
    """Weigh: a weight for the scales."""
    return path_of("M-275 -425 L275 -425 L500 425 L-500 425 Z")


def _padlock() -> QPainterPath:
    """Lockdown."""
    body = _box(-450, -50, 900, 500)
    shackle = disc(0, -75, 340, 400).subtracted(disc(0, -75, 150, 210))
    return body.united(shackle.intersected(_box(-600, -600, 1200, 580)))


def _broken_shell() -> QPainterPath:
    """Hatch: the lower half of a broken shell."""
    return path_of(
        "M-500 -175 L-250 150 L0 -225 L250 150 L500 -175"
        " C500 375 250 500 0 500 C-250 500 -500 375 -500 -175 Z"
    )


def _turning() -> QPainterPath:
    """Turn: two arrows that chase each other."""
    band = disc(0, 0, 410).subtracted(disc(0, 0, 240))
    gaps = path_of("M0 0 L700 -120 L700 260 Z M0 0 L-700 120 L-700 -260 Z")
    heads = path_of("M150 -60 L500 -60 L325 220 Z M-150 60 L-500 60 L-325 -220 Z")
    return band.subtracted(gaps).united(heads)


def _cut_egg() -> QPainterPath:
    """Break-out: an egg in two halves."""
    return _egg().subtracted(path_of("M-500 -40 L500 -200 L500 10 L-500 170 Z"))


def _diamond() -> QPainterPath:
    """A duty of the breeder's own."""
    return path_of("M0 -460 L400 0 L0 460 L-400 0 Z")


def _drop() -> QPainterPath:
    """Water added."""
    return path_of(
        "M0 -500 C200 -200 400 0 400 160 C400 400 200 500 0 500"
        " C-200 500 -400 400 -400 160 C-400 0 -200 -200 0 -500 Z"
    )


def _half_disc() -> QPainterPath:
    """Vent moved: a round opening, half of it open."""
    opening = QPainterPath()
    opening.moveTo(0, 0)
    opening.arcTo(QRectF(-310, -310, 620, 620), 90, -180)
    opening.closeSubpath()
    return disc(0, 0, 450).subtracted(opening)


def _open_box() -> QPainterPath:
    """Lid open."""
    return _box(-450, 0, 900, 450).united(path_of("M-450 -120 L380 -500 L450 -340 L-380 20 Z"))


def _bolt() -> QPainterPath:
    """Power cut."""
    return path_of("M100 -500 L-360 100 L-40 100 L-140 500 L360 -120 L40 -120 Z")


def _spray() -> QPainterPath:
    """Misted: three small drops."""
    drop = QTransform.fromScale(0.46, 0.46).map(_drop())
    return drop.translated(0, -255) + drop.translated(-285, 235) + drop.translated(285, 235)


def _sheet() -> QPainterPath:
    """Note: a sheet with lines and a folded corner."""
    sheet = path_of("M-380 -480 L160 -480 L380 -240 L380 480 L-380 480 Z")
    for top in (-160, 60, 280):
        sheet = sheet.subtracted(_box(-230, top, 460, 90))
    return sheet


def _empty_box() -> QPainterPath:
    """Dry run: the machine, warm and empty."""
    return _box(-450, -350, 900, 800).subtracted(_box(-280, -180, 560, 460))


def _sparkle() -> QPainterPath:
    """Cleaned: a clean pane sparkles."""
    return star(0, 0, 500, 165, 4, turn=0.0)


def _nut() -> QPainterPath:
    """Other care: a nut for the spanner."""
    nut = path_of("M-250 -433 L250 -433 L500 0 L250 433 L-250 433 L-500 0 Z")
    return nut.subtracted(disc(0, 0, _R * 0.42))


_DUTIES: dict[DutyKind, Callable[[], QPainterPath]] = {
    DutyKind.SET: _egg,
    DutyKind.TURN: _turning,
    DutyKind.CANDLE: _ring,
    DutyKind.WEIGH: _weight,
    DutyKind.LOCKDOWN: _padlock,
    DutyKind.HATCH: _broken_shell,
    DutyKind.BREAK_OUT: _cut_egg,
    DutyKind.OTHER: _diamond,
}

_EVENTS: dict[EventKind, Callable[[], QPainterPath]] = {
    EventKind.WATER: _drop,
    EventKind.VENT: _half_disc,
    EventKind.LID: _open_box,
    EventKind.POWER_CUT: _bolt,
    EventKind.TURNED: _turning,
    EventKind.MISTED: _spray,
    EventKind.NOTE: _sheet,
    EventKind.DRY_RUN: _empty_box,
    EventKind.CLEANED: _sparkle,
    EventKind.CARE: _nut,
}

EVENT_ROLES: dict[EventKind, str] = {
    EventKind.WATER: "water",
    EventKind.MISTED: "water",
    EventKind.POWER_CUT: "heat",
}
"""Colour roles of event marks; the others are `ink2`."""


@cache
def duty_mark(kind: DutyKind) -> QPainterPath:
    """The mark of a duty, in the square from −0.5 to 0.5. Do not change it; map it."""
    return _unit(_DUTIES[kind]())


@cache
def event_mark(kind: EventKind) -> QPainterPath:
    """The mark of an event, in the square from −0.5 to 0.5. Do not change it; map it."""
    return _unit(_EVENTS[kind]())


def event_role(kind: EventKind) -> str:
    """The colour role an event's mark is painted in."""
    return EVENT_ROLES.get(kind, "ink2")


def _unit(path: QPainterPath) -> QPainterPath:
    return QTransform.fromScale(0.5 / _R, 0.5 / _R).map(path)


def paint_mark(
    painter: QPainter,
    mark: QPainterPath,
    centre: QPointF,
    size: float,
    colour: QColor,
    *,
    filled: bool = True,
) -> None:
    """Paint a mark, `size` px wide, round a point: filled when done or chosen, else as an outline of 1 px."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    inner = size if filled else size - 1.5  # the line itself, and the soft edge of slanting ones
    placed = QTransform().translate(centre.x(), centre.y()).scale(inner, inner).map(mark)
    if filled:
        painter.fillPath(placed, colour)
    else:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 1.0))
        painter.drawPath(placed)
    painter.restore()
