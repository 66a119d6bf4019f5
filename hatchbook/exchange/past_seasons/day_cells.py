"""Dates in cells, also without their year or day; the order of their numbers is decided over the whole table."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum

from hatchbook.exchange.loggers.cell_shapes import LONGEST_CELL, shape_of
from hatchbook.exchange.loggers.date_cells import DateKind, date_plan
from hatchbook.exchange.loggers.date_order import OrderGuess
from hatchbook.exchange.loggers.layout import Basis, DateOrder
from hatchbook.exchange.loggers.month_names import MONTHS
from hatchbook.exchange.past_seasons.cells import FIRST_YEAR, LAST_YEAR, full_year, is_dash
from hatchbook.exchange.past_seasons.grid import Cell, Uncomputed, cell_text, is_empty
from hatchbook.exchange.past_seasons.refusals import PastReason, Refusal

#: A spreadsheet's day 0; with it, its days count right from 1 March 1900 on.
_DAY_ZERO = date(1899, 12, 30)
_FIRST_COUNTED, _LAST_COUNTED = 10_000, 80_000

_NAME = r"(?P<name>[^\W\d_]{3,12})\.?"
_SHAPES = {
    "year": re.compile(r"(?P<year>\d{4})"),
    "month_year": re.compile(r"(?P<month>\d{1,2})\s*[-./]\s*(?P<year>\d{4})"),
    "year_month": re.compile(r"(?P<year>\d{4})\s*[-./]\s*(?P<month>\d{1,2})"),
    "name_year": re.compile(rf"{_NAME}[\s,./-]*(?:(?P<year>\d{{4}})|['’´](?P<short>\d\d))"),
    "year_name": re.compile(rf"(?P<year>\d{{4}})[\s,./-]*{_NAME}"),
    "day_name": re.compile(rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?[\s./-]*(?:of\s+)?{_NAME}"),
    "name_day": re.compile(rf"{_NAME}[\s./-]*(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?"),
    "day": re.compile(r"(?P<a>\d{1,2})\s*[-./]\s*(?P<b>\d{1,2})\.?"),
}


class Written(Enum):
    """What of a date was written, and whether its order is open."""

    WHOLE = "whole"  # year, month, day
    YEAR_LAST = "year_last"  # day and month in either order, year
    SHORT = "short"  # two figures each
    MONTH = "month"  # year, month
    YEAR = "year"
    NAMED_DAY = "named_day"  # month, day
    DAY = "day"  # day and month in either order


@dataclass(frozen=True, slots=True)
class WrittenDay:
    """The numbers of a date in the order in which they are meant or, where that is open, written."""

    text: str
    written: Written
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Day:
    """What is known of a day."""

    year: int | None
    month: int | None = None
    day: int | None = None

    def as_date(self) -> date | None:
        """The date, where all is known and there is such a day."""
        if self.year is None or self.month is None or self.day is None:
            return None
        try:
            return date(self.year, self.month, self.day)
        except ValueError:
            return None


def written_day(cell: Cell, last_year: int) -> WrittenDay | None:
    """What a cell says as a date; None for an empty one.

    Args:
        cell: what was written.
        last_year: the latest year that two figures can mean.

    Raises:
        Refusal: it is no date.
    """
    if isinstance(cell, Uncomputed):
        raise Refusal(PastReason.NOT_COMPUTED, cell=cell.formula)
    if is_empty(cell) or is_dash(cell):
        return None
    text = cell_text(cell)
    if isinstance(cell, date):
        return WrittenDay(text, Written.WHOLE, (cell.year, cell.month, cell.day))
    found = _whole(text, last_year) or _counted(text) or _partial(text, last_year)
    if found is None:
        raise Refusal(PastReason.NOT_A_DATE, cell=text)
    return found


def _whole(text: str, last_year: int) -> WrittenDay | None:
    cell = text.encode()
    plan = date_plan(shape_of(cell)) if len(cell) <= LONGEST_CELL else None
    if plan is None or plan.parts is None:
        return None
    numbers = [int(cell[start:stop] or b"0") for start, stop in plan.parts]
    if plan.month:
        numbers[1] = plan.month
        if plan.parts[0][1] - plan.parts[0][0] == 2:
            numbers[0] = full_year(numbers[0], last_year)
    written = {DateKind.YEAR_LAST: Written.YEAR_LAST, DateKind.SHORT: Written.SHORT}
    return WrittenDay(text, written.get(plan.kind, Written.WHOLE), tuple(numbers))


def _counted(text: str) -> WrittenDay | None:
    """A date that a spreadsheet shows as the number it is stored as."""
    match = re.fullmatch(r"(\d{5})(?:[.,]\d+)?", text)
    if match is None or not _FIRST_COUNTED <= int(match[1]) <= _LAST_COUNTED:
        return None
    day = _DAY_ZERO + timedelta(days=int(match[1]))
    return WrittenDay(text, Written.WHOLE, (day.year, day.month, day.day))


def _partial(text: str, last_year: int) -> WrittenDay | None:
    for pattern in _SHAPES.values():
        match = pattern.fullmatch(text)
        found = _meant(text, match.groupdict(), last_year) if match is not None else None
        if found is not None:
            return found
    return None


def _meant(text: str, parts: dict[str, str | None], last_year: int) -> WrittenDay | None:
    numbers = {key: int(part) for key, part in parts.items() if part is not None and part.isdecimal()}
    if parts.get("name") is not None:
        month = MONTHS.get(str(parts["name"]).casefold())
        if month is None:
            return None
        numbers["month"] = month
    if "short" in numbers:
        numbers["year"] = full_year(numbers["short"], last_year)
    if "a" in numbers:
        return WrittenDay(text, Written.DAY, (numbers["a"], numbers["b"]))
    if "day" in numbers:
        return WrittenDay(text, Written.NAMED_DAY, (numbers["month"], numbers["day"]))
    if not FIRST_YEAR <= numbers["year"] <= LAST_YEAR:
        return None
    if "month" in numbers:
        good = 1 <= numbers["month"] <= 12
        return WrittenDay(text, Written.MONTH, (numbers["year"], numbers["month"])) if good else None
    return WrittenDay(text, Written.YEAR, (numbers["year"],))


def in_order(written: WrittenDay, order: DateOrder, last_year: int) -> Day:
    """What of a day is known when its numbers stand in this order."""
    numbers = written.numbers
    match written.written:
        case Written.WHOLE:
            return Day(*numbers)
        case Written.MONTH:
            return Day(numbers[0], numbers[1])
        case Written.YEAR:
            return Day(numbers[0])
        case Written.NAMED_DAY:
            return Day(None, *numbers)
        case Written.DAY:
            day_first = order is DateOrder.DAY_MONTH_YEAR
            return Day(None, *(reversed(numbers) if day_first else numbers))
        case Written.YEAR_LAST | Written.SHORT:
            a, b, c = numbers
            if order is DateOrder.YEAR_MONTH_DAY and written.written is Written.SHORT:
                year, month, day = a, b, c
            elif order is DateOrder.MONTH_DAY_YEAR:
                year, month, day = c, a, b
            else:
                year, month, day = c, b, a
            return Day(full_year(year, last_year) if written.written is Written.SHORT else year, month, day)


def guess_order(
    days: Sequence[tuple[WrittenDay, int | None]], last: date, *, month_first_usual: bool
) -> OrderGuess:
    """Decides the order of day, month and year over all dates of a table.

    The order under which the most dates exist, are past and belong to the season beside them wins. The year is
    taken to stand first only where no other order does as well. Where day and month first do equally well, the one
    that is usual is taken, and it stays undecided.

    Args:
        days: each date with the year of its season, where that is known.
        last: the latest date that can be meant.
        month_first_usual: whether the breeder's dates usually begin with the month.
    """
    open_days = [one for one in days if one[0].written in (Written.YEAR_LAST, Written.SHORT, Written.DAY)]
    if not open_days:
        return OrderGuess(DateOrder.YEAR_MONTH_DAY, Basis.STATED)
    usual = [DateOrder.DAY_MONTH_YEAR, DateOrder.MONTH_DAY_YEAR]
    if month_first_usual:
        usual.reverse()
    good = {order: _good(open_days, order, last) for order in (*usual, DateOrder.YEAR_MONTH_DAY)}
    most = max(good.values())
    best = [order for order in usual if good[order] == most]
    if not best:
        return OrderGuess(DateOrder.YEAR_MONTH_DAY, Basis.VALUES)
    if len(best) == 1 or not _differ((day for day, _ in open_days), best, last.year):
        return OrderGuess(best[0], Basis.VALUES)
    return OrderGuess(best[0], Basis.UNDECIDED, tuple(best[1:]))


def _good(days: Sequence[tuple[WrittenDay, int | None]], order: DateOrder, last: date) -> int:
    """How many dates can be meant so; one that fits its season counts twice."""
    count = 0
    for written, season in days:
        if written.written is Written.YEAR_LAST and order is DateOrder.YEAR_MONTH_DAY:
            continue
        day = in_order(written, order, last.year)
        if day.year is None:  # of a leap year, so that 29 February passes
            day = Day(2000, day.month, day.day)
        known = day.as_date()
        if known is not None and known <= last:
            fits = written.written is not Written.DAY and season is not None and abs(known.year - season) <= 1
            count += 2 if fits else 1
    return count


def _differ(days: Iterable[WrittenDay], orders: Sequence[DateOrder], last_year: int) -> bool:
    return any(len({in_order(day, order, last_year) for order in orders}) > 1 for day in days)


def looks_like_day(cell: Cell) -> bool:
    """Whether a cell may stand in a column of dates."""
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return FIRST_YEAR <= cell <= LAST_YEAR or _FIRST_COUNTED <= cell <= _LAST_COUNTED
    try:
        return written_day(cell, LAST_YEAR) is not None
    except Refusal:
        return False
