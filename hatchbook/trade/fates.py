"""What became of an egg: derived here and nowhere else.

A hatching record is stronger than a break-out, a break-out stronger than a candling; among candlings the later
stands. Where records can not both be true the stronger stands and the contradiction is handed on.
Clear never becomes infertile without opening the egg.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from hatchbook.trade.candled import (
    SeenBreakOut,
    SeenFinding,
    SeenHatch,
    SeenRecord,
    SeenRemoval,
    contradiction,
    read_candlings,
)
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.contradictions import Contradiction, ContradictionCode
from hatchbook.trade.stages import STAGE_SLACK_DAYS, StageBounds, span_of_death

__all__ = [
    "CAME_OUT",
    "DIED",
    "PENDING",
    "Contradiction",
    "ContradictionCode",
    "EggOutcome",
    "SeenBreakOut",
    "SeenFinding",
    "SeenHatch",
    "SeenRemoval",
    "derive_fate",
]

CAME_OUT = frozenset({Fate.HATCHED, Fate.HELPED, Fate.CULLED})
"""A chick left the shell alive."""
DIED = frozenset({Fate.EARLY_DEAD, Fate.MID_DEAD, Fate.LATE_DEAD, Fate.DEAD, Fate.PIPPED_DEAD})
"""An embryo died in the shell."""
PENDING = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE, Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP})
"""The egg is still expected to do something."""

_OUT_MARKS = frozenset({HatchMark.HATCHED, HatchMark.HELPED, HatchMark.WEAK, HatchMark.CULLED})
_PIP_MARKS = frozenset({HatchMark.INTERNAL_PIP, HatchMark.EXTERNAL_PIP})
_DAY_S = 86_400.0
_SeenT = TypeVar("_SeenT", SeenFinding, SeenHatch, SeenBreakOut, SeenRemoval)


@dataclass(frozen=True)
class EggOutcome:
    """What became of one egg, and how it is known.

    Attributes:
        fate: what became of it; a state such as `Fate.ALIVE` while the batch runs.
        candled: a candling judged whether there is an embryo.
        candled_clear: the last candling that judged called it clear.
        opened: the egg was broken out.
        fertile: whether there was an embryo; None when not known (clear and not opened, unknown, never judged).
        dead_from_day, dead_until_day: the days after setting between which it died: last seen alive (0 when never),
            first seen dead, narrowed by the break-out. None for an egg not known to have died.
        hatched_at_s: UTC seconds at which the chick was first noted out of the shell.
        pipped_at_s: UTC seconds of the first external pip.
        internal_pip_at_s: UTC seconds of the first internal pip.
        weak: the chick was marked weak.
        contradictions: the records that can not both be true.
    """

    fate: Fate
    candled: bool = False
    candled_clear: bool = False
    opened: bool = False
    fertile: bool | None = None
    dead_from_day: float | None = None
    dead_until_day: float | None = None
    hatched_at_s: int | None = None
    pipped_at_s: int | None = None
    internal_pip_at_s: int | None = None
    weak: bool = False
    contradictions: tuple[Contradiction, ...] = ()

    def as_dict(self) -> dict[str, object]:
        """The fields as JSON-ready values."""
        plain = {name: getattr(self, name) for name in self.__dataclass_fields__}
        return plain | {
            "fate": self.fate.value,
            "contradictions": [clash.as_dict() for clash in self.contradictions],
        }


def derive_fate(
    findings: Iterable[SeenFinding],
    hatch_marks: Iterable[SeenHatch],
    break_outs: Iterable[SeenBreakOut],
    removals: Iterable[SeenRemoval],
    *,
    set_at_s: int,
    bounds: StageBounds,
    closed: bool,
) -> EggOutcome:
    """Derive the fate of one egg from its records, given in any order.

    Args:
        set_at_s: UTC seconds at which the batch was set; day 0.
        bounds: the days of the stages of death.
        closed: the batch is closed: an egg of which nothing final was noted is `Fate.UNKNOWN`.
    """
    return _Egg(findings, hatch_marks, break_outs, removals, set_at_s, bounds, closed).outcome()


def _in_time(records: Iterable[_SeenT]) -> list[_SeenT]:
    return sorted(records, key=lambda record: record.at_s)


class _Egg:
    """The records of one egg in the order of time, weighed once."""

    def __init__(
        self,
        findings: Iterable[SeenFinding],
        hatch_marks: Iterable[SeenHatch],
        break_outs: Iterable[SeenBreakOut],
        removals: Iterable[SeenRemoval],
        set_at_s: int,
        bounds: StageBounds,
        closed: bool,
    ) -> None:
        self.set_at_s, self.bounds, self.closed = set_at_s, bounds, closed
        self.clashes: list[Contradiction] = []
        marks = _in_time(hatch_marks)
        self.pips = [mark for mark in marks if mark.mark in _PIP_MARKS]
        self.out = [mark for mark in marks if mark.mark in _OUT_MARKS]
        self.died = [mark for mark in marks if mark.mark is HatchMark.DIED_IN_PIP]
        self._settle_hatch_marks()
        self.break_outs = _in_time(break_outs)
        self.telling = self._telling_break_out()
        self.findings = self._findings_that_count(_in_time(findings))
        self.candled = read_candlings(self.findings, self._day, bounds)
        self.clashes += self.candled.contradictions
        self.removal = self._standing_removal(_in_time(removals), marks)

    def outcome(self) -> EggOutcome:
        if self.out:
            fate = self._hatched()
        elif self.pips or self.died:
            fate = self._pipped()
        elif self.telling is not None:
            fate = self._opened(self.telling)
        else:
            fate = self._unopened()
        dead_from, dead_until = self._span_of_death(fate)
        return EggOutcome(
            fate=fate,
            candled=self.candled.verdict is not None,
            candled_clear=self.candled.clear,
            opened=bool(self.break_outs),
            fertile=self._fertile(fate),
            dead_from_day=dead_from,
            dead_until_day=dead_until,
            hatched_at_s=self.out[0].at_s if self.out else None,
            pipped_at_s=_first(self.pips, HatchMark.EXTERNAL_PIP),
            internal_pip_at_s=_first(self.pips, HatchMark.INTERNAL_PIP),
            weak=any(mark.mark is HatchMark.WEAK for mark in self.out),
            contradictions=tuple(self.clashes),
        )

    def _day(self, at_s: int) -> float:
        return (at_s - self.set_at_s) / _DAY_S

    def _clash(self, code: ContradictionCode, overruled: SeenRecord, standing: SeenRecord) -> None:
        self.clashes.append(contradiction(code, overruled, standing))

    def _settle_hatch_marks(self) -> None:
        """A chick that is out did not die in the pip: the later mark stands, at the same instant the living one."""
        if not (self.out and self.died):
            return
        died_stands = self.died[-1].at_s > self.out[-1].at_s
        overruled, standing = (self.out, self.died) if died_stands else (self.died, self.out)
        self._clash(ContradictionCode.HATCHED_AND_DIED_IN_PIP, overruled[-1], standing[-1])
        overruled.clear()

    def _telling_break_out(self) -> SeenBreakOut | None:
        """The last break-out that could tell something."""
        telling = [opening for opening in self.break_outs if opening.result is not BreakOutResult.UNKNOWN]
        for earlier in telling[:-1]:
            if earlier.result is not telling[-1].result:
                self._clash(ContradictionCode.BREAK_OUTS_DISAGREE, earlier, telling[-1])
        return telling[-1] if telling else None

    def _findings_that_count(self, findings: list[SeenFinding]) -> list[SeenFinding]:
        """Leave out what was candled after the egg had hatched or had been opened."""
        end: SeenHatch | SeenBreakOut
        if self.out:
            end, code = self.out[0], ContradictionCode.SEEN_AFTER_HATCH
        elif self.break_outs:
            end, code = self.break_outs[0], ContradictionCode.OPENED_THEN_SEEN
        else:
            return findings
        late = [finding for finding in findings if finding.at_s > end.at_s]
        if late:
            self._clash(code, late[0], end)
        return [finding for finding in findings if finding.at_s <= end.at_s]

    def _standing_removal(self, removals: list[SeenRemoval], marks: list[SeenHatch]) -> SeenRemoval | None:
        """The last removal, unless the egg was seen afterwards or a stronger record overrules it."""
        records: list[SeenFinding | SeenHatch] = [*self.findings, *marks]
        dead = self.died[-1] if self.died else self.telling
        standing = None
        for removal in removals:
            standing = None
            seen = min((r for r in records if r.at_s > removal.at_s), key=lambda r: r.at_s, default=None)
            if self.out and removal.at_s >= self.out[0].at_s:
                self._clash(ContradictionCode.HATCHED_AND_REMOVED, removal, self.out[0])
            elif seen is not None:
                self._clash(ContradictionCode.REMOVED_THEN_SEEN, removal, seen)
            elif dead is None:
                standing = removal
            elif removal.reason is RemovalReason.TAKEN_OUT_ALIVE:
                self._clash(ContradictionCode.TAKEN_OUT_ALIVE_BUT_DEAD, removal, dead)
        return standing

    def _hatched(self) -> Fate:
        first = self.out[0]
        if self.candled.clear and self.candled.verdict is not None:
            self._clash(ContradictionCode.CLEAR_BUT_HATCHED, self.candled.verdict, first)
        if self.candled.deaths:
            self._clash(ContradictionCode.DEAD_BUT_HATCHED, self.candled.deaths[-1], first)
        if self.break_outs:
            self._clash(ContradictionCode.HATCHED_AND_BROKEN_OUT, self.break_outs[-1], first)
        kinds = {mark.mark for mark in self.out}
        if HatchMark.CULLED in kinds:
            return Fate.CULLED
        return Fate.HELPED if HatchMark.HELPED in kinds else Fate.HATCHED

    def _pipped(self) -> Fate:
        """The egg pipped and no chick came out: it died in the pip when anything says that it is over."""
        pip = (self.pips or self.died)[0]
        before = read_candlings([f for f in self.findings if f.at_s <= pip.at_s], self._day, self.bounds)
        if before.clear and before.verdict is not None:
            self._clash(ContradictionCode.CLEAR_BUT_DEVELOPED, before.verdict, pip)
        if before.deaths:
            self._clash(ContradictionCode.DEAD_THEN_ALIVE, before.deaths[-1], pip)
        after = [f for f in self.findings if f.at_s > pip.at_s]
        for finding in after:
            if finding.code in (FindingCode.CLEAR, FindingCode.EARLY_DEAD):
                self._clash(ContradictionCode.PIPPED_BUT_CALLED_EARLIER, finding, pip)
            elif finding.code is FindingCode.ALIVE and self.died and finding.at_s > self.died[-1].at_s:
                self._clash(ContradictionCode.ALIVE_AFTER_STAGE, finding, self.died[-1])
        never_so_far = (BreakOutResult.INFERTILE, BreakOutResult.EARLY_DEAD, BreakOutResult.MID_DEAD)
        if self.telling is not None and self.telling.result in never_so_far:
            self._clash(ContradictionCode.PIPPED_BUT_CALLED_EARLIER, self.telling, pip)
        last = _last_sign(after)
        if self.died or self.break_outs:
            return Fate.PIPPED_DEAD
        if self.removal is not None and self.removal.reason is RemovalReason.TAKEN_OUT_ALIVE:
            if last is not None and last.code is not FindingCode.ALIVE:
                self._clash(ContradictionCode.DEAD_THEN_ALIVE, last, self.removal)
            return Fate.TAKEN_OUT
        if last is not None and last.code is not FindingCode.ALIVE:
            return Fate.PIPPED_DEAD
        if self.removal is not None:
            return Fate.TAKEN_OUT
        if self.closed:
            return Fate.UNKNOWN
        external = any(mark.mark is HatchMark.EXTERNAL_PIP for mark in self.pips)
        return Fate.EXTERNAL_PIP if external else Fate.INTERNAL_PIP

    def _opened(self, opening: SeenBreakOut) -> Fate:
        fate = Fate(opening.result.value)
        verdict = self.candled.verdict
        if fate is Fate.INFERTILE:
            if opening.dead_day is not None:
                self._clash(ContradictionCode.DAY_OUTSIDE_STAGE, opening, opening)
            if verdict is not None and self.candled.embryo:
                self._clash(ContradictionCode.DEVELOPED_BUT_INFERTILE, verdict, opening)
        elif fate in DIED:
            if verdict is not None and self.candled.clear and fate is not Fate.EARLY_DEAD:
                self._clash(ContradictionCode.CLEAR_BUT_DEVELOPED, verdict, opening)
            first, last = self._days_by_opening(opening, fate)
            alive, deaths = self.candled.alive, self.candled.deaths
            if alive and self._day(alive[-1].at_s) > last + STAGE_SLACK_DAYS:
                self._clash(ContradictionCode.ALIVE_AFTER_STAGE, alive[-1], opening)
            if deaths and self._day(deaths[0].at_s) < first - STAGE_SLACK_DAYS:
                self._clash(ContradictionCode.DEAD_BEFORE_STAGE, deaths[0], opening)
            first, last = self.bounds.days_of(fate)
            day = opening.dead_day
            if day is not None and not first - STAGE_SLACK_DAYS <= day <= last + STAGE_SLACK_DAYS:
                self._clash(ContradictionCode.DAY_OUTSIDE_STAGE, opening, opening)
        return fate

    def _unopened(self) -> Fate:
        """By candlings and removal alone; also when the egg was opened and nothing could be told."""
        removal, candled = self.removal, self.candled
        if removal is not None:
            if removal.reason is RemovalReason.TAKEN_OUT_ALIVE:
                if candled.deaths:
                    self._clash(ContradictionCode.DEAD_THEN_ALIVE, candled.deaths[-1], removal)
                if candled.clear and candled.verdict is not None:
                    self._clash(ContradictionCode.CLEAR_BUT_DEVELOPED, candled.verdict, removal)
                return Fate.TAKEN_OUT
            return Fate.TAKEN_OUT if candled.fate in (Fate.SET, Fate.ALIVE) else candled.fate
        over = self.closed or bool(self.break_outs)
        if over:
            return Fate.UNKNOWN if candled.fate in (Fate.SET, Fate.ALIVE) else candled.fate
        return Fate.UNSURE if candled.unsure_last else candled.fate

    def _fertile(self, fate: Fate) -> bool | None:
        if fate in CAME_OUT | DIED or fate in (Fate.ALIVE, Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP):
            return True
        if fate is Fate.INFERTILE:
            return False
        if self.telling is not None and self.telling.dead_day is not None:
            return True
        taken_alive = self.removal is not None and self.removal.reason is RemovalReason.TAKEN_OUT_ALIVE
        return True if self.candled.embryo or self.pips or taken_alive else None

    def _days_by_opening(self, opening: SeenBreakOut | None, fate: Fate) -> tuple[float, float]:
        """The days the embryo can have died on by the break-out alone: its own day, else its stage."""
        if opening is not None and opening.dead_day is not None:
            return opening.dead_day, opening.dead_day
        return self.bounds.days_of(fate) if opening is not None and fate in DIED else (0.0, math.inf)

    def _span_of_death(self, fate: Fate) -> tuple[float | None, float | None]:
        deaths, opening = self.candled.deaths, self.telling
        day_noted = opening is not None and opening.dead_day is not None
        if fate not in DIED and not (fate is Fate.ROTTEN and (deaths or day_noted)):
            return None, None
        if opening is not None and opening.result.value != fate.value:
            opening = None  # overruled by a hatching record
        first, last = self._days_by_opening(opening, fate)
        ring_seen = any(death.code is FindingCode.EARLY_DEAD for death in deaths)
        if ring_seen and math.isinf(last) and fate in (Fate.EARLY_DEAD, Fate.ROTTEN):
            last = self.bounds.early_until_day
        pipped = (self.pips or self.died)[:1]
        alive: list[SeenRecord] = [*self.candled.alive, *self.pips]
        counted = [death for death in deaths if not pipped or death.at_s > pipped[0].at_s]
        dead: list[SeenRecord] = [*counted, *self.died, *self.break_outs]
        return span_of_death(
            (first, last),
            (self._day(record.at_s) for record in alive),
            (self._day(record.at_s) for record in dead),
        )


def _first(marks: Sequence[SeenHatch], kind: HatchMark) -> int | None:
    return next((mark.at_s for mark in marks if mark.mark is kind), None)


def _last_sign(findings: Sequence[SeenFinding]) -> SeenFinding | None:
    """The last finding after the pip that tells living from dead."""
    signs = (FindingCode.ALIVE, FindingCode.DEAD, FindingCode.ROTTEN)
    return next((finding for finding in reversed(findings) if finding.code in signs), None)
