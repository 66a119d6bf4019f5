"""A sample of lines, cut with each separator and looked at cell by cell: which separator makes sense of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from hatchbook.exchange.loggers.cell_shapes import LONGEST_CELL, shape_of
from hatchbook.exchange.loggers.date_cells import date_plan
from hatchbook.exchange.loggers.layout import DateForm, Separator
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_splitting import split_line
from hatchbook.exchange.loggers.number_cells import read_number

_FROM_START, _FROM_MIDDLE, _FROM_END = 200, 50, 50
_SEPARATOR_HEADER = "sep="  # the first line some spreadsheets write: sep=;
_EARLIEST_S, _LATEST_S = 946_684_800, 4_102_444_800  # 2000 to 2100
_EARLIEST_DAY, _LATEST_DAY = 36_526, 73_051  # the same in a spreadsheet's days


class CellKind(IntEnum):
    """What a cell looks like on its own."""

    EMPTY = 0
    TEXT = 1
    NUMBER = 2
    DATE = 3
    TIME = 4
    DATE_TIME = 5


def kind_of(text: str, *, counted_dates: bool = False) -> CellKind:
    """What a cell looks like; with counted_dates, running counts of time are dates too."""
    if not text:
        return CellKind.EMPTY
    cell = text.encode()
    if len(cell) > LONGEST_CELL:
        return CellKind.TEXT
    shape = shape_of(cell)
    plan = date_plan(shape)
    if plan is not None and plan.has_date and not (shape.strip(b"0") == b"" and not _is_run(text)):
        return CellKind.DATE_TIME if plan.has_time else CellKind.DATE
    if plan is not None and plan.has_time and plan.colon:
        return CellKind.TIME
    if read_number(text) is None:
        return CellKind.TEXT
    form = counted_form(text) if counted_dates else None
    if form is None or (form is DateForm.SPREADSHEET_DAYS and text.isdigit()):
        return CellKind.NUMBER
    return CellKind.DATE_TIME


def _is_run(text: str) -> bool:
    """Whether digits without a sign between them can be year, month, day."""
    return "1970" <= text[:4] < "2200" and "01" <= text[4:6] <= "12" and "01" <= text[6:8] <= "31"


def counted_form(text: str) -> DateForm | None:
    """Whether a number counts seconds or milliseconds since 1970, or a spreadsheet's days since 1900."""
    whole = text.replace(",", ".").partition(".")[0]
    if not whole.isascii() or not whole.isdigit() or len(whole) > LONGEST_CELL:
        return None
    if _EARLIEST_S <= int(whole) < _LATEST_S:
        return DateForm.EPOCH_SECONDS
    if _EARLIEST_S * 1000 <= int(whole) < _LATEST_S * 1000:
        return DateForm.EPOCH_MILLISECONDS
    if _EARLIEST_DAY <= int(whole) < _LATEST_DAY:
        return DateForm.SPREADSHEET_DAYS
    return None


@dataclass(frozen=True, slots=True)
class SampleRow:
    """One line of the sample, cut: index in the file counted from 0, cells, and what they look like."""

    index: int
    cells: tuple[str, ...]
    kinds: tuple[CellKind, ...]

    @property
    def good(self) -> bool:
        """Whether it looks like a data line: a date and a number."""
        return CellKind.NUMBER in self.kinds and (
            CellKind.DATE_TIME in self.kinds or CellKind.DATE in self.kinds
        )


@dataclass(frozen=True, slots=True)
class Sample:
    """The sample cut with one separator; `width` the number of cells of most good rows (of most rows if none)."""

    separator: Separator
    rows: tuple[SampleRow, ...]
    width: int
    counted_dates: bool

    @property
    def good(self) -> tuple[SampleRow, ...]:
        """The data lines of the usual width."""
        return tuple(row for row in self.rows if row.good and len(row.cells) == self.width)


def cut_row(lines: TextLines, index: int, separator: Separator, counted_dates: bool) -> SampleRow:
    """One line of the file, cut and looked at."""
    cells = tuple(split_line(lines.text(index).lstrip("\ufeff"), separator))
    return SampleRow(index, cells, tuple(kind_of(cell, counted_dates=counted_dates) for cell in cells))


def stated_separator(lines: TextLines) -> Separator | None:
    """The separator that a first line `sep=;` names."""
    first = lines.text(0).strip().strip('"')
    if first.lower().startswith(_SEPARATOR_HEADER) and len(first) == len(_SEPARATOR_HEADER) + 1:
        sign = first[-1]
        return next((separator for separator in Separator if separator.value == sign), None)
    return None


def take_sample(lines: TextLines, separator: Separator | None) -> tuple[Sample, tuple[Separator, ...]]:
    """Cuts a sample with the given or the most telling separator.

    Returns it with the other separators that would make as many good lines.
    """
    indexes = list(_sample_indexes(lines))
    candidates = (separator,) if separator else _CANDIDATES
    for counted_dates in (False, True):
        samples = [_cut(lines, indexes, candidate, counted_dates) for candidate in candidates]
        best = max(samples, key=lambda sample: len(sample.good))
        if best.good:
            same = tuple(s.separator for s in samples if s is not best and len(s.good) == len(best.good))
            return best, same
    # No date anywhere: the separator that cuts most lines into the same number of several cells.
    samples = [_cut(lines, indexes, candidate, False) for candidate in candidates]
    return max(samples, key=_evenness), ()


_CANDIDATES = (Separator.SEMICOLON, Separator.TAB, Separator.BAR, Separator.COMMA, Separator.SPACES)


def _evenness(sample: Sample) -> int:
    return sum(1 for row in sample.rows if len(row.cells) == sample.width) if sample.width > 1 else 0


def _sample_indexes(lines: TextLines) -> Iterator[int]:
    count = len(lines)
    if count <= _FROM_START + _FROM_MIDDLE + _FROM_END:
        chosen = range(count)
        yield from (index for index in chosen if lines.text(index).strip())
        return
    for start, length in (
        (0, _FROM_START),
        (max(_FROM_START, count // 2), _FROM_MIDDLE),
        (count - _FROM_END, _FROM_END),
    ):
        yield from (index for index in range(start, min(count, start + length)) if lines.text(index).strip())


def _cut(lines: TextLines, indexes: list[int], separator: Separator, counted_dates: bool) -> Sample:
    rows = tuple(cut_row(lines, index, separator, counted_dates) for index in indexes)
    widths = Counter(len(row.cells) for row in rows if row.good) or Counter(len(row.cells) for row in rows)
    width = widths.most_common(1)[0][0] if widths else 1
    return Sample(separator, rows, width, counted_dates)
