"""Batches that are over, compared by season, pen, machine and whatever else: is it better, or is it luck?

A cluster is a batch, or its eggs of one group where they come from several. The chance that is told is corrected
for the groups within a grouping (Holm) and for all that is looked at (``comparison_looks``): where nothing differs,
"more than chance" is said of a rate on one in a hundred pages at most.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from hatchbook.figures.comparison_findings import findings_of
from hatchbook.figures.comparison_looks import Looks, looks_of
from hatchbook.figures.comparison_names import GroupNames
from hatchbook.figures.comparison_points import batch_points
from hatchbook.figures.comparison_results import (
    ComparisonFigures,
    CountOfBatches,
    GroupName,
    GroupRate,
    GroupRow,
    Question,
    Section,
    Standing,
)
from hatchbook.figures.comparison_rows import ComparedBatch, Grouping, Key, compared_batches
from hatchbook.figures.course import present, state_of
from hatchbook.figures.results import BatchState
from hatchbook.journal import Journal
from hatchbook.statistics.comparison import Comparison, Trend, beta_binomial, compare_groups, trend
from hatchbook.statistics.comparison_results import LEVEL, BetaBinomial, GroupEstimate
from hatchbook.statistics.tallies import RateKind, Tally, counts
from hatchbook.trade.instants import season_of, to_local

Progress = Callable[[float], None]
_READ, _COMPARED = 0.4, 0.85
_FEWEST_SEASONS = 3
"""With two seasons a trend says no more than the two seasons themselves."""


@dataclass(frozen=True)
class Cluster:
    """A batch, or its eggs of one group."""

    batch: ComparedBatch
    eggs: int
    tally: Tally


@dataclass(frozen=True)
class Compared:
    """A grouping with its clusters by group, and their comparison in each rate."""

    grouping: Grouping
    clusters: dict[Key, list[Cluster]]
    by_rate: dict[RateKind, Comparison[str]]


def compare_batches(
    journal: Journal, question: Question, now: int | None = None, progress: Progress | None = None
) -> ComparisonFigures:
    """Compares the batches that are over.

    Args:
        journal: read only.
        question: what is compared; a species of which no batch is over gives figures without batches.
        now: UTC seconds; tells batches that run from those that are planned. None: the present.
        progress: is told the share done, 0 to 1; what it raises ends the work.
    """
    tell = progress or (lambda _share: None)
    batches = compared_batches(journal, lambda share: tell(share * _READ))
    return compare(journal, batches, question, now, lambda share: tell(_READ + (1 - _READ) * share))


def compare(
    journal: Journal,
    every: Sequence[ComparedBatch],
    question: Question,
    now: int | None = None,
    progress: Progress | None = None,
) -> ComparisonFigures:
    """The same, of batches that have been read already."""
    tell = progress or (lambda _share: None)
    names = GroupNames(journal)
    batches = [batch for batch in every if _is_asked_for(batch, question)]
    sections = []
    for at, grouping in enumerate(question.groupings):
        tell(_COMPARED * at / len(question.groupings))
        sections.append(_compared(batches, grouping, question.rates))
    line = _trend(batches, question)
    looks = {kind: _looks(question, sections, kind, line) for kind in question.rates}
    overall = {kind: _fitted([_whole(batch) for batch in batches], kind) for kind in question.rates}
    tell(_COMPARED)
    points, limits = batch_points(batches, question, names, overall[question.outcome])
    tell(1.0)
    return ComparisonFigures(
        question=question,
        batches=len(batches),
        eggs_set=sum(batch.eggs_set for batch in batches),
        fertile=_counted_of(batches, RateKind.FERTILITY),
        hatched=_counted_of(batches, RateKind.HATCH_OF_SET),
        running=_running(journal, question, present(now)),
        species_known=tuple(sorted({batch.species for batch in every})),
        seasons_known=tuple(sorted({batch.season for batch in every})),
        season_first_month=journal.settings.season_first_month,
        overall=_row(
            None,
            [_whole(batch) for batch in batches],
            {kind: _rate(fit) for kind, fit in overall.items()},
        ),
        sections=tuple(_section(one, names, looks) for one in sections),
        findings=findings_of(question, sections, names, looks[question.outcome], line, batches),
        points=points,
        limits=limits,
    )


def busiest_species(batches: Sequence[ComparedBatch]) -> str | None:
    """The species of which most batches are over; None without any."""
    species = [batch.species for batch in batches]
    return max(sorted(set(species)), key=species.count, default=None)


def _is_asked_for(batch: ComparedBatch, question: Question) -> bool:
    if question.species is not None and batch.species != question.species:
        return False
    return question.seasons is None or question.seasons[0] <= batch.season <= question.seasons[1]


def _running(journal: Journal, question: Question, now: int) -> int:
    first_month, zone = journal.settings.season_first_month, journal.zone
    found = 0
    for line in journal.batches.lines():
        season = season_of(to_local(line.set_at, zone).date(), first_month)
        fits = question.seasons is None or question.seasons[0] <= season <= question.seasons[1]
        runs = state_of(line.set_at, line.closed_at, now) is BatchState.RUNNING
        found += runs and fits and question.species in (None, line.species)
    return found


def _counted_of(batches: Sequence[ComparedBatch], kind: RateKind) -> CountOfBatches:
    counted = [counts(batch.tally, kind) for batch in batches if kind in batch.kinds]
    return CountOfBatches(sum(hits for hits, _trials in counted), len(counted))


def _looks(question: Question, sections: Sequence[Compared], kind: RateKind, line: Trend | None) -> Looks:
    tests = {one.grouping: int(one.by_rate[kind].p_value is not None) for one in sections}
    if line is not None and kind is question.outcome:
        tests[Grouping.SEASON] += 1
    return looks_of(question.groupings, tests)


# ------------------------------------------------------------------ groups


def _whole(batch: ComparedBatch) -> Cluster:
    return Cluster(batch, batch.eggs_set, batch.tally)


def _compared(batches: Sequence[ComparedBatch], grouping: Grouping, rates: Sequence[RateKind]) -> Compared:
    clusters: dict[Key, list[Cluster]] = {}
    for batch in batches:
        for (key,), (eggs, tally) in batch.split((grouping,)).items():
            clusters.setdefault(key, []).append(Cluster(batch, eggs, tally))
    known = {key: members for key, members in clusters.items() if key is not None}
    by_rate = {
        kind: compare_groups({key: _counted(members, kind) for key, members in known.items()})
        for kind in rates
    }
    return Compared(grouping, clusters, by_rate)


def _counted(clusters: Sequence[Cluster], kind: RateKind) -> tuple[list[int], list[int]]:
    counted = [counts(cluster.tally, kind) for cluster in clusters]
    return [hits for hits, _trials in counted], [trials for _hits, trials in counted]


def _fitted(clusters: Sequence[Cluster], kind: RateKind) -> BetaBinomial:
    return beta_binomial(*_counted(clusters, kind))


def _trend(batches: Sequence[ComparedBatch], question: Question) -> Trend | None:
    if Grouping.SEASON not in question.groupings:
        return None
    spoken = [batch for batch in batches if counts(batch.tally, question.outcome)[1]]
    if len({batch.season for batch in spoken}) < _FEWEST_SEASONS:
        return None
    hits, trials = _counted([_whole(batch) for batch in spoken], question.outcome)
    return trend(hits, trials, [batch.season for batch in spoken])


# ------------------------------------------------------------------ rows


def _section(compared: Compared, names: GroupNames, looks: dict[RateKind, Looks]) -> Section:
    rows = []
    for name in names.in_order(compared.grouping, compared.clusters):
        clusters = compared.clusters[name.key]
        rates = {}
        for kind, comparison in compared.by_rate.items():
            if name.key is None:
                rates[kind] = _rate(_fitted(clusters, kind))
            else:
                rates[kind] = _group_rate(comparison, name.key, looks[kind].get(compared.grouping, 1.0))
        rows.append(_row(name, clusters, rates))
    return Section(compared.grouping, tuple(rows))


def _row(name: GroupName | None, clusters: Sequence[Cluster], rates: dict[RateKind, GroupRate]) -> GroupRow:
    uids = frozenset(cluster.batch.uid for cluster in clusters)
    return GroupRow(name, len(uids), sum(cluster.eggs for cluster in clusters), rates, uids)


def _rate(fit: BetaBinomial) -> GroupRate:
    return GroupRate(
        fit.batches, fit.hits, fit.trials, fit.mean, fit.low, fit.high, fit.mean, Standing.NOT_COMPARED
    )


def _group_rate(comparison: Comparison[str], key: str, looks: float) -> GroupRate:
    estimate: GroupEstimate[str] = comparison.group(key)
    rate = GroupRate(
        estimate.batches,
        estimate.hits,
        estimate.trials,
        estimate.mean,
        estimate.low,
        estimate.high,
        estimate.shrunken,
        Standing.TOO_FEW if estimate.too_small else Standing.NOT_COMPARED,
    )
    against = next((one for one in comparison.against_rest if one.key == key), None)
    if against is None:
        return rate
    p = min(1.0, against.p_holm * looks)
    standing = Standing.WITHIN
    if p < LEVEL:
        standing = Standing.LOWER if against.difference < 0 else Standing.HIGHER
    return replace(rate, standing=standing, p=p)
