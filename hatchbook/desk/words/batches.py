"""What a batch is and how far it is, in a line."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.dates import date_time, local, weekday_date, weekday_of_year
from hatchbook.desk.words.numbers import number
from hatchbook.figures.results import BatchFigures, BatchState


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Batches", text, "", n)


def day_of(day: float, incubation_days: float) -> str:
    """day 11 of 21: the whole days gone since setting."""
    shown = max(int(day), 0)
    return _tr("day {day} of {days}").format(day=number(shown, 0), days=number(incubation_days, 0))


def days_over(figures: BatchFigures) -> int:
    """Whole days by which a running batch is past the day on which its hatch was due."""
    if figures.state is not BatchState.RUNNING:
        return 0
    return max(int(figures.day - figures.batch.incubation_days), 0)


def batch_facts(figures: BatchFigures, zone: ZoneInfo) -> str:
    """The line of facts under the title of a batch."""
    batch = figures.batch
    eggs = len(figures.eggs)
    species = in_sentence(species_word(batch.species))
    pens = ", ".join(figures.pen_names)
    if pens:
        what = _tr("%n {species} egg(s) from {pens} in {machine}", eggs)
    else:
        what = _tr("%n {species} egg(s) in {machine}", eggs)
    sentences = [what.format(species=species, pens=pens, machine=figures.machine_name)]
    if figures.state is BatchState.PLANNED:
        sentences.insert(0, _tr("Planned"))
        sentences.append(_tr("To be set {when}").format(when=date_time(batch.set_at, zone)))
    elif figures.state is BatchState.RUNNING:
        first = day_of(figures.day, batch.incubation_days)
        if over := days_over(figures):
            first = _tr("%n day(s) past the hatch, day {day}", over).format(day=number(int(figures.day), 0))
        sentences.insert(0, first[:1].upper() + first[1:])
        sentences.append(_tr("Set {when}").format(when=date_time(batch.set_at, zone)))
    else:
        closed = weekday_of_year(local(batch.closed_at or figures.now, zone).date())
        sentences.insert(0, _tr("Closed {date}").format(date=closed))
        sentences.append(_tr("Set {when}").format(when=date_time(batch.set_at, zone)))
    if figures.state is not BatchState.CLOSED:
        when_due = _tr("Lockdown {lockdown}, hatch due {hatch}")
        if days_over(figures):
            when_due = _tr("Lockdown was {lockdown}, hatch was due {hatch}")
        sentences.append(
            when_due.format(
                lockdown=weekday_date(figures.lockdown_at, zone),
                hatch=weekday_date(figures.hatch_due_at, zone),
            )
        )
    # Dates of some languages end with a stop of their own.
    return "  ".join(sentence if sentence.endswith(".") else f"{sentence}." for sentence in sentences)
