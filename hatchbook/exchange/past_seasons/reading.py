"""A table of past seasons from a file: every line is a batch, no batch, or refused with its reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from itertools import islice
from pathlib import Path

from hatchbook.exchange.loggers.date_order import OrderGuess
from hatchbook.exchange.loggers.errors import Cancelled
from hatchbook.exchange.loggers.layout import Basis, DateOrder, Encoding, Separator
from hatchbook.exchange.past_seasons.cells import parse_count, parse_season, season_in
from hatchbook.exchange.past_seasons.day_cells import WrittenDay, guess_order, written_day
from hatchbook.exchange.past_seasons.fields import IDENTITY_FIELDS, PastField
from hatchbook.exchange.past_seasons.grid import (
    Grid,
    GridRow,
    TableFileError,
    TableProblem,
    Uncomputed,
    bare_words,
    cell_text,
    is_empty,
)
from hatchbook.exchange.past_seasons.header import column_names, find_header, guess_columns
from hatchbook.exchange.past_seasons.header_words import TOTAL
from hatchbook.exchange.past_seasons.known_words import KnownWords, asks_shipped, known_words
from hatchbook.exchange.past_seasons.lines import LineReader, LineRefusal, PastRow
from hatchbook.exchange.past_seasons.refusals import Refusal, RefusedLine
from hatchbook.exchange.past_seasons.text_grid import read_text_grid
from hatchbook.exchange.past_seasons.workbook import is_workbook, read_workbook

_READ = 0.6  # share of the work that is reading the file; the rest is understanding its lines
_ASKED_EVERY = 200
_PREVIEWED = 12


class NoBatch(StrEnum):
    """Why a line of a table is no batch, without anything being wrong with it."""

    BLANK = "blank"
    ABOVE = "above"
    HEADER = "header"
    TITLE = "title"
    SEASON = "season"
    TOTAL = "total"


@dataclass(frozen=True)
class PastHints:
    """What the breeder chose; None and empty: guessed.

    ``columns``: what each column holds. ``header``: number of the line of names, 0 for none. ``species`` and
    ``season``: of lines that do not say theirs. ``meant``: codes of species by words of the file, in small letters.
    """

    sheet: str | None = None
    encoding: Encoding | None = None
    separator: Separator | None = None
    header: int | None = None
    columns: tuple[PastField, ...] | None = None
    date_order: DateOrder | None = None
    species: str | None = None
    season: int | None = None
    meant: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class PastSeasonsTable:
    """What a file holds, and how it was read.

    Attributes:
        rows: the lines that are batches.
        refused: the lines that cannot be read as a batch.
        no_batches: number and kind of the lines that are none; ``rows``, ``refused`` and they are all lines.
        header: number of the line that names the columns, 0 where there is none.
        names, columns: name of each column ("" where it has none), and what it holds.
        order: in which order dates are read, and what that rests on.
        hints: what was chosen.
    """

    path: Path
    grid: Grid
    rows: tuple[PastRow, ...]
    refused: tuple[RefusedLine, ...]
    no_batches: tuple[tuple[int, NoBatch], ...]
    header: int
    names: tuple[str, ...]
    columns: tuple[PastField, ...]
    order: OrderGuess
    hints: PastHints

    @property
    def missing(self) -> tuple[PastField, ...]:
        """What has to be chosen before any line can be a batch: the eggs set, the species, the season."""
        found = [] if PastField.EGGS_SET in self.columns else [PastField.EGGS_SET]
        if self.hints.species is None and PastField.SPECIES not in self.columns:
            found.append(PastField.SPECIES)
        seasoned = {PastField.SEASON, PastField.SET_ON} & {*self.columns}
        carried = any(kind is NoBatch.SEASON for _, kind in self.no_batches)
        if self.hints.season is None and not seasoned and not carried:
            found.append(PastField.SEASON)
        return tuple(found)

    def count(self, kind: NoBatch) -> int:
        """How many lines are no batch for this reason."""
        return sum(one is kind for _, one in self.no_batches)

    def preview(self, refused: Sequence[RefusedLine], first: int = _PREVIEWED) -> tuple[GridRow, ...]:
        """The first lines below the names, and the first line refused for each reason."""
        shown = {row.number for row in islice((r for r in self.grid.rows if r.number > self.header), first)}
        seen = set()
        for line in refused:
            if line.why.reason not in seen:
                seen.add(line.why.reason)
                shown.add(line.number)
        return tuple(row for row in self.grid.rows if row.number in shown)


def read_past_seasons(
    path: Path,
    today: date,
    *,
    season_first_month: int = 1,
    hints: PastHints | None = None,
    words: KnownWords | None = None,
    month_first_usual: bool = False,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> PastSeasonsTable:
    """Reads a table with one line a batch: CSV or other text in columns, or XLSX.

    Args:
        path: the file.
        today: no batch was set later.
        season_first_month: the month in which a season begins.
        hints: what was chosen; the rest is guessed.
        words: species and programmes by their words; None: those of the trade.
        month_first_usual: whether the breeder's dates usually begin with the month.
        progress: told the share done, 0 to 1.
        cancelled: asked between portions.

    Raises:
        TableFileError: the file cannot be read as a table.
        Cancelled: ``cancelled`` said so.
    """
    chosen = hints or PastHints()

    def tell(share: float) -> None:
        if progress is not None:
            progress(share)

    grid = _grid(path, chosen, lambda share: tell(_READ * share), cancelled)
    if all(row.is_blank for row in grid.rows):
        raise TableFileError(TableProblem.EMPTY)
    header = find_header(grid.rows) if chosen.header is None else chosen.header
    below = [row for row in grid.rows if row.number > header]
    width = _width(grid.rows, header, below, is_workbook=grid.is_workbook)
    names = column_names(grid.rows, header, width)
    columns = guess_columns(names, below) if chosen.columns is None else _fitted(chosen.columns, width)
    places = {field: place for place, field in reversed([*enumerate(columns)])}
    places.pop(PastField.LEAVE_OUT, None)
    if chosen.date_order is not None:
        order = OrderGuess(chosen.date_order, Basis.GIVEN)
    else:
        order = guess_order(_days(below, places, today), today, month_first_usual=month_first_usual)
    reader = LineReader(
        places=places,
        note_places=tuple(place for place, field in enumerate(columns) if field is PastField.NOTE),
        width=width,
        order=order.order,
        last=today,
        season_first_month=season_first_month,
        words=words or known_words(),
        season=chosen.season,
        species=chosen.species,
        meant=chosen.meant,
        asked_shipped=PastField.SOURCE in places and asks_shipped(names[places[PastField.SOURCE]]),
    )
    sorting = _Sorting(reader, grid, header)
    for number, row in enumerate(grid.rows):
        if number % _ASKED_EVERY == 0:
            if cancelled is not None and cancelled():
                raise Cancelled
            tell(_READ + (1 - _READ) * number / len(grid.rows))
        sorting.take(row)
    tell(1.0)
    return PastSeasonsTable(
        path=path,
        grid=grid,
        rows=tuple(sorting.rows),
        refused=tuple(sorting.refused),
        no_batches=tuple(sorting.no_batches),
        header=header,
        names=names,
        columns=columns,
        order=order,
        hints=chosen,
    )


def _grid(
    path: Path,
    hints: PastHints,
    progress: Callable[[float], None],
    cancelled: Callable[[], bool] | None,
) -> Grid:
    if is_workbook(path):
        return read_workbook(path, hints.sheet, progress, cancelled)
    return read_text_grid(path, hints.encoding, hints.separator, progress, cancelled)


def _width(rows: Sequence[GridRow], header: int, below: Iterable[GridRow], *, is_workbook: bool) -> int:
    """Columns of the table: those that are named; in a workbook, and without names, as many as the widest line has.

    A text that has more cells in a line than names has a separator inside a cell: what follows it is shifted.
    """
    named = next((row for row in rows if row.number == header), None)
    if named is not None and not is_workbook:
        filled = [place for place, cell in enumerate(named.cells) if not is_empty(cell)]
        # Cells beside a table without a name for them make a column where most lines have one.
        lines = [row for row in below if not row.is_blank]
        last = filled[-1] + 1 if filled else 0
        beyond = max((len(row.cells) for row in lines), default=0)
        for place in range(last, beyond):
            have = sum(place < len(row.cells) and not is_empty(row.cells[place]) for row in lines)
            last = place + 1 if 2 * have > len(lines) else last
        return last
    return max((len(row.cells) for row in rows), default=0)


def _fitted(columns: tuple[PastField, ...], width: int) -> tuple[PastField, ...]:
    return (*columns, *[PastField.LEAVE_OUT] * (width - len(columns)))[:width]


def _days(
    rows: Iterable[GridRow], places: Mapping[PastField, int], today: date
) -> list[tuple[WrittenDay, int | None]]:
    """The dates of the lines, each with the year of its season where the line says it."""
    found = []
    day_place, season_place = places.get(PastField.SET_ON), places.get(PastField.SEASON)
    for row in rows:
        if day_place is None or day_place >= len(row.cells):
            continue
        season: int | date | None = None
        try:
            written = written_day(row.cells[day_place], today.year)
            if season_place is not None and season_place < len(row.cells):
                season = parse_season(row.cells[season_place], today.year)
        except Refusal:
            continue  # the line will be refused with its reason
        if written is not None:
            found.append((written, season if isinstance(season, int) else None))
    return found


class _Sorting:
    """Takes the lines in their order, and tells batches, refused lines and lines that are no batch apart."""

    def __init__(self, reader: LineReader, grid: Grid, header: int) -> None:
        self._reader = reader
        self._header = header
        names = next((row for row in grid.rows if row.number == header), None)
        self._names = names.cells if names is not None else ()
        self._carried: int | None = None
        self._sums = _Sums()
        self.rows: list[PastRow] = []
        self.refused: list[RefusedLine] = []
        self.no_batches: list[tuple[int, NoBatch]] = []

    def take(self, row: GridRow) -> None:
        """The next line."""
        kind = self._kind(row)
        if kind is not None:
            self.no_batches.append((row.number, kind))
            if kind in (NoBatch.SEASON, NoBatch.TOTAL, NoBatch.BLANK):
                self._sums.end_block()
            return
        self._sums.add(self._eggs(row), named=self._is_named(row))
        try:
            found = self._reader.read(row, self._carried)
        except LineRefusal as refusal:
            self.refused.append(RefusedLine(row.number, row.text, refusal.why, refusal.column))
        else:
            self.rows.append(found)
        self._note_season(row)

    def _kind(self, row: GridRow) -> NoBatch | None:
        """Which kind of line this is that is no batch; None where it is to be read as one."""
        if row.is_blank:
            return NoBatch.BLANK
        if row.number < self._header:
            return NoBatch.ABOVE
        if row.number == self._header or (self._names and row.cells == self._names):
            return NoBatch.HEADER
        filled = [cell for cell in row.cells if isinstance(cell, Uncomputed) or not is_empty(cell)]
        first = filled[0]
        if isinstance(first, str) and TOTAL.fullmatch(bare_words(first)):
            return NoBatch.TOTAL
        if len(filled) == 1 and (year := self._lone_year(row, cell_text(first))) is not None:
            self._carried = year
            return NoBatch.SEASON
        if len(filled) == 1 and isinstance(first, str) and any(map(str.isalpha, first)):
            return NoBatch.TITLE
        return NoBatch.TOTAL if not self._is_named(row) and self._sums.fit(self._eggs(row)) else None

    def _lone_year(self, row: GridRow, text: str) -> int | None:
        """The season that a line with one filled cell gives to those below it; two figures can be anything."""
        of_season = cell_text(self._reader.cell(row, PastField.SEASON))
        return season_in(text, self._reader.last.year) if of_season or len(text) >= 4 else None

    def _is_named(self, row: GridRow) -> bool:
        """Whether a line says which batch it is about."""
        return any(not is_empty(self._reader.cell(row, field)) for field in IDENTITY_FIELDS)

    def _eggs(self, row: GridRow) -> int | None:
        try:
            return parse_count(self._reader.cell(row, PastField.EGGS_SET))
        except Refusal:
            return None

    def _note_season(self, row: GridRow) -> None:
        try:
            said = parse_season(self._reader.cell(row, PastField.SEASON), self._reader.last.year)
        except Refusal:
            return
        if isinstance(said, int):
            self._carried = said


class _Sums:
    """The eggs set of the lines so far, of all and since the last gap, to know a line of sums without a word."""

    def __init__(self) -> None:
        self._whole, self._block = [0, 0], [0, 0]

    def add(self, eggs: int | None, *, named: bool) -> None:
        """The eggs of another line; a line without a name is a sum only where those above it have names."""
        for sums in (self._whole, self._block):
            sums[0] += eggs or 0
            sums[1] += named

    def end_block(self) -> None:
        """A gap, a title or a line of sums."""
        self._block = [0, 0]

    def fit(self, eggs: int | None) -> bool:
        """Whether these are the eggs of at least two lines."""
        return bool(eggs) and any(sums[0] == eggs and sums[1] > 1 for sums in (self._whole, self._block))
