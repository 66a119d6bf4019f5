"""Facts of what the eggs of a batch showed: fates, signs in opened eggs, how they lay, when they hatched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hatchbook.figures.cause_results import Fact, RecordRef, SeenSign
from hatchbook.figures.results import BatchFigures
from hatchbook.journal import BreakOut, Journal
from hatchbook.trade.cause_codes import CauseSign, FactCode, FactKind
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, Fate, Malposition

CHICKS_NEEDED = 5
"""With fewer chicks a hatch has neither a middle nor a spread worth telling (ours)."""
DRAWN_OUT_H = 36.0
EARLY_OR_LATE_H = 12.0
_MOST_RECORDS = 12
_LATE = frozenset({BreakOutResult.LATE_DEAD, BreakOutResult.PIPPED_DEAD})
_SIGN = FactKind.SIGN
_UNTURNED = frozenset({Malposition.IV_BEAK_AWAY_FROM_AIR_CELL, Malposition.VI_BEAK_OVER_RIGHT_WING})
"""More of these in eggs that were not turned: H. R. Wilson, J. Appl. Poult. Res. (quail)."""
_STAGES = (
    (CauseSign.EARLY_DEATHS, Fate.EARLY_DEAD),
    (CauseSign.MID_DEATHS, Fate.MID_DEAD),
    (CauseSign.LATE_DEATHS, Fate.LATE_DEAD),
    (CauseSign.PIPPED_DEAD, Fate.PIPPED_DEAD),
    (CauseSign.ROTTEN, Fate.ROTTEN),
)
_SHARES: tuple[tuple[FactCode, CauseSign | None, frozenset[str]], ...] = (
    (FactCode.WET, CauseSign.WET, frozenset({BreakOutSign.WET})),
    (FactCode.DRY_AND_STUCK, CauseSign.DRY_AND_STUCK, frozenset({BreakOutSign.DRY_AND_STUCK})),
    (FactCode.SMALL_AIR_CELL, CauseSign.SMALL_AIR_CELL, frozenset({BreakOutSign.SMALL_AIR_CELL})),
    (FactCode.LARGE_AIR_CELL, CauseSign.LARGE_AIR_CELL, frozenset({BreakOutSign.LARGE_AIR_CELL})),
    (FactCode.YOLK_OUTSIDE, CauseSign.YOLK_OUTSIDE, frozenset({BreakOutSign.YOLK_OUTSIDE})),
    (FactCode.MALFORMED, CauseSign.MALFORMED, frozenset({BreakOutSign.MALFORMED})),
    (FactCode.UNTURNED_LIES, None, frozenset(_UNTURNED)),
)
_LIES = frozenset(str(one) for one in Malposition)


@dataclass(frozen=True)
class Opened:
    """An opened egg that had died late or in the pip, with its signs and malpositions."""

    number: int
    break_out: BreakOut
    marks: frozenset[str]

    def ref(self) -> RecordRef:
        """The record to open."""
        values = {
            "number": self.number,
            "result": str(self.break_out.result),
            "marks": tuple(sorted(self.marks)),
        }
        return RecordRef("break_out", self.break_out.uid, self.break_out.at, values)


def opened_late(journal: Journal, figures: BatchFigures) -> tuple[Opened, ...]:
    """The opened eggs that had died late or in the pip."""
    numbers = {egg.egg.uid: egg.egg.number for egg in figures.eggs}
    found = [
        Opened(numbers[one.egg], one, frozenset(mark.code for mark in journal.break_outs.marks(one.uid)))
        for one in journal.break_outs.of_batch(figures.batch.uid)
        if one.result in _LATE and one.at <= figures.now
    ]
    return tuple(sorted(found, key=lambda one: one.number))


def sign_facts(figures: BatchFigures, opened: Sequence[Opened]) -> Iterator[Fact]:
    """Every fact of what the eggs showed, but those that need the breeder's other batches."""
    for code, _sign, marks in _SHARES:
        yield _share(code, opened, marks)
    stayed = figures.rates.counts.eggs_set - figures.rates.taken_out
    rotten = figures.counts.get(Fate.ROTTEN, 0)
    share = rotten / stayed if stayed else None
    of_set = {"count": rotten, "of": stayed}
    yield Fact(FactCode.ROTTEN, _SIGN, share, of_set, count=rotten, of=stayed)
    yield _infertile(figures, stayed)
    spread = figures.timing.spread_h if len(figures.timing.chick_days) >= CHICKS_NEEDED else None
    yield Fact(FactCode.SPREAD, _SIGN, spread, {"hours": spread})


def _share(code: FactCode, opened: Sequence[Opened], marks: frozenset[str]) -> Fact:
    if not opened:
        return Fact(code, _SIGN, None, {"count": 0, "of": 0}, count=0, of=0)
    showing = [one for one in opened if one.marks & marks]
    count, of = len(showing), len(opened)
    records = tuple(one.ref() for one in showing[:_MOST_RECORDS])
    return Fact(code, _SIGN, count / of, {"count": count, "of": of}, records, count, of)


def _infertile(figures: BatchFigures, stayed: int) -> Fact:
    """Infertile ones by opening; where clears were left unopened, nobody knows what they were."""
    opened, clear = figures.counts.get(Fate.INFERTILE, 0), figures.counts.get(Fate.CLEAR, 0)
    values = {"count": opened, "clear": clear, "of": stayed}
    known = stayed > 0 and clear <= opened
    return Fact(
        FactCode.INFERTILE, _SIGN, opened / stayed if known else None, values, count=opened, of=stayed
    )


def seen_signs(
    figures: BatchFigures, opened: Sequence[Opened], hatch_late_h: float | None
) -> tuple[SeenSign, ...]:
    """The signs that a batch shows, in the order of the codes."""
    counts, eggs = figures.counts, figures.rates.counts.eggs_set
    found = {}
    infertile = counts.get(Fate.INFERTILE, 0) + counts.get(Fate.CLEAR, 0)
    if infertile:
        found[CauseSign.INFERTILE] = SeenSign(CauseSign.INFERTILE, infertile, eggs)
    for sign, fate in _STAGES:
        if counts.get(fate, 0):
            found[sign] = SeenSign(sign, counts[fate], eggs)
    for _code, mark, codes in _SHARES:
        count = sum(bool(one.marks & codes) for one in opened)
        if mark is not None and count:
            found[mark] = SeenSign(mark, count, len(opened))
    lying = sum(bool(one.marks & _LIES) for one in opened)
    if lying:
        found[CauseSign.MALPOSITIONS] = SeenSign(CauseSign.MALPOSITIONS, lying, len(opened))
    spread = figures.timing.spread_h
    if spread is not None and len(figures.timing.chick_days) >= CHICKS_NEEDED and spread > DRAWN_OUT_H:
        found[CauseSign.DRAWN_OUT] = SeenSign(CauseSign.DRAWN_OUT, 0, 0)
    if hatch_late_h is not None and abs(hatch_late_h) >= EARLY_OR_LATE_H:
        sign = CauseSign.LATE_HATCH if hatch_late_h > 0 else CauseSign.EARLY_HATCH
        found[sign] = SeenSign(sign, 0, 0)
    return tuple(found[sign] for sign in CauseSign if sign in found)
