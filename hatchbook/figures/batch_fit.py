"""The conductances of a batch by what was weighed: egg by egg, or its tray, or neither."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.course import Course
from hatchbook.figures.results import EggFigures
from hatchbook.figures.weighed_eggs import (
    ON_THE_STROKE,
    EggMasses,
    egg_masses,
    leaves_day,
    resolution_g,
    step_of,
)
from hatchbook.figures.weight_results import MassBase, WeightBasis
from hatchbook.figures.weights import FIRST_DAY, BatchWeights, mean_on_tray
from hatchbook.statistics.conductance import (
    BatchConductance,
    ConductancePrior,
    Weighed,
    batch_conductance,
    egg_lines,
    scale_sd,
)
from hatchbook.statistics.exposure import Exposure
from hatchbook.statistics.tray_line import TrayMasses, conductance_of_tray

USUAL_MASS_CV = 0.08
"""By how much the masses of the eggs of a batch differ, standard deviation in parts of their mean (ours)."""


@dataclass(frozen=True)
class BatchFit:
    """The conductances, and of which eggs they are.

    ``weighed``: the eggs with masses that count, in the order of the conductances; ``base_g``: what each of them
    weighed when set, by its own line where it was not weighed then. ``others``: eggs of the batch without such
    masses. ``base``: what the loss of most is a share of. ``leaves``: until which day each egg counts, by uid.
    ``tray_base_g``: the mass of an egg when set, by the tray.
    """

    basis: WeightBasis
    base: MassBase
    conductance: BatchConductance
    weighed: tuple[EggMasses, ...]
    base_g: NDArray[np.float64]
    others: tuple[EggFigures, ...]
    leaves: dict[str, float] = field(default_factory=dict)
    tray_base_g: float | None = None

    @cached_property
    def places(self) -> dict[str, int]:
        """The place of each weighed egg by its uid."""
        return {one.figures.egg.uid: place for place, one in enumerate(self.weighed)}

    @cached_property
    def points(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """Day and loss, %, by each weighing that counts, of each weighed egg; none where the base is guessed."""
        found = []
        for one, base_g in zip(self.weighed, self.base_g.tolist(), strict=True):
            each_g = 100.0 / base_g  # as `loss_percent`, which would be called too often here
            losses = [100.0 - each_g * mass_g for mass_g in one.masses_g] if one.told else []
            found.append(tuple(zip(one.days, losses, strict=False)))
        return tuple(found)


def batch_fit(
    course: Course,
    weights: BatchWeights,
    eggs: Sequence[EggFigures],
    exposure: Exposure,
    prior: ConductancePrior,
) -> BatchFit:
    """The conductances of a batch by its weighings and its exposure."""
    every = egg_masses(course, weights, eggs, exposure.end_day) if weights.weighings else ()
    weighed = tuple(one for one in every if one.days)
    places = {one.figures.egg.uid for one in weighed}
    others = tuple(egg for egg in eggs if egg.egg.uid not in places)
    leaves = (
        {one.figures.egg.uid: one.leaves for one in every}
        if every
        else {egg.egg.uid: leaves_day(egg, course) for egg in eggs}
    )
    conductance, base_g = _by_egg(weighed, exposure, prior)
    if conductance.told:
        bases = Counter(one.base for one in weighed)
        base = max(bases, key=lambda one: bases[one])
        return BatchFit(WeightBasis.EGGS, base, conductance, weighed, base_g, others, leaves)
    by_tray = _by_tray(course, weights, eggs, leaves, exposure, prior)
    if by_tray is not None:
        tray, base, tray_base_g = by_tray
        return BatchFit(WeightBasis.TRAY, base, tray, (), base_g[:0], tuple(eggs), leaves, tray_base_g)
    return BatchFit(WeightBasis.PRIOR, MassBase.SET, conductance, weighed, base_g, others, leaves)


def _by_egg(
    weighed: Sequence[EggMasses], exposure: Exposure, prior: ConductancePrior
) -> tuple[BatchConductance, NDArray[np.float64]]:
    guess = np.array(
        [one.guess_g if one.guess_g is not None else _first_guess(one, exposure, prior) for one in weighed]
    )
    lines = egg_lines(_rows(weighed, guess, exposure), prior.mean)
    sds = exposure.doubt_sds
    # What is in doubt of the exposure counts by the conductance found.
    weigh = lines.rough_mean(prior) / prior.mean
    found = batch_conductance(replace(lines, shifts=lines.shifts * weigh), prior, sds)
    was_set = [one.base is MassBase.SET and one.guess_g is not None for one in weighed]
    if all(was_set):
        return found, guess
    # Once more, in parts of what the lines say of the eggs that were not weighed when set.
    base_g = np.where(was_set, guess, guess * lines.mass_when_set(found.each_egg()[0]))
    lines = egg_lines(_rows(weighed, base_g, exposure, guess), prior.mean * weigh)
    found = batch_conductance(lines, prior, sds)
    return found, np.where(was_set, guess, base_g * lines.mass_when_set(found.each_egg()[0]))


def _first_guess(one: EggMasses, exposure: Exposure, prior: ConductancePrior) -> float:
    return one.masses_g[0] / (1.0 - prior.mean * float(exposure.at(one.days[0])) / 1000.0)


def _rows(
    weighed: Sequence[EggMasses],
    base_g: NDArray[np.float64],
    exposure: Exposure,
    guess_g: NDArray[np.float64] | None = None,
) -> Weighed:
    """All masses as rows, that by which an egg's mass when set is known or guessed being one of them."""
    guess_g = base_g if guess_g is None else guess_g
    guessed = [place for place, one in enumerate(weighed) if one.guess_g is not None]
    egg = guessed + [place for place, one in enumerate(weighed) for _ in one.days]
    days = np.array([0.0] * len(guessed) + [day for one in weighed for day in one.days])
    mass_g = np.array([guess_g[place] for place in guessed] + [g for one in weighed for g in one.masses_g])
    sd_g = np.array(
        [weighed[place].guess_sd * guess_g[place] for place in guessed]
        + [g for one in weighed for g in one.sds_g]
    )
    rows = np.array(egg, dtype=np.int64)
    return Weighed(
        rows,
        exposure.at(days),
        mass_g / base_g[rows],
        sd_g / base_g[rows],
        exposure.doubts_at(days) if days.size else np.empty((len(exposure.doubts), 0)),
        len(weighed),
    )


def _by_tray(
    course: Course,
    weights: BatchWeights,
    eggs: Sequence[EggFigures],
    leaves: dict[str, float],
    exposure: Exposure,
    prior: ConductancePrior,
) -> tuple[BatchConductance, MassBase, float] | None:
    """By the mean mass of an egg on the tray, so that eggs taken off meanwhile do not count as lost weight."""
    trays = [
        (course.day_of(one.at), mass_g, one)
        for one in weights.weighings
        if (mass_g := mean_on_tray(one)) is not None
        and 0 <= course.day_of(one.at) <= exposure.end_day + ON_THE_STROKE
    ]
    if not trays:
        return None
    set_g = {egg.egg.uid: egg.egg.set_mass_g for egg in eggs if egg.egg.set_mass_g is not None}
    all_set = len(set_g) == len(eggs)
    values = np.array(list(set_g.values()))
    mass_cv = float(values.std() / values.mean()) if all_set and len(eggs) > 1 else USUAL_MASS_CV
    when_set = float(values.mean()) if all_set else trays[0][1]
    days, masses, sds, counts, chosen = [], [], [], [], []
    if all_set:
        days.append(0.0)
        masses.append(1.0)
        sds.append(scale_sd(step_of(values.tolist())) / when_set / np.sqrt(len(eggs)))
        counts.append(float(len(eggs)))
        chosen.append(False)
    for day, mass_g, weighing in trays:
        count = weighing.eggs_on_tray or 1
        alive = [set_g.get(uid) for uid, until in leaves.items() if until > day]
        known = [one for one in alive if one is not None]
        their_own = all_set and len(alive) == count
        base = sum(known) / len(known) if their_own else when_set
        total_g = (weighing.tray_mass_g or 0.0) - (weighing.tare_g or 0.0)
        days.append(day)
        masses.append(mass_g / base)
        sds.append(scale_sd(resolution_g(weighing, [total_g])) / total_g)
        counts.append(float(count))
        chosen.append(not their_own)
    at = np.array(days)
    tray = TrayMasses(
        exposure.at(at),
        np.array(masses),
        np.array(sds),
        np.array(counts),
        np.array(chosen),
        mass_cv,
        exposure.doubts_at(at),
    )
    found = conductance_of_tray(tray, prior, exposure.doubt_sds, len(eggs))
    if found is None:
        return None
    base_kind = MassBase.SET if all_set or trays[0][0] <= FIRST_DAY else MassBase.FIRST_WEIGHING
    conductance, in_parts = found
    if not all_set:
        mean, exposed = conductance.batch_mean[0], float(exposure.at(at[0]))
        in_parts = 1.0 if at[0] <= 0 else 1.0 / (1.0 - mean * exposed / 1000.0)
    return conductance, base_kind, when_set * (in_parts if not all_set else 1.0)
