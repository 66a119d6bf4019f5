"""Six weeks of days as a table: what each day asks for, what a batch goes through on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum, auto
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.left.duty_book import COLUMNS, ROWS, Month, first_weekday
from hatchbook.desk.words.duties import duties_of_day
from hatchbook.figures.results import CalendarFigures, Span
from hatchbook.trade.codes import DutyKind

Index = QModelIndex | QPersistentModelIndex

DAY_ROLE = Qt.ItemDataRole.UserRole + 1
DATE_ROLE = Qt.ItemDataRole.UserRole + 2
NARROW_ROLE = Qt.ItemDataRole.UserRole + 3

_MOST_MARKS = 3
_NOWHERE = QModelIndex()


class Stretch(Enum):
    """What the line at the foot of a day says of the chosen batch."""

    NONE = auto()
    TURNING = auto()
    LOCKDOWN = auto()


@dataclass(frozen=True)
class DayCell:
    """All that is painted of a day.

    ``marks``: kinds with whether they are the chosen batch's or nobody's in particular; ``more``: there are
    others. ``begins`` and ``ends``: the stretch does so on this day.
    """

    day: date
    in_month: bool
    is_today: bool
    marks: tuple[tuple[DutyKind, bool], ...]
    more: bool
    stretch: Stretch
    begins: bool
    ends: bool


class CalendarModel(QAbstractTableModel):
    """The days of a month and of the weeks around it.

    Roles: ``DAY_ROLE`` the ``DayCell``, ``DATE_ROLE`` its date; of a weekday ``NARROW_ROLE`` its
    letter.
    """

    def __init__(self, today: date, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._month = Month.of(today)
        self._weekday = first_weekday()
        self._today = today
        self._batch: str | None = None
        self._figures = CalendarFigures({}, {}, ())
        self._zone = ZoneInfo("UTC")

    # ---------------------------------------------------------------- showing

    def show_month(self, month: Month, figures: CalendarFigures, zone: ZoneInfo) -> None:
        """Shows a month, or the same one as it is now."""
        self._month, self._figures, self._zone = month, figures, zone
        if self._weekday != first_weekday():
            self._weekday = first_weekday()
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, COLUMNS - 1)
        self._tell()

    def show_today(self, today: date) -> None:
        """Marks another day as the present one."""
        if today != self._today:
            self._today = today
            self._tell()

    def show_batch(self, uid: str | None) -> None:
        """Sets the duties and the stretch of a batch off from the others'."""
        if uid != self._batch:
            self._batch = uid
            self._tell()

    def _tell(self) -> None:
        self.dataChanged.emit(self.index(0, 0), self.index(ROWS - 1, COLUMNS - 1))

    @property
    def month(self) -> Month:
        """The month that is shown."""
        return self._month

    # ---------------------------------------------------------------- days

    def day_at(self, row: int, column: int) -> date:
        """The day in a cell."""
        return self._month.first_shown(self._weekday) + timedelta(days=row * COLUMNS + column)

    def index_of(self, day: date) -> QModelIndex:
        """The cell of a day; an invalid index where it is not shown."""
        number = (day - self.day_at(0, 0)).days
        return self.index(*divmod(number, COLUMNS)) if 0 <= number < ROWS * COLUMNS else QModelIndex()

    def cell_of(self, day: date) -> DayCell:
        """All that is painted of a day."""
        marks = self._marks_of(day)
        many = len(marks) > _MOST_MARKS
        span = self._span_on(day)
        lockdown = span is not None and day >= span.lockdown_on
        stretch = Stretch.NONE if span is None else Stretch.LOCKDOWN if lockdown else Stretch.TURNING
        return DayCell(
            day=day,
            in_month=Month.of(day) == self._month,
            is_today=day == self._today,
            marks=marks[: _MOST_MARKS - 1] if many else marks,
            more=many,
            stretch=stretch,
            begins=span is not None and day == span.set_on,
            ends=span is not None and day == span.hatch_on,
        )

    def _marks_of(self, day: date) -> tuple[tuple[DutyKind, bool], ...]:
        """The chosen batch's marks first, each kind once and once more for all others."""
        marks = self._figures.marks.get(day, ())
        own = [(kind, True) for batch, kind in marks if batch in (self._batch, None)]
        others = [(kind, False) for batch, kind in marks if batch not in (self._batch, None)]
        return tuple(dict.fromkeys(own + others))

    def _span_on(self, day: date) -> Span | None:
        for span in self._figures.spans:
            if span.batch == self._batch and span.set_on <= day <= span.hatch_on:
                return span
        return None

    def _sentences(self, day: date) -> list[str]:
        sentences = duties_of_day(day, self._figures.duties.get(day, ()), self._zone)
        if day == self._today:
            sentences[0] = self.tr("{day}, today").format(day=sentences[0])
        for span in self._figures.spans:
            if span.lockdown_on <= day <= span.hatch_on:
                sentences.append(self.tr("{label} in lockdown").format(label=span.label))
            elif span.set_on < day < span.lockdown_on:
                number = (day - span.set_on).days
                sentences.append(self.tr("{label} day {day}").format(label=span.label, day=number))
        return sentences

    # ---------------------------------------------------------------- the table

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Six weeks."""
        return 0 if parent.isValid() else ROWS

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Seven days."""
        return 0 if parent.isValid() else COLUMNS

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The day: its number, its cell, its duties in words."""
        if not index.isValid():
            return None
        day = self.day_at(index.row(), index.column())
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return QLocale().toString(day.day)
            case _ if role == DAY_ROLE:
                return self.cell_of(day)
            case _ if role == DATE_ROLE:
                return day
            case Qt.ItemDataRole.ToolTipRole:
                return "\n".join(self._sentences(day))
            case Qt.ItemDataRole.AccessibleTextRole:
                return _spoken(self._sentences(day))
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The weekdays, short to the eye and in full to the ear."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        weekday = (self._weekday - 1 + section) % COLUMNS + 1
        if role == Qt.ItemDataRole.DisplayRole:
            return QLocale().standaloneDayName(weekday, QLocale.FormatType.ShortFormat)
        if role == NARROW_ROLE:
            return QLocale().standaloneDayName(weekday, QLocale.FormatType.NarrowFormat)
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return QLocale().standaloneDayName(weekday, QLocale.FormatType.LongFormat)
        return None


def _spoken(sentences: Sequence[str]) -> str:
    return "; ".join(sentences)
