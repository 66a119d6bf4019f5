"""The plain share of weight that the eggs of a batch have lost by a weighing.

Loss = (mass at the base - mass now) / mass at the base, % (Hand-Rearing Birds, 2nd ed., p. 552-553). The base is an
egg's mass when it was set; where none is known, its mass at the first weighing, and the figure says of which day.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from hatchbook.figures.course import Course
from hatchbook.figures.results import WeightFigures
from hatchbook.journal import Weighing
from hatchbook.statistics.weight_loss import loss_percent

FIRST_DAY = 1.0
"""A weighing within the first 24 hours stands for the mass when set: an egg loses less than a hundredth in them."""


@dataclass(frozen=True)
class _Base:
    """A mass to compare with, g; when it was taken, UTC seconds; and the day for which it stands (0: when set)."""

    mass_g: float
    at: int
    day: float


@dataclass(frozen=True)
class EggLoss:
    """The mass of one egg at a weighing, g, and what it has lost by then, % of its mass on ``since_day``.

    The loss is None at the weighing that itself is the base, and where nothing earlier is known.
    """

    weighing: str
    at: int
    day: float
    mass_g: float
    loss_percent: float | None
    since_day: float | None


class BatchWeights:
    """The weighings of a batch, each compared with the masses when set."""

    def __init__(self, course: Course) -> None:
        batch, journal = course.batch, course.journal
        self._course = course
        self.weighings = [one for one in journal.weighings.of_batch(batch.uid) if one.at <= course.now]
        self.eggs = {egg.uid: egg for egg in journal.eggs.of_batch(batch.uid)}
        self._masses: dict[str, dict[str, float]] = {}
        for mass in journal.weighings.masses(batch.uid) if self.weighings else ():
            self._masses.setdefault(mass.weighing, {})[mass.egg] = mass.mass_g

    def latest(self) -> WeightFigures | None:
        """The loss by the latest weighing that tells one."""
        losses = (self.loss(weighing) for weighing in reversed(self.weighings))
        return next((loss for loss in losses if loss is not None), None)

    def of_egg(self, egg: str) -> tuple[EggLoss, ...]:
        """Every weighing of one egg, oldest first."""
        base = self._base_of(egg)
        found = []
        for weighing in self.weighings:
            mass_g = self._masses.get(weighing.uid, {}).get(egg)
            if mass_g is None:
                continue
            loss = since = None
            if base is not None and base.at < weighing.at:
                loss, since = loss_percent(base.mass_g, mass_g), base.day
            day = self._course.day_of(weighing.at)
            found.append(EggLoss(weighing.uid, weighing.at, day, mass_g, loss, since))
        return tuple(found)

    def latest_of_egg(self, egg: str) -> EggLoss | None:
        """The latest weighing of an egg that tells what it has lost; None where none does."""
        return next((loss for loss in reversed(self.of_egg(egg)) if loss.loss_percent is not None), None)

    def masses(self, weighing: Weighing) -> Mapping[str, float]:
        """The masses of one weighing by egg, g."""
        return self._masses.get(weighing.uid, {})

    def eggs_weighed(self, weighing: Weighing) -> int:
        """How many eggs were weighed; 0 for a tray of which that was not noted."""
        return len(self._masses.get(weighing.uid, ())) or weighing.eggs_on_tray or 0

    def loss(self, weighing: Weighing) -> WeightFigures | None:
        """The loss by one weighing; None where there is nothing earlier to compare it with."""
        masses = self._masses.get(weighing.uid, {})
        return self._by_egg(weighing, masses) if masses else self._by_tray(weighing)

    def _by_egg(self, weighing: Weighing, masses: Mapping[str, float]) -> WeightFigures | None:
        bases = {
            egg: base for egg in masses if (base := self._base_of(egg)) is not None and base.at < weighing.at
        }
        if not bases:
            return None
        # Losses since different days are not averaged: the eggs whose base is the earliest tell.
        earliest = min(base.day for base in bases.values())
        used = [egg for egg, base in bases.items() if base.day == earliest]
        base_g = np.array([bases[egg].mass_g for egg in used])
        loss = 100.0 * (base_g - np.array([masses[egg] for egg in used])) / base_g
        error = float(loss.std(ddof=1)) / math.sqrt(loss.size) if loss.size > 1 else None
        day = self._course.day_of(weighing.at)
        return WeightFigures(float(loss.mean()), error, loss.size, day, earliest)

    def _by_tray(self, weighing: Weighing) -> WeightFigures | None:
        """By the mean mass of an egg, so that eggs taken out meanwhile do not count as lost weight."""
        now_g, base = mean_on_tray(weighing), self._base_of_tray()
        if now_g is None or base is None or base.at >= weighing.at:
            return None
        loss = loss_percent(base.mass_g, now_g)
        day = self._course.day_of(weighing.at)
        return WeightFigures(loss, None, weighing.eggs_on_tray or 0, day, base.day)

    def _base_of(self, egg: str) -> _Base | None:
        set_mass_g = self.eggs[egg].set_mass_g if egg in self.eggs else None
        if set_mass_g is not None:
            return self._when_set(set_mass_g)
        for weighing in self.weighings:
            mass_g = self._masses.get(weighing.uid, {}).get(egg)
            if mass_g is not None:
                return self._weighed(weighing, mass_g)
        return None

    def _base_of_tray(self) -> _Base | None:
        trays = [(one, mass_g) for one in self.weighings if (mass_g := mean_on_tray(one)) is not None]
        first = self._weighed(*trays[0]) if trays else None
        if first is not None and first.day == 0.0:
            return first
        masses = [egg.set_mass_g for egg in self.eggs.values() if egg.set_mass_g is not None]
        if masses and len(masses) == len(self.eggs):
            return self._when_set(sum(masses) / len(masses))
        return first

    def _when_set(self, mass_g: float) -> _Base:
        return _Base(mass_g, self._course.batch.set_at, 0.0)

    def _weighed(self, weighing: Weighing, mass_g: float) -> _Base:
        day = self._course.day_of(weighing.at)
        return _Base(mass_g, weighing.at, 0.0 if day <= FIRST_DAY else day)


def mean_on_tray(weighing: Weighing) -> float | None:
    """The mean mass of an egg on the tray, g; None where the mass or the count is not known."""
    if weighing.tray_mass_g is None or not weighing.eggs_on_tray:
        return None
    net_g = weighing.tray_mass_g - (weighing.tare_g or 0.0)
    return net_g / weighing.eggs_on_tray if net_g > 0 else None
