"""Published statements that contradict each other, or what a batch shows, and change what is advised."""

from __future__ import annotations

from hatchbook.figures.batch_fit import BatchFit
from hatchbook.figures.course import Course
from hatchbook.figures.weight_results import WeightBasis
from hatchbook.figures.weight_target import BatchAims
from hatchbook.statistics.loss_forecast import NORMAL_95, LossModel
from hatchbook.statistics.moisture import FloatArray, pressure_kpa
from hatchbook.statistics.weight_loss import forecast_loss

BELOW_PUBLISHED = "conductance_below_published"
ABOVE_PUBLISHED = "conductance_above_published"
BAND_AND_TARGET = "band_and_target_disagree"


def published_apart(
    aims: BatchAims, course: Course, fit: BatchFit, model: LossModel, doubt_sds: FloatArray
) -> tuple[str, ...]:
    """The codes of what contradicts.

    ``conductance_below_published``, ``conductance_above_published``: the eggs' own conductance, with its range,
    lies outside what is printed of the species. ``band_and_target_disagree``: the humidity band of the programme,
    held from setting on, misses the target: with the eggs' own conductance, or while nothing was weighed with what
    is printed.
    """
    codes = []
    low, high = aims.species.published_low, aims.species.published_high
    weighed = fit.basis is not WeightBasis.PRIOR
    if weighed:
        mean, variance = model.true_conductance(model.mean, model.variance, doubt_sds)
        half = NORMAL_95 * variance**0.5
        if low is not None and mean + half < low:
            codes.append(BELOW_PUBLISHED)
        if high is not None and mean - half > high:
            codes.append(ABOVE_PUBLISHED)
        low, high = mean - half, mean + half
    if low is not None and high is not None and _misses(aims, course, low, high):
        codes.append(BAND_AND_TARGET)
    return tuple(codes)


def _misses(aims: BatchAims, course: Course, low: float, high: float) -> bool:
    target = aims.target
    if target is None:
        return False
    least = most = 0.0
    pressure = pressure_kpa(course.machine.altitude_m)
    rise_c = aims.egg_rise_c(course.machine.kind)
    for phase in course.phases:
        days = min(phase.to_day, target.day) - phase.from_day
        if days <= 0:
            continue
        air_c = phase.temperature_aim_c
        for humidity, conductance in ((phase.humidity_high, low), (phase.humidity_low, high)):
            lost = forecast_loss(
                conductance, humidity, days, air_c=air_c, egg_c=air_c + rise_c, pressure_kpa=pressure
            )
            if conductance == low and humidity == phase.humidity_high:
                least += lost
            else:
                most += lost
    return least > target.high or most < target.low
