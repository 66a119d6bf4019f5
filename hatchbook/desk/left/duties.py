"""The duties of the chosen day: what is to do, and what was done."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.add_duty import AddDutyDialog
from hatchbook.desk.left.duties_model import LINE_ROLE
from hatchbook.desk.left.duty_book import DutyBook
from hatchbook.desk.left.duty_list import DutyList
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.sheet import Sheet
from hatchbook.desk.words.dates import long_weekday, weekday_of, weekday_of_year
from hatchbook.figures.results import DutyLine
from hatchbook.journal import Duty

LEAST_HEIGHT = 96


class DutiesPane(Sheet):
    """Follows the chosen day; ticks go into the journal at once, and undo takes them back."""

    def __init__(self, context: DeskContext, book: DutyBook, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._book = book
        self._day = context.day
        self.list = DutyList(self._tick)
        self.title = ElidedLabel("", TypeRole.BODY, bold=True)
        self.progress = Label("", TypeRole.CAPTION, "ink3")
        self.add = FlatButton("+")
        self._build()
        self.list.batch_wanted.connect(context.choose_batch)
        self.list.add_wanted.connect(self.add_duty)
        self.list.remove_wanted.connect(self._remove)
        self.add.clicked.connect(self.add_duty)
        context.day_chosen.connect(self._show_day)
        book.changed.connect(self.refresh)
        self._show_day(context.day)

    def _build(self) -> None:
        space = tokens().spacing
        self.add.setAccessibleName(self.tr("Add duty"))
        self.add.setToolTip(self.tr("Add a duty of your own to this day"))
        self.add.setMinimumSize(QSize(tokens().sizes.hit_min, tokens().sizes.hit_min))
        self.add.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        head = QHBoxLayout()
        head.setContentsMargins(space.x3, 0, space.x1, 0)
        head.setSpacing(space.x1)
        head.addWidget(self.title, 1)
        head.addWidget(self.progress)
        head.addWidget(self.add)
        empty = QWidget()
        quiet = QVBoxLayout(empty)
        quiet.setContentsMargins(space.x3, 2, space.x3, 0)
        quiet.addWidget(Label(self.tr("Nothing to do on this day."), TypeRole.CAPTION, "ink2", wraps=True))
        quiet.addStretch()
        self._empty = empty
        self._places = QStackedLayout()
        self._places.addWidget(self.list)
        self._places.addWidget(empty)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 3, 0, 2)
        rows.setSpacing(1)
        rows.addLayout(head)
        rows.addLayout(self._places, 1)
        self.setMinimumHeight(LEAST_HEIGHT)

    # ---------------------------------------------------------------- showing

    def refresh(self) -> None:
        """Shows the same day as it is now."""
        duties = self.list.duties
        current = self.list.currentIndex().data(LINE_ROLE)
        door = self._context.door
        can_tick = door.is_open and not door.journal.read_only
        lines = self._book.of_day(self._day)
        duties.show_lines(lines, self._context.zone, can_tick=can_tick)
        if not self.list.currentIndex().isValid() and isinstance(current, DutyLine):
            self.list.setCurrentIndex(duties.index_of(current.duty.uid))
        self.add.setEnabled(can_tick)
        self.progress.setText(
            self.tr("{done} of {all} done").format(done=duties.done, all=len(lines)) if lines else ""
        )
        had_focus = self.list.hasFocus()
        self._places.setCurrentWidget(self.list if lines else self._empty)
        if had_focus and not lines:
            self.add.setFocus(Qt.FocusReason.OtherFocusReason)
        self._name_day()

    def focus_list(self) -> None:
        """Puts the cursor on the first duty still to do; on the way to add one where there is none."""
        target = self.list if self.list.duties.rowCount() else self.add
        target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A shorter date where the long one has no room."""
        super().resizeEvent(event)
        self._name_day()

    def _show_day(self, day: date) -> None:
        self._day = day
        self.refresh()
        self.list.setCurrentIndex(self.list.duties.index(-1))
        self.list.show_first_open()

    def _name_day(self) -> None:
        day = self._day
        here = day.year == self._context.today().year
        long = long_weekday(day) if here else weekday_of_year(day)
        metrics = QFontMetricsF(role_font(TypeRole.BODY, bold=True))
        taken = QFontMetricsF(role_font(TypeRole.CAPTION)).horizontalAdvance(self.progress.text())
        room = self.width() - taken - self.add.width() - 3 * tokens().spacing.x3
        self.title.setText(long if metrics.horizontalAdvance(long) <= room or not here else weekday_of(day))

    # ---------------------------------------------------------------- changing

    def add_duty(self) -> None:
        """Asks for a duty of the breeder's own."""
        if self._context.door.is_open and not self._context.door.journal.read_only:
            AddDutyDialog(self._context, self._day, self.window()).open()

    def _tick(self, line: DutyLine, done: bool) -> bool:
        now = self._context.now()
        if done:
            change = self._context.door.run(lambda journal: journal.duties.tick(line.duty, now))
        else:
            change = self._context.door.run(lambda journal: journal.duties.untick(line.duty))
        return change is not None

    def _remove(self, duty: Duty) -> None:
        self._context.door.run(lambda journal: journal.duties.remove(duty))
