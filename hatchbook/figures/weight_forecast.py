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
    MassBase,
    WeightForecast,
)
from hatchbook.figures.weight_target import BatchAims, batch_aims
from hatchbook.figures.weights import BatchWeights
from hatchbook.statistics.exposure import Exposure
from hatchbook.statistics.intervals import NORMAL_95
from hatchbook.statistics.loss_forecast import LossModel, share_below
from hatchbook.trade.sources import SourceMark

Floats = NDArray[np.float64]

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
        # Those alive until then: what an egg that left would have lost does not count, and moves no line.
        self.until = air.end_day if self.target is None else min(air.end_day, self.target.day)
        self.places = np.empty(0, np.int64)
        if fit.weighed is not None:
            self.places = np.flatnonzero(fit.weighed.leaves > self.until)
        self.others = [egg for egg, leaves in fit.others if leaves > self.until]
        self.count = self.places.size + len(self.others)
        self.running = air.running()
        if not self.count:
            return
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
        ways = [(0.0, air.end_day), (air.end_day, day)] if self.ahead else [(0.0, air.end_day)]
        (so_far, loss_now), *to_come = self._paths(exposure, *ways)
        held = path_held = at_target = None
        if to_come:
            at_target = to_come[0][1]
        elif known:
            ((_, at_target),) = self._paths(exposure, (day, day))
        if advice is not None and self.ahead:
            held = air.ahead(day, AssumedAir(advice.humidity, "held", self.assumed.air_c), steered=True)
            ((path_held, _),) = self._paths(held, (air.end_day, day))
        points = weighed_points(self.course, weights, fit, self.until)
        egg_losses = model.egg_losses(exposure, day)
        outside = self._outside(*egg_losses) if known else None
        outside_held = self._outside(*model.egg_losses(held, day)) if held is not None else None
        stretch = self.running or self.course.stretches[0]
        return WeightForecast(
            basis=fit.basis,
            base=fit.base,
            target=target,
            loss_now=loss_now,
            at_target=at_target,
            assumed_humidity=self.assumed.humidity,
            assumed_from=self.assumed.source,
            straight_line=straight_line(points, day) if known else None,
            conductance=_range(*model.true_conductance),
            prior=self.aims.prior_range,
            prior_source=self.aims.species.source,
            prior_mark=self.aims.species.mark.value,
            egg_count=self.count,
            weighed_eggs=self.places.size,
            too_little=None if outside is None else outside[0],
            too_much=None if outside is None else outside[1],
            too_little_held=None if outside_held is None else outside_held[0],
            too_much_held=None if outside_held is None else outside_held[1],
            exposure_known=air.known,
            pressure_kpa=air.pressure_at(stretch),
            weighings=points,
            eggs=self._eggs(*egg_losses),
            path_so_far=so_far,
            path_ahead=to_come[0][0] if to_come else None,
            path_held=path_held,
            advice=advice,
            published_apart=published_apart(self.aims, self.course, air, fit, model),
            published_low=self.aims.species.published_low,
            published_high=self.aims.species.published_high,
            egg_above_air_c=air.egg_rise_c(stretch),
            egg_corridor=None if target is None else (target.egg_low, target.egg_high),
        )

    def _so_far(self) -> tuple[float, str, float]:
        """What is over: the mean humidity of the first phase, in which most of it was lost."""
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
        return hold_advice(phase, weight, self.fit.conductance.surer, until_day, verified=self._verified)

    @property
    def _verified(self) -> bool:
        """Whether the target was published, or set by the breeder."""
        return self.target is not None and self.target.mark != SourceMark.FROM_MEMORY.value

    def _outside(self, means: Floats, sds: Floats) -> tuple[float, float]:
        """How many eggs will have lost too little and too much by their losses, expected numbers."""
        target: LossTarget | None = self.target
        if target is None:
            return 0.0, 0.0
        below = share_below(target.egg_low, means, sds)
        return float(below.sum()), float((1.0 - share_below(target.egg_high, means, sds)).sum())

    def _eggs(self, losses: Floats, sds: Floats) -> tuple[EggForecast, ...]:
        means, variances = self.model.true_conductances
        half_loss, half = NORMAL_95 * sds, NORMAL_95 * np.sqrt(variances)
        columns = means, means - half, means + half, losses, losses - half_loss, losses + half_loss
        ranges = zip(*np.maximum(columns, 0.0).tolist(), strict=True)
        low, high = (
            (-math.inf, math.inf) if self.target is None else (self.target.egg_low, self.target.egg_high)
        )
        rows: list[tuple[EggFigures, int, MassBase, tuple[tuple[float, float], ...]]] = []
        if (weighed := self.fit.weighed) is not None:
            counts = weighed.counts.tolist()
            rows = [
                (weighed.eggs[place], counts[place], weighed.bases[place], self.fit.points[place])
                for place in self.places.tolist()
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

    def _paths(self, exposure: Exposure, *stretches: tuple[float, float]) -> list[tuple[LossPath, Estimate]]:
        """The losses from one day to another, for each of some stretches; and what is lost by the end of it."""
        days = [np.linspace(begin, max(end, begin), PATH_POINTS) for begin, end in stretches]
        mean, sd = self.model.mean_loss(exposure, np.concatenate(days))
        # Neither a loss nor what is left of it can be below 0.
        half = NORMAL_95 * sd
        mean, low, high = (np.maximum(one, 0.0) for one in (mean, mean - half, mean + half))
        found = []
        for number, day in enumerate(days):
            part = slice(number * PATH_POINTS, (number + 1) * PATH_POINTS)
            last = part.stop - 1
            end = Estimate(float(mean[last]), float(low[last]), float(high[last]))
            found.append((LossPath(day, mean[part], low[part], high[part]), end))
        return found


def _range(mean: float, variance: float) -> Estimate:
    """Of something that cannot be below 0."""
    half = NORMAL_95 * math.sqrt(variance)
    return Estimate(max(mean, 0.0), max(mean - half, 0.0), max(mean + half, 0.0))
