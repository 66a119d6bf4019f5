"""What the records of one egg say, and what its candlings add up to.

`hatchbook.trade.fates` weighs this against hatching records, break-outs and removals.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.contradictions import Contradiction, ContradictionCode, RecordCode
from hatchbook.trade.stages import STAGE_SLACK_DAYS, StageBounds

DEATHS_SEEN = frozenset({FindingCode.EARLY_DEAD, FindingCode.DEAD, FindingCode.ROTTEN})
EMBRYOS_SEEN = frozenset({FindingCode.ALIVE, FindingCode.EARLY_DEAD, FindingCode.DEAD})


@dataclass(frozen=True)
class SeenFinding:
    """One egg at one candling; `at_s` in UTC seconds."""

    at_s: int
    code: FindingCode


@dataclass(frozen=True)
class SeenHatch:
    """A mark of one egg while the batch hatched; `at_s` in UTC seconds."""

    at_s: int
    mark: HatchMark


@dataclass(frozen=True)
class SeenBreakOut:
    """An opened egg; `dead_day` is the age of the dead embryo in days after setting, where it could be told.

    Raises:
        ValueError: when `dead_day` is below 0 or not a number.
    """

    at_s: int
    result: BreakOutResult
    dead_day: float | None = None

    def __post_init__(self) -> None:
        if self.dead_day is not None and not (math.isfinite(self.dead_day) and self.dead_day >= 0):
            raise ValueError(f"The day an embryo died can not be {self.dead_day:g}.")


@dataclass(frozen=True)
class SeenRemoval:
    """An egg that left the batch; `at_s` in UTC seconds."""

    at_s: int
    reason: RemovalReason


SeenRecord = SeenFinding | SeenHatch | SeenBreakOut | SeenRemoval


def code_of(record: SeenRecord) -> RecordCode:
    """The code a record carries."""
    match record:
        case SeenFinding():
            return record.code
        case SeenHatch():
            return record.mark
        case SeenBreakOut():
            return record.result
    return record.reason


def contradiction(code: ContradictionCode, overruled: SeenRecord, standing: SeenRecord) -> Contradiction:
    """Name two disagreeing records, the overruled one first."""
    return Contradiction(code, code_of(overruled), overruled.at_s, code_of(standing), standing.at_s)


@dataclass(frozen=True)
class Candled:
    """What the candlings of one egg add up to.

    `verdict` is the last finding that judges whether there is an embryo (clear, alive, early dead, dead).
    `deciding` is the last finding that decides the state; unsure never decides, `unsure_last` keeps it.
    `alive` are the sightings of life; `deaths` the run of findings of death since the last sign of life.
    """

    fate: Fate
    verdict: SeenFinding | None
    deciding: SeenFinding | None
    unsure_last: bool
    alive: tuple[SeenFinding, ...]
    deaths: tuple[SeenFinding, ...]
    contradictions: tuple[Contradiction, ...]

    @property
    def clear(self) -> bool:
        """The last verdict was clear."""
        return self.verdict is not None and self.verdict.code is FindingCode.CLEAR

    @property
    def embryo(self) -> bool:
        """The last verdict saw an embryo, living or dead."""
        return self.verdict is not None and self.verdict.code in EMBRYOS_SEEN


def read_candlings(
    findings: Iterable[SeenFinding], day_of: Callable[[int], float], bounds: StageBounds
) -> Candled:
    """Add up findings given in the order of time.

    A later finding replaces an earlier one, but a crack does not undo a death, and clear does not undo an early
    death, which looks clear itself. `day_of` turns UTC seconds into days after setting.
    """
    verdict = deciding = last = None
    alive: list[SeenFinding] = []
    deaths: list[SeenFinding] = []
    clashes: list[Contradiction] = []
    for finding in findings:
        last = finding
        was_clear = verdict is not None and verdict.code is FindingCode.CLEAR
        match finding.code:
            case FindingCode.ALIVE:
                if deaths:
                    clashes.append(contradiction(ContradictionCode.DEAD_THEN_ALIVE, deaths[-1], finding))
                    deaths = []
                if was_clear and verdict is not None:
                    clashes.append(contradiction(ContradictionCode.CLEAR_BUT_DEVELOPED, verdict, finding))
                alive.append(finding)
                verdict = deciding = finding
            case FindingCode.CLEAR:
                embryo_died = any(death.code in EMBRYOS_SEEN for death in deaths)
                if embryo_died and _stage(deaths, day_of, bounds) is Fate.EARLY_DEAD:
                    continue
                seen = deaths[-1] if deaths else verdict
                if seen is not None and seen.code is not FindingCode.CLEAR:
                    clashes.append(contradiction(ContradictionCode.DEVELOPED_THEN_CLEAR, seen, finding))
                deaths = []
                verdict = deciding = finding
            case FindingCode.EARLY_DEAD | FindingCode.DEAD:
                deaths.append(finding)
                stage = _stage(deaths, day_of, bounds)
                if was_clear and verdict is not None and stage is not Fate.EARLY_DEAD:
                    clashes.append(contradiction(ContradictionCode.CLEAR_BUT_DEVELOPED, verdict, finding))
                verdict = deciding = finding
            case FindingCode.ROTTEN:
                deaths.append(finding)
                deciding = finding
            case FindingCode.CRACKED:
                deciding = deciding if deaths else finding
    if deciding is None:
        fate = Fate.SET
    elif deciding.code in (FindingCode.EARLY_DEAD, FindingCode.DEAD):
        fate = _stage(deaths, day_of, bounds)
        clashes += _alive_too_late(alive, deaths, day_of, bounds) if fate is Fate.EARLY_DEAD else []
    else:
        fate = Fate(deciding.code.value)
    unsure_last = last is not None and last.code is FindingCode.UNSURE
    return Candled(fate, verdict, deciding, unsure_last, tuple(alive), tuple(deaths), tuple(clashes))


def _stage(deaths: list[SeenFinding], day_of: Callable[[int], float], bounds: StageBounds) -> Fate:
    """Early when any of the findings says so, else by the day the egg was first seen dead."""
    if any(death.code is FindingCode.EARLY_DEAD for death in deaths):
        return Fate.EARLY_DEAD
    return bounds.stage_of(day_of(deaths[0].at_s))


def _alive_too_late(
    alive: list[SeenFinding], deaths: list[SeenFinding], day_of: Callable[[int], float], bounds: StageBounds
) -> list[Contradiction]:
    """The egg was called early dead though it had been seen alive well after the early days."""
    ring = next((death for death in deaths if death.code is FindingCode.EARLY_DEAD), None)
    if ring is None or not alive or day_of(alive[-1].at_s) <= bounds.early_until_day + STAGE_SLACK_DAYS:
        return []
    return [contradiction(ContradictionCode.ALIVE_AFTER_STAGE, alive[-1], ring)]
