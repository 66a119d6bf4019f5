"""What becomes of each line, and the lines that stay out with their reasons."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum

LONGEST_TEXT = 300  # letters of a rejected line that are kept for showing


class Quantity(StrEnum):
    """What a value cell measures."""

    TEMPERATURE = "temperature"
    HUMIDITY = "humidity"


class RejectReason(StrEnum):
    """Why a line stays out."""

    NOT_TEXT = "not_text"
    CUT_SHORT = "cut_short"
    TOO_MANY_CELLS = "too_many_cells"
    NO_DATE = "no_date"
    NO_TIME = "no_time"
    IMPOSSIBLE_DATE = "impossible_date"
    IMPOSSIBLE_TIME = "impossible_time"
    NO_OFFSET = "no_offset"
    SKIPPED_HOUR = "skipped_hour"
    NO_NUMBER = "no_number"
    TEMPERATURE_TOO_LOW = "temperature_too_low"
    TEMPERATURE_TOO_HIGH = "temperature_too_high"
    HUMIDITY_BELOW_0 = "humidity_below_0"
    HUMIDITY_ABOVE_100 = "humidity_above_100"
    SAME_TIME_OTHER_VALUES = "same_time_other_values"
    TIME_RUNS_BACKWARDS = "time_runs_backwards"
    TIME_JUMPS_AHEAD = "time_jumps_ahead"


class LineFate(IntEnum):
    """What became of a line; every line of a file has exactly one. From NOT_TEXT on: rejected."""

    STORED = 0
    PREAMBLE = 1
    HEADER = 2
    BLANK = 3
    DUPLICATE = 4
    NOT_TEXT = 10
    CUT_SHORT = 11
    TOO_MANY_CELLS = 12
    NO_DATE = 13
    NO_TIME = 14
    IMPOSSIBLE_DATE = 15
    IMPOSSIBLE_TIME = 16
    NO_OFFSET = 17
    SKIPPED_HOUR = 18
    NO_NUMBER = 19
    TEMPERATURE_TOO_LOW = 20
    TEMPERATURE_TOO_HIGH = 21
    HUMIDITY_BELOW_0 = 22
    HUMIDITY_ABOVE_100 = 23
    SAME_TIME_OTHER_VALUES = 24
    TIME_RUNS_BACKWARDS = 25
    TIME_JUMPS_AHEAD = 26


FIRST_REJECTED = LineFate.NOT_TEXT
REASON_OF: dict[int, RejectReason] = {
    int(fate): RejectReason[fate.name] for fate in LineFate if fate >= FIRST_REJECTED
}
"""The reason for each rejecting fate."""

_SENTENCES = {
    RejectReason.NOT_TEXT: "holds bytes that are not text",
    RejectReason.CUT_SHORT: "line cut short",
    RejectReason.TOO_MANY_CELLS: "more columns than the other lines",
    RejectReason.NO_DATE: "no date in it",
    RejectReason.NO_TIME: "no time of day in it",
    RejectReason.IMPOSSIBLE_DATE: "no such day in the calendar",
    RejectReason.IMPOSSIBLE_TIME: "no such time of day",
    RejectReason.NO_OFFSET: "no offset from UTC in it",
    RejectReason.SKIPPED_HOUR: "falls into the hour that the clocks skip in spring",
    RejectReason.NO_NUMBER: "no number in it",
    RejectReason.TEMPERATURE_TOO_LOW: "temperature below -40 °C",
    RejectReason.TEMPERATURE_TOO_HIGH: "temperature over 85 °C",
    RejectReason.HUMIDITY_BELOW_0: "humidity below 0 %",
    RejectReason.HUMIDITY_ABOVE_100: "humidity over 100 %",
    RejectReason.SAME_TIME_OTHER_VALUES: "same time as line {other_line}, other values",
    RejectReason.TIME_RUNS_BACKWARDS: "time runs backwards by {span}",
    RejectReason.TIME_JUMPS_AHEAD: "time jumps ahead by {span}",
}


@dataclass(frozen=True, slots=True)
class RejectedLine:
    """A line that stays out.

    `number` counts lines of the file from 1; `text` is the line (its first 300 letters); `value` the value that
    is out of range, in °C or % RH; `by_s` how far time runs backwards or jumps ahead; `other_line` the line that
    holds the same instant.
    """

    number: int
    text: str
    reason: RejectReason
    quantity: Quantity | None = None
    value: float | None = None
    by_s: int | None = None
    other_line: int | None = None

    def __str__(self) -> str:
        why = _SENTENCES[self.reason].format(other_line=self.other_line, span=_span(self.by_s or 0))
        return f"line {self.number}: {why}: {self.text}"


@dataclass(frozen=True, slots=True)
class PartialLine:
    """A line of which one quantity was kept and the other could not be read: which, and what its cell says."""

    number: int
    text: str
    missing: Quantity
    cell: str

    def __str__(self) -> str:
        return f"line {self.number}: no {self.missing.value} in it: {self.text}"


@dataclass(frozen=True, slots=True)
class RejectedRun:
    """Neighbouring rejected lines with one reason: what one row of a list shows."""

    first: RejectedLine
    last: RejectedLine
    count: int


def shortened(text: str) -> str:
    """The text as it is kept with a rejected line."""
    return text if len(text) <= LONGEST_TEXT else text[:LONGEST_TEXT] + "…"


def runs(rejected: tuple[RejectedLine, ...]) -> tuple[RejectedRun, ...]:
    """Puts neighbouring lines with one reason together."""
    found: list[RejectedRun] = []
    for line in rejected:
        if found:
            run = found[-1]
            if run.last.number + 1 == line.number and run.last.reason is line.reason:
                found[-1] = RejectedRun(run.first, line, run.count + 1)
                continue
        found.append(RejectedRun(line, line, 1))
    return tuple(found)


def _span(seconds: int) -> str:
    for unit, length in (("d", 86_400), ("h", 3600), ("min", 60)):
        if seconds >= length:
            return f"{seconds / length:.3g} {unit}"
    return f"{seconds} s"
