"""The bar above the chart: how many days to show, what is pointed at, what the marks mean."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from hatchbook.desk.charts.event_key import EventKey, KeyForm
from hatchbook.desk.charts.readout_words import widest_reading
from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.widgets.readout import Readout
from hatchbook.desk.widgets.segmented import Segmented

BATCH, WEEK, TWO_DAYS = "batch", "week", "48h"
DAYS = {WEEK: 7.0, TWO_DAYS: 2.0}
_LEFT, _RIGHT, _AIR = 14, 4, 12


class ChartBar(QWidget):
    """Where it is narrow the key shortens its words, and gives way to the read-out while one points.

    Signals:
        days_chosen: ``BATCH``, ``WEEK`` or ``TWO_DAYS``.
    """

    days_chosen = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.days = Segmented(
            ((BATCH, self.tr("Batch")), (WEEK, self.tr("Week")), (TWO_DAYS, self.tr("48 h"))),
            name=self.tr("Time shown"),
        )
        self.readout = Readout(name=self.tr("Chart read-out"))
        self.readout.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.key = EventKey()
        self._resting = ""
        self._pointed = False
        self._widest = 0
        row = QHBoxLayout(self)
        row.setContentsMargins(_LEFT, 6, _RIGHT, 2)
        row.setSpacing(_AIR)
        row.addWidget(self.days)
        row.addWidget(self.readout, 1)
        row.addWidget(self.key)
        self.days.chosen.connect(self.days_chosen)

    def set_resting(self, text: str) -> None:
        """What stands there while nothing is pointed at."""
        self._resting = text
        if not self._pointed:
            self.show_reading("")

    def show_reading(self, text: str) -> None:
        """What is pointed at; "" for nothing."""
        self._pointed = bool(text)
        self.share_room()
        if text:
            self.readout.set_reading(text, pointed=True)

    def share_room(self) -> None:
        """Decides how much the key may say: the words of the read-out come first."""
        free = self.width() - self.days.sizeHint().width() - _LEFT - _RIGHT - _AIR
        if not self._widest:
            self._widest = self.readout.fontMetrics().horizontalAdvance(widest_reading())
        beside = free - _AIR - self._widest
        resting = self.readout.fontMetrics().horizontalAdvance(self._resting)
        form = KeyForm.HIDDEN
        for better in (KeyForm.SHORT, KeyForm.FULL):
            if self.key.width_of(better) <= beside:
                form = better
        if form is KeyForm.HIDDEN and not self._pointed and self.key.width_of(KeyForm.SHORT) <= free:
            form = KeyForm.SHORT
        self.key.set_form(form)
        if not self._pointed:
            # Half a resting sentence says nothing.
            fits = resting + _AIR <= free - self.key.width_of(form)
            self.readout.set_reading(self._resting if fits else "", pointed=False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shares the room anew."""
        super().resizeEvent(event)
        self.share_room()

    def changeEvent(self, event: QEvent) -> None:
        """Fonts may have changed."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self._widest = 0
