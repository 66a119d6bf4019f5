"""How the fertile eggs of a batch lived on, day by day.

Choices:

- Every fertile egg is followed from setting. One that died is known to a span of days (last seen alive, first seen
  dead, narrowed by the break-out); rotten and cracked ones that count as fertile losses are taken the same way.
- One that was taken out or broken leaves alive on that day; one whose end is not known, or that is still under way,
  on the day of the last sign of life.
- A chick that came out has lived through the incubation: it counts as alive to the end, so that the curve ends at
  the hatch of fertile. Were it to leave at its hatch, a death found afterwards would fall on the few eggs that are
  left, and one dead egg opened last would bring the curve down to 0.
- Infertile eggs were never at risk. Clears that nobody opened, and eggs of which nobody knows whether they were
  fertile, are left out and counted, as in `hatchbook.statistics.rates`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.plain import plain_fields
from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.statistics.rates import rotten_alone, unsettled_clear
from hatchbook.statistics.survival import SurvivalAt, SurvivalBand, survival_band
from hatchbook.trade.codes import Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.fates import CAME_OUT, DIED, PENDING

_SIGNS_OF_LIFE = frozenset(
    {FindingCode.ALIVE.value, HatchMark.INTERNAL_PIP.value, HatchMark.EXTERNAL_PIP.value}
)
_REMOVALS = frozenset(reason.value for reason in RemovalReason)
_LOST = DIED | {Fate.ROTTEN, Fate.CRACKED}


class FollowEnd(StrEnum):
    """How following an egg ended."""

    DIED = "died"
    CAME_OUT = "came_out"
    TAKEN_OUT = "taken_out"
    UNDER_WAY = "under_way"
    NOT_KNOWN = "not_known"


@dataclass(frozen=True)
class FollowedEgg:
    """A fertile egg and the days between which following it ended; both are the same where the day is known."""

    number: int
    end: FollowEnd
    from_day: float
    until_day: float


@dataclass(frozen=True)
class BatchSurvival:
    """Survival of a batch's fertile eggs, days since setting.

    Attributes:
        eggs: those followed, by number.
        infertile, unopened_clears, fertility_unknown: how many eggs are left out, and why.
        band: the curve with both ends of what can be.
        lockdown_day: when lockdown begins.
        at_lockdown: how things stood when it began, by the middle curve; None where it has not begun, or nothing
            was followed.
        alive_least, alive_most: how many can have been alive then.
        end_day: to which day the curve goes.
    """

    eggs: tuple[FollowedEgg, ...]
    infertile: int
    unopened_clears: int
    fertility_unknown: int
    band: SurvivalBand
    lockdown_day: float
    at_lockdown: SurvivalAt | None
    alive_least: int
    alive_most: int
    end_day: float

    def count(self, end: FollowEnd) -> int:
        """How many of the followed eggs ended this way."""
        return sum(egg.end is end for egg in self.eggs)

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values, with how many eggs ended each way."""
        return plain_fields(self) | {"ends": {end.value: self.count(end) for end in FollowEnd}}


def batch_survival(figures: BatchFigures) -> BatchSurvival:
    """The survival of a batch's fertile eggs, from its figures."""
    looks = [egg.seen[-1][0] for egg in figures.eggs if egg.seen]
    end_day = max(figures.batch.incubation_days, figures.day, *looks)
    followed = tuple(
        _followed(egg, end_day)
        for egg in figures.eggs
        if egg.outcome.fertile is True or rotten_alone(egg.outcome)
    )
    left_out = [
        egg.outcome
        for egg in figures.eggs
        if egg.outcome.fertile is not True and not rotten_alone(egg.outcome)
    ]
    infertile = sum(outcome.fertile is False for outcome in left_out)
    clears = sum(unsettled_clear(outcome) for outcome in left_out)
    band = survival_band(
        [egg.from_day for egg in followed],
        [egg.until_day for egg in followed],
        [egg.end is FollowEnd.DIED for egg in followed],
    )
    lockdown = figures.lockdown_day
    alive = [curve.at(lockdown).alive for curve in (band.earliest, band.middle, band.latest)]
    return BatchSurvival(
        eggs=followed,
        infertile=infertile,
        unopened_clears=clears,
        fertility_unknown=len(left_out) - infertile - clears,
        band=band,
        lockdown_day=lockdown,
        at_lockdown=band.middle.at(lockdown) if followed and figures.day >= lockdown else None,
        alive_least=min(alive),
        alive_most=max(alive),
        end_day=end_day,
    )


def _followed(egg: EggFigures, end_day: float) -> FollowedEgg:
    outcome, number = egg.outcome, egg.egg.number
    if outcome.fate in CAME_OUT:
        return FollowedEgg(number, FollowEnd.CAME_OUT, end_day, end_day)
    if outcome.fate in _LOST:
        first, last = _span_of_loss(egg, end_day)
        return FollowedEgg(number, FollowEnd.DIED, first, last)
    if outcome.fate is Fate.TAKEN_OUT:
        day = next((day for day, code in reversed(egg.seen) if code in _REMOVALS), _last_alive(egg))
        end = FollowEnd.TAKEN_OUT
    else:
        day = _last_alive(egg)
        end = FollowEnd.UNDER_WAY if outcome.fate in PENDING else FollowEnd.NOT_KNOWN
    day = max(day, 0.0)
    return FollowedEgg(number, end, day, day)


def _span_of_loss(egg: EggFigures, end_day: float) -> tuple[float, float]:
    """The days between which a lost egg died; without a span of its own, from the last sign of life on."""
    first, last = egg.outcome.dead_from_day, egg.outcome.dead_until_day
    if first is None:
        first = _last_alive(egg)
        last = egg.seen[-1][0] if egg.seen else end_day
    last = max(end_day if last is None else last, 0.0)
    return min(max(first, 0.0), last), last


def _last_alive(egg: EggFigures) -> float:
    """The day of the last sign of life; 0 where there was none."""
    return next((day for day, code in reversed(egg.seen) if code in _SIGNS_OF_LIFE), 0.0)
