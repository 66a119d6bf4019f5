"""Lines of a file cut into cells, a block at a time.

Lines with the expected number of separators are cut with numpy; the others one by one in `line_splitting`, so
that each finds its reason.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.cell_shapes import Bytes, Rows
from hatchbook.exchange.loggers.layout import Separator
from hatchbook.exchange.loggers.line_splitting import is_blank, split_line
from hatchbook.exchange.loggers.rejects import LineFate

_Bounds = Callable[[int, Rows | slice], tuple[Rows, Rows]]
_QUOTE = 34
_NEW_LINE = 10
_TAB = 9
_SPACE = 32


class TextLines:
    """The lines of a text: bytes that end in a line feed, and where each line starts and ends."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.array: Bytes = np.frombuffer(data, dtype=np.uint8)
        self.ends: Rows = np.flatnonzero(self.array == _NEW_LINE)
        self.starts: Rows = np.empty_like(self.ends)
        self.starts[0] = 0
        self.starts[1:] = self.ends[:-1] + 1

    def __len__(self) -> int:
        return self.ends.size

    def text(self, index: int) -> str:
        """The line with this index, counted from 0."""
        return self.data[self.starts[index] : self.ends[index]].decode("utf-8", errors="replace")

    def touched(self, positions: Rows) -> Rows:
        """The lines in which these bytes stand."""
        return np.unique(np.searchsorted(self.ends, positions))


@dataclass(frozen=True, slots=True)
class LinePattern:
    """What a data line looks like: its separator, its number of cells, and the columns that are wanted."""

    separator: Separator
    width: int
    wanted: tuple[int, ...]
    header: str  # text of the header line, which loggers repeat when they restart


@dataclass(frozen=True, slots=True)
class CutBlock:
    """The wanted cells of a block: cell of column j in line i is buffer[start[j, i]:end[j, i]].

    `fates` are LineFate codes: STORED for lines that could be cut.
    """

    buffer: Bytes
    start: Rows
    end: Rows
    fates: NDArray[np.uint8]


def cut_block(lines: TextLines, first: int, stop: int, pattern: LinePattern) -> CutBlock:
    """Cuts the lines from first to stop (not included)."""
    base = int(lines.starts[first])
    block = lines.array[base : int(lines.ends[stop - 1]) + 1]
    start, end = lines.starts[first:stop] - base, lines.ends[first:stop] - base
    separators, regular = _separators(block, start, pattern.separator)
    quotes = np.flatnonzero(block == _QUOTE) if _QUOTE in block else np.empty(0, dtype=np.intp)
    if quotes.size:
        separators = _outside_quotes(separators, quotes, start)
    before, regular_width = _count(separators, start, end, pattern.width)
    regular &= regular_width

    def bounds(column: int, rows: Rows | slice) -> tuple[Rows, Rows]:
        left, right = start[rows], end[rows]
        if column > 0:
            left = separators[before[rows] + (column - 1)] + 1
        if column < pattern.width - 1:
            right = separators[before[rows] + column]
        return left, right

    rows: Rows | slice = slice(None) if regular.all() else np.flatnonzero(regular)
    if quotes.size:
        index = np.arange(start.size)[rows]
        count = np.searchsorted(quotes, end[rows]) - np.searchsorted(quotes, start[rows])
        simple = _only_whole_cells_quoted(block, count, pattern.width, rows, bounds)
        regular = np.zeros(start.size, dtype=bool)
        regular[index[simple]] = True
        rows = np.flatnonzero(regular)
    cell_start = np.zeros((len(pattern.wanted), start.size), dtype=np.intp)
    cell_end = np.zeros_like(cell_start)
    for place, column in enumerate(pattern.wanted):
        left, right = bounds(column, rows)
        if quotes.size:
            marked = (right - left >= 2) & (block[left] == _QUOTE)
            left, right = left + marked, right - marked
        cell_start[place, rows], cell_end[place, rows] = left, right
    cut = CutBlock(block, cell_start, cell_end, np.full(start.size, LineFate.STORED, dtype=np.uint8))
    empty = start == end
    cut.fates[empty] = LineFate.BLANK
    odd = np.flatnonzero(~regular & ~empty)
    return _cut_odd_lines(lines, first, odd, pattern, cut) if odd.size else cut


def _separators(block: Bytes, start: Rows, separator: Separator) -> tuple[Rows, NDArray[np.bool_]]:
    """Where separators stand, and which lines can be cut there."""
    regular = np.ones(start.size, dtype=bool)
    if separator is not Separator.SPACES:
        return np.flatnonzero(block == ord(separator.value)), regular
    space = (block == _SPACE) | (block == _TAB)
    ends_run = space[:-1] & ~space[1:] & (block[1:] != _NEW_LINE)
    regular &= ~space[start]
    return np.flatnonzero(ends_run), regular


def _count(separators: Rows, start: Rows, end: Rows, width: int) -> tuple[Rows, NDArray[np.bool_]]:
    """For each line the index of its first separator, and whether it has the expected number of them."""
    inner = width - 1
    if inner and separators.size == start.size * inner:
        grid = separators.reshape(start.size, inner)
        if (grid[:, 0] >= start).all() and (grid[:, -1] < end).all():
            return np.arange(start.size) * inner, np.ones(start.size, dtype=bool)
    before = np.searchsorted(separators, start)
    return before, np.searchsorted(separators, end) - before == inner


def _outside_quotes(separators: Rows, quotes: Rows, start: Rows) -> Rows:
    """The separators before which an even number of quotes stands in their line."""
    line = np.searchsorted(start, separators, side="right") - 1
    before = np.searchsorted(quotes, separators) - np.searchsorted(quotes, start)[line]
    outside: Rows = separators[before % 2 == 0]
    return outside


def _only_whole_cells_quoted(
    block: Bytes, count: Rows, width: int, rows: Rows | slice, bounds: _Bounds
) -> NDArray[np.bool_]:
    """Lines in which every one of their `count` quotes opens or closes a whole cell."""
    for column in range(width):
        left, right = bounds(column, rows)
        count = count - 2 * ((right - left >= 2) & (block[left] == _QUOTE) & (block[right - 1] == _QUOTE))
    return np.asarray(count == 0)


def _cut_odd_lines(lines: TextLines, first: int, odd: Rows, pattern: LinePattern, cut: CutBlock) -> CutBlock:
    side = bytearray()
    base = cut.buffer.size
    for row in odd.tolist():
        text = lines.text(first + row)
        cells = split_line(text, pattern.separator)
        fate = _fate(text, cells, pattern)
        cut.fates[row] = fate
        if fate is LineFate.STORED:
            for place, column in enumerate(pattern.wanted):
                cut.start[place, row] = base + len(side)
                side += cells[column].encode("utf-8", errors="replace")
                cut.end[place, row] = base + len(side)
    if not side:
        return cut
    buffer = np.concatenate([cut.buffer, np.frombuffer(bytes(side), dtype=np.uint8)])
    return CutBlock(buffer, cut.start, cut.end, cut.fates)


def _fate(text: str, cells: list[str], pattern: LinePattern) -> LineFate:
    if is_blank(text, pattern.separator):
        return LineFate.BLANK
    if pattern.header and text == pattern.header:
        return LineFate.HEADER
    if len(cells) < pattern.width and len(cells) <= max(pattern.wanted) + 1:
        # The last cell of a line that was cut off may be half a number: it is trusted only if another follows.
        return LineFate.CUT_SHORT
    if any(cells[pattern.width :]):
        return LineFate.TOO_MANY_CELLS
    return LineFate.STORED
