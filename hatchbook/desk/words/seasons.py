"""What the comparison of batches found, in sentences: the strongest first, with its odds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.groups import elsewhere, group_word, groups_word, season_word, where
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import number, share
from hatchbook.desk.words.season_sentences import (
    FADES,
    FEWER,
    HOLDS,
    MIXED,
    MORE,
    ONE_ONLY,
    OVER_TIME,
    TOO_FEW,
)
from hatchbook.figures.comparison_results import (
    FEWEST_BATCHES,
    ComparisonFigures,
    Finding,
    FindingKind,
    GroupName,
)
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind

_LEAST = 0.001
_STILL = 0.1
"""From here on a difference "may well be chance", below it "may still be chance"."""


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Seasons", text, "", n)


@dataclass(frozen=True)
class Story:
    """What stands above the table: ``headline`` strong, ``odds`` with what qualifies it, and the rest below."""

    headline: str
    odds: str = ""
    rest: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """All of it, as it is read aloud."""
        return " ".join(part for part in (self.headline, self.odds, *self.rest) if part)


def odds_text(p: float) -> str:
    """A chance in plain words: less than 1 in 1000, 1 in 40, 1 in 2, 2 in 3, 9 in 10."""
    if p < _LEAST:
        return _tr("less than 1 in 1000")
    if p > 0.7:
        return _tr("{part} in {of}").format(part=min(9, round(p * 10)), of=10)
    if p > 0.6:
        return _tr("{part} in {of}").format(part=2, of=3)
    of = 1 / p
    step = 1 if of < 20 else 5 if of < 100 else 10 if of < 200 else 50
    return _tr("{part} in {of}").format(part=1, of=max(2, step * round(of / step)))


def more_than_chance(p: float) -> str:
    """Behind a finding: That is more than chance: less than 1 in 1000."""
    return _tr("That is more than chance: {odds}.").format(odds=odds_text(p))


def story_of(figures: ComparisonFigures) -> Story:
    """What the figures have to say, the strongest first."""
    if not figures.batches:
        return Story(_nothing_over(figures))
    month = figures.season_first_month
    sentences = [
        (finding, _sentence(finding, figures.question.outcome, month)) for finding in figures.findings
    ]
    if not sentences:
        return Story(_tr("There are too few batches to compare anything."))
    first, headline = sentences.pop(0)
    odds = [] if first.p is None or first.kind not in _REAL else [more_than_chance(first.p)]
    while sentences and sentences[0][0].kind in _QUALIFYING:
        odds.append(sentences.pop(0)[1])
    rest = [
        f"{text} {more_than_chance(finding.p)}" if finding.kind in _REAL and finding.p is not None else text
        for finding, text in sentences
    ]
    return Story(headline, " ".join(odds), tuple(rest))


def _nothing_over(figures: ComparisonFigures) -> str:
    if figures.question.seasons is not None:
        return _tr("No batch of these seasons is finished yet.")
    if figures.question.species is not None and figures.species_known:
        species = in_sentence(species_word(figures.question.species))
        return _tr("No {species} batch is finished yet.").format(species=species)
    return _tr("No batch is finished yet.")


_REAL = frozenset({FindingKind.GROUP, FindingKind.PAIR, FindingKind.AMONG, FindingKind.TREND})
_QUALIFYING = frozenset({FindingKind.HOLDS, FindingKind.FADES, FindingKind.CONFOUNDED})


def _sentence(finding: Finding, outcome: RateKind, month: int) -> str:
    return _SENTENCES[finding.kind](finding, outcome, month)


def _compared(finding: Finding, outcome: RateKind, there: str, other: str) -> str:
    assert finding.mean is not None
    assert finding.rest_mean is not None
    table = FEWER if finding.mean < finding.rest_mean else MORE
    return _tr(table[outcome]).format(
        where=there, elsewhere=other, rate=share(finding.mean), other=share(finding.rest_mean)
    )


def _group(finding: Finding, outcome: RateKind, month: int) -> str:
    (group,) = finding.groups
    if len(finding.rest) == 1:
        other = where(finding.rest[0], month)
    else:
        other = elsewhere(group.grouping, remaining=not finding.rest_is_all)
    return _compared(finding, outcome, where(group, month), other)


def _pair(finding: Finding, outcome: RateKind, month: int) -> str:
    return _compared(finding, outcome, where(finding.groups[0], month), where(finding.rest[0], month))


def _among(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.grouping is not None
    return _tr("{groups} differ, but no single one stands out.").format(groups=groups_word(finding.grouping))


def _trend(finding: Finding, outcome: RateKind, month: int) -> str:
    assert finding.seasons is not None
    first, last = (season_word(season, month) for season in finding.seasons)
    return _tr(OVER_TIME[outcome]).format(
        first=first, last=last, rate=share(finding.mean), other=share(finding.rest_mean)
    )


def _holds(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.second is not None
    return _tr(HOLDS[finding.second]).format(rate=share(finding.mean), other=share(finding.rest_mean))


def _fades(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.second is not None
    assert finding.p is not None
    return _tr(FADES[finding.second]).format(
        rate=share(finding.mean),
        other=share(finding.rest_mean),
        odds=odds_text(finding.p),
    )


def _confounded(finding: Finding, _outcome: RateKind, month: int) -> str:
    assert finding.second is not None
    group = _in_words(finding.groups[0], month)
    if len(finding.rest) == 1:
        other = _in_words(finding.rest[0], month)
        return _tr(ONE_ONLY[finding.second]).format(group=group, other=other)
    return _tr(MIXED[finding.second]).format(group=group)


def _nothing(_finding: Finding, _outcome: RateKind, _month: int) -> str:
    return _tr("Nothing here differs by more than chance.")


def _pair_chance(finding: Finding, _outcome: RateKind, month: int) -> str:
    assert finding.p is not None
    one, other = finding.groups[0], finding.rest[0]
    text = (
        _tr("{one} against {other}, {rate} and {other_rate}: may well be chance ({odds}).")
        if finding.p >= _STILL
        else _tr("{one} against {other}, {rate} and {other_rate}: may still be chance ({odds}).")
    )
    return text.format(
        one=group_word(one, month),
        other=_in_words(other, month),
        rate=number((finding.mean or 0.0) * 100, 0),
        other_rate=share(finding.rest_mean),
        odds=odds_text(finding.p),
    )


def _among_chance(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.grouping is not None
    assert finding.p is not None
    text = (
        _tr("{groups} among themselves: may well be chance ({odds}).")
        if finding.p >= _STILL
        else _tr("{groups} among themselves: may still be chance ({odds}).")
    )
    return text.format(groups=groups_word(finding.grouping), odds=odds_text(finding.p))


def _trend_chance(finding: Finding, outcome: RateKind, month: int) -> str:
    assert finding.p is not None
    text = (
        _tr("{trend} That may well be chance ({odds}).")
        if finding.p >= _STILL
        else _tr("{trend} That may still be chance ({odds}).")
    )
    return text.format(trend=_trend(finding, outcome, month), odds=odds_text(finding.p))


def _too_small(finding: Finding, _outcome: RateKind, month: int) -> str:
    name = group_word(finding.groups[0], month)
    if finding.batches < 2:
        text = _tr("{group}: %n batch(es), too few to say.", finding.batches)
    else:
        text = _tr("{group}: %n egg(s), too few to say.", finding.eggs)
    return text.format(group=name)


def _too_few(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.grouping is not None
    return _tr(TOO_FEW[finding.grouping])


def _needed(finding: Finding, _outcome: RateKind, _month: int) -> str:
    assert finding.grouping is not None
    groups = groups_word(finding.grouping)
    if not finding.batches:
        text = _tr("{groups}: a difference of 10 points would most likely have shown.")
        return text.format(groups=groups)
    text = _tr(
        "{groups}: to tell a difference of 10 points takes about %n more batch(es) of each.", finding.batches
    )
    return text.format(groups=groups)


_SENTENCES: dict[FindingKind, Callable[[Finding, RateKind, int], str]] = {
    FindingKind.GROUP: _group,
    FindingKind.PAIR: _pair,
    FindingKind.AMONG: _among,
    FindingKind.TREND: _trend,
    FindingKind.HOLDS: _holds,
    FindingKind.FADES: _fades,
    FindingKind.CONFOUNDED: _confounded,
    FindingKind.NOTHING: _nothing,
    FindingKind.PAIR_CHANCE: _pair_chance,
    FindingKind.AMONG_CHANCE: _among_chance,
    FindingKind.TREND_CHANCE: _trend_chance,
    FindingKind.TOO_SMALL: _too_small,
    FindingKind.TOO_FEW: _too_few,
    FindingKind.NEEDED: _needed,
}


def _in_words(group: GroupName, month: int) -> str:
    name = group_word(group, month)
    coded = (Grouping.SOURCE, Grouping.SPECIES, Grouping.EGG_AGE)
    return in_sentence(name) if group.grouping in coded else name


def facts_sentence(figures: ComparisonFigures) -> str:
    """Under the title: 16 finished batches, 2024 to 2026: 469 eggs set, 395 fertile, 294 hatched."""
    if not figures.batches:
        return ""
    batches = _tr("%Ln finished batch(es)", figures.batches)
    eggs = _tr("%Ln egg(s) set", figures.eggs_set)
    fertile = _tr("{count} fertile").format(count=number(figures.fertile, 0))
    hatched = _tr("{count} hatched").format(count=number(figures.hatched, 0))
    return _tr("{batches}: {counts}.").format(batches=batches, counts=listed([eggs, fertile, hatched]))


def running_sentence(figures: ComparisonFigures) -> str:
    """What is left out: Left out until closed: 2 running batches."""
    if not figures.running:
        return ""
    return _tr("Left out until closed: %n running batch(es).", figures.running)


def too_few_for_charts(batches: int) -> str:
    """In place of the charts."""
    have = _tr("you have %n.", batches)
    return _tr("{fewest} finished batches are needed before they can be compared; {have}").format(
        fewest=number(FEWEST_BATCHES, 0), have=have
    )
