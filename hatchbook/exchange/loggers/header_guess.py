"""Where the data begin, which line names the columns, and what the names are."""

from __future__ import annotations

import re

from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_splitting import is_blank
from hatchbook.exchange.loggers.sample import CellKind, Sample, SampleRow, cut_row

_DATE_NAME = re.compile(
    r"date|time|datum|zeit|fecha|hora|data|\bora\b|when|stamp|jour|heure|dato|tid\b|aika|pvm|tijd"
)
_UNIT_SIGNS = {
    *("°c", "°f", "ºc", "ºf", "℃", "℉", "c", "f", "degc", "degf", "deg c", "deg f"),
    *("%", "%rh", "% rh", "%rf", "% rf", "rh%"),
}


def find_header(
    lines: TextLines, sample: Sample, header_hint: int | None, data_hint: int | None
) -> tuple[int, int]:
    """The header line (0: none) and the first data line, both counted from 1."""
    start = _start_of_data(lines, sample)
    header = _header_above(lines, sample, start) if header_hint is None else max(0, header_hint)
    data = max(start + 1, header + 1) if data_hint is None else max(1, data_hint)
    return min(header, len(lines)), min(data, len(lines))


def column_names(lines: TextLines, sample: Sample, header: int, data: int) -> tuple[str, ...]:
    """The column names with the units under them; blank where there are none."""
    if not header:
        return ("",) * sample.width
    rows = [
        _aligned(cut_row(lines, index, sample.separator, False).cells, sample)
        for index in range(header - 1, min(max(header, data - 1), header + 2))
        if not is_blank(lines.text(index), sample.separator)
    ]
    if not rows:
        return ("",) * sample.width
    return tuple(" ".join(part for part in parts if part) for parts in zip(*rows, strict=True))


def _start_of_data(lines: TextLines, sample: Sample) -> int:
    """Index of the first data line. Lines built like data before the first good one are bad data, no preamble."""
    good = _first_good(lines, sample)
    start = good
    for index in range(good - 1, -1, -1):
        if is_blank(lines.text(index), sample.separator):
            continue
        if not _like_data(cut_row(lines, index, sample.separator, sample.counted_dates), sample.width):
            break
        start = index
    return start


def _first_good(lines: TextLines, sample: Sample) -> int:
    """Index of the first good line; where the sample skipped lines before it, they are looked at."""
    known = next((row.index for row in sample.good), None)
    if known is None:
        likely = (
            row for row in sample.rows if len(row.cells) == sample.width and CellKind.NUMBER in row.kinds
        )
        return next((row.index for row in likely), 0)
    sampled = {row.index for row in sample.rows}
    for index in range(known):
        if index not in sampled and lines.starts[index] < lines.ends[index]:
            row = cut_row(lines, index, sample.separator, sample.counted_dates)
            if row.good and len(row.cells) == sample.width:
                return index
    return known


def _header_above(lines: TextLines, sample: Sample, start: int) -> int:
    """The line (counted from 1) above the data that names the columns; a line of units may stand between."""
    nearest = range(start - 1, max(-1, start - 12), -1)
    above = [index for index in nearest if not is_blank(lines.text(index), sample.separator)][:2]
    rows = [cut_row(lines, index, sample.separator, sample.counted_dates) for index in above]
    if len(rows) == 2 and _like_units(rows[0]) and _like_names(rows[1], sample):
        return above[1] + 1
    if rows and _like_names(rows[0], sample):
        return above[0] + 1
    return 0


def _like_data(row: SampleRow, width: int) -> bool:
    if len(row.cells) != width:
        return False
    telling = (CellKind.NUMBER, CellKind.DATE, CellKind.TIME, CellKind.DATE_TIME)
    return any(kind in telling for kind in row.kinds)


def _like_names(row: SampleRow, sample: Sample) -> bool:
    """As many cells as the data, or one fewer or more, and hardly a number among them."""
    close = abs(len(row.cells) - sample.width) <= 1 or sample.separator.isspace()
    filled = [kind for kind in row.kinds if kind is not CellKind.EMPTY]
    return close and bool(filled) and 2 * sum(kind is CellKind.TEXT for kind in filled) > len(filled)


def _like_units(row: SampleRow) -> bool:
    cells = [cell.strip("[]() ").lower() for cell in row.cells]
    return any(cell in _UNIT_SIGNS for cell in cells) and all(len(cell) <= 24 for cell in cells)


def _aligned(cells: tuple[str, ...], sample: Sample) -> tuple[str, ...]:
    """Names for every column. A header one short names all but the first: data frames are written so.

    Where the last column is empty throughout, the lines may be closed by a separator instead; then the name that
    comes to stand over the dates decides.
    """
    short = sample.width - len(cells)
    if short == 1:
        from_first, from_second = (*cells, ""), ("", *cells)
        closed = all(row.kinds[-1] is CellKind.EMPTY for row in sample.good)
        dates = next(
            (place for row in sample.good for place, kind in enumerate(row.kinds) if kind >= CellKind.DATE), 0
        )
        dated = [bool(_DATE_NAME.search(names[dates].lower())) for names in (from_first, from_second)]
        shifted = (dated[1] and not dated[0]) or (dates > 0 and bool(_DATE_NAME.search(cells[0].lower())))
        cells = from_first if closed and not shifted else from_second
    elif short > 1:
        cells = ("",) * sample.width
    return cells[: sample.width]
