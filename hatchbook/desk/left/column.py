"""The left column: batch list, calendar, duties, in the same place on every page."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter, QWidget

from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.batch_pane import BatchPane
from hatchbook.desk.left.calendar import CalendarPane
from hatchbook.desk.left.duties import DutiesPane
from hatchbook.desk.left.duty_book import DutyBook

_MINUTE_MS = 60_000
_HOUR_S = 3600
_LOW_BELOW = 690
"""Height of the column in a window of about 780 px; below it the calendar's cells are lower."""
_DUTIES, _DUTIES_LOW = 178, 106


class LeftColumn(QSplitter):
    """Batches above, the calendar, and the duties of its chosen day.

    Signals:
        copy_wanted: uid of the batch whose plan a new one is to have.
    """

    copy_wanted = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.setObjectName("columns")
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        self._context = context
        self._actions = actions
        self._low: bool | None = None
        self._today = context.today()
        self._hour = context.now() // _HOUR_S
        self.book = DutyBook(context, self)
        self.batches = BatchPane(context, actions)
        self.calendar = CalendarPane(context, actions, self.book)
        self.duties = DutiesPane(context, self.book)
        for pane in (self.batches, self.calendar, self.duties):
            self.addWidget(pane)
        for row, stretch in enumerate((1, 0, 0)):
            self.setStretchFactor(row, stretch)
        self.batches.copy_wanted.connect(self.copy_wanted)
        self.calendar.duties_wanted.connect(self.duties.focus_list)
        actions["find"].triggered.connect(self.focus_find)
        context.door.journal_changed.connect(self._take_journal)
        self.splitterMoved.connect(lambda _at, _row: self._keep())
        self._restored = self._restore()
        self._clock = QTimer(self)
        self._clock.setInterval(_MINUTE_MS)
        self._clock.timeout.connect(self.follow_clock)
        self._clock.start()
        self.reload()

    # ---------------------------------------------------------------- showing

    def reload(self) -> None:
        """Shows the open journal as it is now."""
        self.batches.reload()

    @property
    def has_batches(self) -> bool:
        """Whether the journal has any batch."""
        return self.batches.has_batches

    @property
    def first_batch(self) -> str | None:
        """The uid of the batch to show first: the running one set last, else the newest."""
        return self.batches.first_batch

    def follow_clock(self) -> None:
        """Time has gone on: duties fall due, days pass. A calendar left on today goes along with it."""
        today = self._context.today()
        if today != self._today:
            was_on_today = self._context.day == self._today
            self._today = today
            if was_on_today:
                self._context.choose_day(today)
        self.book.forget()
        hour = self._context.now() // _HOUR_S
        if hour != self._hour:
            self._hour = hour
            self.batches.reload()

    def _take_journal(self) -> None:
        # Another journal may have another zone, and in it another date.
        self._today = self._context.today()
        self._context.choose_day(self._today)
        self.reload()

    # ---------------------------------------------------------------- focus

    def focus_batches(self) -> None:
        """Puts the cursor into the batch list."""
        self._unfold()
        self.batches.focus_list()

    def focus_calendar(self) -> None:
        """Puts the cursor on the chosen day."""
        self._unfold()
        self.calendar.focus_grid()

    def focus_duties(self) -> None:
        """Puts the cursor on the first duty still to do."""
        self._unfold()
        self.duties.focus_list()

    def focus_find(self) -> None:
        """Puts the cursor into the line that searches the batches."""
        self._unfold()
        self.batches.find_line.start()

    def _unfold(self) -> None:
        if self.isHidden():
            self._actions["fold_left"].trigger()

    # ---------------------------------------------------------------- sizes

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lower cells in a low window; the rows share the height as they should until they are moved."""
        super().resizeEvent(event)
        low = self.height() < _LOW_BELOW
        if low == self._low:
            return
        self._low = low
        self.calendar.set_low(low=low)
        if not self._restored:
            duties = _DUTIES_LOW if low else _DUTIES
            calendar = self.calendar.height()
            self.setSizes([max(self.height() - calendar - duties - 2, 0), calendar, duties])

    def _restore(self) -> bool:
        kept = self._context.settings.get(settings.LEFT_ROWS)
        return bool(kept) and self.restoreState(QByteArray(kept))

    def _keep(self) -> None:
        self._restored = True
        self._context.settings.keep(settings.LEFT_ROWS, bytes(self.saveState().data()))
