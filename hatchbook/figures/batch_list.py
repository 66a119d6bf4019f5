"""The batch list: every batch of the journal by its season, with what became of its eggs."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from hatchbook.figures.course import present, state_of
from hatchbook.figures.outcomes import KEEPER, egg_records
from hatchbook.figures.results import BatchState, BatchSummary, Overview, SeasonGroup
from hatchbook.journal import BatchLine, Journal, PastBatch
from hatchbook.statistics.rates import BatchRates, rates_from_counts
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT
from hatchbook.trade.instants import day_number, from_local_shifted, season_of, to_local


def overview(journal: Journal, now: int | None = None) -> Overview:
    """All batches by season, newest first, with those of which only counts are known."""
    seasons: dict[int, list[BatchSummary]] = {}
    for season, summary in [*_kept(journal, present(now)), *_past(journal)]:
        seasons.setdefault(season, []).append(summary)
    for batches in seasons.values():
        batches.sort(key=lambda batch: (batch.set_at, batch.label), reverse=True)
    return Overview(
        tuple(SeasonGroup(season, tuple(seasons[season])) for season in sorted(seasons, reverse=True))
    )


def _kept(journal: Journal, now: int) -> list[tuple[int, BatchSummary]]:
    """The batches kept in the journal, each with its season."""
    first_month, zone = journal.settings.season_first_month, journal.zone
    records, pens = egg_records(journal), journal.eggs.pens()
    summaries = []
    for line in journal.batches.lines():
        counts = KEEPER.count(line, tuple(records.get(line.uid, {}).values()))
        season = season_of(to_local(line.set_at, zone).date(), first_month)
        summaries.append((season, _summary(line, counts, now, pens.get(line.uid, []))))
    return summaries


def _summary(line: BatchLine, counts: dict[Fate, int], now: int, pens: list[str]) -> BatchSummary:
    until = now if line.closed_at is None else min(now, line.closed_at)
    return BatchSummary(
        uid=line.uid,
        label=line.label,
        name=line.name,
        species=line.species,
        state=state_of(line.set_at, line.closed_at, now),
        day=day_number(until, line.set_at),
        incubation_days=line.incubation_days,
        lockdown_day=line.incubation_days if line.lockdown_day is None else line.lockdown_day,
        set_at=line.set_at,
        eggs_set=line.eggs,
        counts=counts,
        hatched=_hatched(counts),
        found_by=_texts(line.breed, *pens, line.note),
    )


def _hatched(counts: dict[Fate, int]) -> int:
    """Chicks out of the shell alive."""
    return sum(counts.get(fate, 0) for fate in CAME_OUT)


def _texts(*texts: str) -> tuple[str, ...]:
    return tuple(text for text in texts if text)


# -------------------------------------------------------------------- counts alone


def past_rates(past: PastBatch) -> BatchRates:
    """The rates of a batch of which only counts are known."""
    return rates_from_counts(
        eggs_set=past.eggs_set,
        hatched=past.hatched,
        clear=past.clear,
        infertile_opened=past.infertile_opened,
        early=past.early_dead,
        mid=past.mid_dead,
        late=past.late_dead,
        pipped=past.pipped_dead,
        culled=past.culled,
        rotten=past.rotten,
        taken_out=past.taken_out,
    )


def past_set_at(past: PastBatch, season_first_month: int, zone: ZoneInfo) -> int:
    """Noon of the date on which it was set, or the beginning of its season where that is not known."""
    if past.set_on is not None:
        return from_local_shifted(datetime.combine(date.fromisoformat(past.set_on), time(12)), zone)
    begin = date(past.season, season_first_month, 1)
    return from_local_shifted(datetime.combine(begin, time()), zone)


def _past(journal: Journal) -> list[tuple[int, BatchSummary]]:
    first_month, zone = journal.settings.season_first_month, journal.zone
    pens = {pen.uid: pen.name for pen in journal.pens.all()}
    return [
        (past.season, _past_summary(past, past_set_at(past, first_month, zone), pens.get(past.pen or "", "")))
        for past in journal.past_batches.all()
    ]


def _past_summary(past: PastBatch, set_at: int, pen: str) -> BatchSummary:
    counts = past_rates(past).counts.by_fate
    return BatchSummary(
        uid=past.uid,
        label=past.label,
        name=past.name,
        species=past.species,
        state=BatchState.CLOSED,
        day=0.0,
        incubation_days=0.0,
        lockdown_day=0.0,
        set_at=set_at,
        eggs_set=past.eggs_set,
        counts=counts,
        hatched=_hatched(counts),
        counts_only=True,
        found_by=_texts(past.breed, pen, past.note),
    )
