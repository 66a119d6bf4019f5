"""A table from a text file: any of the letters and separators that the import of readings knows."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import islice
from pathlib import Path

from hatchbook.exchange.loggers.errors import Cancelled, LoggerFileError, LoggerFileProblem
from hatchbook.exchange.loggers.layout import Encoding, Separator
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_splitting import is_blank, split_line
from hatchbook.exchange.loggers.sample import stated_separator
from hatchbook.exchange.loggers.text_decoding import read_text
from hatchbook.exchange.past_seasons.grid import Grid, GridRow, TableFileError, TableProblem
from hatchbook.exchange.past_seasons.header import SEARCHED_LINES, header_score

_CANDIDATES = (Separator.SEMICOLON, Separator.TAB, Separator.BAR, Separator.COMMA)
#: A note in quotes may run over so many lines; an opening quote without an end takes no more than its own.
_LONGEST_NOTE = 40
_BLANKS_AT_MOST = 4096
_ASKED_EVERY = 500
_PROBLEMS = {
    LoggerFileProblem.NOT_TEXT_OR_EMPTY: TableProblem.NOT_A_TABLE,
    LoggerFileProblem.WORKBOOK: TableProblem.OTHER_WORKBOOK,
    LoggerFileProblem.CANNOT_BE_OPENED: TableProblem.CANNOT_BE_OPENED,
    LoggerFileProblem.TOO_LARGE: TableProblem.TOO_LARGE,
}


def read_text_grid(
    path: Path,
    encoding: Encoding | None = None,
    separator: Separator | None = None,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Grid:
    """The table of a text file.

    Raises:
        TableFileError: it cannot be opened, or is no text.
        Cancelled: ``cancelled`` said so.
    """
    try:
        decoded = read_text(path, encoding)
    except LoggerFileError as error:
        problem = _PROBLEMS[error.problem]
        if problem is TableProblem.NOT_A_TABLE and _holds_nothing(path):
            problem = TableProblem.EMPTY
        raise TableFileError(problem, error.detail) from error
    lines = TextLines(decoded.data)
    chosen = separator or stated_separator(lines) or _likely_separator(lines)
    rows = []
    for row in _rows(lines, chosen):
        rows.append(row)
        if len(rows) % _ASKED_EVERY == 0:
            if cancelled is not None and cancelled():
                raise Cancelled
            if progress is not None:
                progress(row.number / len(lines))
    if stated_separator(lines) is not None and rows:
        rows[0] = GridRow(rows[0].number, (), rows[0].text)
    return Grid(tuple(rows), encoding=decoded.encoding, separator=chosen)


def _holds_nothing(path: Path) -> bool:
    """Whether there is nothing but blanks in a file, with or without the mark at its beginning."""
    with path.open("rb") as file:
        beginning = file.read(_BLANKS_AT_MOST + 1)
    marks = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
    bare = next((beginning[len(mark) :] for mark in marks if beginning.startswith(mark)), beginning)
    return len(beginning) <= _BLANKS_AT_MOST and not bare.strip(b" \t\r\n\0")


def _likely_separator(lines: TextLines) -> Separator:
    """The one that cuts out the most column names that are known; of equals the one that cuts most evenly."""

    def score(separator: Separator) -> tuple[int, int]:
        rows = list(islice(_rows(lines, separator), SEARCHED_LINES))
        widths = Counter(len(row.cells) for row in rows if not row.is_blank)
        width, count = widths.most_common(1)[0] if widths else (0, 0)
        return max(map(header_score, rows), default=0), count if width > 1 else 0

    return max(_CANDIDATES, key=score)


def _rows(lines: TextLines, separator: Separator) -> Iterator[GridRow]:
    index, count = 0, len(lines)
    while index < count:
        text = lines.text(index)
        if index == 0:
            text = text.lstrip("\ufeff")
        number, taken = index + 1, 1
        if '"' in text and _is_open(text, separator):
            taken, text = _with_its_rest(lines, index, text, separator)
        index += taken
        cells = () if is_blank(text, separator) else tuple(_cut(text, separator))
        yield GridRow(number, cells, text)


def _with_its_rest(lines: TextLines, index: int, text: str, separator: Separator) -> tuple[int, str]:
    """How many lines a quoted cell runs over, and their text; one where the quote has no end."""
    whole = text
    for further in range(1, min(_LONGEST_NOTE, len(lines) - index)):
        whole = f"{whole}\n{lines.text(index + further)}"
        if not _is_open(whole, separator):
            return further + 1, whole
    return 1, text


def _is_open(text: str, separator: Separator) -> bool:
    """Whether a quoted cell begins in a text and does not end in it."""
    at_start, inside, position = True, False, 0
    while position < len(text):
        letter = text[position]
        if inside:
            if letter == '"':
                following = text[position + 1 : position + 2]
                if following == '"':
                    position += 1
                elif following in ("", separator.value, "\n"):
                    inside = False
        elif letter == '"' and at_start:
            inside, at_start = True, False
        elif letter == separator.value:
            at_start = True
        elif letter != " ":
            at_start = False
        position += 1
    return inside


def _cut(text: str, separator: Separator) -> list[str]:
    if "\n" not in text:
        return split_line(text, separator)
    try:
        (cells,) = csv.reader([text], delimiter=separator.value, skipinitialspace=True)
    except (csv.Error, ValueError):
        return [text]
    return [" ".join(cell.split()) for cell in cells]
