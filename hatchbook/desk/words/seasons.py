"""What the comparison of batches found, in sentences: the strongest first, with its odds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, species_word
from hatchbook.desk.words.dates import season_word
from hatchbook.desk.words.groups import (
    eggs_of,
    elsewhere,
    group_in_words,
    group_word,
    grouping_in_words,
    groups_word,
    where,
)
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import number, share
from hatchbook.desk.words.season_sentences import (
    FADES,
    FEWER,
    HOLDS,
    MIXED,
    MORE,
    NOT_KNOWN,
    NOT_NOTED,
    OF_EACH,
    ONE_ONLY,
    ONLY_ONE,
    OVER_TIME,
    STAYED,
    TOO_FEW,
)
from hatchbook.figures.comparison_results import ComparisonFigures, Finding, FindingKind, Question

_LEAST = 0.001
_EVEN = 0.5
_STILL = 0.1
"""From here on a difference "may well be chance", below it "may still be chance"."""
_MOST_NAMED = 3
"""Of more groups that are too small only so many are named."""
_FEWEST_OF_GROUP = 2
"""With fewer batches a group is too small by these, with more by its eggs."""


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
    """A chance in plain words: less than 1 in 1000, 1 in 40, 1 in 2, over 1 in 2.

    What is more likely than not is told no closer: chances that are corrected for many comparisons end at 1.
    """
    if p < _LEAST:
        return _tr("less than 1 in 1000")
    if p > _EVEN:
        return _tr("over {part} in {of}").format(part=1, of=2)
    of = 1 / p
    step = 1 if of < 20 else 5 if of < 100 else 10 if of < 200 else 50
    return _tr("{part} in {of}").format(part=1, of=max(2, step * round(of / step)))


def more_than_chance(p: float) -> str:
    """Behind a finding: That is more than chance: less than 1 in 1000."""
    return _tr("That is more than chance: {odds}.").format(odds=odds_text(p))


def odds_explained() -> str:
    """What a chance is the chance of."""
    return _tr(
        "The odds say how often groups that do not differ would look as different as these. They count how much "
        "batches differ among each other, how few eggs there are, and how many groups are looked at."
    )


def story_of(figures: ComparisonFigures) -> Story:
    """What the figures have to say, the strongest first."""
    if not figures.batches:
        return Story(_nothing_over(figures), "", (_how_batches_come_in(),))
    month = figures.season_first_month
    told = [finding for finding in figures.findings if finding.kind not in _TOGETHER]
    sentences = [(finding, _sentence(finding, figures.question, month)) for finding in told]
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
    small = [finding for finding in figures.findings if finding.kind is FindingKind.TOO_SMALL]
    needed = [finding for finding in figures.findings if finding.kind is FindingKind.NEEDED]
    rest += [text for text in (_too_small(small, month), *_needed(needed)) if text]
    return Story(headline, " ".join(odds), tuple(rest))


def _nothing_over(figures: ComparisonFigures) -> str:
    if figures.question.seasons is not None:
        return _tr("No batch of these seasons is finished yet.")
    if figures.question.species is not None and figures.species_known:
        species = in_sentence(species_word(figures.question.species))
        return _tr("No {species} batch is finished yet.").format(species=species)
    return _tr("No batch is finished yet.")


def _how_batches_come_in() -> str:
    return _tr(
        "Batches stand here once they are closed. Past seasons can be brought in from a table, or entered batch by "
        "batch (menu File)."
    )


_REAL = frozenset({FindingKind.GROUP, FindingKind.PAIR, FindingKind.AMONG, FindingKind.TREND})
_QUALIFYING = frozenset({FindingKind.HOLDS, FindingKind.FADES, FindingKind.CONFOUNDED})
#: Told together in one sentence, at the end.
_TOGETHER = frozenset({FindingKind.TOO_SMALL, FindingKind.NEEDED})


def _sentence(finding: Finding, question: Question, month: int) -> str:
    text = _SENTENCES[finding.kind](finding, question, month)
    return text[:1].upper() + text[1:]


def _compared(finding: Finding, question: Question, there: str, other: str) -> str:
    assert finding.mean is not None
    assert finding.rest_mean is not None
    table = FEWER if finding.mean < finding.rest_mean else MORE
    return _tr(table[question.outcome]).format(
        where=there, elsewhere=other, rate=share(finding.mean), other=share(finding.rest_mean)
    )


def _group(finding: Finding, question: Question, month: int) -> str:
    (group,) = finding.groups
    if len(finding.rest) == 1:
        other = where(finding.rest[0], month)
    else:
        other = elsewhere(group.grouping, remaining=not finding.rest_is_all)
    return _compared(finding, question, where(group, month), other)


def _pair(finding: Finding, question: Question, month: int) -> str:
    return _compared(finding, question, where(finding.groups[0], month), where(finding.rest[0], month))


def _among(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.grouping is not None
    return _tr("{groups} differ, but no single one stands out.").format(groups=groups_word(finding.grouping))


def _trend_words(finding: Finding, question: Question, month: int) -> tuple[str, bool]:
    """A trend without its odds, and whether there is one to be seen."""
    assert finding.seasons is not None
    first, last = (season_word(season, month) for season in finding.seasons)
    rate, other = share(finding.mean), share(finding.rest_mean)
    if rate == other:
        return _tr(STAYED[question.outcome]).format(first=first, last=last, rate=rate), False
    return _tr(OVER_TIME[question.outcome]).format(first=first, last=last, rate=rate, other=other), True


def _trend(finding: Finding, question: Question, month: int) -> str:
    return _tr("{sentence}.").format(sentence=_trend_words(finding, question, month)[0])


def _holds(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.second is not None
    return _tr(HOLDS[finding.second]).format(rate=share(finding.mean), other=share(finding.rest_mean))


def _fades(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.second is not None
    assert finding.p is not None
    return _tr(FADES[finding.second]).format(
        rate=share(finding.mean),
        other=share(finding.rest_mean),
        odds=odds_text(finding.p),
    )


def _confounded(finding: Finding, question: Question, month: int) -> str:
    assert finding.grouping is not None
    assert finding.second is not None
    two = _tr("The two")
    if finding.second not in question.groupings:  # nothing on the page says which two
        two = _both(grouping_in_words(finding.grouping), grouping_in_words(finding.second))
    if len(finding.rest) == 1:
        eggs, other = eggs_of(finding.groups[0], month), group_in_words(finding.rest[0], month)
        return _tr(ONE_ONLY[finding.second]).format(two=two, eggs=eggs, other=other)
    group = group_in_words(finding.groups[0], month)
    return _tr(MIXED[finding.second]).format(two=two, group=group)


def _nothing(_finding: Finding, _question: Question, _month: int) -> str:
    return _tr("Nothing here differs by more than chance.")


def _may_be_chance(sentence: str, p: float | None) -> str:
    """Behind what is less sure than a finding: …: may well be chance (1 in 2)."""
    assert p is not None
    text = (
        _tr("{sentence}: may well be chance ({odds}).")
        if p >= _STILL
        else _tr("{sentence}: may still be chance ({odds}).")
    )
    return text.format(sentence=sentence, odds=odds_text(p))


def _pair_chance(finding: Finding, _question: Question, month: int) -> str:
    one, other = group_word(finding.groups[0], month), group_in_words(finding.rest[0], month)
    rate, other_rate = share(finding.mean), share(finding.rest_mean)
    if rate == other_rate:
        return _tr("{one} and {other} are alike, {rate} each.").format(one=one, other=other, rate=rate)
    text = _tr("{one} against {other}, {rate} and {other_rate}").format(
        one=one, other=other, rate=number((finding.mean or 0.0) * 100, 0), other_rate=other_rate
    )
    return _may_be_chance(text, finding.p)


def _among_chance(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.grouping is not None
    groups, low, high = groups_word(finding.grouping), share(finding.mean), share(finding.rest_mean)
    if low == high:
        return _tr("{groups} are alike, {rate} each.").format(groups=groups, rate=low)
    text = _tr("{groups} among themselves, {low} to {high}").format(
        groups=groups, low=number((finding.mean or 0.0) * 100, 0), high=high
    )
    return _may_be_chance(text, finding.p)


def _trend_chance(finding: Finding, question: Question, month: int) -> str:
    text, is_seen = _trend_words(finding, question, month)
    return _may_be_chance(text, finding.p) if is_seen else _tr("{sentence}.").format(sentence=text)


def _not_known(_finding: Finding, question: Question, _month: int) -> str:
    return _tr(NOT_KNOWN[question.outcome])


def _not_noted(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.grouping is not None
    return _tr(NOT_NOTED[finding.grouping])


def _only_one(finding: Finding, _question: Question, month: int) -> str:
    assert finding.grouping is not None
    return _tr(ONLY_ONE[finding.grouping]).format(group=group_in_words(finding.groups[0], month))


def _too_few(finding: Finding, _question: Question, _month: int) -> str:
    assert finding.grouping is not None
    return _tr(TOO_FEW[finding.grouping])


def _too_small(findings: Sequence[Finding], month: int) -> str:
    """The groups of which there is too little, in one sentence."""
    if not findings:
        return ""
    if len(findings) == 1:
        return _alone_too_small(findings[0], month)
    named = [_with_its_size(finding, month) for finding in findings[:_MOST_NAMED]]
    if more := len(findings) - len(named):
        named.append(_tr("%n other(s)", more))
    return _tr("Too few to say: {groups}.").format(groups=listed(named))


def _alone_too_small(finding: Finding, month: int) -> str:
    if finding.batches < _FEWEST_OF_GROUP:
        text = _tr("{group}: %n batch(es), too few to say.", finding.batches)
    else:
        text = _tr("{group}: %n egg(s), too few to say.", finding.eggs)
    said = text.format(group=group_word(finding.groups[0], month))
    rate, drawn = share(finding.mean), share(finding.rest_mean)
    if finding.mean is None or rate == drawn:
        return said
    drawn_too = _tr("By itself {rate}, drawn towards the others {drawn}.").format(rate=rate, drawn=drawn)
    return f"{said} {drawn_too}"


def _with_its_size(finding: Finding, month: int) -> str:
    if finding.batches < _FEWEST_OF_GROUP:
        text = _tr("{group} (%n batch(es))", finding.batches)
    else:
        text = _tr("{group} (%n egg(s))", finding.eggs)
    return text.format(group=group_in_words(finding.groups[0], month))


def _both(one: str, other: str) -> str:
    return _tr("{one} and {other}").format(one=one, other=other)


def _needed(findings: Sequence[Finding]) -> Iterator[str]:
    """How many more batches it would take, in one sentence; where it would have shown, that."""
    shown = [groups_word(one.grouping) for one in findings if one.grouping is not None and not one.batches]
    if shown:
        groups = shown[0] if len(shown) == 1 else _both(shown[0], in_sentence(shown[1]))
        yield _tr("{groups}: a difference of 10 points would most likely have shown.").format(groups=groups)
    more = [
        _tr("%n more batch(es) {of_each}", finding.batches).format(of_each=_tr(OF_EACH[finding.grouping]))
        for finding in findings
        if finding.grouping is not None and finding.batches
    ]
    if more:
        text = more[0] if len(more) == 1 else _both(*more)
        yield _tr("To tell a difference of 10 points would take about {batches}.").format(batches=text)


_SENTENCES: dict[FindingKind, Callable[[Finding, Question, int], str]] = {
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
    FindingKind.NOT_KNOWN: _not_known,
    FindingKind.NOT_NOTED: _not_noted,
    FindingKind.ONLY_ONE: _only_one,
    FindingKind.TOO_FEW: _too_few,
}
