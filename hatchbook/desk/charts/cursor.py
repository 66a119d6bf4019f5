"""What the chart points at: an instant, its reading, or an event; moved by the pointer and by keys alike."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.scale import DayScale
from hatchbook.journal import Event
from hatchbook.trade.instants import DAY_S

_SNAP_PX = 14.0
_SNAP_IN_GAP_PX = 3.0


class ChartCursor(QObject):
    """Stands at an instant (``at``, UTC seconds), or at none.

    ``index`` is the reading that stands for the instant, None where nothing is known of it; ``of_event`` the event
    pointed at.

    Signals:
        moved: it stands elsewhere, or nowhere any more.
    """

    moved = Signal()

    def __init__(self, scale: DayScale, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._scale = scale
        self._material: BatchMaterial | None = None
        self.at: int | None = None
        self.index: int | None = None
        self.of_event: Event | None = None

    def take(self, material: BatchMaterial | None, *, same_batch: bool = False) -> None:
        """Moves in another batch, and stands nowhere; in the same one with other readings it stays where it is."""
        self._material = material
        at, event = (self.at, self.of_event) if same_batch else (None, None)
        if event is not None and (material is None or event not in material.events):
            event = None
        self.point_at(at, event)

    def point_at(self, at: int | None, event: Event | None = None) -> None:
        """Stands at the reading nearest to an instant; at the instant itself where there is none, or an event."""
        index = None
        if at is not None and self._material is not None:
            index = self._reading_near(self._material, at)
            if index is not None and event is None:
                at = int(self._material.curves.at[index])
        if (at, index, event) != (self.at, self.index, self.of_event):
            self.at, self.index, self.of_event = at, index, event
            self.moved.emit()

    def _reading_near(self, material: BatchMaterial, at: int) -> int | None:
        """The reading that stands for an instant: the nearest one, unless nothing is known of the instant."""
        index = material.nearest(at)
        if index is None:
            return None
        instants = material.curves.at
        gap = material.gap_at(at)
        if gap is None and instants[0] <= at <= instants[-1]:
            return index
        distance = abs(int(instants[index]) - at) / DAY_S * self._scale.px_per_day
        return index if distance <= (_SNAP_PX if gap is None else _SNAP_IN_GAP_PX) else None

    # ---------------------------------------------------------------- steps

    def step(self, direction: int) -> None:
        """Goes one reading on (1) or back (−1)."""
        material = self._material
        if material is None or not material.has_readings or self._began(material):
            return
        assert self.at is not None
        here = material.nearest(self.at)
        assert here is not None
        # Between two readings the nearest one may already lie that way.
        beyond = (int(material.curves.at[here]) - self.at) * direction > 0
        self.go_to_reading(here if beyond else here + direction)

    def step_day(self, direction: int) -> None:
        """Goes a day on or back, to the reading nearest to that."""
        material = self._material
        if material is None or not material.has_readings or self._began(material):
            return
        assert self.at is not None
        nearest = material.nearest(self.at + direction * DAY_S)
        assert nearest is not None
        self.go_to_reading(nearest)

    def _began(self, material: BatchMaterial) -> bool:
        """Begins where one looks, at the last reading in view, if it stood nowhere."""
        if self.at is not None:
            return False
        seen = material.nearest(min(self._scale.at_of(self._scale.high), material.now))
        assert seen is not None
        self.go_to_reading(seen)
        return True

    def go_to_reading(self, index: int) -> None:
        """Goes to a reading by its number, to the first or the last where there is no such number."""
        if self._material is not None and self._material.has_readings:
            instants = self._material.curves.at
            self.point_at(int(instants[min(max(index, 0), instants.size - 1)]))

    def go_to_last(self) -> None:
        """Goes to the last reading."""
        if self._material is not None:
            self.go_to_reading(self._material.curves.at.size - 1)

    def next_event(self, direction: int) -> None:
        """Goes to the event after (1) or before (−1) the one it stands at, or the instant it stands at."""
        if self._material is None or not self._material.events:
            return
        events = self._material.events
        if self.of_event in events:
            number = events.index(self.of_event) + direction
        else:
            here = self.at
            if here is None:
                here = self._scale.at_of(self._scale.low if direction > 0 else self._scale.high)
            earlier = sum(event.at < here for event in events)
            number = earlier if direction > 0 else earlier - 1
        event = events[min(max(number, 0), len(events) - 1)]
        self.point_at(event.at, event)
