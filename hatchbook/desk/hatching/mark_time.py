"""The time that pips and chicks are noted for: now, or some quarter hours ago, or typed."""

from __future__ import annotations

from collections.abc import Callable
from zoneinfo import ZoneInfo

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.rounds.key_cap import KeyCap
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.words.dates import clock_time, weekday_date
from hatchbook.desk.words.numbers import duration_text
from hatchbook.trade.instants import InstantError

QUARTER_S = 900
_TICK_MS = 10_000


def quarter_from(at: int, quarters: int) -> int:
    """The instant so many quarter hours from another: 14:07 is followed by 14:15 and comes after 14:00."""
    steps = at // QUARTER_S if quarters > 0 else -(-at // QUARTER_S)
    return (steps + quarters) * QUARTER_S


class MarkTime(QWidget):
    """Goes with the clock until it is shifted by quarter hours or typed; "Now" lets it go with the clock again.

    Signals:
        moved: it was shifted, typed or set to now; not sent as the clock goes on.
        minute_passed: the clock shows another minute; what is told as "for 5 min" may be told anew.
    """

    moved = Signal()
    minute_passed = Signal()

    def __init__(
        self, zone: ZoneInfo, edit: InstantEdit, now: Callable[[], int], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._zone, self._now = zone, now
        self._follows = True
        self.edit = edit
        self.clock = Label("", role="figure")
        self.when = ElidedLabel("", ink="ink2")
        self.earlier = FlatButton(self.tr("− 15 min"))
        self.earlier.setAccessibleName(self.tr("A quarter of an hour earlier"))
        self.earlier.setToolTip(self.tr("A quarter of an hour earlier  (− or ,)"))
        self.later = FlatButton(self.tr("+ 15 min"))
        self.later.setAccessibleName(self.tr("A quarter of an hour later"))
        self.later.setToolTip(self.tr("A quarter of an hour later  (+ or .)"))
        self.now = FlatButton(self.tr("Now"))
        self.now.setToolTip(self.tr("As the clock goes  (0)"))
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(self.clock)
        row.addStretch(1)
        row.addWidget(self.earlier)
        row.addWidget(self.later)
        row.addWidget(self.now)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        rows.addLayout(row)
        below = QHBoxLayout()
        below.setSpacing(6)
        below.addWidget(self.when, 1)
        below.addWidget(KeyCap("W"))
        below.addWidget(self.edit)
        rows.addLayout(below)
        self._timer = QTimer(self)
        self._timer.setInterval(_TICK_MS)
        self._timer.timeout.connect(self._tick)
        self._minute = self._now() // 60
        self.earlier.clicked.connect(lambda: self.shift(-1))
        self.later.clicked.connect(lambda: self.shift(1))
        self.now.clicked.connect(self.to_now)
        self.edit.edited.connect(self._typed)
        self.setAccessibleName(self.tr("Time of what is noted"))
        self._show()

    @property
    def follows_clock(self) -> bool:
        """Whether it is now, whenever that is."""
        return self._follows

    def instant(self) -> int:
        """The instant, UTC seconds.

        Raises:
            InstantError: the clock never showed the time that was typed.
        """
        return self._now() if self._follows else self.edit.instant()

    def shift(self, quarters: int) -> None:
        """Moves by quarter hours, from now to the quarter before it; never past now."""
        try:
            at = self.instant()
        except InstantError:
            at = self._now()
        at = quarter_from(at, quarters)
        if at >= self._now():
            self.to_now()
            return
        self._follows = False
        self._write(at)
        self._show()
        self.moved.emit()

    def to_now(self) -> None:
        """Goes with the clock again."""
        self._follows = True
        self._show()
        self.moved.emit()

    def _tick(self) -> None:
        minute = self._now() // 60
        if minute != self._minute:
            self._minute = minute
            self._show()
            self.minute_passed.emit()

    def _typed(self) -> None:
        self._follows = False
        self._show()
        self.moved.emit()

    def _write(self, at: int) -> None:
        self.edit.blockSignals(True)
        try:
            self.edit.set_instant(at)
        finally:
            self.edit.blockSignals(False)

    def _show(self) -> None:
        if self._follows and not self.edit.field.hasFocus():
            self._write(self._now())
        try:
            at = self.instant()
        except InstantError as error:
            self.clock.setText("–")
            self.when.setText(str(error))
            return
        self.clock.setText(clock_time(at, self._zone))
        day = weekday_date(at, self._zone)
        ago = self._now() - at
        if self._follows:
            sentence = self.tr("{day}, now")
        elif ago < 0:
            sentence = self.tr("{day}, in {time}")
        else:
            sentence = self.tr("{day}, {time} ago")
        self.when.setText(sentence.format(day=day, time=duration_text(ago)))
        self.setAccessibleDescription(f"{self.clock.text()} {self.when.text()}")

    def showEvent(self, event: QShowEvent) -> None:
        """The clock is followed while it is to be seen."""
        super().showEvent(event)
        self._timer.start()
        self._show()

    def hideEvent(self, event: QHideEvent) -> None:
        """Nothing ticks unseen."""
        super().hideEvent(event)
        self._timer.stop()
