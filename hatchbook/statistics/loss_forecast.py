"""What a batch has lost and will lose, with the ranges: its conductances and its exposure put together.

A loss is conductance × exposure. What is uncertain in it: the mean conductance (`hatchbook.statistics.conductance`)
and the doubts of the exposure (`hatchbook.statistics.exposure`). A doubt that was there while the eggs were weighed
has shifted the conductance found; carried on by the same hygrometer most of it falls out again, which is counted.
What the scale is off by at a weighing has shifted it too, and does not fall out. All is normal; losses are % of the
mass when set.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.conductance import BatchConductance
from hatchbook.statistics.exposure import Exposure
from hatchbook.statistics.intervals import NORMAL_95

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

_PERCENT = 0.1  # mg a gram in %


@dataclass(frozen=True)
class _Levers:
    """By days: how an exposure makes losses of conductances."""

    torr_days: FloatArray  #: that multiply a conductance
    leans: FloatArray  #: torr days that multiply how far the batch's mean lies from the species'
    doubt_variance: FloatArray  #: (mg a gram)², the same for all eggs


class LossModel:
    """The losses of some eggs of a batch under an exposure.

    Args:
        conductance: of the batch.
        eggs: which of its weighed eggs are meant, as places in them.
        others: how many eggs more that were not weighed.

    Raises ValueError without any egg.
    """

    def __init__(self, conductance: BatchConductance, eggs: IntArray, others: int) -> None:
        if eggs.size + others < 1:
            raise ValueError("There is no egg to speak of.")
        self.conductance = conductance
        self.eggs, self.others = eggs, others
        self.mean, self.variance, self._together = conductance.mean_of(eggs, others)
        self._batch_mean, self._batch_variance = conductance.batch_mean
        self._off_prior = self._batch_mean - conductance.prior.mean

    def mean_loss(self, exposure: Exposure, days: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """The mean loss of the eggs by some days and its standard deviation, %."""
        return self._mean_loss(
            self._levers(exposure.at(np.atleast_1d(days)), exposure.doubts_at(days), exposure.doubt_sds)
        )

    def mean_loss_between(
        self, dry: Exposure, moist: Exposure, day: float, shares: ArrayLike
    ) -> tuple[FloatArray, FloatArray]:
        """The same by one day, for what lies between two exposures that differ in the humidity held and nothing
        else.

        Args:
            dry, moist: they have the same doubts.
            day: days since set.
            shares: how far from the one to the other, 0 to 1.
        """
        share = np.asarray(shares, dtype=np.float64)
        torr_days = float(dry.at(day)) * (1.0 - share) + float(moist.at(day)) * share
        doubts = dry.doubts_at(day) * (1.0 - share) + moist.doubts_at(day) * share
        return self._mean_loss(self._levers(torr_days, doubts, dry.doubt_sds))

    def _mean_loss(self, levers: _Levers) -> tuple[FloatArray, FloatArray]:
        return self._losses(levers, self.mean, self.variance, self._together)

    def egg_losses(self, exposure: Exposure, day: float) -> tuple[FloatArray, FloatArray]:
        """The loss of each egg by a day and its standard deviation, %: of the weighed ones, then of the others."""
        levers = self._levers(exposure.at([day]), exposure.doubts_at(day), exposure.doubt_sds)
        return self._losses(levers, *self._each_egg)

    def _losses(
        self,
        levers: _Levers,
        mean: float | FloatArray,
        variance: float | FloatArray,
        together: float | FloatArray,
    ) -> tuple[FloatArray, FloatArray]:
        """Of a conductance with its variance and its covariance with the batch's mean."""
        pulled, leans = levers.torr_days, levers.leans
        loss = pulled * mean + leans * self._off_prior
        spread = pulled**2 * variance + 2.0 * pulled * leans * together + leans**2 * self._batch_variance
        return _PERCENT * loss, _PERCENT * np.sqrt(np.maximum(spread, 0.0) + levers.doubt_variance)

    @cached_property
    def _each_egg(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        weighed = self.conductance.each_egg()
        other = (*self.conductance.another_egg(), self._batch_variance)
        mean, variance, together = (
            np.concatenate((known[self.eggs], np.full(self.others, one)))
            for known, one in zip(weighed, other, strict=True)
        )
        return mean, variance, together

    @property
    def true_conductance(self) -> tuple[float, float]:
        """The mean conductance with what hygrometer and scale may be off by taken out of it: mean and variance."""
        mean, variance = self._true(self.mean, self.variance, self._together)
        return float(mean), float(variance)

    @property
    def true_conductances(self) -> tuple[FloatArray, FloatArray]:
        """The same of each egg: of the weighed ones, then of the others."""
        mean, variance = self._true(*self._each_egg)
        return np.asarray(mean), np.asarray(variance)

    def _true(
        self, mean: float | FloatArray, variance: float | FloatArray, together: float | FloatArray
    ) -> tuple[float | FloatArray, float | FloatArray]:
        before = self.conductance.before
        off = self.conductance.by_doubts + self.conductance.by_scale
        leans = -off / (before + off)
        spread = variance + 2.0 * leans * together + leans**2 * self._batch_variance
        return mean + leans * self._off_prior, np.maximum(spread, 0.0) - leans * before

    def _levers(self, torr_days: FloatArray, doubts: FloatArray, sds: FloatArray) -> _Levers:
        """By exposures, and by what a unit of each doubt adds to them, (doubts, exposures)."""
        found = self.conductance
        shifts = np.zeros(sds.size)
        shifts[: found.shifts.size] = found.shifts
        # What a unit of each doubt adds to the loss, less what it has already shifted the conductance by.
        each = self._batch_mean * doubts - shifts[:, None] * torr_days
        squares = sds**2
        whole = found.before + found.by_doubts + found.by_scale
        together = (shifts * squares) @ each - found.by_scale * torr_days
        # The further the batch's mean lies from the species', the likelier a doubt has shifted it.
        leans = together / whole
        variance = np.maximum(squares @ each**2 + found.by_scale * torr_days**2 - together * leans, 0.0)
        return _Levers(torr_days, leans, variance)


def held_for(aim: float, losses: ArrayLike, sds: ArrayLike) -> tuple[float, float, float] | None:
    """The humidity to hold for a loss and its 95 % range, % RH; None where humidity makes no difference.

    A loss is linear in the humidity held, its variance a parabola: three of them tell all. The range holds every
    humidity by which the aim lies within the range of the loss (Fieller 1954, J. R. Stat. Soc. B 16:175-185).

    Args:
        aim: %.
        losses: mean loss, %, when 0, 50 and 100 % RH are held; sds: their standard deviations.
    """
    driest, _, moistest = np.asarray(losses, dtype=np.float64).tolist()
    slope = (moistest - driest) / 100.0
    if not slope < 0:
        return None
    off = driest - aim
    value = -off / slope
    dry, middle, moist = (np.asarray(sds, dtype=np.float64) ** 2).tolist()
    bent = (moist - 2.0 * middle + dry) / 5000.0
    rising = (moist - dry) / 100.0 - 100.0 * bent
    square = NORMAL_95**2
    a, b, c = slope**2 - square * bent, 2.0 * slope * off - square * rising, off**2 - square * dry
    inside = b**2 - 4.0 * a * c
    if a > 0 and inside >= 0:
        root = math.sqrt(inside)
        return value, (-b - root) / (2.0 * a), (-b + root) / (2.0 * a)
    half = NORMAL_95 * math.sqrt(max(dry + value * (rising + value * bent), 0.0)) / -slope
    return value, value - half, value + half


def share_below(limit: float, means: FloatArray, sds: FloatArray) -> FloatArray:
    """How probable each normal number is to lie below a limit, 0 to 1."""
    safe = np.maximum(sds, 1e-9)
    return np.array([0.5 * math.erfc(z) for z in ((means - limit) / (safe * math.sqrt(2.0))).tolist()])


def sd_of_next_mean(day_sd: float, days: float, *, recent_days: float | None = None) -> float:
    """By how much the mean humidity of some days to come may differ from the expected, standard deviation, % RH.

    Days follow each other as an autoregressive series with the correlation `DAY_TO_DAY` (ours).

    Args:
        day_sd: standard deviation of daily means.
        days: how many are to come.
        recent_days: the expectation is the mean of so many days just gone; None: it is the mean of the series.
    """
    ahead = max(1, math.ceil(days))
    variance = _mean_correlation(ahead)
    if recent_days is not None:
        gone = max(1, math.ceil(recent_days))
        across = DAY_TO_DAY * _geometric(ahead) * _geometric(gone) / (ahead * gone)
        variance += _mean_correlation(gone) - 2.0 * across
    return day_sd * math.sqrt(max(variance, 0.0))


DAY_TO_DAY = 0.7
"""Correlation of one day's mean humidity with the next one's (ours)."""


def _geometric(count: int) -> float:
    return float((1.0 - DAY_TO_DAY**count) / (1.0 - DAY_TO_DAY))


def _mean_correlation(count: int) -> float:
    """The variance of the mean of so many days against that of one."""
    lags = np.arange(1, count)
    return float((count + 2.0 * ((count - lags) * DAY_TO_DAY**lags).sum()) / count**2)
