"""A season's batches with their rates, pooled over all of them and by species."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from hatchbook.figures.batch_list import past_rates, past_set_at
from hatchbook.figures.course import present, state_of
from hatchbook.figures.outcomes import outcomes_by_batch
from hatchbook.figures.plain import plain_fields
from hatchbook.figures.results import BatchState
from hatchbook.journal import BatchLine, Journal
from hatchbook.statistics.rates import LOSSES, BatchRates, Rate, batch_rates
from hatchbook.trade.codes import Fate
from hatchbook.trade.instants import season_of, to_local


@dataclass(frozen=True)
class SeasonBatch:
    """A batch of a season with its rates; ``set_at`` as in ``BatchSummary``."""

    uid: str
    label: str
    name: str
    species: str
    state: BatchState
    set_at: int
    counts_only: bool
    rates: BatchRates

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


@dataclass(frozen=True)
class PooledRates:
    """Rates of the closed batches of a group taken together: their hits and trials added up.

    A batch of which a rate is not known has no part in that rate. The ranges are Wilson's for eggs that have
    nothing in common: ``spread_counted`` is False, since how much batches differ among each other is not counted,
    and the ranges are too narrow where they do.

    Attributes:
        batches: how many batches are taken together.
        counts: their eggs by fate; eggs_set: all of them.
        losses: as in ``BatchRates``.
    """

    batches: int
    eggs_set: int
    counts: dict[Fate, int]
    candled_fertility: Rate
    fertility: Rate
    hatch_of_set: Rate
    hatch_of_fertile: Rate
    losses: dict[Fate, Rate]
    unopened_clears: int
    unknown: int
    spread_counted: bool = False

    @classmethod
    def of(cls, rates: Sequence[BatchRates]) -> PooledRates:
        """The rates of several batches taken together."""
        counts: Counter[Fate] = Counter()
        for batch in rates:
            counts.update(batch.counts.by_fate)
        return cls(
            batches=len(rates),
            eggs_set=counts.total(),
            counts={fate: counts[fate] for fate in Fate if counts[fate]},
            candled_fertility=_pooled(batch.candled_fertility for batch in rates),
            fertility=_pooled(batch.fertility for batch in rates),
            hatch_of_set=_pooled(batch.hatch_of_set for batch in rates),
            hatch_of_fertile=_pooled(batch.hatch_of_fertile for batch in rates),
            losses={fate: _pooled(batch.losses[fate] for batch in rates) for fate in LOSSES},
            unopened_clears=sum(batch.unopened_clears for batch in rates),
            unknown=sum(batch.unknown for batch in rates),
        )


def _pooled(rates: Iterable[Rate]) -> Rate:
    each = list(rates)
    return Rate.of(sum(rate.hits for rate in each), sum(rate.trials for rate in each))


@dataclass(frozen=True)
class SeasonFigures:
    """A season, named by the year in which it began: its batches, newest first, and the closed ones pooled.

    ``by_species``: the same for each species of which a batch is closed.
    """

    season: int
    batches: tuple[SeasonBatch, ...]
    overall: PooledRates
    by_species: dict[str, PooledRates]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


def season_figures(journal: Journal, season: int, now: int | None = None) -> SeasonFigures:
    """The figures of a season; one without batches has none, and rates without trials."""
    found = sorted(
        [*_kept(journal, season, present(now)), *_past(journal, season)],
        key=lambda batch: (batch.set_at, batch.label),
        reverse=True,
    )
    closed = [batch for batch in found if batch.state is BatchState.CLOSED]
    species = dict.fromkeys(batch.species for batch in closed)
    return SeasonFigures(
        season=season,
        batches=tuple(found),
        overall=PooledRates.of([batch.rates for batch in closed]),
        by_species={
            code: PooledRates.of([batch.rates for batch in closed if batch.species == code])
            for code in species
        },
    )


def _kept(journal: Journal, season: int, now: int) -> list[SeasonBatch]:
    first_month, zone = journal.settings.season_first_month, journal.zone
    lines: list[BatchLine] = [
        line
        for line in journal.batches.lines()
        if season_of(to_local(line.set_at, zone).date(), first_month) == season
    ]
    return [
        SeasonBatch(
            uid=line.uid,
            label=line.label,
            name=line.name,
            species=line.species,
            state=state_of(line.set_at, line.closed_at, now),
            set_at=line.set_at,
            counts_only=False,
            rates=batch_rates(outcomes),
        )
        for line, outcomes in zip(lines, outcomes_by_batch(journal, lines), strict=True)
    ]


def _past(journal: Journal, season: int) -> list[SeasonBatch]:
    first_month, zone = journal.settings.season_first_month, journal.zone
    return [
        SeasonBatch(
            uid=past.uid,
            label=past.label,
            name=past.name,
            species=past.species,
            state=BatchState.CLOSED,
            set_at=past_set_at(past, first_month, zone),
            counts_only=True,
            rates=past_rates(past),
        )
        for past in journal.past_batches.all()
        if past.season == season
    ]
