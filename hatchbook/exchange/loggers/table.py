"""What reading a logger file gives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.layout import Basis, Guess, Layout, LayoutField
from hatchbook.exchange.loggers.rejects import (
    PartialLine,
    Quantity,
    RejectedLine,
    RejectedRun,
    RejectReason,
    runs,
)


@dataclass(frozen=True, slots=True)
class Gap:
    """A silence of the logger, in UTC seconds: longer than what an average bridges."""

    start_s: int
    end_s: int

    @property
    def seconds(self) -> int:
        """How long it is."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True)
class StuckStretch:
    """A quantity that does not move at all for longer than a sensor in use stands still, in UTC seconds."""

    start_s: int
    end_s: int
    quantity: Quantity
    value: float


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One line to show: its number counted from 1, its cells, and, if it stays out, why and in which columns."""

    number: int
    cells: tuple[str, ...]
    reason: RejectReason | None
    bad_columns: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class LoggerTable:
    """The readings of a file and an account of every line of it.

    `at`: UTC seconds, ascending, each once (int64). `temperature_c`: °C, `humidity`: % RH (float64, nan where a
    line has none; never both). `line_numbers`: the line of each reading, counted from 1.

    Every line is in one place: lines == header + preamble + blank + stored + len(rejected) + duplicates.
    """

    at: NDArray[np.int64]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]
    line_numbers: NDArray[np.int64]
    lines: int
    header: int
    preamble: int
    blank: int
    rejected: tuple[RejectedLine, ...]
    partial: tuple[PartialLine, ...]
    duplicate_lines: NDArray[np.int64]
    moved_lines: NDArray[np.int64]
    newest_first: bool
    empty_temperature: int
    empty_humidity: int
    layout: Layout
    guesses: tuple[Guess, ...]
    column_names: tuple[str, ...]
    stuck: tuple[StuckStretch, ...]
    gaps: tuple[Gap, ...]
    spacing_s: float | None
    preview_rows: tuple[PreviewRow, ...]

    @property
    def stored(self) -> int:
        """Number of readings."""
        return int(self.at.size)

    @property
    def duplicates(self) -> int:
        """Number of lines that say once more what an earlier line says."""
        return int(self.duplicate_lines.size)

    @property
    def out_of_order(self) -> int:
        """Number of readings that stood in the wrong place of the file and were sorted in."""
        return int(self.moved_lines.size)

    @property
    def undecided(self) -> tuple[LayoutField, ...]:
        """The fields of the layout that the file does not decide: these have to be asked."""
        return tuple(guess.field for guess in self.guesses if guess.basis is Basis.UNDECIDED)

    def guess(self, field: LayoutField) -> Guess:
        """What one field of the layout rests on."""
        return next((guess for guess in self.guesses if guess.field is field), Guess(field, Basis.USUAL))

    def rejected_runs(self) -> tuple[RejectedRun, ...]:
        """The rejected lines with neighbours of one reason put together."""
        return runs(self.rejected)

    def preview(self, first: int = 3) -> tuple[PreviewRow, ...]:
        """The first data lines, every kind of rejected line once with the line before it, and the last line.

        At most the first 20 data lines can be had.
        """
        start = self.layout.data_line
        leading = [row for row in self.preview_rows if start <= row.number < start + 20][:first]
        rest = [row for row in self.preview_rows if row.number >= start + 20 or row.reason is not None]
        return tuple({row.number: row for row in (*leading, *rest)}.values())
