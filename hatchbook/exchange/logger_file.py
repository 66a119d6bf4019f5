"""The reader for delimited text that temperature and humidity loggers write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from zoneinfo import ZoneInfo

from hatchbook.exchange.loggers.errors import (
    Cancelled,
    LayoutNotFoundError,
    LoggerFileError,
    LoggerFileProblem,
    NoDateColumn,
    NoValueColumn,
)
from hatchbook.exchange.loggers.instants import find_instants
from hatchbook.exchange.loggers.layout import (
    Basis,
    ColumnRole,
    DateForm,
    DateOrder,
    DecimalSign,
    Encoding,
    Guess,
    HourClock,
    Layout,
    LayoutField,
    LayoutHints,
    RepeatedHour,
    Separator,
    TemperatureUnit,
    TimeMeaning,
)
from hatchbook.exchange.loggers.layout_guess import guess_layout
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.line_reading import read_lines
from hatchbook.exchange.loggers.rejects import PartialLine, Quantity, RejectedLine, RejectedRun, RejectReason
from hatchbook.exchange.loggers.table import Gap, LoggerTable, PreviewRow, StuckStretch
from hatchbook.exchange.loggers.table_making import make_table
from hatchbook.exchange.loggers.text_decoding import read_text

__all__ = [
    "Basis",
    "Cancelled",
    "ColumnRole",
    "DateForm",
    "DateOrder",
    "DecimalSign",
    "Encoding",
    "Gap",
    "Guess",
    "HourClock",
    "Layout",
    "LayoutField",
    "LayoutHints",
    "LayoutNotFoundError",
    "LoggerFileError",
    "LoggerFileProblem",
    "LoggerTable",
    "NoDateColumn",
    "NoValueColumn",
    "PartialLine",
    "PreviewRow",
    "Quantity",
    "RejectReason",
    "RejectedLine",
    "RejectedRun",
    "RepeatedHour",
    "Separator",
    "StuckStretch",
    "TemperatureUnit",
    "TimeMeaning",
    "read_logger_file",
]

_READ, _GUESSED, _PARSED, _TIMED = 0.1, 0.15, 0.75, 0.9  # shares of the work, for the progress bar


def read_logger_file(
    path: str | Path,
    layout: Layout | None = None,
    zone: str | ZoneInfo = "UTC",
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
    *,
    hints: LayoutHints | None = None,
) -> LoggerTable:
    """Reads a logger file; every line of it ends as a reading, or is named with the reason why not.

    `layout` settles everything; `hints` settles what its fields hold and leaves the rest to be guessed. `zone` is
    the zone of times written without an offset. `progress` gets shares from 0 to 1; `cancelled` is asked between
    blocks of lines.

    Raises LoggerFileError (NoDateColumn and NoValueColumn carry the guess so far) and Cancelled.
    """
    settled = LayoutHints.from_layout(layout) if layout is not None else hints or LayoutHints()
    home_zone = ZoneInfo(zone) if isinstance(zone, str) else zone

    def step(share: float) -> None:
        if cancelled is not None and cancelled():
            raise Cancelled
        if progress is not None:
            progress(share)

    step(0.0)
    text = read_text(Path(path), settled.encoding)
    step(_READ)
    lines = TextLines(text.data)
    draft = guess_layout(lines, text, settled)
    read = read_lines(lines, text, draft, lambda share: step(_GUESSED + share * (_PARSED - _GUESSED)))
    step(_PARSED)
    instants = find_instants(read, draft, settled, home_zone)
    step(_TIMED)
    table = make_table(lines, draft, read, instants, lambda share: step(_TIMED + share * (1.0 - _TIMED)))
    step(1.0)
    return table
