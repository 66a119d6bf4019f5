"""Weighs what may have caused a batch's losses by what its journal says; never one diagnosis.

How a cause is weighed:

- A cause is considered where the published table connects it with a sign that this batch shows.
- Each of its rules asks one fact of the journal. A fact speaks for the cause, against it, or neither, by the
  bounds in `resources/causes/evidence.toml`, and counts 1 to 3 points; one that the journal does not know is told
  as unknown. More losses at a stage than usual would speak for many causes: they count where another fact does.
- The points for it less those against it make it strong, some or weak; unlikely is what is left. A strong case
  needs evidence of two kinds at least: how the eggs were kept, what they showed, what the breeder's other batches
  did.
- Where all that connects a cause with the signs is from memory it stays weak, whatever its points.
- Without any point for or against it, nothing is known.

If nothing reaches some evidence, the chance is what is left to say: how often the breeder's own batches of the
species lose as large a share, with the spread from batch to batch counted.
"""

from __future__ import annotations

from dataclasses import replace

from hatchbook.figures.batch import batch_view
from hatchbook.figures.cause_conditions import Kept, condition_facts
from hatchbook.figures.cause_history import OwnHistory
from hatchbook.figures.cause_results import (
    BatchCauses,
    CauseFigures,
    Caution,
    EvidenceItem,
    Fact,
    SeenSign,
    Strength,
)
from hatchbook.figures.cause_signs import opened_late, seen_signs, sign_facts
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.journal import Journal
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.cause_codes import CauseCode, FactCode, FactKind
from hatchbook.trade.causes import CauseEntry, CauseTable, EvidenceRule, Rank, load_causes
from hatchbook.trade.codes import Fate
from hatchbook.trade.sources import SourceMark

Facts = dict[FactCode, Fact]


def batch_causes(journal: Journal, uid: str, now: int | None = None) -> BatchCauses:
    """The causes of a batch's losses, weighed at an instant.

    Raises:
        RecordMissingError: there is no such batch.
    """
    return causes_of(journal, *batch_view(journal, uid, now))


def causes_of(journal: Journal, figures: BatchFigures, curves: Curves) -> BatchCauses:
    """The same of a batch whose figures and curves are there."""
    kept, opened = Kept.of(journal, figures, curves), opened_late(journal, figures)
    history = OwnHistory(journal, figures)
    facts: Facts = {
        fact.code: fact for fact in (*condition_facts(kept), *sign_facts(figures, opened), *history.facts())
    }
    signs = seen_signs(figures, opened, facts[FactCode.HATCH_LATE].value)
    table = load_causes()
    weighed = [weigh(entry, table, facts, signs, figures.batch.species) for entry in table.causes]
    causes = sorted((one for one in weighed if one is not None), key=_order)
    rate = figures.rates.hatch_of_fertile
    among = history.among.key_rates()
    of_fertile = among.get(RateKind.HATCH_OF_FERTILE)
    chance = None if of_fertile is None else of_fertile.chance
    return BatchCauses(
        batch=figures.batch.uid,
        lost=rate.trials - rate.hits,
        fertile=rate.trials,
        signs=signs,
        causes=tuple(causes),
        chance=None if chance is None else chance.low,
        other_batches=0 if of_fertile is None else of_fertile.batches,
        among=among,
        unknown=figures.counts.get(Fate.UNKNOWN, 0),
        cautions=_cautions(figures, causes),
    )


def weigh(
    entry: CauseEntry, table: CauseTable, facts: Facts, signs: tuple[SeenSign, ...], species: str
) -> CauseFigures | None:
    """One cause by these facts; None where it has nothing to do with what the batch shows."""
    if entry.needs is not None and not (facts[entry.needs].value or 0.0) > 0:
        return None
    explains = tuple(
        replace(sign, links=links)
        for sign in signs
        if (links := table.links_of(sign.code, entry.code, species))
    )
    if not explains:
        return None
    speaks_for: list[EvidenceItem] = []
    against: list[EvidenceItem] = []
    unknown: list[EvidenceItem] = []
    for rule in sorted(entry.rules, key=lambda rule: rule.supports):
        fact = facts[rule.fact]
        if not fact.applies:
            continue
        if fact.value is None:
            unknown.append(_item(fact, rule, 0))
        elif points := _points_for(fact, rule):
            if speaks_for or not rule.supports:
                speaks_for.append(_item(fact, rule, points))
        elif points := _points_against(fact, rule):
            against.append(_item(fact, rule, points))
    memory_alone = all(link.mark is SourceMark.FROM_MEMORY for sign in explains for link in sign.links)
    for_points = sum(item.points for item in speaks_for)
    against_points = sum(item.points for item in against)
    kinds = {item.kind for item in speaks_for}
    return CauseFigures(
        code=entry.code,
        strength=_strength(for_points, against_points, kinds, table.ranks, memory_alone=memory_alone),
        points_for=for_points,
        points_against=against_points,
        for_=tuple(speaks_for),
        against=tuple(against),
        unknown=tuple(unknown),
        not_recorded=entry.not_recorded,
        explains=explains,
        memory_alone=memory_alone,
    )


def _points_for(fact: Fact, rule: EvidenceRule) -> int:
    if fact.value is None or (fact.count is not None and fact.count < rule.fewest):
        return 0
    return next((step.points for step in rule.speaks_for if step.holds(fact.value)), 0)


def _points_against(fact: Fact, rule: EvidenceRule) -> int:
    if fact.value is None or (fact.of is not None and fact.of < rule.fewest_of):
        return 0
    return next((step.points for step in rule.speaks_against if step.holds(fact.value)), 0)


def _item(fact: Fact, rule: EvidenceRule, points: int) -> EvidenceItem:
    values = {**fact.values, "value": fact.value}
    return EvidenceItem(fact.code, fact.kind, points, values, fact.records, rule.source, rule.mark)


def _strength(
    points_for: int,
    points_against: int,
    kinds: set[FactKind],
    ranks: tuple[Rank, Rank, Rank],
    *,
    memory_alone: bool,
) -> Strength:
    if not points_for and not points_against:
        return Strength.NOT_KNOWN
    net = points_for - points_against
    for strength, rank in zip((Strength.STRONG, Strength.SOME, Strength.WEAK), ranks, strict=True):
        if memory_alone and strength is not Strength.WEAK:
            continue
        if points_for >= rank.points_for and net >= rank.net and len(kinds) >= rank.kinds:
            return strength
    return Strength.UNLIKELY


def _order(cause: CauseFigures) -> tuple[bool, int, int, int]:
    """The strongest first; what nothing is known of last."""
    return cause.strength is Strength.NOT_KNOWN, -cause.level, -cause.net, -cause.points_for


def _cautions(figures: BatchFigures, causes: list[CauseFigures]) -> tuple[Caution, ...]:
    levels = {cause.code: cause.level for cause in causes}
    found = []
    weak_chicks = figures.counts.get(Fate.CULLED, 0) or any(egg.outcome.weak for egg in figures.eggs)
    birds = (CauseCode.STOCK, CauseCode.INFERTILITY, CauseCode.DIRT)
    if weak_chicks or any(levels.get(code, 0) for code in birds):
        found.append(Caution.VETERINARIAN)
    if levels.get(CauseCode.STOCK, 0) or levels.get(CauseCode.INFERTILITY, 0):
        found.append(Caution.BEGAN_EARLIER)
    if figures.counts.get(Fate.ROTTEN, 0):
        found.append(Caution.ROTTEN_EGGS)
    return tuple(found)
