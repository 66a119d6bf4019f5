"""How a batch hatches: pips and chicks by the hour against the due time, who is still waited for, chick yield.

Chick yield is the chick's mass in % of its egg's mass when set (the term and the base: Yuño et al. 2013, RIA 39(3),
which observed 71 % against a strain standard of 66-68 %).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.journal import Journal
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT

HOUR_S = 3600
#: Eggs that have not pipped and may still hatch, the likeliest first.
_NOT_PIPPED = (Fate.ALIVE, Fate.SET, Fate.UNSURE)


@dataclass(frozen=True)
class HatchHour:
    """One hour before or after the due time, with what happened in it and what had happened by its end.

    ``from_h``: its beginning in hours from the due time, below 0 before it. ``pips`` are external ones.
    """

    from_h: int
    chicks: int
    pips: int
    chicks_so_far: int
    pips_so_far: int


@dataclass(frozen=True)
class PippedEgg:
    """An egg that has pipped and is waited for; ``external``: the shell is broken, else only the air cell."""

    egg: EggFigures
    since: int
    external: bool


@dataclass(frozen=True)
class ChickYield:
    """The mean chick yield in %, over the chicks of which both masses are known.

    ``standard_error``: of the mean over the chicks, None for one chick.
    """

    mean_percent: float
    standard_error: float | None
    chicks_counted: int


@dataclass(frozen=True)
class HatchCurve:
    """The hatch of a batch. Instants are UTC seconds, None where nothing is recorded.

    ``hours``: every hour from the first pip or chick to the last. ``eggs_in_question``: the chicks, and the eggs
    that may still give one. ``waited_for``: eggs that have pipped, longest first. ``queue``: all eggs that may
    still give a chick in the order in which chicks are to be expected: external pips, internal pips, the others.
    ``weighed``: chicks with a mass.
    """

    due_at: int
    first_pip_at: int | None
    first_chick_at: int | None
    last_chick_at: int | None
    chicks: int
    eggs_in_question: int
    hours: tuple[HatchHour, ...]
    waited_for: tuple[PippedEgg, ...]
    queue: tuple[EggFigures, ...]
    chick_yield: ChickYield | None
    weighed: int

    @property
    def spread_h(self) -> float | None:
        """Hours from the first chick to the last; None before there is one."""
        if self.first_chick_at is None or self.last_chick_at is None:
            return None
        return (self.last_chick_at - self.first_chick_at) / HOUR_S

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values, with the spread."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self) | {"spread_h": self.spread_h}


def hatch_curve(journal: Journal, figures: BatchFigures) -> HatchCurve:
    """How the eggs of these figures hatch; masses are read from their hatching records."""
    chicks = [egg for egg in figures.eggs if egg.outcome.fate in CAME_OUT]
    # Unsorted instants of chicks and pips; a pip counts also of an egg that has hatched since, or died in it.
    out_at = [at for egg in chicks if (at := egg.outcome.hatched_at_s) is not None]
    pips_at = [at for egg in figures.eggs if (at := egg.outcome.pipped_at_s) is not None]
    waited_for = _waited_for(figures)
    others = [egg for fate in _NOT_PIPPED for egg in figures.eggs if egg.outcome.fate is fate]
    queue = (*(pipped.egg for pipped in sorted(waited_for, key=_soonest)), *others)
    masses = _chick_masses(journal, figures)
    return HatchCurve(
        due_at=figures.hatch_due_at,
        first_pip_at=min(pips_at, default=None),
        first_chick_at=min(out_at, default=None),
        last_chick_at=max(out_at, default=None),
        chicks=len(chicks),
        eggs_in_question=len(chicks) + len(queue),
        hours=_hours(out_at, pips_at, figures.hatch_due_at),
        waited_for=waited_for,
        queue=queue,
        chick_yield=_yield(chicks, masses),
        weighed=sum(egg.egg.uid in masses for egg in chicks),
    )


def _waited_for(figures: BatchFigures) -> tuple[PippedEgg, ...]:
    found = []
    for egg in figures.eggs:
        outcome = egg.outcome
        if outcome.fate is Fate.EXTERNAL_PIP and outcome.pipped_at_s is not None:
            found.append(PippedEgg(egg, outcome.pipped_at_s, external=True))
        elif outcome.fate is Fate.INTERNAL_PIP and outcome.internal_pip_at_s is not None:
            found.append(PippedEgg(egg, outcome.internal_pip_at_s, external=False))
    return tuple(sorted(found, key=lambda pipped: (pipped.since, pipped.egg.egg.number)))


def _soonest(pipped: PippedEgg) -> tuple[bool, int, int]:
    return not pipped.external, pipped.since, pipped.egg.egg.number


def _hours(out_at: list[int], pips_at: list[int], due_at: int) -> tuple[HatchHour, ...]:
    chick_hours = [(at - due_at) // HOUR_S for at in out_at]
    pip_hours = [(at - due_at) // HOUR_S for at in pips_at]
    both = chick_hours + pip_hours
    if not both:
        return ()
    hours = []
    chicks = pips = 0
    for from_h in range(min(both), max(both) + 1):
        new_chicks, new_pips = chick_hours.count(from_h), pip_hours.count(from_h)
        chicks, pips = chicks + new_chicks, pips + new_pips
        hours.append(HatchHour(from_h, new_chicks, new_pips, chicks, pips))
    return tuple(hours)


def _chick_masses(journal: Journal, figures: BatchFigures) -> dict[str, float]:
    """The latest mass of each chick, g, by egg."""
    return {
        record.egg: record.chick_mass_g
        for record in journal.hatchings.of_batch(figures.batch.uid)
        if record.chick_mass_g is not None
    }


def _yield(chicks: list[EggFigures], masses: dict[str, float]) -> ChickYield | None:
    shares = [
        100.0 * masses[egg.egg.uid] / egg.egg.set_mass_g
        for egg in chicks
        if egg.egg.uid in masses and egg.egg.set_mass_g is not None
    ]
    if not shares:
        return None
    count = len(shares)
    mean = sum(shares) / count
    error = None
    if count > 1:
        error = math.sqrt(sum((share - mean) ** 2 for share in shares) / (count - 1) / count)
    return ChickYield(mean, error, count)
