"""Why a logger file cannot be read at all. `str(error)` is a plain sentence."""

from __future__ import annotations

from enum import StrEnum

from hatchbook.exchange.loggers.layout import Layout


class LoggerFileProblem(StrEnum):
    """What is wrong with the whole file."""

    NOT_TEXT_OR_EMPTY = "not_text_or_empty"
    WORKBOOK = "workbook"
    CANNOT_BE_OPENED = "cannot_be_opened"
    TOO_LARGE = "too_large"
    NO_DATE_COLUMN = "no_date_column"
    NO_VALUE_COLUMN = "no_value_column"


class LoggerFileError(Exception):
    """A file that cannot be read as a logger file.

    `problem` is the code; `detail` what the system says, where it says something.
    """

    def __init__(self, problem: LoggerFileProblem, detail: str = "") -> None:
        self.problem = problem
        self.detail = detail
        super().__init__(_SENTENCES[problem] + (f" ({detail})" if detail else ""))


class LayoutNotFoundError(LoggerFileError):
    """The columns could not be told: carries what was guessed, so that it can be shown and asked.

    `guess` is the layout as far as it could be guessed, `column_names` the header (blank where there is none),
    `rows` the first lines as (line number counted from 1, cells).
    """

    def __init__(
        self,
        problem: LoggerFileProblem,
        guess: Layout,
        column_names: tuple[str, ...],
        rows: tuple[tuple[int, tuple[str, ...]], ...],
    ) -> None:
        super().__init__(problem)
        self.guess = guess
        self.column_names = column_names
        self.rows = rows


class NoDateColumn(LayoutNotFoundError):  # noqa: N818 - the name other parts rely on
    """No column looks like a date."""

    def __init__(
        self, guess: Layout, column_names: tuple[str, ...], rows: tuple[tuple[int, tuple[str, ...]], ...]
    ) -> None:
        super().__init__(LoggerFileProblem.NO_DATE_COLUMN, guess, column_names, rows)


class NoValueColumn(LayoutNotFoundError):  # noqa: N818 - as above
    """No column looks like a temperature or a humidity."""

    def __init__(
        self, guess: Layout, column_names: tuple[str, ...], rows: tuple[tuple[int, tuple[str, ...]], ...]
    ) -> None:
        super().__init__(LoggerFileProblem.NO_VALUE_COLUMN, guess, column_names, rows)


class Cancelled(Exception):  # noqa: N818 - a wish of the caller, not an error
    """Reading was stopped because the caller asked for it; nothing was kept."""

    def __init__(self) -> None:
        super().__init__("Reading was cancelled.")


_SENTENCES = {
    LoggerFileProblem.NOT_TEXT_OR_EMPTY: "This file is not text, or is empty.",
    LoggerFileProblem.WORKBOOK: (
        "This file is a spreadsheet, not text. Save it as CSV in the spreadsheet program, and import that."
    ),
    LoggerFileProblem.CANNOT_BE_OPENED: "This file cannot be opened.",
    LoggerFileProblem.TOO_LARGE: "This file is larger than 1 GB; split it first.",
    LoggerFileProblem.NO_DATE_COLUMN: "No column looks like a date. Choose which column holds the date and time.",
    LoggerFileProblem.NO_VALUE_COLUMN: (
        "No column looks like a temperature or a humidity. Choose which column holds them."
    ),
}
