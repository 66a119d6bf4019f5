"""What the batch list says: the names of seasons, and how far a batch is."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.alive import ALIVE_STILL, rest_sentence
from hatchbook.desk.words.batches import day_of
from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.dates import batch_day, day_month, season_word, weekday_date
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import count_of
from hatchbook.figures.results import BatchState, BatchSummary, SeasonGroup

_CONTEXT = "BatchList"


def season_name(season: int, first_month: int) -> str:
    """Season 2026; Season 2025/26 where it runs over the turn of the year."""
    years = season_word(season, first_month)
    return QCoreApplication.translate(_CONTEXT, "Season {year}").format(year=years)


def season_note(group: SeasonGroup) -> str:
    """1 planned, 2 running, 3 done."""
    counts = dict.fromkeys(BatchState, 0)
    for batch in group.batches:
        counts[batch.state] += 1
    parts = []
    if planned := counts[BatchState.PLANNED]:
        parts.append(QCoreApplication.translate(_CONTEXT, "%n planned", "", planned))
    if running := counts[BatchState.RUNNING]:
        parts.append(QCoreApplication.translate(_CONTEXT, "%n running", "", running))
    if done := counts[BatchState.CLOSED]:
        parts.append(QCoreApplication.translate(_CONTEXT, "%n done", "", done))
    return listed(parts)


def season_short_note(group: SeasonGroup) -> str:
    """3 open, 3 done: where there is little room."""
    done = len(group.batches) - group.running
    parts = []
    if group.running:
        parts.append(QCoreApplication.translate(_CONTEXT, "%n open", "", group.running))
    if done:
        parts.append(QCoreApplication.translate(_CONTEXT, "%n done", "", done))
    return listed(parts)


def batch_name(batch: BatchSummary) -> str:
    """The name of a batch; its species where it was given none."""
    return batch.name or species_word(batch.species)


def progress_text(batch: BatchSummary, zone: ZoneInfo) -> str:
    """How far a batch is, in a few words: set Mon 25 May; day 11 of 21; 18 of 36."""
    if batch.state is BatchState.PLANNED:
        when = weekday_date(batch.set_at, zone)
        return QCoreApplication.translate(_CONTEXT, "set {date}").format(date=when)
    if batch.state is BatchState.RUNNING:
        return day_of(batch.day, batch.incubation_days)
    return count_of(batch.hatched, batch.eggs_set)


def progress_short_text(batch: BatchSummary, zone: ZoneInfo) -> str:
    """The same where the name needs the room: 25 May; day 11; 18 of 36."""
    if batch.state is BatchState.PLANNED:
        return day_month(batch.set_at, zone)
    if batch.state is BatchState.RUNNING:
        return batch_day(int(batch.day), 0)
    return progress_text(batch, zone)


def from_paper() -> str:
    """Of a batch of a past season of which only counts are known."""
    return QCoreApplication.translate(_CONTEXT, "from paper")


def batch_sentence(batch: BatchSummary, zone: ZoneInfo) -> str:
    """A batch as it is read aloud: 26-05 Orchard hens, hen, day 11 of 21, 31 alive of 36, 1 unsure, 4 clear."""
    title = f"{batch.label} {batch.name}".strip()
    parts = [title, in_sentence(species_word(batch.species))]
    eggs = QCoreApplication.translate(_CONTEXT, "%n egg(s)", "", batch.eggs_set)
    if batch.state is BatchState.PLANNED:
        parts += [progress_text(batch, zone), eggs]
        return listed(parts)
    rest = rest_sentence(batch.counts)
    if batch.state is BatchState.RUNNING:
        alive = sum(batch.counts.get(fate, 0) for fate in ALIVE_STILL)
        alive_of = QCoreApplication.translate(_CONTEXT, "{alive} alive of {eggs}")
        parts += [progress_text(batch, zone), alive_of.format(alive=alive, eggs=batch.eggs_set), rest]
        return listed(parts)
    hatched = QCoreApplication.translate(_CONTEXT, "{hatched} hatched of {eggs}")
    parts += [hatched.format(hatched=batch.hatched, eggs=batch.eggs_set), rest]
    if batch.counts_only:
        parts.append(from_paper())
    return listed(parts)
