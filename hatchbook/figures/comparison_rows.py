"""The batches that are over, each with all that it may be grouped by and what its eggs count in each rate.

Batches that run or are planned are left out, and so are those without eggs. Eggs of one batch can come from several
pens and dams and be of several ages: these stand apart, egg by egg; of a batch from paper only the whole is known.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from functools import lru_cache
from zoneinfo import ZoneInfo

from hatchbook.figures.batch_list import past_rates, past_set_at
from hatchbook.figures.outcomes import KEEPER, EggRecords, egg_records
from hatchbook.journal import BatchLine, Journal, PastBatch
from hatchbook.statistics.rates import batch_rates
from hatchbook.statistics.tallies import RateKind, Tally, batch_tally, egg_tally, known_kinds, only, summed
from hatchbook.trade.codes import EggSource
from hatchbook.trade.fates import EggOutcome
from hatchbook.trade.instants import season_of, to_local


class Grouping(StrEnum):
    """By what batches, or their eggs, are grouped."""

    SEASON = "season"
    MONTH = "month"
    PEN = "pen"
    DAM = "dam"
    BREED = "breed"
    MACHINE = "machine"
    SPECIES = "species"
    PROGRAMME = "programme"
    EGG_AGE = "egg_age"
    SOURCE = "source"


BY_EGG = (Grouping.PEN, Grouping.DAM, Grouping.EGG_AGE)
"""Groupings in which the eggs of one batch can differ."""


class EggAge(StrEnum):
    """How many days before setting an egg was laid."""

    UP_TO_3 = "0-3"
    UP_TO_7 = "4-7"
    UP_TO_14 = "8-14"
    OLDER = "15+"


_OLDEST = ((3, EggAge.UP_TO_3), (7, EggAge.UP_TO_7), (14, EggAge.UP_TO_14))

Key = str | None
"""A group within a grouping: a code, or the uid of a record; None where it was not noted."""

_PROGRESS_RECORDS = 0.3
_BATCHES_AT_ONCE = 100


Split = dict[tuple[Key, ...], tuple[int, Tally]]
"""How many eggs of a batch are of which groups, and what they count."""


@dataclass(frozen=True, slots=True)
class ComparedPart:
    """Eggs of a batch that are alike in pen, dam and age, and in what became of them; ``tally`` is that of one."""

    pen: Key
    dam: Key
    age: Key
    tally: Tally
    eggs: int


@dataclass(frozen=True, slots=True)
class ComparedBatch:
    """A batch that is over.

    Attributes:
        keys: its groups in the groupings that hold for the whole of it.
        kinds: the rates that it can speak of; ``tally`` counts nothing of the others, the parts do.
        parts: empty for a batch of which only the whole is known; ``pen`` is then that of the whole.
    """

    uid: str
    label: str
    name: str
    set_at: int
    eggs_set: int
    counts_only: bool
    keys: dict[Grouping, Key]
    kinds: frozenset[RateKind]
    tally: Tally
    parts: tuple[ComparedPart, ...]
    pen: Key = None
    _splits: dict[tuple[Grouping, ...], Split] = field(default_factory=dict, compare=False, repr=False)

    @property
    def season(self) -> int:
        """The year in which its season began."""
        return int(self.keys[Grouping.SEASON] or 0)

    @property
    def species(self) -> str:
        """Its species' code."""
        return self.keys[Grouping.SPECIES] or ""

    def split(self, groupings: Sequence[Grouping]) -> Split:
        """Eggs and tally of its parts by their groups; the whole under one where no egg differs from another."""
        wanted = tuple(groupings)
        if wanted not in self._splits:
            self._splits[wanted] = self._split(wanted)
        return self._splits[wanted]

    def _split(self, groupings: tuple[Grouping, ...]) -> Split:
        if not self.parts or not any(grouping in BY_EGG for grouping in groupings):
            whole = {**dict.fromkeys(BY_EGG), Grouping.PEN: self.pen, **self.keys}
            return {tuple(whole[one] for one in groupings): (self.eggs_set, self.tally)}
        found: dict[tuple[Key, ...], list[ComparedPart]] = {}
        for part in self.parts:
            found.setdefault(tuple(self._key(one, part) for one in groupings), []).append(part)
        return {
            keys: (
                sum(part.eggs for part in parts),
                only(summed((part.tally, part.eggs) for part in parts), self.kinds),
            )
            for keys, parts in found.items()
        }

    def _key(self, grouping: Grouping, part: ComparedPart) -> Key:
        match grouping:
            case Grouping.PEN:
                return part.pen
            case Grouping.DAM:
                return part.dam
            case Grouping.EGG_AGE:
                return part.age
        return self.keys[grouping]


def compared_batches(
    journal: Journal, progress: Callable[[float], None] | None = None
) -> tuple[ComparedBatch, ...]:
    """Every batch that is over, oldest first.

    Args:
        journal: read only.
        progress: is told the share done, 0 to 1; what it raises ends the work.
    """
    tell = progress or (lambda _share: None)
    first_month, zone = journal.settings.season_first_month, journal.zone
    past = [_past(one, first_month, zone) for one in journal.past_batches.all()]
    kept = list(_kept(journal, first_month, zone, tell))
    found = sorted([*past, *kept], key=lambda batch: (batch.set_at, batch.label))
    spelled: dict[str, str] = {}
    for batch in found:
        breed = batch.keys[Grouping.BREED]
        if breed is not None:
            # Names that differ by capitals alone are one breed, as it was written first.
            batch.keys[Grouping.BREED] = spelled.setdefault(breed.casefold(), breed)
    return tuple(found)


def _kept(
    journal: Journal, first_month: int, zone: ZoneInfo, tell: Callable[[float], None]
) -> Iterator[ComparedBatch]:
    lines = [line for line in journal.batches.lines() if line.closed_at is not None and line.eggs]
    if not lines:
        return
    # Of all batches: nearly all are over, and telling them apart would take longer than the others' rows.
    records = egg_records(journal)
    tell(_PROGRESS_RECORDS)
    origins: dict[str, list[tuple[Key, Key, Key]]] = {}
    for batch, pen, dam, laid_on in journal.eggs.origins():
        origins.setdefault(batch, []).append((pen, dam, laid_on))
    traits = journal.batches.programmes_and_sources()
    for at, line in enumerate(lines):
        if at % _BATCHES_AT_ONCE == 0:
            tell(_PROGRESS_RECORDS + (1 - _PROGRESS_RECORDS) * at / len(lines))
        yield _kept_batch(line, records[line.uid], origins[line.uid], traits[line.uid], first_month, zone)


def _kept_batch(
    line: BatchLine,
    records: Mapping[str, EggRecords],
    origins: Sequence[tuple[Key, Key, Key]],
    traits: tuple[str, EggSource],
    first_month: int,
    zone: ZoneInfo,
) -> ComparedBatch:
    outcomes = KEEPER.outcomes(line, tuple(records.values()))
    set_on = to_local(line.set_at, zone).date()
    kinds, tally = _known(outcomes)
    ages = {laid_on: egg_age(laid_on, set_on) for laid_on in {origin[2] for origin in origins}}
    alike = Counter(
        (pen, dam, ages[laid_on], egg_tally(outcome))
        for (pen, dam, laid_on), outcome in zip(origins, outcomes, strict=True)
    )
    return ComparedBatch(
        uid=line.uid,
        label=line.label,
        name=line.name,
        set_at=line.set_at,
        eggs_set=line.eggs,
        counts_only=False,
        keys={
            Grouping.SEASON: str(season_of(set_on, first_month)),
            Grouping.MONTH: str(set_on.month),
            Grouping.BREED: _breed(line.breed),
            Grouping.MACHINE: line.machine,
            Grouping.SPECIES: line.species,
            Grouping.PROGRAMME: traits[0] or None,
            Grouping.SOURCE: traits[1].value,
        },
        kinds=kinds,
        tally=tally,
        parts=tuple(ComparedPart(*part, eggs) for part, eggs in alike.items()),
    )


@lru_cache(4096)
def _known(outcomes: tuple[EggOutcome, ...]) -> tuple[frozenset[RateKind], Tally]:
    """Of which rates a batch can speak, and what it counts in them."""
    rates = batch_rates(outcomes)
    kinds = known_kinds(rates)
    return kinds, only(batch_tally(rates), kinds)


def _past(past: PastBatch, first_month: int, zone: ZoneInfo) -> ComparedBatch:
    rates = past_rates(past)
    kinds = known_kinds(rates)
    counted = {
        RateKind.EARLY_DEAD: past.early_dead,
        RateKind.MID_DEAD: past.mid_dead,
        RateKind.LATE_DEAD: past.late_dead,
        RateKind.PIPPED_DEAD: past.pipped_dead,
    }
    kinds -= {kind for kind, count in counted.items() if count is None}
    return ComparedBatch(
        uid=past.uid,
        label=past.label,
        name=past.name,
        set_at=past_set_at(past, first_month, zone),
        eggs_set=past.eggs_set,
        counts_only=True,
        keys={
            Grouping.SEASON: str(past.season),
            Grouping.MONTH: None if past.set_on is None else str(date.fromisoformat(past.set_on).month),
            Grouping.BREED: _breed(past.breed),
            Grouping.MACHINE: past.machine,
            Grouping.SPECIES: past.species,
            Grouping.PROGRAMME: past.programme_code or None,
            Grouping.SOURCE: past.source.value,
        },
        kinds=kinds,
        tally=only(batch_tally(rates), kinds),
        parts=(),
        pen=past.pen,
    )


def egg_age(laid_on: Key, set_on: date) -> Key:
    """The class of an egg's age when it was set; None where it was not noted, or was laid later."""
    if laid_on is None:
        return None
    days = (set_on - date.fromisoformat(laid_on)).days
    if days < 0:
        return None
    return next((age.value for most, age in _OLDEST if days <= most), EggAge.OLDER.value)


def _breed(name: str) -> Key:
    """A breed as it was written, without stray spaces."""
    return " ".join(name.split()) or None
