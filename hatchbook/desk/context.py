"""What every pane of the window shares: the door, the worker, what is chosen."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

    from hatchbook.desk.door import Door
    from hatchbook.desk.settings import DeskSettings
    from hatchbook.desk.tasks import Worker


class DeskContext(QObject):
    """The door to the journal, the worker, the settings, and the batch and day that are chosen.

    Signals:
        batch_chosen: the uid of the batch to show, or None.
        day_chosen: the ``datetime.date`` whose duties to show.
        batches_filtered: the uids of the batches to which the list keeps (None: to none), and what they are called.
        filter_ended: the breeder wants to see all batches again.
        instant_shown: an instant (UTC seconds, as object) that the chart is to show: a journal line was chosen.
    """

    batch_chosen = Signal(object)
    day_chosen = Signal(object)
    batches_filtered = Signal(object, str)
    filter_ended = Signal()
    instant_shown = Signal(object)

    def __init__(
        self, door: Door, worker: Worker, settings: DeskSettings, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.door = door
        self.worker = worker
        self.settings = settings
        self._batch: str | None = None
        self._day = self.today()
        self._only: frozenset[str] | None = None

    @property
    def zone(self) -> ZoneInfo:
        """The home time zone of the open journal, or this computer's where none is open."""
        from hatchbook.desk.clock import system_zone

        return self.door.journal.zone if self.door.is_open else system_zone()

    def now(self) -> int:
        """The present instant, UTC seconds."""
        return self.door.now()

    def today(self) -> date:
        """The present date in the home time zone."""
        return datetime.fromtimestamp(self.now(), self.zone).date()

    @property
    def batch(self) -> str | None:
        """The uid of the chosen batch."""
        return self._batch

    @property
    def day(self) -> date:
        """The chosen day."""
        return self._day

    def choose_batch(self, uid: str | None) -> None:
        """Shows another batch everywhere."""
        if uid != self._batch:
            self._batch = uid
            self.batch_chosen.emit(uid)

    def filter_batches(self, uids: frozenset[str] | None, name: str) -> None:
        """Has the list keep to some batches, which are called by a name; None: it shows all again."""
        if uids != self._only:
            self._only = uids
            self.batches_filtered.emit(uids, name)

    def end_filter(self) -> None:
        """Wants all batches again, from whoever filters them."""
        self.filter_ended.emit()

    def choose_day(self, day: date) -> None:
        """Shows another day's duties everywhere."""
        if day != self._day:
            self._day = day
            self.day_chosen.emit(day)

    def show_instant(self, at: int) -> None:
        """Asks the chart to show an instant."""
        self.instant_shown.emit(at)
