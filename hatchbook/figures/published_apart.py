"""Published statements that contradict each other, or what a batch shows, and change what is advised."""

from __future__ import annotations

from hatchbook.figures.batch_fit import BatchFit
from hatchbook.figures.course import Course
from hatchbook.figures.weight_exposure import BatchAir
from hatchbook.figures.weight_results import WeightBasis
from hatchbook.figures.weight_target import BatchAims
from hatchbook.statistics.intervals import NORMAL_95
from hatchbook.statistics.loss_forecast import LossModel
from hatchbook.statistics.weight_loss import forecast_loss

BELOW_PUBLISHED = "conductance_below_published"
ABOVE_PUBLISHED = "conductance_above_published"
BAND_AND_TARGET = "band_and_target_disagree"


def published_apart(
    aims: BatchAims, course: Course, air: BatchAir, fit: BatchFit, model: LossModel
) -> tuple[str, ...]:
    """The codes of what contradicts.

    ``conductance_below_published``, ``conductance_above_published``: the eggs' own conductance, with its range,
    lies outside what is printed of the species. ``band_and_target_disagree``: the humidity band of the programme,
    held from setting on, misses the target: with the eggs' own conductance, or while nothing was weighed with what
    is printed.
    """
    codes = []
    low, high = aims.species.published_low, aims.species.published_high
    if fit.basis is not WeightBasis.PRIOR:
        mean, variance = model.true_conductance
        half = NORMAL_95 * variance**0.5
        least = aims.species.least_published
        if least is not None and mean + half < least:
            codes.append(BELOW_PUBLISHED)
        if high is not None and mean - half > high:
            codes.append(ABOVE_PUBLISHED)
        low, high = mean - half, mean + half
    if low is not None and high is not None and _misses(aims, course, air, low, high):
        codes.append(BAND_AND_TARGET)
    return tuple(codes)


def _misses(aims: BatchAims, course: Course, air: BatchAir, low: float, high: float) -> bool:
    """Whether no humidity of the band brings eggs of a conductance between two into the corridor."""
    target = aims.target
    if target is None:
        return False
    least = most = 0.0
    for stretch in course.stretches:
        phase = stretch.phase
        days = min(phase.to_day, target.day) - phase.from_day
        if days <= 0:
            continue
        air_c, pressure = phase.temperature_aim_c, air.pressure_at(stretch)
        egg_c = air_c + air.egg_rise_c(stretch)
        least += forecast_loss(
            low, phase.humidity_high, days, air_c=air_c, egg_c=egg_c, pressure_kpa=pressure
        )
        most += forecast_loss(high, phase.humidity_low, days, air_c=air_c, egg_c=egg_c, pressure_kpa=pressure)
    return least > target.high or most < target.low
