"""A table from an XLSX workbook: one of its sheets, with the results that its formulas had when it was saved."""

from __future__ import annotations

import re
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from itertools import islice, zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

from hatchbook.exchange.loggers.errors import Cancelled
from hatchbook.exchange.past_seasons.grid import (
    Cell,
    Grid,
    GridRow,
    TableFileError,
    TableProblem,
    Uncomputed,
    row_text,
)
from hatchbook.exchange.past_seasons.header import SEARCHED_LINES, header_score

if TYPE_CHECKING:
    from openpyxl.workbook.workbook import Workbook

LARGEST_UNPACKED = 1 << 29
_OLD_OR_LOCKED = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ZIP = b"PK\x03\x04"
#: Sheets often carry formats far below their last entry.
_MOST_BLANK_ROWS = 5_000
_ASKED_EVERY = 200
_MOST_SHEETS_LOOKED_AT = 20
_RELATIONS = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\b[^>]*\bref="([A-Z]{1,3})(\d+):([A-Z]{1,3})(\d+)"')
_FORMULA = re.compile(rb"<(?:\w+:)?f[ >/]")
#: What openpyxl lets through of a workbook whose parts are not what they should be.
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    ElementTree.ParseError,
    EOFError,
    KeyError,
    ValueError,
    TypeError,
    AttributeError,
    IndexError,
    NotImplementedError,
)


def is_workbook(path: Path) -> bool:
    """Whether a file begins as workbooks do, of whatever kind.

    Raises:
        TableFileError: it cannot be opened.
    """
    return _beginning(path).startswith((_ZIP, _OLD_OR_LOCKED))


def read_workbook(
    path: Path,
    sheet: str | None = None,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Grid:
    """A sheet of a workbook: the given one, or the one with the most column names that are known.

    Raises:
        TableFileError: it cannot be read.
        Cancelled: ``cancelled`` said so.
    """
    if _beginning(path).startswith(_OLD_OR_LOCKED):
        raise TableFileError(TableProblem.OLD_OR_LOCKED)
    try:
        parts = _Parts(path)
        with _opened(path, results=True) as book:
            names = _sheet_names(book)
            chosen = _chosen(book, names, sheet)
            rows = list(_rows(book, chosen, progress, cancelled))
        part = parts.sheet(chosen)
        if _FORMULA.search(part):
            nothing: list[Cell] = []
            with _opened(path, results=False) as book:
                formulas = _rows(book, chosen, None, cancelled)
                pairs = zip_longest(rows, formulas, fillvalue=nothing)
                rows = [_with_formulas(row, other) for row, other in pairs]
    except OSError as error:
        raise TableFileError(TableProblem.CANNOT_BE_OPENED, error.strerror or str(error)) from error
    except _DAMAGE as error:
        raise TableFileError(TableProblem.DAMAGED) from error
    _fill_merged(rows, part)
    return Grid(
        tuple(GridRow(number, cells, row_text(cells)) for number, cells in enumerate(map(tuple, rows), 1)),
        sheets=names,
        sheet=chosen,
    )


def _beginning(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(8)
    except OSError as error:
        raise TableFileError(TableProblem.CANNOT_BE_OPENED, error.strerror or str(error)) from error


@contextmanager
def _opened(path: Path, *, results: bool) -> Iterator[Workbook]:
    from openpyxl import load_workbook

    # By its file, since openpyxl judges a path by its ending. What it warns of (styles, validations) is not read.
    with path.open("rb") as file, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = load_workbook(file, read_only=True, data_only=results)
        try:
            yield book
        finally:
            book.close()


def _sheet_names(book: Workbook) -> tuple[str, ...]:
    visible = [sheet.title for sheet in book.worksheets if sheet.sheet_state == "visible"]
    names = tuple(visible or [sheet.title for sheet in book.worksheets])
    if not names:
        raise TableFileError(TableProblem.EMPTY)
    return names


def _chosen(book: Workbook, names: tuple[str, ...], wanted: str | None) -> str:
    if wanted is not None:
        if wanted not in book.sheetnames:
            raise TableFileError(TableProblem.NO_SUCH_SHEET, wanted)
        return wanted

    def score(name: str) -> int:
        first = islice(_rows(book, name, None, None), SEARCHED_LINES)
        return max((header_score(GridRow(0, tuple(cells), "")) for cells in first), default=0)

    return names[0] if len(names) == 1 else max(names[:_MOST_SHEETS_LOOKED_AT], key=score)


def _rows(
    book: Workbook,
    name: str,
    progress: Callable[[float], None] | None,
    cancelled: Callable[[], bool] | None,
) -> Iterator[list[Cell]]:
    """The cells of each row from the first one on, to the last that holds something."""
    sheet: Any = book[name]
    # Some programs note a size that is too small, and what lies beyond would be passed over.
    most = sheet.max_row or 0
    sheet.reset_dimensions()
    waiting = 0
    for number, row in enumerate(sheet.iter_rows(), 1):
        cells = [_cell(cell) for cell in row]
        while cells and cells[-1] is None:
            cells.pop()
        if number % _ASKED_EVERY == 0:
            if cancelled is not None and cancelled():
                raise Cancelled
            if progress is not None and most:
                progress(min(number / most, 1.0))
        if not cells:
            waiting += 1
            if waiting > _MOST_BLANK_ROWS:
                return
            continue
        for _ in range(waiting):
            yield []
        waiting = 0
        yield cells


def _cell(cell: Any) -> Cell:
    value = cell.value
    if value is None:
        # A formula can have an empty text as its result.
        return "" if cell.data_type == "str" else None
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, int | float) and not isinstance(value, bool):
        # 100 % is stored as 1: it is a share, not a count.
        return f"{value * 100:.10g} %" if "%" in (cell.number_format or "") else value
    if isinstance(value, bool | date):
        return value
    if isinstance(value, time | timedelta):
        return str(value)
    return str(value)


def _with_formulas(row: Sequence[Cell], other: Sequence[Cell]) -> list[Cell]:
    """The row, with the formulas of which no result was stored."""
    cells = [*row, *[None] * (len(other) - len(row))]
    for place, formula in enumerate(other):
        if cells[place] is None and isinstance(formula, str) and formula.startswith("="):
            cells[place] = Uncomputed(formula)
    return cells


def _fill_merged(rows: list[list[Cell]], part: bytes) -> None:
    """What is written once over several rows holds for each of them; across columns it stays in the first."""
    from openpyxl.utils import column_index_from_string

    for left, top, _right, bottom in _MERGED.findall(part):
        column, first, last = column_index_from_string(left.decode()) - 1, int(top) - 1, int(bottom)
        if first >= len(rows) or column >= len(rows[first]):
            continue
        for row in rows[first + 1 : last]:
            # A row without anything else is no line of the table.
            if row and any(cell is not None for cell in row):
                row.extend([None] * (column + 1 - len(row)))
                row[column] = rows[first][column]


class _Parts:
    """The parts of a workbook as they lie in its archive, for what a read-only workbook does not tell.

    Raises:
        TableFileError: it is no XLSX, or unpacks to too much.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        with zipfile.ZipFile(path) as archive:
            names = set(archive.namelist())
            if "[Content_Types].xml" not in names or not any(name.startswith("xl/") for name in names):
                raise TableFileError(TableProblem.OTHER_WORKBOOK)
            if sum(entry.file_size for entry in archive.infolist()) > LARGEST_UNPACKED:
                raise TableFileError(TableProblem.TOO_LARGE)

    def sheet(self, name: str) -> bytes:
        """The XML of a sheet; empty where it is not where it should be."""
        with zipfile.ZipFile(self._path) as archive:
            try:
                book = ElementTree.fromstring(archive.read("xl/workbook.xml"))
                relations = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
                targets = {one.get("Id"): one.get("Target", "") for one in relations}
                found = next(
                    targets[one.get(_RELATIONS)]
                    for one in book.iter()
                    if one.tag.endswith("}sheet") and one.get("name") == name
                )
                return archive.read(found.lstrip("/") if found.startswith("/") else f"xl/{found}")
            except (KeyError, StopIteration):
                return b""
