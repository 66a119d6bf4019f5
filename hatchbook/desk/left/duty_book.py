"""The duties and spans of the months that were looked at, kept until something changes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import QLocale, QObject, Signal

from hatchbook.desk.context import DeskContext
from hatchbook.figures import calendar_figures
from hatchbook.figures.results import CalendarFigures, DutyLine
from hatchbook.journal import Change

ROWS, COLUMNS = 6, 7
_KEPT_MONTHS = 4
_NOTHING = CalendarFigures({}, {}, ())
_SHOWN = frozenset({"duty", "batch", "batch_phase", "setting"})


@dataclass(frozen=True, order=True)
class Month:
    """A month of a year."""

    year: int
    month: int

    @classmethod
    def of(cls, day: date) -> Month:
        """The month of a day."""
        return cls(day.year, day.month)

    def moved(self, months: int) -> Month:
        """So many months later."""
        years, month = divmod(self.month - 1 + months, 12)
        return Month(self.year + years, month + 1)

    def first_shown(self, first_weekday: int) -> date:
        """The first day of the six weeks in which it is shown; weekdays count from 1, Monday."""
        first = date(self.year, self.month, 1)
        return first - timedelta(days=(first.isoweekday() - first_weekday) % COLUMNS)


def first_weekday() -> int:
    """The day with which the week begins where the breeder lives: 1 Monday to 7 Sunday."""
    return QLocale().firstDayOfWeek().value


class DutyBook(QObject):
    """Asks for the duties of a month once, and again after a change or when time has gone on.

    Signals:
        changed: what was asked for before may be different now.
    """

    changed = Signal()

    def __init__(self, context: DeskContext, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._months: dict[tuple[Month, int], CalendarFigures] = {}
        context.door.changed.connect(self._follow)
        context.door.journal_changed.connect(self.forget)

    def month(self, month: Month) -> CalendarFigures:
        """What the six weeks of a month hold; nothing while no journal is open."""
        if not self._context.door.is_open:
            return _NOTHING
        weekday = first_weekday()
        key = (month, weekday)
        if key not in self._months:
            first = month.first_shown(weekday)
            last = first + timedelta(days=ROWS * COLUMNS - 1)
            while len(self._months) >= _KEPT_MONTHS:
                del self._months[next(iter(self._months))]
            journal = self._context.door.journal
            self._months[key] = calendar_figures(journal, first, last, self._context.now())
        return self._months[key]

    def of_day(self, day: date) -> tuple[DutyLine, ...]:
        """The duties of a day, by time."""
        lines = self.month(Month.of(day)).duties.get(day, ())
        return tuple(sorted(lines, key=_due))

    def forget(self) -> None:
        """Asks anew the next time."""
        self._months.clear()
        self.changed.emit()

    def _follow(self, change: Change) -> None:
        if change.kinds & _SHOWN:
            self.forget()


def _due(line: DutyLine) -> tuple[int, str, int]:
    return line.duty.due_at, line.batch_label, line.duty.ordinal
