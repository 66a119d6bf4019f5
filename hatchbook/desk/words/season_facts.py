"""What was compared, in sentences: how many batches and eggs, what was left out, what the charts need."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.dates import season_word
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import number
from hatchbook.desk.words.season_sentences import NOT_KNOWN
from hatchbook.figures.comparison_results import FEWEST_BATCHES, ComparisonFigures, CountOfBatches


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Seasons", text, "", n)


def asked_sentence(figures: ComparisonFigures) -> str:
    """What was compared, for a reader who does not see the choices: Hen, seasons 2022 to 2026: 18 finished …."""
    question, month = figures.question, figures.season_first_month
    asked = [_tr("All species") if question.species is None else species_word(question.species)]
    seasons = question.seasons or figures.seasons_known
    if seasons:
        first, last = season_word(seasons[0], month), season_word(seasons[-1], month)
        text = _tr("season {first}") if first == last else _tr("seasons {first} to {last}")
        asked.append(text.format(first=first, last=last))
    return _tr("{asked}. {facts}").format(asked=listed(asked), facts=facts_sentence(figures))


def facts_sentence(figures: ComparisonFigures) -> str:
    """Under the title: 16 finished batches, 2024 to 2026: 469 eggs set, 395 fertile, 294 hatched."""
    if not figures.batches:
        return ""
    batches = _tr("%Ln finished batch(es)", figures.batches)
    counted = [
        _tr("%Ln egg(s) set", figures.eggs_set),
        _counted(_tr("{count} fertile"), figures.fertile, figures),
        _counted(_tr("{count} hatched"), figures.hatched, figures),
    ]
    return _tr("{batches}: {counts}.").format(batches=batches, counts=listed([one for one in counted if one]))


def _counted(text: str, count: CountOfBatches, figures: ComparisonFigures) -> str:
    """458 fertile; with how many batches tell it where not all do; nothing where none does."""
    if not count.batches:
        return ""
    said = text.format(count=number(count.eggs, 0))
    if count.batches == figures.batches:
        return said
    return _tr("{count} (known of %Ln batch(es))", count.batches).format(count=said)


def running_sentence(figures: ComparisonFigures) -> str:
    """What is not in it yet: 2 still running."""
    if not figures.running:
        return ""
    return _tr("%n still running.", figures.running)


def too_few_for_charts(figures: ComparisonFigures) -> str:
    """In place of the charts: how many batches they need, and how many there are."""
    outcome = figures.question.outcome
    known = figures.overall.rates[outcome].batches
    if figures.batches and not known:
        return _tr(NOT_KNOWN[outcome])
    text = _tr("{fewest} finished batches are needed before they can be compared; {have}")
    have = _tr("you have %n.", figures.batches)
    if known < figures.batches:
        have = _tr("of %n this is known.", known)
    return text.format(fewest=number(FEWEST_BATCHES, 0), have=have)
