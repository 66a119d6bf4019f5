"""Which eggs are to be opened after the hatch, what the candlings already tell of each, what was found so far."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.outcomes import OPENED, bounds_of
from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.embryo import pain_possible_from_day
from hatchbook.trade.fates import CAME_OUT, PENDING
from hatchbook.trade.stages import STAGE_SLACK_DAYS, StageBounds, span_of_death

_FINDINGS = frozenset(str(code) for code in FindingCode)
_PIPS = (HatchMark.EXTERNAL_PIP, HatchMark.INTERNAL_PIP)
_REMOVALS = frozenset(str(reason) for reason in RemovalReason)
_NO_EMBRYO = frozenset({Fate.CLEAR, Fate.INFERTILE})
_STAGES = {
    Fate.EARLY_DEAD: BreakOutResult.EARLY_DEAD,
    Fate.MID_DEAD: BreakOutResult.MID_DEAD,
    Fate.LATE_DEAD: BreakOutResult.LATE_DEAD,
}


class OpeningState(StrEnum):
    """How an egg stands when the unhatched ones are opened."""

    TO_OPEN = "to_open"
    OPENED = "opened"
    NOT_YET = "not_yet"
    GONE = "gone"


class KnownBefore(StrEnum):
    """What is known of an egg before it is opened; the desk makes the sentence."""

    NOTHING = "nothing"
    ALIVE = "alive"
    PIPPED = "pipped"
    DEAD = "dead"
    CLEAR = "clear"


@dataclass(frozen=True)
class OpeningEgg:
    """An egg with what is known of it before it is opened. Days since setting.

    ``looks``: each candling that saw it, day and finding. ``pipped_day``: of its first pip. ``from_day`` and
    ``until_day``: between which it died if it died: last seen alive, first seen dead or clear, else the end of the
    incubation; as the fate has it where it is known to be dead. ``fitting``: the results that agree with that.
    """

    egg: EggFigures
    state: OpeningState
    known: KnownBefore
    looks: tuple[tuple[float, FindingCode], ...]
    pipped_day: float | None
    from_day: float
    until_day: float
    fitting: frozenset[BreakOutResult]


@dataclass(frozen=True)
class Openings:
    """The eggs of a batch as they are opened, by number.

    ``clears_opened``, of them ``clears_infertile`` and ``clears_early_dead``: eggs last candled clear. The eggs to
    open by what they are counted as while nobody opens them: ``left_unknown`` as not known once the batch is
    closed, ``left_clear`` as clear, ``left_dead`` as dead or spoilt by the candlings alone. ``pain_from_day``:
    from this day on an embryo may perceive pain.
    """

    day: float
    eggs: tuple[OpeningEgg, ...]
    clears_opened: int
    clears_infertile: int
    clears_early_dead: int
    left_unknown: int
    left_clear: int
    left_dead: int
    pain_from_day: float
    bounds: StageBounds

    def by_uid(self) -> dict[str, OpeningEgg]:
        """The eggs by their uid."""
        return {one.egg.egg.uid: one for one in self.eggs}

    def count(self, state: OpeningState) -> int:
        """How many eggs stand so."""
        return sum(one.state is state for one in self.eggs)

    @property
    def may_feel_pain(self) -> bool:
        """Whether an embryo that still lives is so old that it may perceive pain."""
        return self.day >= self.pain_from_day

    def stage_of(self, day: float) -> BreakOutResult:
        """The result for a death on a day."""
        return _STAGES[self.bounds.stage_of(day)]

    def day_fits(self, result: BreakOutResult, day: float) -> bool:
        """Whether a day of death agrees with a result, as closely as an age can be told."""
        if result is BreakOutResult.INFERTILE:
            return False
        if result not in _STAGES.values():
            return True
        first, last = self.bounds.days_of(Fate(result.value))
        return first - STAGE_SLACK_DAYS <= day <= last + STAGE_SLACK_DAYS

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values, with how many eggs stand how."""
        from hatchbook.figures.plain import plain_fields

        counts = {state.value: self.count(state) for state in OpeningState}
        return plain_fields(self) | {"counts": counts, "may_feel_pain": self.may_feel_pain}


def openings(figures: BatchFigures) -> Openings:
    """The eggs of these figures as they stand for opening.

    Eggs that hatched or were taken out are not opened; eggs that may live are from the day after the hatch was due.
    """
    bounds = bounds_of(figures.batch)
    eggs = tuple(_opening(egg, figures, bounds) for egg in figures.eggs)
    clears = [one for one in eggs if one.egg.outcome.candled_clear]
    opened = [one for one in clears if one.state is OpeningState.OPENED]
    left = [one.egg.outcome for one in eggs if one.state is OpeningState.TO_OPEN]
    left_unknown = sum(outcome.fate in PENDING or outcome.fate is Fate.UNKNOWN for outcome in left)
    left_clear = sum(outcome.fate is Fate.CLEAR for outcome in left)
    return Openings(
        day=figures.day,
        eggs=eggs,
        clears_opened=len(opened),
        clears_infertile=sum(one.egg.outcome.fate is Fate.INFERTILE for one in opened),
        clears_early_dead=sum(one.egg.outcome.fate is Fate.EARLY_DEAD for one in opened),
        left_unknown=left_unknown,
        left_clear=left_clear,
        left_dead=len(left) - left_unknown - left_clear,
        pain_from_day=pain_possible_from_day(figures.batch.incubation_days),
        bounds=bounds,
    )


def _opening(egg: EggFigures, figures: BatchFigures, bounds: StageBounds) -> OpeningEgg:
    looks = tuple((day, FindingCode(code)) for day, code in egg.seen if code in _FINDINGS)
    pips = [day for day, code in egg.seen if code in _PIPS]
    pipped_day = min(pips, default=None)
    known = _known(egg, looks, pipped_day)
    opened_day = next((day for day, code in egg.seen if code.startswith(OPENED)), None)
    end_day = figures.day if opened_day is None else opened_day
    from_day, until_day = _span(egg, looks, pips, known, end_day, bounds)
    return OpeningEgg(
        egg=egg,
        state=_state(egg, figures, bounds),
        known=known,
        looks=looks,
        pipped_day=pipped_day,
        from_day=from_day,
        until_day=until_day,
        fitting=_fitting(known, from_day, until_day, bounds),
    )


def _state(egg: EggFigures, figures: BatchFigures, bounds: StageBounds) -> OpeningState:
    fate = egg.outcome.fate
    if egg.outcome.opened:
        return OpeningState.OPENED
    taken_out = any(code in _REMOVALS for _, code in egg.seen)
    if fate in CAME_OUT or fate is Fate.TAKEN_OUT or taken_out:
        return OpeningState.GONE
    if fate in PENDING and figures.day < bounds.incubation_days + 1.0:
        return OpeningState.NOT_YET
    return OpeningState.TO_OPEN


def _known(
    egg: EggFigures, looks: tuple[tuple[float, FindingCode], ...], pipped_day: float | None
) -> KnownBefore:
    if pipped_day is not None or any(code == HatchMark.DIED_IN_PIP for _, code in egg.seen):
        return KnownBefore.PIPPED
    telling = [code for _, code in looks if code not in (FindingCode.UNSURE, FindingCode.CRACKED)]
    if not telling:
        return KnownBefore.NOTHING
    if telling[-1] is FindingCode.ALIVE:
        return KnownBefore.ALIVE
    if egg.outcome.candled_clear and telling[-1] is FindingCode.CLEAR:
        return KnownBefore.CLEAR
    return KnownBefore.DEAD


def _span(
    egg: EggFigures,
    looks: tuple[tuple[float, FindingCode], ...],
    pips: list[float],
    known: KnownBefore,
    end_day: float,
    bounds: StageBounds,
) -> tuple[float, float]:
    """The days between which it can have died by what was seen; the fate's own span where it has one."""
    outcome = egg.outcome
    if not outcome.opened and outcome.dead_from_day is not None and outcome.dead_until_day is not None:
        return outcome.dead_from_day, outcome.dead_until_day
    alive = [day for day, code in looks if code is FindingCode.ALIVE] + pips
    over = [FindingCode.DEAD, FindingCode.EARLY_DEAD, FindingCode.ROTTEN]
    if known is KnownBefore.CLEAR:
        over.append(FindingCode.CLEAR)
    ended = [day for day, code in looks if code in over and day >= max(alive, default=0.0)]
    # An embryo grows no further than to the hatch, however late it is opened.
    limit = max(bounds.incubation_days, *alive) if alive else bounds.incubation_days
    if known is KnownBefore.DEAD and any(code is FindingCode.EARLY_DEAD for _, code in looks):
        limit = max(bounds.early_until_day, *alive) if alive else bounds.early_until_day
    since, until = span_of_death((0.0, limit), alive, [*ended, end_day])
    return since, limit if until is None else until


def _fitting(
    known: KnownBefore, from_day: float, until_day: float, bounds: StageBounds
) -> frozenset[BreakOutResult]:
    """The results that would agree with what was seen."""
    if known is KnownBefore.PIPPED:
        return frozenset({BreakOutResult.PIPPED_DEAD})
    if known is KnownBefore.CLEAR:
        return frozenset({BreakOutResult.INFERTILE, BreakOutResult.EARLY_DEAD})
    ends = (bounds.stage_of(from_day + 1e-6), bounds.stage_of(max(until_day, from_day)))
    order = list(_STAGES)
    reached = order[order.index(ends[0]) : order.index(ends[1]) + 1]
    found = {_STAGES[stage] for stage in reached}
    if until_day >= bounds.incubation_days - 1.0:
        found.add(BreakOutResult.PIPPED_DEAD)
    if known is KnownBefore.NOTHING:
        found.add(BreakOutResult.INFERTILE)
    return frozenset(found)
