"""The hatch in the demo, and the eggs that are opened: what is seen at each look, and in each shell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hatchbook.exchange.demo.diary import Diary
from hatchbook.exchange.demo.eggs import TrueEgg
from hatchbook.journal import BreakOut, BreakOutMark, Finding, Hatching
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    Fate,
    FindingCode,
    HatchMark,
    Malposition,
)

_CHICK_SHARE = 0.675  # of the egg's mass when set
_OPENED_BEFORE_CLOSING_S = 95 * 60
_OPENING_S = 150
_PIP_NOTED = {"all": 0.6, "some": 0.15, "little": 0.0}
_STILL_IN_SHELL = frozenset({HatchMark.EXTERNAL_PIP, HatchMark.DIED_IN_PIP})
_WET_BELOW, _DRY_ABOVE = 1.3, 1.9
"""An embryo drowns, or sticks, with so many points of lost weight less, or more, than wanted."""
_LIES = (
    (0.10, Malposition.II_HEAD_IN_SMALL_END),
    (0.16, Malposition.IV_BEAK_AWAY_FROM_AIR_CELL),
    (0.20, Malposition.VI_BEAK_OVER_RIGHT_WING),
)
"""How often, among embryos that died late, added up."""


@dataclass(frozen=True)
class _Opening:
    result: BreakOutResult
    dead_day: float | None = None
    marks: tuple[Malposition | BreakOutSign, ...] = ()


def write_hatch(diary: Diary) -> None:
    """Pips and chicks as they were noted at the looks into the machine."""
    looks = diary.run.rounds.looks
    ring = 0
    for egg, true in enumerate(diary.run.eggs):
        if egg in diary.gone or true.pips_day is None or not looks:
            continue
        helped, weak, culled, ringed, pip_draw = diary.rng.random(5).tolist()
        if pip_draw < _PIP_NOTED[diary.run.story.log]:
            _note_pip(diary, egg, true, looks)
        if true.hatches_day is None:
            if true.dies_day is not None and pip_draw < 0.4:
                _mark(diary, egg, HatchMark.DIED_IN_PIP, looks, true.dies_day + 0.2)
            continue
        stuck = helped < (0.02 if true.lost_percent < _wanted(diary) + _DRY_ABOVE else 0.12)
        mark = HatchMark.HELPED if stuck else HatchMark.HATCHED
        keeps_rings = diary.run.story.log == "all" and bool(diary.batch.label)
        number = ""
        if keeps_rings and ringed < 0.35:
            ring += 1
            number = f"{diary.batch.label}/{ring}"
        _mark(diary, egg, mark, looks, true.hatches_day + 0.12 * stuck, ring=number)
        if culled < 0.012:
            _mark(diary, egg, HatchMark.CULLED, looks, true.hatches_day + 0.4)
        elif weak < 0.02:
            _mark(diary, egg, HatchMark.WEAK, looks, true.hatches_day + 0.3)


def _note_pip(diary: Diary, egg: int, true: TrueEgg, looks: tuple[int, ...]) -> None:
    pips_day = true.pips_day or 0.0
    out_day = true.hatches_day or true.dies_day or pips_day + 1
    look = _look(diary, looks, pips_day)
    if look is not None and diary.day(look) < out_day:
        diary.records.append(Hatching(diary.eggs[egg].uid, look, HatchMark.EXTERNAL_PIP, uid=next(diary.uid)))


def _look(diary: Diary, looks: tuple[int, ...], day: float) -> int | None:
    """The first look at which it could be seen; None where there was none so far."""
    return next((look for look in looks if diary.day(look) >= day), None)


def _mark(
    diary: Diary, egg: int, mark: HatchMark, looks: tuple[int, ...], day: float, ring: str = ""
) -> None:
    look = _look(diary, looks, day)
    if look is None:
        # Nobody looked in again before the batch was closed.
        if diary.run.closed_at is None:
            return
        look = diary.run.closed_at - 2 * 3600
    mass_g = None
    if ring and mark in (HatchMark.HATCHED, HatchMark.HELPED):
        mass_g = round(
            float(diary.run.raw.mass_g[egg]) * (_CHICK_SHARE + 0.02 * float(diary.rng.random())), 1
        )
    diary.records.append(Hatching(diary.eggs[egg].uid, look, mark, mass_g, ring, uid=next(diary.uid)))


def _wanted(diary: Diary) -> float:
    low, high = diary.batch.loss_low_percent, diary.batch.loss_high_percent
    return 12.5 if low is None or high is None else (low + high) / 2


# -------------------------------------------------------------------- opening


def write_break_outs(diary: Diary) -> None:
    """Opens what did not hatch: eggs taken out at a candling then, the others before the batch is closed."""
    seen: dict[str, list[Finding]] = {}
    hatched = set()
    for record in diary.records:
        if isinstance(record, Finding):
            seen.setdefault(record.egg, []).append(record)
        elif isinstance(record, Hatching) and record.mark not in _STILL_IN_SHELL:
            hatched.add(record.egg)
    opened = diary.run.raw.chances[5].tolist()
    waiting = 0
    for egg, kept in enumerate(diary.eggs):
        findings = seen.get(kept.uid, [])
        if kept.uid in hatched or (egg in diary.gone and not _called_dead_or_clear(findings)):
            continue
        if egg in diary.gone:
            at = diary.gone[egg] + 60 * (5 + egg)
            if opened[egg] >= diary.run.story.opens:
                continue
        elif diary.run.closed_at is not None:
            at = diary.run.closed_at - _OPENED_BEFORE_CLOSING_S + _OPENING_S * waiting
            waiting += 1
            if opened[egg] >= max(diary.run.story.opens, 0.6):
                continue
        else:
            continue
        if at < diary.run.until:
            _open(diary, egg, at, _found(diary, egg, findings))


def _called_dead_or_clear(findings: Iterable[Finding]) -> bool:
    return any(
        finding.code in (FindingCode.CLEAR, FindingCode.EARLY_DEAD, FindingCode.DEAD, FindingCode.ROTTEN)
        for finding in findings
    )


def _open(diary: Diary, egg: int, at: int, opening: _Opening) -> None:
    break_out = BreakOut(
        diary.eggs[egg].uid, at, opening.result, dead_day=opening.dead_day, uid=next(diary.uid)
    )
    diary.records.append(break_out)
    for mark in opening.marks:
        kind = "malposition" if isinstance(mark, Malposition) else "sign"
        diary.records.append(BreakOutMark(break_out.uid, kind, str(mark), next(diary.uid)))


def _found(diary: Diary, egg: int, findings: list[Finding]) -> _Opening:
    true = diary.run.eggs[egg]
    if not true.fertile:
        return _Opening(BreakOutResult.INFERTILE)
    if any(finding.code is FindingCode.ROTTEN for finding in findings):
        return _Opening(BreakOutResult.ROTTEN, marks=(BreakOutSign.BAD_SMELL,))
    if true.dies_day is None:  # it was still alive
        return _Opening(BreakOutResult.UNKNOWN)
    day = _read_age(diary, egg, true.dies_day, findings)
    signs = tuple(_signs(diary, egg))
    match true.stage:
        case Fate.EARLY_DEAD:
            return _Opening(BreakOutResult.EARLY_DEAD, day)
        case Fate.MID_DEAD:
            return _Opening(BreakOutResult.MID_DEAD, day)
        case Fate.LATE_DEAD:
            return _Opening(BreakOutResult.LATE_DEAD, day, signs)
    return _Opening(BreakOutResult.PIPPED_DEAD, marks=signs)


def _read_age(diary: Diary, egg: int, dies_day: float, findings: list[Finding]) -> float:
    """The day of death as the embryo's looks tell it: to half a day, within what the candlings leave."""
    first, last = diary.bounds.days_of(diary.bounds.stage_of(dies_day))
    alive = [diary.day(one.at) for one in findings if one.code is FindingCode.ALIVE]
    dead = [diary.day(one.at) for one in findings if one.code in (FindingCode.DEAD, FindingCode.EARLY_DEAD)]
    low = max([first, *alive])
    high = min([last, diary.bounds.incubation_days, *dead])
    read = dies_day + float(diary.run.raw.chances[6, egg]) - 0.5
    return round(2 * min(max(read, low), high)) / 2


def _signs(diary: Diary, egg: int) -> Iterator[Malposition | BreakOutSign]:
    """What else a late one shows; the loss of weight decides between wet and dry."""
    off = diary.run.eggs[egg].lost_percent - _wanted(diary)
    yolk_draw, lies_draw = diary.run.raw.chances[7:9, egg].tolist()
    if off < -_WET_BELOW:
        yield BreakOutSign.WET
        yield BreakOutSign.SMALL_AIR_CELL
        if yolk_draw < 0.5:
            yield BreakOutSign.YOLK_OUTSIDE
    elif off > _DRY_ABOVE:
        yield BreakOutSign.DRY_AND_STUCK
        yield BreakOutSign.LARGE_AIR_CELL
    for below, lies in _LIES:
        if lies_draw < below:
            yield lies
            return
