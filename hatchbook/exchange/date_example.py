"""A date of a file that can be read in more than one way, to ask with."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from hatchbook.exchange.loggers.layout import ColumnRole, DateOrder, Layout
from hatchbook.exchange.loggers.table import PreviewRow

_FIGURES = re.compile(r"\d+")
_PLACES = {
    DateOrder.YEAR_MONTH_DAY: (0, 1, 2),
    DateOrder.DAY_MONTH_YEAR: (2, 1, 0),
    DateOrder.MONTH_DAY_YEAR: (2, 0, 1),
}


@dataclass(frozen=True)
class DateExample:
    """What a cell says, without its time, and the day it is by each order."""

    text: str
    days: dict[DateOrder, date]


def date_example(
    rows: Iterable[PreviewRow], layout: Layout, orders: Iterable[DateOrder]
) -> DateExample | None:
    """The first date of the rows that the orders read as different days; None where there is none."""
    place = layout.first(ColumnRole.DATE_TIME)
    if place is None:
        place = layout.first(ColumnRole.DATE)
    if place is None:
        return None
    wanted = tuple(orders)
    for row in rows:
        if place < len(row.cells):
            example = _example(row.cells[place], wanted)
            if example is not None:
                return example
    return None


def _example(cell: str, orders: tuple[DateOrder, ...]) -> DateExample | None:
    figures = list(_FIGURES.finditer(cell))[:3]
    if len(figures) < 3:
        return None
    numbers = [int(figure.group()) for figure in figures]
    days: dict[DateOrder, date] = {}
    for order in orders:
        year, month, day = (numbers[place] for place in _PLACES[order])
        try:
            days[order] = date(year + 2000 if year < 100 else year, month, day)
        except ValueError:
            return None
    if len(set(days.values())) < len(days):
        return None
    return DateExample(cell[figures[0].start() : figures[2].end()], days)
