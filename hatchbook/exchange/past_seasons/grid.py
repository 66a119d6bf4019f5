"""A table as rows of cells, whichever kind of file it comes from."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from hatchbook.exchange.loggers.layout import Encoding, Separator


@dataclass(frozen=True, slots=True)
class Uncomputed:
    """A formula whose result was not stored with the file."""

    formula: str

    def __str__(self) -> str:
        return self.formula


Cell = str | int | float | bool | date | Uncomputed | None
"""What a cell holds; dates without their time of day."""


@dataclass(frozen=True, slots=True)
class GridRow:
    """A line: its number counted from 1, its cells, and what it says as one text (a CSV's own, else with tabs)."""

    number: int
    cells: tuple[Cell, ...]
    text: str

    @property
    def is_blank(self) -> bool:
        """Whether it holds nothing that was typed."""
        return all(is_empty(cell) for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Grid:
    """The lines of a table.

    ``sheets`` and ``sheet``: of a workbook, else empty. ``encoding`` and ``separator``: of a text, else None.
    """

    rows: tuple[GridRow, ...]
    sheets: tuple[str, ...] = ()
    sheet: str = ""
    encoding: Encoding | None = None
    separator: Separator | None = None

    @property
    def is_workbook(self) -> bool:
        """Whether it comes from a workbook."""
        return self.separator is None


class TableProblem(StrEnum):
    """Why a whole file cannot be read as a table."""

    CANNOT_BE_OPENED = "cannot_be_opened"
    NOT_A_TABLE = "not_a_table"
    EMPTY = "empty"
    OLD_OR_LOCKED = "old_or_locked"
    OTHER_WORKBOOK = "other_workbook"
    DAMAGED = "damaged"
    TOO_LARGE = "too_large"
    NO_SUCH_SHEET = "no_such_sheet"


_SENTENCES = {
    TableProblem.CANNOT_BE_OPENED: "This file cannot be opened.",
    TableProblem.NOT_A_TABLE: "This file is no table: neither text in columns nor an XLSX workbook.",
    TableProblem.EMPTY: "There is nothing in this table.",
    TableProblem.OLD_OR_LOCKED: (
        "This workbook is of an older kind, or locked with a password. Save it as XLSX or CSV without one."
    ),
    TableProblem.OTHER_WORKBOOK: "This workbook is of another kind. Save it as XLSX or CSV.",
    TableProblem.DAMAGED: "This workbook is damaged. Open it in the spreadsheet program and save it anew.",
    TableProblem.TOO_LARGE: "This table is too large. Split it and import the parts.",
    TableProblem.NO_SUCH_SHEET: "There is no such sheet in this workbook.",
}


class TableFileError(Exception):
    """A file that cannot be read as a table; ``problem`` is the code, ``detail`` what the system says of it."""

    def __init__(self, problem: TableProblem, detail: str = "") -> None:
        self.problem = problem
        self.detail = detail
        super().__init__(_SENTENCES[problem] + (f" ({detail})" if detail else ""))


def is_empty(cell: Cell) -> bool:
    """Whether nothing was typed into a cell."""
    return cell is None or isinstance(cell, Uncomputed) or (isinstance(cell, str) and not cell.strip())


def cell_text(cell: Cell) -> str:
    """What a cell says."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    return cell.isoformat() if isinstance(cell, date) else str(cell).strip()


def row_text(cells: Sequence[Cell]) -> str:
    """A line of a workbook as one text: its cells with tabs between them."""
    return "\t".join(map(cell_text, cells)).rstrip("\t")


_LETTERS = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ı": "i", "°": " "})


def bare_words(text: str) -> str:
    """A text for comparing: small letters without accents, single spaces, of signs only % and #."""
    plain = unicodedata.normalize("NFKD", text.casefold()).translate(_LETTERS)
    letters = (
        letter if letter.isalnum() else f" {letter} " if letter in "%#" else " "
        for letter in plain
        if not unicodedata.combining(letter)
    )
    return " ".join("".join(letters).split())
