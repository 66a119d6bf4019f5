"""The calendar: a month with its duties, and the way to other months."""

from __future__ import annotations

from datetime import date
from math import ceil

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.calendar_grid import CalendarGrid
from hatchbook.desk.left.duty_book import DutyBook, Month
from hatchbook.desk.left.legend import DutyLegend
from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.desk.widgets.sheet import Sheet
from hatchbook.desk.words.dates import month_year, short_month_year


class CalendarPane(Sheet):
    """Follows the chosen batch and the chosen day; asks the duty book for the month that is shown.

    Signals:
        duties_wanted: the cursor wants into the duties of the chosen day.
    """

    duties_wanted = Signal()

    _rows: QVBoxLayout | None = None
    _low = False

    def __init__(
        self, context: DeskContext, actions: Actions, book: DutyBook, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._context = context
        self._actions = actions
        self._book = book
        self.grid = CalendarGrid(context.today())
        self._title = ElidedLabel("", TypeRole.BODY, bold=True)
        self._build()
        self.grid.day_wanted.connect(context.choose_day)
        self.grid.duties_wanted.connect(self.duties_wanted)
        self.grid.log_wanted.connect(actions["log_event"].trigger)
        context.day_chosen.connect(self._show_day)
        context.batch_chosen.connect(self.grid.days.show_batch)
        book.changed.connect(self.refresh)
        # The window's own action only chooses the day, which may be chosen already while another month is shown.
        actions["go_today"].triggered.connect(self._go_today)
        self.grid.days.show_batch(context.batch)
        self._show_day(context.day)

    def _build(self) -> None:
        space = tokens().spacing
        self.before = self._step("‹", self.tr("Previous month"), -1)
        self.today = FlatButton(self.tr("Today"))
        self.today.setToolTip(self._actions["go_today"].toolTip())
        self.today.clicked.connect(self._actions["go_today"].trigger)
        self.after = self._step("›", self.tr("Next month"), 1)
        head = QHBoxLayout()
        head.setContentsMargins(space.x1 + 2, 0, 0, 0)
        head.setSpacing(0)
        head.addWidget(self._title, 1)
        for button in (self.before, self.today, self.after):
            head.addWidget(button)
        self._rows = rows = QVBoxLayout(self)
        rows.setContentsMargins(space.x2, space.x1, space.x2, 3)
        rows.setSpacing(1)
        rows.addLayout(head)
        rows.addWidget(self.grid)
        rows.addWidget(DutyLegend())
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setFocusProxy(self.grid)
        self._fit()

    def _step(self, text: str, name: str, months: int) -> FlatButton:
        button = FlatButton(text)
        button.setAccessibleName(name)
        button.setToolTip(name)
        button.clicked.connect(lambda: self.show_month(self.grid.days.month.moved(months)))
        return button

    def set_low(self, *, low: bool) -> None:
        """Lower cells for a low window."""
        self._low = low
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        """Notices larger type."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self._rows is not None:
            self._fit()

    def _fit(self) -> None:
        self.grid.set_low(low=self._low)
        text = ceil(QFontMetricsF(role_font()).height())
        for button in (self.before, self.today, self.after):
            button.setFixedHeight(max(tokens().sizes.hit_min, text + 6))
        assert self._rows is not None
        self._rows.invalidate()
        self.setFixedHeight(self._rows.sizeHint().height())

    def focus_grid(self) -> None:
        """Puts the cursor on the chosen day."""
        if not self.grid.days.index_of(self._context.day).isValid():
            self._show_day(self._context.day)
        self.grid.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # ---------------------------------------------------------------- showing

    def show_month(self, month: Month) -> None:
        """Shows a month; the chosen day stays chosen."""
        if not date.min.year < month.year < date.max.year:
            return
        self.grid.days.show_month(month, self._book.month(month), self._context.zone)
        self._name_month()
        self.grid.show_chosen(self._context.day)

    def refresh(self) -> None:
        """Shows the same month as it is now."""
        self.grid.show_today(self._context.today())
        self.show_month(self.grid.days.month)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A shorter month where the long one has no room."""
        super().resizeEvent(event)
        self._name_month()

    def _name_month(self) -> None:
        month = self.grid.days.month
        first = date(month.year, month.month, 1)
        long = month_year(first)
        buttons = sum(button.width() for button in (self.before, self.today, self.after))
        room = self.width() - buttons - 2 * tokens().spacing.x4
        width = QFontMetricsF(role_font(TypeRole.BODY, bold=True)).horizontalAdvance(long)
        self._title.setText(long if width <= room else short_month_year(first))

    def _show_day(self, day: date) -> None:
        self.show_month(Month.of(day))
        index = self.grid.days.index_of(day)
        announce(self.grid, str(index.data(Qt.ItemDataRole.AccessibleTextRole)))

    def _go_today(self) -> None:
        today = self._context.today()
        self.grid.show_today(today)
        self._context.choose_day(today)
        self.show_month(Month.of(today))
