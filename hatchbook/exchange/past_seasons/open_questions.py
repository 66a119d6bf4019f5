"""What a table leaves open, to ask with: an order of dates, words that may mean a species."""

from __future__ import annotations

from collections import Counter
from datetime import date

from hatchbook.exchange.date_example import DateExample
from hatchbook.exchange.loggers.layout import Basis
from hatchbook.exchange.past_seasons.day_cells import in_order, written_day
from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable
from hatchbook.exchange.past_seasons.refusals import PastReason, Refusal

_LEAP_YEAR = 2000


def open_date(table: PastSeasonsTable, last_year: int) -> DateExample | None:
    """A date that the orders which do equally well read as different days; None where nothing is open.

    One without a year is read as of the year 2000.
    """
    if table.order.basis is not Basis.UNDECIDED:
        return None
    place = table.columns.index(PastField.SET_ON)
    orders = (table.order.order, *table.order.others)
    for row in table.grid.rows:
        if row.number <= table.header or place >= len(row.cells):
            continue
        try:
            written = written_day(row.cells[place], last_year)
        except Refusal:
            continue  # it is among the refused lines
        if written is None:
            continue
        days: dict[object, date | None] = {}
        for order in orders:
            day = in_order(written, order, last_year)
            try:
                days[order] = date(day.year or _LEAP_YEAR, day.month or 0, day.day or 0)
            except ValueError:
                days[order] = None
        known = {order: days[order] for order in orders if days[order] is not None}
        if len(known) == len(orders) == len({*known.values()}):
            return DateExample(written.text, {order: day for order, day in known.items() if day is not None})
    return None


def unknown_species(table: PastSeasonsTable) -> tuple[tuple[str, int], ...]:
    """The words in the species column that are not known, with their lines' number, the most frequent first."""
    found = Counter(line.why.cell for line in table.refused if line.why.reason is PastReason.UNKNOWN_SPECIES)
    return tuple(found.most_common())
