"""A line of the table to a batch, or to the reason why it is none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from hatchbook.exchange.loggers.layout import DateOrder
from hatchbook.exchange.past_seasons.cells import (
    FIRST_YEAR,
    LAST_YEAR,
    is_dash,
    parse_count,
    parse_season,
    parse_text,
)
from hatchbook.exchange.past_seasons.day_cells import Day, in_order, written_day
from hatchbook.exchange.past_seasons.fields import COUNT_FIELDS, PastField
from hatchbook.exchange.past_seasons.grid import Cell, GridRow, cell_text
from hatchbook.exchange.past_seasons.known_words import KnownWords, source_of
from hatchbook.exchange.past_seasons.refusals import PastReason, Refusal, Why
from hatchbook.figures.past_batches import CountFault, count_troubles
from hatchbook.journal import PastBatch
from hatchbook.trade.codes import EggSource
from hatchbook.trade.instants import season_of

_CONTROL = frozenset(map(chr, (*range(9), 11, 12, *range(14, 32), 127)))


@dataclass(frozen=True, slots=True)
class PastRow:
    """A line that is a batch.

    ``batch``: what it says; its label is "" where the line gives none, and its pen and machine are not looked up
    yet: ``pen`` and ``machine`` are their names. ``dashes``: counts written as a dash, taken as not counted.
    ``carried``: its season stands in a line above. ``without_day``: its date has no day, and stands in the note.
    """

    number: int
    text: str
    batch: PastBatch
    pen: str = ""
    machine: str = ""
    dashes: int = 0
    carried: bool = False
    without_day: bool = False


@dataclass(frozen=True)
class LineReader:
    """How the lines of one table are read.

    ``places``: the column (from 0) of each field; of notes all of them. ``season`` and ``species``: of lines that
    do not say theirs. ``meant``: species codes by words that the breeder explained.
    """

    places: Mapping[PastField, int]
    note_places: tuple[int, ...]
    width: int
    order: DateOrder
    last: date
    season_first_month: int
    words: KnownWords
    season: int | None = None
    species: str | None = None
    meant: Mapping[str, str] = field(default_factory=dict)
    asked_shipped: bool = False

    def read(self, row: GridRow, carried: int | None) -> PastRow:
        """The batch of a line.

        Args:
            row: the line.
            carried: the season that a line above it gives.

        Raises:
            LineRefusal: it is none.
        """
        if any(sign in row.text for sign in _CONTROL) or "\ufffd" in row.text:
            raise LineRefusal(Why(PastReason.NOT_TEXT))
        if any(cell_text(cell) for cell in row.cells[self.width :]):
            raise LineRefusal(Why(PastReason.TOO_MANY_CELLS), self.width)
        counts = {field: self._count(row, field) for field in COUNT_FIELDS}
        eggs_set = counts[PastField.EGGS_SET]
        if eggs_set is None:
            raise self._refusal(Why(PastReason.NO_EGGS_SET), PastField.EGGS_SET)
        day, text = self._day(row)
        season, set_on, came_from_above = self._season(row, day, text, carried)
        notes = [self._text(row, place) for place in self.note_places]
        without_day = set_on is None and day is not None and day.month is not None
        if without_day:
            notes.insert(0, text)
        own_counts: dict[str, Any] = {str(field): counts[field] for field in _OWN_COUNTS}
        batch = PastBatch(
            label=self._words(row, PastField.LABEL),
            season=season,
            species=self._species(row),
            eggs_set=eggs_set,
            name=self._words(row, PastField.NAME),
            set_on=None if set_on is None else set_on.isoformat(),
            breed=self._words(row, PastField.BREED),
            programme_code=self._programme(row),
            source=self._source(row),
            clear=self._clear(counts, eggs_set),
            note="; ".join(note for note in notes if note),
            **own_counts,
        )
        self._check(batch)
        return PastRow(
            number=row.number,
            text=row.text,
            batch=batch,
            pen=self._words(row, PastField.PEN),
            machine=self._words(row, PastField.MACHINE),
            dashes=sum(is_dash(self.cell(row, field)) for field in COUNT_FIELDS),
            carried=came_from_above,
            without_day=without_day,
        )

    def cell(self, row: GridRow, field: PastField) -> Cell:
        """What a line has in the column of a field; None where there is none."""
        place = self.places.get(field)
        return row.cells[place] if place is not None and place < len(row.cells) else None

    # ---------------------------------------------------------------- counts

    def _count(self, row: GridRow, field: PastField) -> int | None:
        try:
            return parse_count(self.cell(row, field))
        except Refusal as refusal:
            raise self._refusal(refusal.why, field) from None

    def _clear(self, counts: Mapping[PastField, int | None], eggs_set: int) -> int | None:
        """The clear eggs, also from the fertile ones: what is not fertile was clear."""
        fertile, clear = counts[PastField.FERTILE], counts[PastField.CLEAR]
        if fertile is None:
            return clear
        if fertile > eggs_set:
            raise self._refusal(
                Why(PastReason.FERTILE_EXCEED, count=fertile, limit=eggs_set), PastField.FERTILE
            )
        if clear is None:
            return eggs_set - fertile
        # Rotten eggs and those taken out may be counted with neither.
        most = eggs_set - clear
        apart = (counts[PastField.ROTTEN] or 0) + (counts[PastField.TAKEN_OUT] or 0)
        if not most - apart <= fertile <= most:
            raise self._refusal(
                Why(PastReason.FERTILE_CONTRADICTS, count=fertile, limit=most), PastField.FERTILE
            )
        return clear

    def _check(self, batch: PastBatch) -> None:
        for trouble in count_troubles(batch):
            if trouble.fault is CountFault.NO_EGGS:
                raise self._refusal(Why(PastReason.NO_EGGS_SET), PastField.EGGS_SET)
            reason, field = _COUNT_REASONS[trouble.fault]
            raise self._refusal(Why(reason, count=trouble.count, limit=trouble.limit), field)

    # ---------------------------------------------------------------- when

    def _day(self, row: GridRow) -> tuple[Day | None, str]:
        """What is known of the day of setting, and what stands there."""
        cell = self.cell(row, PastField.SET_ON)
        try:
            written = written_day(cell, self.last.year)
        except Refusal as refusal:
            raise self._refusal(refusal.why, PastField.SET_ON) from None
        if written is None:
            return None, ""
        return in_order(written, self.order, self.last.year), written.text

    def _season(
        self, row: GridRow, day: Day | None, text: str, carried: int | None
    ) -> tuple[int, date | None, bool]:
        """Season and date of setting, and whether the season came from a line above."""
        try:
            said = parse_season(self.cell(row, PastField.SEASON), self.last.year)
        except Refusal as refusal:
            raise self._refusal(refusal.why, PastField.SEASON) from None
        if isinstance(said, date):
            said = season_of(said, self.season_first_month)
        given = said if said is not None else carried if carried is not None else self.season
        if day is not None and day.year is None and given is None:
            raise self._refusal(Why(PastReason.DATE_WITHOUT_YEAR, text), PastField.SET_ON)
        set_on = self._date(day, text, given)
        if set_on is not None:
            if set_on > self.last:
                raise self._refusal(Why(PastReason.IN_FUTURE, text), PastField.SET_ON)
            own: int | None = season_of(set_on, self.season_first_month)
        else:
            own = self._season_of_part(day)
        if said is not None and own is not None and abs(said - own) > 1:
            raise self._refusal(Why(PastReason.SEASON_CONTRADICTS, text, count=said), PastField.SEASON)
        season = said if said is not None else own if own is not None else given
        if season is None:
            raise self._refusal(Why(PastReason.NO_SEASON), PastField.SEASON)
        if season > self.last.year or not FIRST_YEAR <= season <= LAST_YEAR:
            raise self._refusal(
                Why(PastReason.IN_FUTURE, str(season)),
                PastField.SEASON if said is not None else PastField.SET_ON,
            )
        return season, set_on, said is None and own is None and carried is not None

    def _date(self, day: Day | None, text: str, season: int | None) -> date | None:
        """The date; one without a year is of the season."""
        if day is None or day.day is None:
            return None
        if day.year is None and season is not None and day.month is not None:
            later = 0 if day.month >= self.season_first_month else 1
            day = Day(season + later, day.month, day.day)
        known = day.as_date()
        if known is None:
            raise self._refusal(Why(PastReason.NO_SUCH_DAY, text), PastField.SET_ON)
        return known

    def _season_of_part(self, day: Day | None) -> int | None:
        if day is None or day.year is None:
            return None
        if day.month is None:
            return day.year
        return season_of(date(day.year, day.month, 1), self.season_first_month)

    # ---------------------------------------------------------------- words

    def _words(self, row: GridRow, field: PastField) -> str:
        place = self.places.get(field)
        return "" if place is None else self._text(row, place, field)

    def _text(self, row: GridRow, place: int, field: PastField = PastField.NOTE) -> str:
        try:
            return parse_text(row.cells[place]) if place < len(row.cells) else ""
        except Refusal as refusal:
            raise self._refusal(refusal.why, field) from None

    def _species(self, row: GridRow) -> str:
        text = self._words(row, PastField.SPECIES)
        if not text:
            if self.species is None:
                raise self._refusal(Why(PastReason.NO_SPECIES), PastField.SPECIES)
            return self.species
        code = self.meant.get(text.casefold()) or self.words.species_of(text)
        if code is None:
            raise self._refusal(Why(PastReason.UNKNOWN_SPECIES, text), PastField.SPECIES)
        return code

    def _programme(self, row: GridRow) -> str:
        text = self._words(row, PastField.PROGRAMME)
        code = self.words.programme_of(text) if text else ""
        if code is None:
            raise self._refusal(Why(PastReason.UNKNOWN_PROGRAMME, text), PastField.PROGRAMME)
        return code

    def _source(self, row: GridRow) -> EggSource:
        text = self._words(row, PastField.SOURCE)
        source = source_of(text, asked_shipped=self.asked_shipped) if text else EggSource.OWN
        if source is None:
            raise self._refusal(Why(PastReason.UNKNOWN_SOURCE, text), PastField.SOURCE)
        return source

    def _refusal(self, why: Why, field: PastField) -> LineRefusal:
        named = Why(why.reason, why.cell, why.count, why.limit, field)
        return LineRefusal(named, self.places.get(field))


class LineRefusal(Exception):  # noqa: N818 - caught where the line is noted
    """A line that is no batch that can be kept: why, and the column (from 0) that is to blame."""

    def __init__(self, why: Why, column: int | None = None) -> None:
        self.why = why
        self.column = column
        super().__init__(str(why))


#: The counts that a batch keeps as they stand.
_OWN_COUNTS = tuple(
    field for field in COUNT_FIELDS if field not in (PastField.EGGS_SET, PastField.FERTILE, PastField.CLEAR)
)
_COUNT_REASONS = {
    CountFault.NEGATIVE: (PastReason.NEGATIVE, PastField.EGGS_SET),
    CountFault.EXCEED: (PastReason.COUNTS_EXCEED, PastField.EGGS_SET),
    CountFault.OPENED_EXCEED: (PastReason.OPENED_EXCEED, PastField.INFERTILE_OPENED),
}
