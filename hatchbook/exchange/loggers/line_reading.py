"""All data lines read into arrays: parts of dates, numbers, and what became of each line so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.date_cells import DateKind, DateParts
from hatchbook.exchange.loggers.layout import ColumnRole, DateForm
from hatchbook.exchange.loggers.layout_guess import Draft
from hatchbook.exchange.loggers.line_parsing import CutBlock, LinePattern, TextLines, cut_block
from hatchbook.exchange.loggers.line_splitting import is_blank, split_line
from hatchbook.exchange.loggers.number_cells import CellUnit, NumberColumn
from hatchbook.exchange.loggers.rejects import LineFate
from hatchbook.exchange.loggers.text_decoding import DecodedText

BLOCK_LINES = 1 << 16
_COMPARED_LINES = 50

_TEMPERATURE_UNITS = (CellUnit.NONE, CellUnit.CELSIUS, CellUnit.FAHRENHEIT)
_HUMIDITY_UNITS = (CellUnit.NONE, CellUnit.PERCENT)


@dataclass(frozen=True, slots=True)
class ReadLines:
    """One row a line of the file: its fate so far (STORED: readable), date parts or a count of time, and values."""

    fates: NDArray[np.uint8]
    dates: DateParts
    counted: NumberColumn
    temperature: NumberColumn
    humidity: NumberColumn


def read_lines(lines: TextLines, text: DecodedText, draft: Draft, step: Callable[[float], None]) -> ReadLines:
    """Reads every line with the draft's layout; `step` is told the share done between blocks and may raise."""
    layout = draft.layout
    count = len(lines)
    read = ReadLines(
        np.zeros(count, dtype=np.uint8),
        DateParts.empty(count),
        NumberColumn.empty(count if layout.date_form is not DateForm.CALENDAR else 0),
        NumberColumn.empty(count),
        NumberColumn.empty(count),
    )
    first = layout.data_line - 1
    _mark_lines_before_data(lines, draft, read.fates)
    wanted = {role: column for role in ColumnRole if (column := layout.first(role)) is not None}
    wanted.pop(ColumnRole.LEAVE_OUT, None)
    header = lines.text(layout.header_line - 1) if layout.header_line else ""
    pattern = LinePattern(layout.separator, draft.width, tuple(wanted.values()), header)
    roles = tuple(wanted)
    for start in range(first, count, BLOCK_LINES):
        stop = min(count, start + BLOCK_LINES)
        step((start - first) / max(1, count - first))
        cut = cut_block(lines, start, stop, pattern)
        read.fates[start:stop] = cut.fates
        _read_block(cut, roles, draft, read, start, stop)
        _mark_undated(lines, read, pattern, start, stop)
    spoilt = lines.touched(text.control_at)
    read.fates[spoilt[spoilt >= first]] = LineFate.NOT_TEXT
    if not text.ended:
        _mark_cut_last_line(lines, draft, read, wanted)
    return read


def _mark_lines_before_data(lines: TextLines, draft: Draft, fates: NDArray[np.uint8]) -> None:
    header = draft.layout.header_line
    for index in range(draft.layout.data_line - 1):
        if is_blank(lines.text(index), draft.layout.separator):
            fates[index] = LineFate.BLANK
        else:
            fates[index] = LineFate.HEADER if header and index >= header - 1 else LineFate.PREAMBLE


def _read_block(
    cut: CutBlock, roles: tuple[ColumnRole, ...], draft: Draft, read: ReadLines, start: int, stop: int
) -> None:
    layout = draft.layout
    for role, left, right in zip(roles, cut.start, cut.end, strict=True):
        if role is ColumnRole.TEMPERATURE:
            column = read.temperature.block(start, stop)
            column.read(cut.buffer, left, right, layout.decimal, _TEMPERATURE_UNITS)
        elif role is ColumnRole.HUMIDITY:
            read.humidity.block(start, stop).read(cut.buffer, left, right, layout.decimal, _HUMIDITY_UNITS)
        elif layout.date_form is not DateForm.CALENDAR:
            if role is not ColumnRole.TIME:
                read.counted.block(start, stop).read(cut.buffer, left, right, layout.decimal)
        else:
            whole = role is ColumnRole.DATE_TIME
            read.dates.block(start, stop).read(
                cut.buffer,
                left,
                right,
                date=whole or role is ColumnRole.DATE,
                time=whole or role is ColumnRole.TIME,
            )


def _mark_undated(lines: TextLines, read: ReadLines, pattern: LinePattern, start: int, stop: int) -> None:
    """Lines without a date may be empty rows of a spreadsheet, or the header again."""
    if read.counted.states.size:
        dated = ~np.isnan(read.counted.values[start:stop])
    else:
        dated = read.dates.kind[start:stop] != DateKind.NONE
    undated = np.flatnonzero(~dated & (read.fates[start:stop] == LineFate.STORED))
    for index in (undated + start).tolist():
        text = lines.text(index)
        if is_blank(text, pattern.separator):
            read.fates[index] = LineFate.BLANK
        elif pattern.header and text == pattern.header:
            read.fates[index] = LineFate.HEADER
        else:
            read.fates[index] = LineFate.NO_DATE


def _mark_cut_last_line(
    lines: TextLines, draft: Draft, read: ReadLines, wanted: dict[ColumnRole, int]
) -> None:
    """A last line without an end may have been cut inside its last cell: 52.1 would come in as 5.

    It is taken as cut if that cell is wanted and its fraction (or its date) is shorter than in all the lines
    before it.
    """
    last = len(lines) - 1
    column = draft.width - 1
    role = next((role for role, place in wanted.items() if place == column), None)
    if role is None or read.fates[last] != LineFate.STORED:
        return
    before = np.flatnonzero(read.fates[max(0, last - _COMPARED_LINES) : last] == LineFate.STORED)
    before += max(0, last - _COMPARED_LINES)
    separator = draft.layout.separator

    def length(index: int) -> int:
        cells = split_line(lines.text(index), separator)
        cell = cells[column] if len(cells) > column else ""
        if role in (ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY):
            return len(cell.partition(draft.layout.decimal.value)[2])
        return len(cell)

    usual = [length(index) for index in before.tolist()]
    if len(usual) >= 2 and length(last) < min(usual):
        read.fates[last] = LineFate.CUT_SHORT
