"""A batch of which only counts are known, in words."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.dates import weekday_of_year
from hatchbook.desk.words.rates import of_fertile_foot, range_note
from hatchbook.figures.past_batches import PastFigures
from hatchbook.statistics.rates import BatchRates
from hatchbook.trade.codes import EggSource


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("PastBatches", text, "", n)


def past_facts(figures: PastFigures) -> str:
    """The line of facts under the title of a past batch."""
    batch = figures.batch
    species = in_sentence(species_word(batch.species))
    if figures.pen_name and figures.machine_name:
        what = _tr("%n {species} egg(s) from {pen} in {machine}", batch.eggs_set)
    elif figures.pen_name:
        what = _tr("%n {species} egg(s) from {pen}", batch.eggs_set)
    elif figures.machine_name:
        what = _tr("%n {species} egg(s) in {machine}", batch.eggs_set)
    else:
        what = _tr("%n {species} egg(s)", batch.eggs_set)
    sentences = [
        _tr("Season {year}, counts only").format(year=batch.season),
        what.format(species=species, pen=figures.pen_name, machine=figures.machine_name),
    ]
    if batch.breed:
        sentences.append(batch.breed)
    if batch.source is EggSource.SHIPPED:
        sentences.append(_tr("Shipped eggs"))
    if batch.set_on is not None:
        sentences.append(_tr("Set {when}").format(when=weekday_of_year(date.fromisoformat(batch.set_on))))
    if figures.programme_title:
        sentences.append(_tr("Programme: {title}").format(title=figures.programme_title))
    return "  ".join(sentence if sentence.endswith(".") else f"{sentence}." for sentence in sentences)


def past_fertility_foot(rates: BatchRates) -> str:
    """Under the fertility of a past batch."""
    if rates.fertility.estimate is None:
        return _tr("neither clear nor fertile eggs were counted")
    if rates.unopened_clears:
        return _tr("%n clear egg(s) not opened", rates.unopened_clears)
    return range_note()


def past_of_fertile_foot(rates: BatchRates) -> str:
    """Under the hatch of fertile of a past batch."""
    if rates.hatch_of_fertile.estimate is None and rates.hatch_of_set.estimate is not None:
        return _tr("how many were fertile is not known")
    return past_of_set_foot(rates) if rates.hatch_of_fertile.estimate is None else of_fertile_foot(rates)


def past_of_set_foot(rates: BatchRates) -> str:
    """Under the hatch of set of a past batch."""
    if rates.hatch_of_set.estimate is None:
        return _tr("the chicks were not counted")
    return _tr("of all eggs set")
