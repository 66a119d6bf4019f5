"""Why a line of such a table stays out, as codes with what belongs to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import StrEnum

from hatchbook.exchange.past_seasons.fields import PastField


class PastReason(StrEnum):
    """Why a line stays out."""

    NOT_TEXT = "not_text"
    TOO_MANY_CELLS = "too_many_cells"
    NOT_COMPUTED = "not_computed"
    NO_EGGS_SET = "no_eggs_set"
    NOT_A_COUNT = "not_a_count"
    PERCENTAGE = "percentage"
    NOT_WHOLE = "not_whole"
    NEGATIVE = "negative"
    TOO_LARGE = "too_large"
    COUNTS_EXCEED = "counts_exceed"
    OPENED_EXCEED = "opened_exceed"
    FERTILE_EXCEED = "fertile_exceed"
    FERTILE_CONTRADICTS = "fertile_contradicts"
    NO_SEASON = "no_season"
    NOT_A_SEASON = "not_a_season"
    NOT_A_DATE = "not_a_date"
    DATE_WITHOUT_YEAR = "date_without_year"
    NO_SUCH_DAY = "no_such_day"
    IN_FUTURE = "in_future"
    SEASON_CONTRADICTS = "season_contradicts"
    NO_SPECIES = "no_species"
    UNKNOWN_SPECIES = "unknown_species"
    UNKNOWN_SOURCE = "unknown_source"
    UNKNOWN_PROGRAMME = "unknown_programme"
    SAID_AGAIN = "said_again"
    LABEL_TWICE = "label_twice"
    LABEL_TAKEN = "label_taken"


_SENTENCES = {
    PastReason.NOT_TEXT: "holds signs that are no text",
    PastReason.TOO_MANY_CELLS: "more columns than there are names",
    PastReason.NOT_COMPUTED: "the result of a formula was not stored with the file",
    PastReason.NO_EGGS_SET: "no number of eggs set",
    PastReason.NOT_A_COUNT: "“{cell}” is no count",
    PastReason.PERCENTAGE: "“{cell}” is a share, not a count",
    PastReason.NOT_WHOLE: "“{cell}” is no whole number",
    PastReason.NEGATIVE: "“{cell}” is less than none",
    PastReason.TOO_LARGE: "“{cell}” is too large",
    PastReason.COUNTS_EXCEED: "the counts add up to {count}, but {limit} eggs were set",
    PastReason.OPENED_EXCEED: "{count} opened infertile, but {limit} clear",
    PastReason.FERTILE_EXCEED: "{count} fertile, but {limit} eggs were set",
    PastReason.FERTILE_CONTRADICTS: "{count} fertile, but {limit} by the clear eggs",
    PastReason.NO_SEASON: "neither season nor date",
    PastReason.NOT_A_SEASON: "“{cell}” is no year",
    PastReason.NOT_A_DATE: "“{cell}” is no date",
    PastReason.DATE_WITHOUT_YEAR: "“{cell}” has no year, and there is no season",
    PastReason.NO_SUCH_DAY: "there is no day “{cell}”",
    PastReason.IN_FUTURE: "“{cell}” has not come yet",
    PastReason.SEASON_CONTRADICTS: "the date {cell} is not of season {count}",
    PastReason.NO_SPECIES: "no species",
    PastReason.UNKNOWN_SPECIES: "“{cell}” is no species that is known",
    PastReason.UNKNOWN_SOURCE: "“{cell}” is neither own nor shipped",
    PastReason.UNKNOWN_PROGRAMME: "“{cell}” is no programme that is known",
    PastReason.SAID_AGAIN: "says again what line {count} says",
    PastReason.LABEL_TWICE: "line {count} has the number {cell} too, for another batch",
    PastReason.LABEL_TAKEN: "the journal has another batch {cell}",
}


@dataclass(frozen=True, slots=True)
class Why:
    """A reason with what belongs to it.

    ``cell``: what stands in the file. ``count`` and ``limit``: eggs; of SAID_AGAIN and LABEL_TWICE the other line,
    of SEASON_CONTRADICTS the season. ``field``: what the column holds, where one is to blame.
    """

    reason: PastReason
    cell: str = ""
    count: int = 0
    limit: int = 0
    field: PastField | None = None

    def __str__(self) -> str:
        return _SENTENCES[self.reason].format(cell=self.cell, count=self.count, limit=self.limit)


class Refusal(Exception):  # noqa: N818 - what is wrong with a line, caught where it is noted
    """Ends the reading of a line; ``why`` says why."""

    def __init__(self, reason: PastReason, *, cell: str = "", count: int = 0, limit: int = 0) -> None:
        self.why = Why(reason, cell, count, limit)
        super().__init__(str(self.why))

    @property
    def reason(self) -> PastReason:
        """The code."""
        return self.why.reason


@dataclass(frozen=True, slots=True)
class RefusedLine:
    """A line that stays out: its number counted from 1, all that it says, why, and its column (from 0) to blame."""

    number: int
    text: str
    why: Why
    column: int | None = None

    def __str__(self) -> str:
        return f"line {self.number}: {self.why}: {self.text}"


@dataclass(frozen=True, slots=True)
class RefusedRun:
    """Neighbouring lines of one reason: what one row of a list shows."""

    lines: tuple[RefusedLine, ...] = field(default=())

    @property
    def why(self) -> Why:
        """What is wrong with the first of them."""
        return self.lines[0].why

    @property
    def alike(self) -> bool:
        """Whether the very same is wrong with all of them."""
        return all(line.why == self.why for line in self.lines)


def refused_runs(lines: Iterable[RefusedLine]) -> tuple[RefusedRun, ...]:
    """Puts neighbouring lines of one reason together."""
    return tuple(RefusedRun(tuple(run)) for run in _runs(lines))


def _runs(lines: Iterable[RefusedLine]) -> Iterator[list[RefusedLine]]:
    run: list[RefusedLine] = []
    for line in lines:
        together = run and line.number == run[-1].number + 1
        if together and line.why.reason is run[-1].why.reason and line.why.field is run[-1].why.field:
            run.append(line)
            continue
        if run:
            yield run
        run = [line]
    if run:
        yield run
