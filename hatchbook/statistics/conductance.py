"""The conductance of eggs from their weighings: each egg's, and their batch's, with what is known of the species.

An egg's mass falls in a line against the exposure: m = a (1 - k D / 1000), k in mg/(day g torr), D in torr days at
sea level. The line of each egg is drawn by weighted least squares with its mass when set left free, that mass being
one weighing more. The eggs of a batch spread about the batch's mean, and that about the species' mean: a normal
hierarchical model (Gelman et al., Bayesian Data Analysis, ch. 5), closed but for the spread between eggs, over
which is summed on a grid. So two weighings give no wild line, and eggs never weighed have the batch's mean.

What is wrong with the exposure is wrong for all eggs alike, and most of it falls out again when the loss is carried
on by the same hygrometer: the conductance found is the one *as this hygrometer measures*. What is wrong with the
scale at one weighing, its zero above all, is wrong for all eggs of that weighing too, and falls out of nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

SPREAD_WEIGHT = 8.0
"""The spread between eggs by what is published counts like that of so many eggs more (ours)."""
NOISE_WEIGHT = 6.0
"""The noise of the scale by its resolution counts like so many weighings more (ours)."""
LEAST_NOISE, MOST_NOISE = 0.5, 25.0
"""Within these the variance of the masses is taken to lie, in parts of that by the scale's resolution (ours)."""
_SPREADS = np.geomspace(0.3, 3.2, 23)


@dataclass(frozen=True)
class ConductancePrior:
    """What is known of a species before any weighing.

    ``mean``: mg/(day g torr) at sea level. ``batch_sd``: of batches about it. ``egg_cv``: standard deviation of
    eggs about their batch's mean, in parts of it.
    """

    mean: float
    batch_sd: float
    egg_cv: float

    @property
    def egg_sd(self) -> float:
        """The standard deviation of eggs about their batch's mean."""
        return self.egg_cv * self.mean


def scale_sd(resolution_g: float) -> float:
    """The standard deviation of one mass from a scale, g: of rounding, and of a scale that settles a third of a
    step off, at least 0.02 g (ours)."""
    return float(np.sqrt(resolution_g**2 / 12 + max(0.3 * resolution_g, 0.02) ** 2))


def common_sd(resolution_g: float) -> float:
    """The standard deviation of what all masses of one weighing are off by together, g: a quarter of a step, at
    least 0.02 g (ours: a good scale sets its zero within a quarter of a step, OIML R 76-1, from memory)."""
    return max(0.25 * resolution_g, 0.02)


@dataclass(frozen=True)
class Weighed:
    """Masses of eggs as rows: which egg, the exposure then, the mass in parts of what the egg weighed when set (by
    the best guess), its standard deviation in the same parts; ``doubts``: what a unit of each doubt of the exposure
    adds to it, shape (doubts, rows).

    ``weighing``: the number of the weighing, from 0; ``common``: the standard deviation, in the same parts, of what
    all masses of that weighing are off by together; None: nothing is.
    """

    egg: IntArray
    exposure: FloatArray
    mass: FloatArray
    sd: FloatArray
    doubts: FloatArray
    eggs: int
    weighing: IntArray | None = None
    common: FloatArray | None = None


@dataclass(frozen=True)
class EggLines:
    """The line of each egg by least squares alone; arrays by egg.

    ``slope``: conductance; ``variance``: of it, inf without two exposures; ``middle_mass``, ``middle_exposure``:
    the point about which the line turns; ``shifts``: by how much a unit of each doubt shifts the slope, (doubts,
    eggs); ``scale_shifts``: by how much one standard deviation of what each weighing is off by does, (weighings,
    eggs).
    """

    slope: FloatArray
    variance: FloatArray
    middle_mass: FloatArray
    middle_exposure: FloatArray
    shifts: FloatArray
    scale_shifts: FloatArray

    def mass_when_set(self, conductance: FloatArray) -> FloatArray:
        """The mass when set by a conductance, in the parts in which the masses were given."""
        return self.middle_mass + conductance * self.middle_exposure / 1000.0

    def rough_mean(self, prior: ConductancePrior) -> float:
        """The batch's mean if eggs spread as much as is taken of the species."""
        precision = 1.0 / (self.variance + prior.egg_sd**2)
        before = 1.0 / prior.batch_sd**2
        return float((prior.mean * before + self.slope @ precision) / (before + precision.sum()))


def egg_lines(weighed: Weighed, conductance: float) -> EggLines:
    """The line of each egg; ``conductance`` is a first guess, by which doubts of the exposure become masses."""
    egg, count = weighed.egg, weighed.eggs

    def total(values: FloatArray) -> FloatArray:
        return np.bincount(egg, values, minlength=count).astype(np.float64)

    weight = 1.0 / weighed.sd**2
    whole = np.maximum(total(weight), 1e-300)
    middle_d = total(weight * weighed.exposure) / whole
    middle_m = total(weight * weighed.mass) / whole
    off_d, off_m = weighed.exposure - middle_d[egg], weighed.mass - middle_m[egg]
    pulled = weight * off_d
    spread = total(pulled * off_d)
    # An egg all of whose masses are of one moment has no line.
    has = spread > 1.0
    safe = np.where(has, spread, 1.0)
    slope = np.where(has, -1000.0 * total(pulled * off_m) / safe, 0.0)
    left = off_m + (slope[egg] / 1000.0) * off_d
    rows = total(np.ones(egg.size))
    free = float(np.maximum(rows - 2.0, 0.0)[has].sum())
    noise = (NOISE_WEIGHT + float((weight * left**2)[has[egg]].sum())) / (NOISE_WEIGHT + free)
    noise = min(max(noise, LEAST_NOISE), MOST_NOISE)
    variance = np.where(has, 1e6 * noise / safe, np.inf)
    each = has / safe
    shifts = np.empty((weighed.doubts.shape[0], count))
    for place, doubt in enumerate(weighed.doubts):
        shifts[place] = conductance * total(pulled * doubt) * each
    if weighed.weighing is None or weighed.common is None:
        scale_shifts = np.empty((0, count))
    else:
        weighings = int(weighed.weighing.max(initial=-1)) + 1
        places, off = weighed.weighing * count + egg, pulled * weighed.common
        scale_shifts = -1000.0 * np.bincount(places, off, weighings * count).reshape(weighings, count) * each
    return EggLines(slope, variance, middle_m, middle_d, shifts, scale_shifts)


@dataclass(frozen=True)
class BatchConductance:
    """What is known of the conductances of a batch, as its hygrometer measures; arrays by spread and egg.

    ``weight``: how probable each spread between eggs is; ``spread``; ``mean``, ``variance``: of the batch's mean;
    ``egg_offset``, ``egg_share``, ``egg_variance``: an egg's conductance is offset + share × the batch's mean, with
    this variance; an egg that was not weighed has offset 0, share 1 and the spread's variance. ``shifts``: by how
    much a unit of each doubt has shifted the mean; ``by_doubts``, ``by_scale``: the variance by which all of them
    may have, and the scale. ``prior``: before any weighing; ``told``: weighings tell anything. ``of_these_eggs``:
    the mean is that of the very eggs of the batch, as of a tray weighed as one.
    """

    prior: ConductancePrior
    weight: FloatArray
    spread: FloatArray
    mean: FloatArray
    variance: FloatArray
    egg_offset: FloatArray
    egg_share: FloatArray
    egg_variance: FloatArray
    shifts: FloatArray
    by_doubts: float
    by_scale: float
    before: float
    told: bool
    of_these_eggs: bool = False

    def mean_of(self, eggs: IntArray, others: int) -> tuple[float, float, float]:
        """The mean conductance of some weighed eggs and of so many others of the batch, its variance, and its
        covariance with the batch's mean."""
        count = eggs.size + others
        share = (self.egg_share[:, eggs].sum(axis=1) + others) / count
        offset = self.egg_offset[:, eggs].sum(axis=1) / count
        others_own = np.zeros(self.spread.size) if self.of_these_eggs else others * self.spread**2
        own = (self.egg_variance[:, eggs].sum(axis=1) + others_own) / count**2
        mean = offset + share * self.mean
        off_batch = self.mean - self.batch_mean[0]
        together = float(self.weight @ (share * self.variance + mean * off_batch))
        return (*self._mixed(mean, share**2 * self.variance + own), together)

    @cached_property
    def batch_mean(self) -> tuple[float, float]:
        """The mean about which the batch's eggs spread, and its variance."""
        return self._mixed(self.mean, self.variance)

    @property
    def surer(self) -> float:
        """The variance of the batch's mean, as the hygrometer measures, against that before any weighing, 0 to
        1."""
        before = self.before + self.by_doubts
        share = before / (before + self.by_scale)
        variance = share**2 * self.batch_mean[1] + share * self.by_scale
        return min(variance / self.prior.batch_sd**2, 1.0)

    def each_egg(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Mean and variance of each egg that was weighed, and its covariance with the batch's mean."""
        mean = self.egg_offset + self.egg_share * self.mean[:, None]
        variance = self.egg_share**2 * self.variance[:, None] + self.egg_variance
        middle = self.weight @ mean
        off_batch = self.weight * (self.mean - self.batch_mean[0])
        together = (self.weight * self.variance) @ self.egg_share + off_batch @ mean
        return middle, self.weight @ (variance + (mean - middle) ** 2), together

    def another_egg(self) -> tuple[float, float]:
        """Mean and variance of an egg that was not weighed; its covariance is the variance of the batch's mean."""
        return self._mixed(self.mean, self.variance + self.spread**2)

    def _mixed(self, mean: FloatArray, variance: FloatArray) -> tuple[float, float]:
        middle = float(self.weight @ mean)
        return middle, float(self.weight @ (variance + (mean - middle) ** 2))


def batch_conductance(lines: EggLines, prior: ConductancePrior, doubt_sds: FloatArray) -> BatchConductance:
    """The conductances of a batch by the lines of its eggs.

    Args:
        lines: of the eggs that were weighed; may be none.
        prior: of the species.
        doubt_sds: standard deviation of each doubt of the exposure.
    """
    tells = np.isfinite(lines.variance)
    precision = np.where(tells, 1.0 / np.where(tells, lines.variance, 1.0), 0.0)
    shifts, by_scale = np.zeros(doubt_sds.size), 0.0
    if tells.any():
        counts = precision / precision.sum()
        shifts = lines.shifts @ counts
        by_scale = float(np.sum((lines.scale_shifts @ counts) ** 2))
    by_doubts = float((shifts**2) @ (doubt_sds**2))
    before = prior.batch_sd**2 + by_doubts + by_scale
    spread = _SPREADS * prior.egg_sd
    # Scaled inverse chi square for the square of the spread, on a grid even in its logarithm.
    log_weight = -SPREAD_WEIGHT * (np.log(_SPREADS) + 0.5 / _SPREADS**2)
    if tells.any():
        slope, own = lines.slope[tells], lines.variance[tells]
        each = own + spread[:, None] ** 2
        variance = 1.0 / (1.0 / before + (1.0 / each).sum(axis=1))
        mean = variance * (prior.mean / before + (slope / each).sum(axis=1))
        log_weight = log_weight + 0.5 * (
            np.log(variance)
            - np.log(each).sum(axis=1)
            - ((slope - mean[:, None]) ** 2 / each).sum(axis=1)
            - (mean - prior.mean) ** 2 / before
        )
    else:
        mean, variance = np.full(spread.shape, prior.mean), np.full(spread.shape, before)
    weight = np.exp(log_weight - log_weight.max())
    share = np.ones((spread.size, tells.size))
    offset = np.zeros((spread.size, tells.size))
    left = np.repeat(spread[:, None] ** 2, tells.size, axis=1)
    if tells.any():
        share[:, tells] = own / each
        offset[:, tells] = (1.0 - share[:, tells]) * slope
        left[:, tells] = share[:, tells] * spread[:, None] ** 2
    return BatchConductance(
        prior,
        weight / weight.sum(),
        spread,
        mean,
        variance,
        offset,
        share,
        left,
        shifts,
        by_doubts,
        by_scale,
        prior.batch_sd**2,
        bool(tells.any()),
    )
