"""From a sample of lines to a layout: everything except what needs the whole file (date order, clock, offsets)."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from hatchbook.exchange.loggers.column_guess import ColumnGuess, guess_columns, guess_unit
from hatchbook.exchange.loggers.errors import NoDateColumn, NoValueColumn
from hatchbook.exchange.loggers.header_guess import column_names, find_header
from hatchbook.exchange.loggers.layout import (
    Basis,
    ColumnRole,
    DateForm,
    DecimalSign,
    Guess,
    Layout,
    LayoutField,
    LayoutHints,
    Separator,
    TemperatureUnit,
)
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.number_cells import read_number
from hatchbook.exchange.loggers.sample import SampleRow, counted_form, cut_row, stated_separator, take_sample
from hatchbook.exchange.loggers.text_decoding import DecodedText

_ROWS_TO_SHOW = 8


@dataclass(frozen=True, slots=True)
class Draft:
    """A layout guessed from a sample, the usual number of cells, the column names and what the guesses rest on."""

    layout: Layout
    width: int
    names: tuple[str, ...]
    guesses: tuple[Guess, ...]

    @property
    def date_names(self) -> tuple[str, ...]:
        """The names of the date and time columns."""
        dated = (ColumnRole.DATE_TIME, ColumnRole.DATE, ColumnRole.TIME)
        return tuple(
            name for name, role in zip(self.names, self.layout.columns, strict=False) if role in dated
        )


def guess_layout(lines: TextLines, text: DecodedText, hints: LayoutHints) -> Draft:
    """Guesses around the hints; raises NoDateColumn or NoValueColumn if a column is missing."""
    stated = stated_separator(lines)
    sample, rivals = take_sample(lines, hints.separator or stated)
    separator_basis = Basis.GIVEN if hints.separator else Basis.STATED if stated else Basis.VALUES
    header, data = find_header(lines, sample, hints.header_line, hints.data_line)
    names = column_names(lines, sample, header, data)
    rows = sample.good or tuple(row for row in sample.rows if row.index >= data - 1)
    rows = tuple(row for row in rows if len(row.cells) == sample.width)
    width = sample.width
    if hints.columns is not None:
        found = ColumnGuess(hints.columns, Basis.GIVEN)
        wanted = [place for place, role in enumerate(hints.columns) if role is not ColumnRole.LEAVE_OUT]
        width = max([width] + [place + 1 for place in wanted])
        names = names + ("",) * (width - len(names))
    else:
        found = guess_columns(rows, names, width)
    roles = (*found.roles, *(ColumnRole.LEAVE_OUT,) * width)[:width]
    decimal, decimal_basis = _guess_decimal(rows, roles, sample.separator)
    unit, unit_basis = _unit(rows, names, roles)
    form, form_basis = _guess_form(rows, roles)
    layout = Layout(
        encoding=text.encoding,
        separator=sample.separator,
        decimal=hints.decimal or decimal,
        columns=roles,
        header_line=header,
        data_line=data,
        date_form=hints.date_form or form,
        temperature_unit=hints.temperature_unit or unit,
    )
    guesses = (
        Guess(LayoutField.ENCODING, text.basis),
        Guess(LayoutField.SEPARATOR, separator_basis, tuple(rivals)),
        Guess(LayoutField.DECIMAL, Basis.GIVEN if hints.decimal else decimal_basis),
        Guess(LayoutField.COLUMNS, found.basis, tuple(str(column) for column in found.rivals)),
        Guess(LayoutField.HEADER_LINE, Basis.VALUES if hints.header_line is None else Basis.GIVEN),
        Guess(LayoutField.DATA_LINE, Basis.VALUES if hints.data_line is None else Basis.GIVEN),
        Guess(LayoutField.DATE_FORM, Basis.GIVEN if hints.date_form else form_basis),
        Guess(LayoutField.TEMPERATURE_UNIT, Basis.GIVEN if hints.temperature_unit else unit_basis),
    )
    if not layout.has_date or not layout.has_values:
        error = NoValueColumn if layout.has_date else NoDateColumn
        raise error(layout, names, _rows_to_show(lines, layout))
    return Draft(layout, width, names, guesses)


def _rows_to_show(lines: TextLines, layout: Layout) -> tuple[tuple[int, tuple[str, ...]], ...]:
    stop = min(len(lines), layout.data_line - 1 + _ROWS_TO_SHOW)
    return tuple(
        (index + 1, cut_row(lines, index, layout.separator, False).cells)
        for index in range(layout.data_line - 1, stop)
    )


def _guess_decimal(
    rows: tuple[SampleRow, ...], roles: tuple[ColumnRole, ...], separator: Separator
) -> tuple[DecimalSign, Basis]:
    signs: Counter[bytes] = Counter()
    for row in rows:
        for cell, role in zip(row.cells, roles, strict=False):
            if role in (ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY):
                number = read_number(cell)
                signs[number[1].point if number else b""] += 1
    if signs[b","] > signs[b"."]:
        return DecimalSign.COMMA, Basis.VALUES
    if signs[b"."]:
        return DecimalSign.POINT, Basis.VALUES
    # Whole numbers only: which sign would part a fraction makes no difference.
    return (DecimalSign.POINT if separator is Separator.COMMA else DecimalSign.COMMA), Basis.USUAL


def _unit(
    rows: tuple[SampleRow, ...], names: tuple[str, ...], roles: tuple[ColumnRole, ...]
) -> tuple[TemperatureUnit, Basis]:
    if ColumnRole.TEMPERATURE not in roles:
        return TemperatureUnit.CELSIUS, Basis.USUAL
    column = roles.index(ColumnRole.TEMPERATURE)
    return guess_unit(tuple(row for row in rows if len(row.cells) > column), names[column], column)


def _guess_form(rows: tuple[SampleRow, ...], roles: tuple[ColumnRole, ...]) -> tuple[DateForm, Basis]:
    """Calendar dates, or counts of seconds, milliseconds or a spreadsheet's days, if the date cells are numbers."""
    if ColumnRole.DATE_TIME not in roles:
        return DateForm.CALENDAR, Basis.VALUES
    column = roles.index(ColumnRole.DATE_TIME)
    cells = [row.cells[column] for row in rows if len(row.cells) > column and row.cells[column]]
    forms = Counter(counted_form(cell) or DateForm.CALENDAR for cell in cells)
    form = forms.most_common(1)[0][0] if forms else DateForm.CALENDAR
    return form, Basis.UNDECIDED if form is DateForm.SPREADSHEET_DAYS else Basis.VALUES
