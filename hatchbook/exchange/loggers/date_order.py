"""Day, month and year told apart over the whole file, and calendar parts turned into seconds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.date_cells import NO_TIME, DateKind, DateParts, HalfDay
from hatchbook.exchange.loggers.layout import Basis, DateOrder, HourClock
from hatchbook.exchange.loggers.rejects import LineFate

FIRST_YEAR, LAST_YEAR = 1970, 2199
NO_DAY = -(1 << 31)
_DAY_S = 86_400
_WILD = 100  # times the stride of the order that fits
_OLD_DAY = 14_610  # 2010-01-01


def _month_table() -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    months = np.arange(f"{FIRST_YEAR}-01", f"{LAST_YEAR + 1}-02", dtype="datetime64[M]")
    first = months.astype("datetime64[D]").astype(np.int32)
    return first[:-1], np.diff(first)


_MONTH_START, _MONTH_DAYS = _month_table()


def day_numbers(
    year: NDArray[np.int16], month: NDArray[np.int16], day: NDArray[np.int16]
) -> NDArray[np.int32]:
    """Days since 1970-01-01, NO_DAY where the calendar has no such day (or it is not in 1970 to 2199)."""
    good = (month >= 1) & (month <= 12) & (day >= 1) & (year >= FIRST_YEAR) & (year <= LAST_YEAR)
    index = (year.astype(np.int32) - FIRST_YEAR) * 12 + month - 1
    if not good.all():
        index[~good] = 0
    number: NDArray[np.int32] = _MONTH_START[index] + (day - 1)
    good &= day <= _MONTH_DAYS[index]
    if not good.all():
        number[~good] = NO_DAY
    return number


def days_in_order(parts: DateParts, order: DateOrder) -> NDArray[np.int32]:
    """Day numbers with the dates that need an order read in this one."""
    if bool((parts.kind <= DateKind.YEAR_FIRST).all()):
        return day_numbers(parts.a, parts.b, parts.c)
    loose = parts.kind >= DateKind.YEAR_LAST
    places = {
        DateOrder.YEAR_MONTH_DAY: (parts.a, parts.b, parts.c),
        DateOrder.DAY_MONTH_YEAR: (parts.c, parts.b, parts.a),
        DateOrder.MONTH_DAY_YEAR: (parts.c, parts.a, parts.b),
    }[order]
    year, month, day = (
        np.where(loose, place, fixed)
        for place, fixed in zip(places, (parts.a, parts.b, parts.c), strict=True)
    )
    if order is DateOrder.YEAR_MONTH_DAY:
        # With a four-digit year last this order cannot be meant; the year's place then holds a day: no such date.
        year[parts.kind == DateKind.YEAR_LAST] = 0
    short = parts.kind == DateKind.SHORT
    year[short] += 2000
    return day_numbers(year, month, day)


@dataclass(frozen=True, slots=True)
class OrderGuess:
    """The order of day and month, what it rests on, and the orders that would read the file as well."""

    order: DateOrder
    basis: Basis
    others: tuple[DateOrder, ...] = ()


def guess_order(parts: DateParts, *, month_first_usual: bool) -> OrderGuess:
    """Decides the order from all dates of the file.

    An order under which more dates exist wins. Where two do equally well, the order in which the days follow each
    other most closely is taken, and it stays undecided: it has to be asked.
    """
    loose = parts.kind >= DateKind.YEAR_LAST
    if not loose.any():
        return OrderGuess(DateOrder.YEAR_MONTH_DAY, Basis.STATED)
    some = parts.rows(loose)
    orders = [DateOrder.DAY_MONTH_YEAR, DateOrder.MONTH_DAY_YEAR]
    if month_first_usual:
        orders.reverse()
    if (some.kind == DateKind.SHORT).any():
        orders.append(DateOrder.YEAR_MONTH_DAY)
    days = {order: days_in_order(some, order) for order in orders}
    existing = {order: int((days[order] != NO_DAY).sum()) for order in orders}
    most = max(existing.values())
    best = [order for order in orders if existing[order] == most]
    if len(best) == 1:
        return OrderGuess(best[0], Basis.VALUES)
    strides = {order: _stride(days[order]) for order in best}
    chosen = min(best, key=lambda order: (_too_old(days[order]), strides[order]))
    best = [order for order in best if not _years_run_wild(order, chosen, strides)]
    if len(best) == 1:
        return OrderGuess(chosen, Basis.VALUES)
    return OrderGuess(chosen, Basis.UNDECIDED, tuple(order for order in best if order is not chosen))


def _years_run_wild(order: DateOrder, chosen: DateOrder, strides: dict[DateOrder, int]) -> bool:
    """Whether an order takes for the year what runs like a day: then every day would be a year after the last."""
    other_year = (order is DateOrder.YEAR_MONTH_DAY) is not (chosen is DateOrder.YEAR_MONTH_DAY)
    return other_year and strides[chosen] > 0 and strides[order] > _WILD * strides[chosen]


def _too_old(days: NDArray[np.int32]) -> bool:
    """Whether dates with two-digit years would lie before anyone wrote such files."""
    known = days[days != NO_DAY]
    return bool(known.size) and int(np.median(known)) < _OLD_DAY


def _stride(days: NDArray[np.int32]) -> int:
    """Days walked from line to line: smallest in the order that was meant."""
    known = days[days != NO_DAY].astype(np.int64)
    return int(np.abs(np.diff(known)).sum())


def guess_clock(parts: DateParts) -> tuple[HourClock, Basis]:
    """12 hours if the times carry AM and PM and no hour speaks against it."""
    marked = parts.half != HalfDay.NONE
    if not marked.any():
        return HourClock.TWENTY_FOUR, Basis.VALUES
    if (parts.time_s[marked] >= 13 * 3600).any():
        return HourClock.TWENTY_FOUR, Basis.VALUES
    return HourClock.TWELVE, Basis.STATED


def written_seconds(
    parts: DateParts, order: DateOrder, clock: HourClock
) -> tuple[NDArray[np.int64], NDArray[np.uint8]]:
    """Seconds since 1970 as the clock of the file wrote them, and for each row STORED or why it has no instant."""
    days = days_in_order(parts, order)
    times = parts.time_s
    fates = np.zeros(times.size, dtype=np.uint8)
    bad_time = times < 0
    if clock is HourClock.TWELVE:
        hour = times // 3600
        bad_time = bad_time | (hour > 12) | (hour < 1) | (parts.half == HalfDay.NONE)
        shift = np.where(parts.half == HalfDay.PM, 12 * 3600, 0) - np.where(hour == 12, 12 * 3600, 0)
        times = times + shift.astype(np.int32)
    if bad_time.any():
        fates[bad_time] = LineFate.IMPOSSIBLE_TIME
        fates[parts.time_s == NO_TIME] = LineFate.NO_TIME
    no_day = days == NO_DAY
    if no_day.any():
        fates[no_day] = LineFate.IMPOSSIBLE_DATE
        fates[parts.kind == DateKind.NONE] = LineFate.NO_DATE
    return days.astype(np.int64) * _DAY_S + times, fates
