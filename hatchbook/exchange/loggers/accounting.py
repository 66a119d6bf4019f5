"""Names the lines that stay out, the cells that could not be read, and the lines worth showing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.layout import ColumnRole, Layout
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_splitting import split_line
from hatchbook.exchange.loggers.number_cells import CellState, NumberColumn
from hatchbook.exchange.loggers.rejects import (
    FIRST_REJECTED,
    REASON_OF,
    LineFate,
    PartialLine,
    Quantity,
    RejectedLine,
    RejectReason,
    shortened,
)
from hatchbook.exchange.loggers.table import PreviewRow

_LEADING_ROWS = 20
_NAMED_AT_ONCE = 1 << 16

_QUANTITY_OF = {
    RejectReason.TEMPERATURE_TOO_LOW: Quantity.TEMPERATURE,
    RejectReason.TEMPERATURE_TOO_HIGH: Quantity.TEMPERATURE,
    RejectReason.HUMIDITY_BELOW_0: Quantity.HUMIDITY,
    RejectReason.HUMIDITY_ABOVE_100: Quantity.HUMIDITY,
}
_DATED = (ColumnRole.DATE_TIME, ColumnRole.DATE, ColumnRole.TIME)
_VALUED = (ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY)
_BAD_ROLES: dict[RejectReason, tuple[ColumnRole, ...]] = {
    RejectReason.NOT_TEXT: (),
    RejectReason.CUT_SHORT: (),
    RejectReason.TOO_MANY_CELLS: (),
    RejectReason.NO_NUMBER: _VALUED,
    RejectReason.SAME_TIME_OTHER_VALUES: _DATED,
    RejectReason.TEMPERATURE_TOO_LOW: (ColumnRole.TEMPERATURE,),
    RejectReason.TEMPERATURE_TOO_HIGH: (ColumnRole.TEMPERATURE,),
    RejectReason.HUMIDITY_BELOW_0: (ColumnRole.HUMIDITY,),
    RejectReason.HUMIDITY_ABOVE_100: (ColumnRole.HUMIDITY,),
}


@dataclass(frozen=True, slots=True)
class Account:
    """What is known of every line of the file; rows are counted from 0."""

    lines: TextLines
    layout: Layout
    fates: NDArray[np.uint8]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]
    by_s: dict[int, int]
    same_as: dict[int, int]


def name_rejected(account: Account, step: Callable[[float], None]) -> tuple[RejectedLine, ...]:
    """Every rejected line with its number, text and reason, in the order of the file."""
    rows = np.flatnonzero(account.fates >= FIRST_REJECTED)
    named: list[RejectedLine] = []
    for start in range(0, rows.size, _NAMED_AT_ONCE):
        step(start / rows.size)
        named += [_rejected(account, row) for row in rows[start : start + _NAMED_AT_ONCE].tolist()]
    return tuple(named)


def _rejected(account: Account, row: int) -> RejectedLine:
    reason = REASON_OF[int(account.fates[row])]
    quantity = _QUANTITY_OF.get(reason)
    value = None
    if quantity is not None:
        column = account.temperature_c if quantity is Quantity.TEMPERATURE else account.humidity
        value = float(column[row])
    other = account.same_as.get(row)
    return RejectedLine(
        number=row + 1,
        text=shortened(account.lines.text(row)),
        reason=reason,
        quantity=quantity,
        value=value,
        by_s=account.by_s.get(row),
        other_line=None if other is None else other + 1,
    )


def name_partial(
    account: Account, kept: NDArray[np.intp], temperature: NumberColumn, humidity: NumberColumn
) -> tuple[PartialLine, ...]:
    """The kept lines of which one cell could not be read (an empty cell is not one of them)."""
    found: list[PartialLine] = []
    for quantity, role, column in (
        (Quantity.TEMPERATURE, ColumnRole.TEMPERATURE, temperature),
        (Quantity.HUMIDITY, ColumnRole.HUMIDITY, humidity),
    ):
        place = account.layout.first(role)
        if place is None:
            continue
        for row in kept[column.states[kept] == CellState.NO_NUMBER].tolist():
            text = account.lines.text(row)
            cell = split_line(text, account.layout.separator)[place]
            found.append(PartialLine(row + 1, shortened(text), quantity, cell))
    return tuple(sorted(found, key=lambda line: line.number))


def preview_rows(account: Account, rejected: tuple[RejectedLine, ...]) -> tuple[PreviewRow, ...]:
    """The first data lines, each kind of rejected line once with a good line before and after, the last line."""
    count = len(account.lines)
    first = account.layout.data_line - 1
    chosen = set(range(first, min(count, first + _LEADING_ROWS)))
    good = np.flatnonzero(account.fates == LineFate.STORED)
    seen: set[RejectReason] = set()
    for line in rejected:
        if line.reason not in seen:
            seen.add(line.reason)
            place = int(np.searchsorted(good, line.number - 1))
            chosen |= {line.number - 1, *good[max(0, place - 1) : place + 1].tolist()}
    chosen.update(good[-1:].tolist())
    shown = (row for row in sorted(chosen) if account.fates[row] != LineFate.BLANK)
    return tuple(_preview_row(account, row) for row in shown)


def _preview_row(account: Account, row: int) -> PreviewRow:
    text = shortened(account.lines.text(row))
    reason = REASON_OF.get(int(account.fates[row]))
    bad: tuple[int, ...] = ()
    if reason is not None:
        roles = _BAD_ROLES.get(reason, _DATED)
        bad = tuple(place for place, role in enumerate(account.layout.columns) if role in roles)
    return PreviewRow(row + 1, tuple(split_line(text, account.layout.separator)), reason, bad)
