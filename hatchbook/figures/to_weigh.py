"""Which eggs of a batch are to be weighed, what each weighed last, and whether a mass can be right."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchbook.figures.course import Course
from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import Egg, Journal
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.trade.codes import Fate, WeighPlan
from hatchbook.trade.instants import DAY_S

MOST_LOSS_PERCENT_A_DAY = 2.0
"""More than any egg loses in a day (ours: published losses are 0.4 to 1 % a day); beyond it one is asked."""

_SLACK_PERCENT = 0.5
"""What a kitchen scale that shows whole grams may be off (ours)."""

_IN_THE_MACHINE = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE, Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP})


class OddMass(StrEnum):
    """Why a mass is asked about."""

    HEAVIER = "heavier"
    TOO_LIGHT = "too_light"


@dataclass(frozen=True)
class EggToWeigh:
    """An egg that is to be weighed: what it weighed last, g, at an instant (UTC seconds); None where never."""

    figures: EggFigures
    last_mass_g: float | None
    last_at: int | None
    first_mass_g: float | None
    #: By its length and breadth, where it was measured and never weighed.
    estimated_mass_g: float | None = None

    def loss_percent(self, mass_g: float) -> float | None:
        """What it has lost of its first mass at a mass; None without a first one."""
        if self.first_mass_g is None:
            return None
        return 100.0 * (self.first_mass_g - mass_g) / self.first_mass_g

    def odd(self, mass_g: float, at: int) -> OddMass | None:
        """Whether a mass at an instant is more than it can be, or less; None where it can be right."""
        if self.last_mass_g is None or self.last_at is None:
            return None
        lost = 100.0 * (self.last_mass_g - mass_g) / self.last_mass_g
        days = (at - self.last_at) / DAY_S
        if lost * (1 if days >= 0 else -1) < -_SLACK_PERCENT:
            return OddMass.HEAVIER
        if abs(lost) > MOST_LOSS_PERCENT_A_DAY * abs(days) + _SLACK_PERCENT:
            return OddMass.TOO_LIGHT
        return None


def eggs_to_weigh(
    journal: Journal, figures: BatchFigures, weighing: str | None = None, *, every_egg: bool | None = None
) -> tuple[EggToWeigh, ...]:
    """The eggs that the batch's plan wants weighed and that are still in the machine, by number.

    Args:
        journal: where they are.
        figures: of the batch.
        weighing: the uid of the weighing that is going on; its masses are not what an egg weighed last.
        every_egg: all of them, or the marked ones only; None: as the plan says.
    """
    if every_egg is None:
        every_egg = figures.batch.weigh_plan is not WeighPlan.MARKED
    weights = BatchWeights(Course(journal, figures.batch.uid, figures.now))
    wanted = [
        egg for egg in figures.eggs if egg.outcome.fate in _IN_THE_MACHINE and (egg.egg.marked or every_egg)
    ]
    found = []
    for egg in wanted:
        before = [one for one in weights.of_egg(egg.egg.uid) if one.weighing != weighing]
        last_mass, last_at = egg.egg.set_mass_g, figures.batch.set_at
        if before:
            last_mass, last_at = before[-1].mass_g, before[-1].at
        first = (
            egg.egg.set_mass_g if egg.egg.set_mass_g is not None else (before[0].mass_g if before else None)
        )
        found.append(
            EggToWeigh(
                egg,
                last_mass,
                None if last_mass is None else last_at,
                first,
                _by_size(egg.egg) if last_mass is None else None,
            )
        )
    return tuple(found)


def _by_size(egg: Egg) -> float | None:
    if egg.length_mm is None or egg.breadth_mm is None:
        return None
    return fresh_mass_g(egg.length_mm, egg.breadth_mm)


def eggs_in_machine(figures: BatchFigures) -> int:
    """How many eggs of a batch still lie on its trays."""
    return sum(egg.outcome.fate in _IN_THE_MACHINE for egg in figures.eggs)
