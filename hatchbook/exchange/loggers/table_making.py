"""The last step: values checked, time put in order, and the table with its account of every line."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.accounting import Account, name_partial, name_rejected, preview_rows
from hatchbook.exchange.loggers.instants import Instants
from hatchbook.exchange.loggers.layout import ColumnRole, TemperatureUnit
from hatchbook.exchange.loggers.layout_guess import Draft
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_reading import ReadLines
from hatchbook.exchange.loggers.number_cells import CellState, CellUnit, NumberColumn
from hatchbook.exchange.loggers.rejects import LineFate, Quantity
from hatchbook.exchange.loggers.remarks import find_gaps, find_stuck, usual_step
from hatchbook.exchange.loggers.table import LoggerTable
from hatchbook.exchange.loggers.time_order import put_in_order

LOWEST_C, HIGHEST_C = -40.0, 85.0
LOWEST_HUMIDITY, HIGHEST_HUMIDITY = 0.0, 100.0

_Number = TypeVar("_Number", np.float64, np.int64)


def make_table(
    lines: TextLines, draft: Draft, read: ReadLines, instants: Instants, step: Callable[[float], None]
) -> LoggerTable:
    """Checks ranges, orders the readings, accounts for every line; `step` is told the share done and may raise."""
    fates, layout = read.fates, instants.layout
    temperature_c = _celsius(read.temperature, layout.temperature_unit)
    humidity = read.humidity.values
    rows, at = instants.rows, instants.utc_s
    bad = _out_of_range(temperature_c[rows], humidity[rows])
    if bad.any():
        fates[rows] = bad
        rows, at = rows[bad == 0], at[bad == 0]
    order = put_in_order(at, (temperature_c[rows], humidity[rows]))
    fates[rows] = order.fates
    account = Account(
        lines,
        layout,
        fates,
        temperature_c,
        humidity,
        by_s={int(rows[row]): seconds for row, seconds in order.by_s.items()},
        same_as={int(rows[row]): int(rows[other]) for row, other in order.same_as.items()},
    )
    moved = rows[order.moved]
    kept, at = rows[order.kept], at[order.kept]
    temperature_c, humidity = temperature_c[kept], humidity[kept]
    step_s = usual_step(at)
    rejected = name_rejected(account, step)
    has = layout.columns
    return LoggerTable(
        at=_frozen(at),
        temperature_c=_frozen(temperature_c),
        humidity=_frozen(humidity),
        line_numbers=_numbers(kept),
        lines=len(lines),
        header=int((fates == LineFate.HEADER).sum()),
        preamble=int((fates == LineFate.PREAMBLE).sum()),
        blank=int((fates == LineFate.BLANK).sum()),
        rejected=rejected,
        partial=name_partial(account, kept, read.temperature, read.humidity),
        duplicate_lines=_numbers(np.flatnonzero(fates == LineFate.DUPLICATE)),
        moved_lines=_numbers(np.sort(moved)),
        newest_first=instants.newest_first,
        empty_temperature=_empty(read.temperature, kept) if ColumnRole.TEMPERATURE in has else 0,
        empty_humidity=_empty(read.humidity, kept) if ColumnRole.HUMIDITY in has else 0,
        layout=layout,
        guesses=instants.guesses,
        column_names=draft.names,
        stuck=find_stuck(at, temperature_c, Quantity.TEMPERATURE)
        + find_stuck(at, humidity, Quantity.HUMIDITY),
        gaps=find_gaps(at),
        spacing_s=step_s,
        preview_rows=preview_rows(account, rejected),
    )


def _celsius(column: NumberColumn, unit: TemperatureUnit) -> NDArray[np.float64]:
    """°C; a unit written in a cell wins over the column's."""
    if unit is TemperatureUnit.FAHRENHEIT:
        fahrenheit = column.units != CellUnit.CELSIUS
    else:
        fahrenheit = column.units == CellUnit.FAHRENHEIT
    if not fahrenheit.any():
        return column.values
    return np.where(fahrenheit, (column.values - 32.0) * 5.0 / 9.0, column.values)


def _out_of_range(temperature_c: NDArray[np.float64], humidity: NDArray[np.float64]) -> NDArray[np.uint8]:
    """STORED, or why the values of a line cannot be used; comparisons with nan are false."""
    fates = np.zeros(temperature_c.size, dtype=np.uint8)
    for mask, fate in (
        (humidity > HIGHEST_HUMIDITY, LineFate.HUMIDITY_ABOVE_100),
        (humidity < LOWEST_HUMIDITY, LineFate.HUMIDITY_BELOW_0),
        (temperature_c > HIGHEST_C, LineFate.TEMPERATURE_TOO_HIGH),
        (temperature_c < LOWEST_C, LineFate.TEMPERATURE_TOO_LOW),
        (np.isnan(temperature_c) & np.isnan(humidity), LineFate.NO_NUMBER),
    ):
        if mask.any():
            fates[mask] = fate
    return fates


def _empty(column: NumberColumn, kept: NDArray[np.intp]) -> int:
    return int((column.states[kept] == CellState.EMPTY).sum())


def _numbers(rows: NDArray[np.intp]) -> NDArray[np.int64]:
    """Line numbers, counted from 1."""
    return _frozen(rows.astype(np.int64) + 1)


def _frozen(array: NDArray[_Number]) -> NDArray[_Number]:
    array.flags.writeable = False
    return array
