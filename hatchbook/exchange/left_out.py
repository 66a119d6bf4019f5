"""Every line of a logger's file that does not come in as it stands, with the reason as a code and its numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from hatchbook.exchange.loggers.rejects import PartialLine, Quantity, RejectedLine
from hatchbook.exchange.loggers.table import LoggerTable
from hatchbook.journal.reject_codes import coded_reason

#: The line says once more what an earlier one says.
DUPLICATE = "duplicate"
#: The line comes in with one quantity; the cell of the other is no number.
NO_TEMPERATURE = "temperature_left_out"
NO_HUMIDITY = "humidity_left_out"

_PARTIAL = {Quantity.TEMPERATURE: NO_TEMPERATURE, Quantity.HUMIDITY: NO_HUMIDITY}


@dataclass(frozen=True, slots=True)
class LeftOutLine:
    """A line of the file: its number counted from 1, what it says ("" where that is not kept), and why.

    ``code``: a ``RejectReason``, one of this module's codes, or ``reject_codes.DIFFERS``. ``fields``: the numbers
    that belong to it: ``value`` in °C or % RH, ``by_s`` in seconds, ``other_line``, and of the reading that the
    journal keeps ``temperature_c`` and ``humidity``.
    """

    number: int
    text: str
    code: str
    fields: dict[str, float] = field(default_factory=dict)

    @property
    def comes_in(self) -> bool:
        """Whether a part of the line comes in all the same."""
        return self.code in _PARTIAL.values()

    def coded(self) -> tuple[int, str, str]:
        """Number, text and reason as the journal keeps them."""
        return self.number, self.text, coded_reason(self.code, **self.fields)


@dataclass(frozen=True, slots=True)
class LeftOutRun:
    """Neighbouring lines with one reason; ``fields`` holds the numbers that all of them share."""

    first: int
    last: int
    count: int
    text: str
    code: str
    fields: dict[str, float]


@dataclass(frozen=True, eq=False)
class LeftOut:
    """All lines that do not come in as they stand, in the order of the file, and what a list shows of them.

    ``runs``: neighbours of one reason put together. ``dropped``: lines of which nothing comes in. ``codes``: the
    reasons there are.
    """

    lines: tuple[LeftOutLine, ...] = ()
    runs: tuple[LeftOutRun, ...] = ()
    dropped: int = 0
    codes: frozenset[str] = frozenset()

    @classmethod
    def of(cls, lines: Iterable[LeftOutLine]) -> LeftOut:
        """Of lines in any order."""
        found = tuple(sorted(lines, key=lambda line: line.number))
        return cls(
            found,
            left_out_runs(found),
            sum(not line.comes_in for line in found),
            frozenset(line.code for line in found),
        )


def rejected_line(line: RejectedLine) -> LeftOutLine:
    """A line that cannot be read."""
    fields = {"value": line.value, "by_s": line.by_s, "other_line": line.other_line}
    known = {name: float(value) for name, value in fields.items() if value is not None}
    return LeftOutLine(line.number, line.text, str(line.reason), known)


def partial_line(line: PartialLine) -> LeftOutLine:
    """A line of which one cell cannot be read."""
    return LeftOutLine(line.number, line.text, _PARTIAL[line.missing])


def unreadable_lines(table: LoggerTable) -> list[LeftOutLine]:
    """The lines and cells of a file that cannot be read: what the journal keeps with the import."""
    found = [*map(rejected_line, table.rejected), *map(partial_line, table.partial)]
    return sorted(found, key=lambda line: line.number)


def left_out_of(table: LoggerTable, differing: Iterable[LeftOutLine] = ()) -> LeftOut:
    """All lines of a file that do not come in as they stand.

    ``differing`` are those that the journal contradicts. Lines of which the journal has the same already are not
    among them.
    """
    again = (LeftOutLine(int(number), "", DUPLICATE) for number in table.duplicate_lines)
    return LeftOut.of([*unreadable_lines(table), *again, *differing])


def left_out_runs(lines: Iterable[LeftOutLine]) -> tuple[LeftOutRun, ...]:
    """Puts neighbouring lines of one reason together: what one row of a list shows."""
    return tuple(_runs(lines))


def _runs(lines: Iterable[LeftOutLine]) -> Iterator[LeftOutRun]:
    run: LeftOutRun | None = None
    for line in lines:
        if run is not None and run.code == line.code and line.number == run.last + 1:
            shared = run.fields
            if shared != line.fields:
                shared = {name: value for name, value in shared.items() if line.fields.get(name) == value}
            run = LeftOutRun(run.first, line.number, run.count + 1, "", run.code, shared)
            continue
        if run is not None:
            yield run
        run = LeftOutRun(line.number, line.number, 1, line.text, line.code, line.fields)
    if run is not None:
        yield run
