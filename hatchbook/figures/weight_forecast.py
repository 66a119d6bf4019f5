"""What is estimated of a batch's weight at an instant: lost so far, lost by its day, what to hold for that.

The ranges hold: the conductance of the batch's eggs (few weighed, the scale, what is known of the species), what
the hygrometer may be off by, gaps in the readings, a loss that rises or falls during incubation, and for what is to
come the humidity's ways from day to day. They do not hold that the breeder changes water or vent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.batch_fit import BatchFit, batch_fit
from hatchbook.figures.course import Course
from hatchbook.figures.hold_advice import hold_advice, weight_aim
from hatchbook.figures.published_apart import published_apart
from hatchbook.figures.results import BatchState, EggFigures, PhaseFigures, PhaseState
from hatchbook.figures.weighed_points import straight_line, weighed_points
from hatchbook.figures.weight_exposure import AssumedAir, BatchAir
from hatchbook.figures.weight_results import (
    EggForecast,
    Estimate,
    HoldAdvice,
    LossPath,
    LossTarget,
    WeightForecast,
)
from hatchbook.figures.weight_target import BatchAims, batch_aims
from hatchbook.figures.weights import BatchWeights
from hatchbook.statistics.exposure import Exposure
from hatchbook.statistics.loss_forecast import NORMAL_95, LossModel, share_below

PATH_POINTS = 90


def weight_forecast(
    course: Course, weights: BatchWeights, eggs: Sequence[EggFigures], phases: Sequence[PhaseFigures]
) -> WeightForecast | None:
    """What is estimated of a batch's weight; None of a batch that is planned or without living eggs."""
    if course.state is BatchState.PLANNED or not eggs:
        return None
    aims = batch_aims(course.batch, eggs)
    air = BatchAir(course, phases, aims)
    if air.end_day <= 0:
        return None
    fit = batch_fit(course, weights, eggs, air.exposure, aims.prior)
    forecast = _Forecast(course, aims, air, fit, phases)
    return forecast.result(weights) if forecast.count else None


class _Forecast:
    """The parts of a forecast, put together once."""

    def __init__(
        self,
        course: Course,
        aims: BatchAims,
        air: BatchAir,
        fit: BatchFit,
        phases: Sequence[PhaseFigures],
    ) -> None:
        self.aims, self.air, self.fit, self.course, self.phases = aims, air, fit, course, phases
        self.target = aims.target
        until = air.end_day if self.target is None else min(air.end_day, self.target.day)
        leaves = fit.leaves
        # Those alive until then: what an egg that left would have lost does not count, and moves no line.
        self.weighed = [one for one in fit.weighed if one.leaves > until]
        self.others = [one for one in fit.others if leaves[one.egg.uid] > until]
        self.count = len(self.weighed) + len(self.others)
        self.running = air.running()
        if not self.count:
            return
        places = [fit.places[one.figures.egg.uid] for one in self.weighed]
        self.places = np.array(places, dtype=np.int64)
        self.model = LossModel(fit.conductance, self.places, len(self.others))
        self.assumed = AssumedAir(*self._so_far()) if self.running is None else air.assumed(self.running)

    @property
    def ahead(self) -> bool:
        """Whether the day of the target is still to come."""
        return (
            self.running is not None and self.target is not None and self.target.day > self.air.end_day + 1e-9
        )

    def result(self, weights: BatchWeights) -> WeightForecast:
        """All of it."""
        target, air, model, fit = self.target, self.air, self.model, self.fit
        day = target.day if target is not None else air.end_day
        known = target is not None and (self.ahead or target.day <= air.end_day + 1e-9)
        exposure = air.ahead(day, self.assumed) if self.ahead else air.exposure
        advice = self._advice()
        held = None
        if advice is not None and self.ahead:
            held = air.ahead(day, AssumedAir(advice.humidity, "held", self.assumed.air_c), steered=True)
        points = weighed_points(
            self.course, weights, fit, [one.figures.egg.uid for one in self.weighed], self.course.batch.set_at
        )
        outside = self._outside(exposure, day) if known else None
        outside_held = self._outside(held, day) if held is not None else None
        sds = air.exposure.doubt_sds
        return WeightForecast(
            basis=fit.basis,
            base=fit.base,
            target=target,
            loss_now=_estimate(*model.mean_loss(air.exposure, air.end_day)),
            at_target=_estimate(*model.mean_loss(exposure, day)) if known else None,
            assumed_humidity=self.assumed.humidity,
            assumed_from=self.assumed.source,
            straight_line=straight_line(points, day) if known else None,
            conductance=_range(*model.true_conductance(model.mean, model.variance, sds)),
            prior=self.aims.prior_range,
            prior_source=self.aims.species.source,
            prior_mark=self.aims.species.mark.value,
            egg_count=self.count,
            weighed_eggs=len(self.weighed),
            too_little=None if outside is None else outside[0],
            too_much=None if outside is None else outside[1],
            too_little_held=None if outside_held is None else outside_held[0],
            too_much_held=None if outside_held is None else outside_held[1],
            exposure_known=air.known,
            pressure_kpa=air.pressure_at(self.running or self.course.stretches[0]),
            weighings=points,
            eggs=self._eggs(exposure, day),
            path_so_far=self._path(air.exposure, 0.0, air.end_day),
            path_ahead=self._path(exposure, air.end_day, day) if self.ahead else None,
            path_held=None if held is None else self._path(held, air.end_day, day),
            advice=advice,
            published_apart=published_apart(self.aims, self.course, fit, model, sds),
            published_low=self.aims.species.published_low,
            published_high=self.aims.species.published_high,
            egg_above_air_c=self.aims.egg_rise_c(self.course.machine.kind),
        )

    def _so_far(self) -> tuple[float, str, float]:
        """What is over: the mean humidity of the phase that ran last."""
        gone = [one for one in self.phases if one.humidity is not None] or list(self.phases[:1])
        phase = gone[0]
        mean = math.nan if phase.humidity is None else phase.humidity.mean
        if mean != mean:
            return phase.humidity_band.aim, "aim", phase.temperature_band.aim
        return mean, "phase", phase.temperature_band.aim

    def _advice(self) -> HoldAdvice | None:
        phase = next((one for one in self.phases if one.state is PhaseState.RUNNING), None)
        if self.running is None or phase is None:
            return None
        weight, until_day = None, phase.to_day
        if self.target is not None:
            until_day = min(self.target.day, phase.to_day)
            weight = weight_aim(self.air, self.model, self.target, until_day, self.assumed)
        return hold_advice(phase, weight, self.fit.conductance.surer, until_day)

    def _outside(self, exposure: Exposure, day: float) -> tuple[float, float]:
        """How many eggs will have lost too little and too much, expected numbers."""
        target: LossTarget | None = self.target
        if target is None:
            return 0.0, 0.0
        means, sds = self.model.egg_losses(exposure, day)
        below = share_below(target.low, means, sds)
        return float(below.sum()), float((1.0 - share_below(target.high, means, sds)).sum())

    def _eggs(self, exposure: Exposure, day: float) -> tuple[EggForecast, ...]:
        losses, sds = self.model.egg_losses(exposure, day)
        means, variances = self.model.egg_conductances
        half_loss, half = NORMAL_95 * sds, NORMAL_95 * np.sqrt(variances)
        ranges = zip(
            *((values.tolist()) for values in (means, means - half, means + half)),
            *((values.tolist()) for values in (losses, losses - half_loss, losses + half_loss)),
            strict=True,
        )
        low, high = (-math.inf, math.inf) if self.target is None else (self.target.low, self.target.high)
        rows = [
            (one.figures, len(one.days), one.base, self.fit.points[place])
            for one, place in zip(self.weighed, self.places.tolist(), strict=True)
        ]
        rows += [(one, 0, self.fit.base, ()) for one in self.others]
        found = [
            EggForecast(
                egg=egg.egg.uid,
                number=egg.egg.number,
                conductance=Estimate(k, k_low, k_high),
                at_target=Estimate(loss, loss_low, loss_high),
                outside=-1 if loss < low else int(loss > high),
                weighings=weighings,
                base=base,
                points=points,
            )
            for (egg, weighings, base, points), (k, k_low, k_high, loss, loss_low, loss_high) in zip(
                rows, ranges, strict=True
            )
        ]
        return tuple(sorted(found, key=lambda one: one.number))

    def _path(self, exposure: Exposure, from_day: float, until_day: float) -> LossPath:
        days: NDArray[np.float64] = np.linspace(from_day, max(until_day, from_day), PATH_POINTS)
        mean, sd = self.model.mean_loss(exposure, days)
        return LossPath(days, mean, np.maximum(mean - NORMAL_95 * sd, 0.0), mean + NORMAL_95 * sd)


def _estimate(mean: NDArray[np.float64], sd: NDArray[np.float64]) -> Estimate:
    return _range(float(mean[0]), float(sd[0]) ** 2)


def _range(mean: float, variance: float) -> Estimate:
    half = NORMAL_95 * math.sqrt(variance)
    return Estimate(mean, mean - half, mean + half)
