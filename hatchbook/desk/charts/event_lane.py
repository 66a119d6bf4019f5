"""The lane of events: what was done to the machine and what befell it, on the same days as the curves."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from hatchbook.desk.charts.clusters import Spot, arrange
from hatchbook.desk.charts.drawing import horizontal, vertical
from hatchbook.desk.charts.event_words import event_tip
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.painting.marks import event_role
from hatchbook.desk.theme.tokens import tokens
from hatchbook.journal import Event
from hatchbook.trade.codes import EventKind

_MARK, _SMALL_MARK = 12.0, 10.5
_PITCH = 12.5
_HIT = 12.0
_LASTING = frozenset({EventKind.LID, EventKind.POWER_CUT})


class EventLane(Row):
    """Marks by kind; one of them may be ringed because its journal line is chosen."""

    height = float(tokens().sizes.events_lane)

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        self._material: BatchMaterial | None = None
        self._zone: ZoneInfo | None = None
        self._spots: list[Spot] = []
        self._ringed: str | None = None

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo) -> None:
        """Shows the events of another batch, or other ones of the same."""
        self._material, self._zone = material, zone
        self._spots = []

    @property
    def ringed(self) -> str | None:
        """The uid of the event with a ring."""
        return self._ringed

    def ring(self, uid: str | None) -> None:
        """Puts a ring round an event's mark."""
        self._ringed = uid
        self.repaint()

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints marks, and a bar under what lasted."""
        painter.setPen(inks.pen("rule_strong"))
        vertical(painter, self.plot.left(), self.plot)
        painter.setPen(inks.pen("rule"))
        horizontal(painter, self.area.top(), self.plot)
        material = self._material
        if material is None:
            return
        painter.save()
        painter.setClipRect(self.area.adjusted(0, 0, 12, 0))
        painter.setPen(inks.pen("band_edge"))
        for phase in material.phases[1:]:
            if self.scale.sees(phase.from_day):
                vertical(painter, self.scale.px(phase.from_day), self.plot)
        if self.scale.sees(self.scale.day_of(material.now)):
            painter.setPen(inks.pen("ink", tokens().lines.now))
            vertical(painter, self.scale.px_of(material.now), self.plot)
        places = [self.scale.px_of(event.at) for event in material.events]
        between = (self.plot.left(), self.plot.right() + _PITCH)
        self._spots = arrange(places, _PITCH, rows=2, between=between)
        for spot in self._spots:
            if self.plot.left() - 3 < spot.x < self.plot.right() + 3:
                self._draw_spot(painter, inks, material, spot)
        painter.restore()

    def _draw_spot(self, painter: QPainter, inks: Inks, material: BatchMaterial, spot: Spot) -> None:
        centre, event = self._centre(spot), material.events[spot.members[0]]
        size = _MARK if spot.rows == 1 else _SMALL_MARK
        plate = QRectF(centre.x() - size / 2, centre.y() - size / 2, size, size)
        painter.fillRect(plate.adjusted(-0.5, 0, 0.5, 0), inks.colour("page"))
        if any(material.events[member].uid == self._ringed for member in spot.members):
            painter.setPen(QPen(inks.colour("focus"), 1.6))
            painter.setBrush(inks.colour("select"))
            painter.drawRoundedRect(plate.adjusted(-2.5, -2, 2.5, 2), 4, 4)
        if spot.is_crowd:
            painter.setFont(inks.small)
            painter.setPen(inks.colour("ink2"))
            align = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
            painter.drawText(plate, align, f"+{len(spot.members)}")
            return
        role = event_role(event.kind)
        # Hollow: the curve tells of it, nobody logged it.
        inks.draw_mark(painter, event.kind, centre, size, role, filled=event.uid not in material.found_cuts)
        if event.kind in _LASTING and event.ends_at is not None:
            left, right = self.scale.px_of(event.at), self.scale.px_of(event.ends_at)
            if right - left > 3:
                painter.fillRect(QRectF(left, self.area.bottom() - 3, right - left, 2), inks.colour(role))

    def _centre(self, spot: Spot) -> QPointF:
        height = self.area.height()
        return QPointF(spot.x, self.area.top() + 1 + (height - 2) * (spot.row + 0.5) / spot.rows)

    # ---------------------------------------------------------------- pointing

    def events_at(self, point: QPointF) -> tuple[Event, ...]:
        """The events whose mark is under a point, the nearest mark's."""
        if self._material is None or not self.area.contains(point):
            return ()
        near = [spot for spot in self._spots if abs(spot.x - point.x()) <= _HIT]
        if not near:
            return ()
        best = min(near, key=lambda spot: (self._centre(spot) - point).manhattanLength())
        return tuple(self._material.events[member] for member in best.members)

    def tip(self, point: QPointF) -> str:
        """What happened, in words."""
        if self._zone is None or self._material is None:
            return ""
        zone, material = self._zone, self._material
        return "\n".join(event_tip(event, material, zone) for event in self.events_at(point))
