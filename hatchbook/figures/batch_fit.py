"""The conductances of a batch by what was weighed: egg by egg, or its tray, or neither."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.course import Course
from hatchbook.figures.results import EggFigures
from hatchbook.figures.weighed_eggs import (
    ON_THE_STROKE,
    WeighedMasses,
    leaves_day,
    resolution_g,
    step_of,
    weighed_masses,
)
from hatchbook.figures.weight_results import MassBase, WeightBasis
from hatchbook.figures.weights import FIRST_DAY, BatchWeights, mean_on_tray
from hatchbook.statistics.conductance import (
    BatchConductance,
    ConductancePrior,
    EggLines,
    Weighed,
    batch_conductance,
    common_sd,
    egg_lines,
    scale_sd,
)
from hatchbook.statistics.exposure import Exposure
from hatchbook.statistics.tray_line import TrayMasses, conductance_of_tray

FloatArray = NDArray[np.float64]

USUAL_MASS_CV = 0.08
"""By how much the masses of the eggs of a batch differ, standard deviation in parts of their mean (ours)."""


@dataclass(frozen=True)
class BatchFit:
    """The conductances, and of which eggs they are.

    ``weighed``: the eggs with masses that count, in the order of the conductances; None of a batch without.
    ``base_g``: what each of them weighed when set, by its own line where it was not weighed then. ``others``: eggs
    of the batch without such masses, with the day until which each counts. ``base``: what the loss of most is a
    share of. ``tray_base_g``: the mass of an egg when set, by the tray.
    """

    basis: WeightBasis
    base: MassBase
    conductance: BatchConductance
    weighed: WeighedMasses | None
    base_g: FloatArray
    others: tuple[tuple[EggFigures, float], ...]
    tray_base_g: float | None = None

    @cached_property
    def losses(self) -> FloatArray:
        """The loss, %, of each weighed egg by each weighing; NaN where it was not weighed, or its base is
        guessed."""
        if self.weighed is None:
            return np.empty((0, 0))
        lost = 100.0 - (100.0 / self.base_g)[:, None] * self.weighed.mass_g
        return np.where(self.weighed.told[:, None], lost, np.nan)

    @cached_property
    def points(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """Day and loss, %, by each weighing that counts, of each weighed egg; none where the base is guessed."""
        if self.weighed is None:
            return ()
        days = self.weighed.days.tolist()
        if not np.isnan(self.losses).any():
            return tuple([tuple(zip(days, row, strict=True)) for row in self.losses.tolist()])
        return tuple(
            [
                tuple([(day, loss) for day, loss in zip(days, row, strict=True) if loss == loss])
                for row in self.losses.tolist()
            ]
        )


def batch_fit(
    course: Course,
    weights: BatchWeights,
    eggs: Sequence[EggFigures],
    exposure: Exposure,
    prior: ConductancePrior,
) -> BatchFit:
    """The conductances of a batch by its weighings and its exposure."""
    if not weights.weighings:
        others = tuple((egg, leaves_day(egg, course)) for egg in eggs)
        conductance = batch_conductance(_no_lines(exposure), prior, exposure.doubt_sds)
        return BatchFit(WeightBasis.PRIOR, MassBase.SET, conductance, None, np.empty(0), others)
    every = weighed_masses(course, weights, eggs, exposure.end_day)
    weighed = every.of(np.flatnonzero(every.counts))
    conductance, base_g = _by_egg(weighed, exposure, prior)
    if conductance.told:
        base = Counter(weighed.bases).most_common(1)[0][0]
        others = _eggs_of(every, every.counts == 0)
        return BatchFit(WeightBasis.EGGS, base, conductance, weighed, base_g, others)
    by_tray = _by_tray(course, weights, every, exposure, prior)
    if by_tray is not None:
        tray, base, tray_base_g = by_tray
        others = _eggs_of(every, np.ones(len(eggs), dtype=np.bool_))
        return BatchFit(WeightBasis.TRAY, base, tray, None, np.empty(0), others, tray_base_g)
    others = _eggs_of(every, every.counts == 0)
    return BatchFit(WeightBasis.PRIOR, MassBase.SET, conductance, weighed, base_g, others)


def _eggs_of(masses: WeighedMasses, which: NDArray[np.bool_]) -> tuple[tuple[EggFigures, float], ...]:
    leaves = masses.leaves.tolist()
    return tuple((masses.eggs[row], leaves[row]) for row in np.flatnonzero(which).tolist())


def _no_lines(exposure: Exposure) -> EggLines:
    nothing, none = np.empty(0), np.empty((exposure.doubt_sds.size, 0))
    return egg_lines(Weighed(np.empty(0, np.int64), nothing, nothing, nothing, none, 0), 0.0)


def _by_egg(
    weighed: WeighedMasses, exposure: Exposure, prior: ConductancePrior
) -> tuple[BatchConductance, FloatArray]:
    sds = exposure.doubt_sds
    if not weighed.eggs:
        return batch_conductance(_no_lines(exposure), prior, sds), np.empty(0)
    guess = np.where(np.isnan(weighed.guess_g), _first_guess(weighed, exposure, prior), weighed.guess_g)
    lines = egg_lines(_rows(weighed, guess, exposure), prior.mean)
    # What is in doubt of the exposure counts by the conductance found.
    weigh = lines.rough_mean(prior) / prior.mean
    found = batch_conductance(replace(lines, shifts=lines.shifts * weigh), prior, sds)
    was_set = np.array([base is MassBase.SET for base in weighed.bases]) & ~np.isnan(weighed.guess_g)
    if was_set.all():
        return found, guess
    # Once more, in parts of what the lines say of the eggs that were not weighed when set.
    base_g = np.where(was_set, guess, guess * lines.mass_when_set(found.each_egg()[0]))
    lines = egg_lines(_rows(weighed, base_g, exposure), prior.mean * weigh)
    found = batch_conductance(lines, prior, sds)
    return found, np.where(was_set, guess, base_g * lines.mass_when_set(found.each_egg()[0]))


def _first_guess(weighed: WeighedMasses, exposure: Exposure, prior: ConductancePrior) -> FloatArray:
    """The mass of each egg when set, g, by its first weighing and the species' conductance."""
    first = np.argmin(np.isnan(weighed.mass_g), axis=1)
    mass_g = weighed.mass_g[np.arange(first.size), first]
    when_set_g: FloatArray = mass_g / (1.0 - prior.mean * exposure.at(weighed.days[first]) / 1000.0)
    return when_set_g


def _rows(weighed: WeighedMasses, base_g: FloatArray, exposure: Exposure) -> Weighed:
    """All masses as rows, that by which an egg's mass when set is known or guessed being one of them."""
    egg, column = np.nonzero(~np.isnan(weighed.mass_g))
    guessed = np.flatnonzero(~np.isnan(weighed.guess_g))
    rows = np.concatenate((guessed, egg))
    base, guess_g = base_g[rows], weighed.guess_g[guessed]

    def joined(guesses: FloatArray, masses: FloatArray) -> FloatArray:
        return np.concatenate((guesses, masses)) / base

    edges = np.append(0.0, weighed.days)
    place = np.concatenate((np.zeros(guessed.size, dtype=np.int64), column + 1))
    return Weighed(
        egg=rows,
        exposure=exposure.at(edges)[place],
        mass=joined(guess_g, weighed.mass_g[egg, column]),
        sd=joined(weighed.guess_sd[guessed] * guess_g, weighed.sd_g[column]),
        doubts=exposure.doubts_at(edges)[:, place],
        eggs=len(weighed.eggs),
        weighing=place,
        common=joined(weighed.guess_common[guessed] * guess_g, weighed.common_g[column]),
    )


def _by_tray(
    course: Course, weights: BatchWeights, every: WeighedMasses, exposure: Exposure, prior: ConductancePrior
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
    set_g = np.array([math.nan if egg.egg.set_mass_g is None else egg.egg.set_mass_g for egg in every.eggs])
    all_set, count = not bool(np.isnan(set_g).any()), set_g.size
    mass_cv = float(set_g.std() / set_g.mean()) if all_set and count > 1 else USUAL_MASS_CV
    days, masses_g, sds, counts, whole = [], [], [], [], []
    if all_set:
        days.append(0.0)
        masses_g.append((float(set_g.mean()), float(set_g.mean())))
        # What the scale was off by together when each was weighed does not grow less with their number.
        step_g = step_of(set_g)
        sds.append(math.hypot(scale_sd(step_g) / math.sqrt(count), common_sd(step_g)) / float(set_g.mean()))
        counts.append(float(count))
        whole.append(True)
    for day, mass_g, weighing in trays:
        on_it = weighing.eggs_on_tray or 1
        alive = every.leaves > day
        their_own = all_set and int(alive.sum()) == on_it
        total_g = (weighing.tray_mass_g or 0.0) - (weighing.tare_g or 0.0)
        days.append(day)
        masses_g.append((mass_g, float(set_g[alive].mean()) if their_own else math.nan))
        sds.append(scale_sd(resolution_g(weighing, np.array([total_g]))) / total_g)
        counts.append(float(on_it))
        whole.append(their_own)
    at = np.array(days)

    def fitted(when_set_g: float) -> tuple[BatchConductance, float] | None:
        parts = [mass_g / (when_set_g if own_g != own_g else own_g) for mass_g, own_g in masses_g]
        tray = TrayMasses(
            exposure=exposure.at(at),
            mass=np.array(parts),
            sd=np.array(sds),
            eggs=np.array(counts),
            chosen=~np.array(whole),
            mass_cv=mass_cv,
            doubts=exposure.doubts_at(at),
        )
        return conductance_of_tray(tray, prior, exposure.doubt_sds, count)

    when_set_g = float(set_g.mean()) if all_set else trays[0][1]
    found = fitted(when_set_g)
    if found is None:
        return None
    if not all_set and at[0] > 0:
        # Once more, in parts of what the line says of the mass when set: conductance is of a gram of that.
        when_set_g /= 1.0 - found[0].batch_mean[0] * float(exposure.at(at[0])) / 1000.0
        found = fitted(when_set_g)
        if found is None:
            return None
    base_kind = MassBase.SET if all_set or trays[0][0] <= FIRST_DAY else MassBase.FIRST_WEIGHING
    return found[0], base_kind, when_set_g
