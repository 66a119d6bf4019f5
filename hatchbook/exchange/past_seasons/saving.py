"""The lines that stayed out, saved as they are, to be put right and brought in later."""

from __future__ import annotations

import codecs
from collections.abc import Sequence
from pathlib import Path

from hatchbook.exchange.loggers.layout import Encoding
from hatchbook.exchange.past_seasons.grid import GridRow, TableFileError, TableProblem, Uncomputed
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable
from hatchbook.exchange.past_seasons.refusals import RefusedLine

_MARKS = {Encoding.UTF_16_LE: codecs.BOM_UTF16_LE, Encoding.UTF_16_BE: codecs.BOM_UTF16_BE}


def refused_ending(table: PastSeasonsTable) -> str:
    """What the name of the file has to end in: the lines are saved in the kind of file they came in."""
    return ".xlsx" if table.grid.is_workbook else table.path.suffix or ".csv"


def save_refused(table: PastSeasonsTable, refused: Sequence[RefusedLine], path: Path) -> None:
    """Writes the line of names and the refused lines, as they stand in the file that they came in.

    Raises:
        TableFileError: the file cannot be written.
    """
    numbers = {line.number for line in refused} | {table.header}
    rows = [row for row in table.grid.rows if row.number in numbers]
    try:
        if table.grid.is_workbook:
            _save_workbook(rows, table.grid.sheet, path)
        else:
            _save_text(rows, table.grid.encoding or Encoding.UTF_8, path)
    except OSError as error:
        raise TableFileError(TableProblem.CANNOT_BE_OPENED, error.strerror or str(error)) from error


def _save_text(rows: Sequence[GridRow], encoding: Encoding, path: Path) -> None:
    text = "".join(f"{row.text}\n" for row in rows)
    if encoding is Encoding.LATIN_1:
        data = text.encode("cp1252", errors="replace")
    else:
        data = _MARKS.get(encoding, b"") + text.encode(encoding.value, errors="replace")
    path.write_bytes(data)


def _save_workbook(rows: Sequence[GridRow], title: str, path: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title or sheet.title
    for row in rows:
        sheet.append([cell.formula if isinstance(cell, Uncomputed) else cell for cell in row.cells])
    book.save(path)
    book.close()
