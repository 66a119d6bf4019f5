"""A forecast made by hand for the tests of the weight row: twelve eggs, weighed on days 4, 7 and 11."""

from __future__ import annotations

import numpy as np
from hatchbook.figures.weight_results import (
    AdviceBasis,
    EggForecast,
    Estimate,
    HoldAdvice,
    LossPath,
    LossTarget,
    MassBase,
    WeighedPoint,
    WeightBasis,
    WeightForecast,
)

DAY_S = 86_400


def path(first: float, last: float, a_day: float, spread: float = 0.0) -> LossPath:
    """A straight way of the loss, with a range that widens by `spread` a day from its first day on."""
    day = np.linspace(first, last, 15)
    mean = day * a_day
    half = (day - first) * spread
    return LossPath(day, mean, mean - half, mean + half)


def forecast(set_at: int, *, weighed: bool = True, a_day: float = 0.64, held: bool = False) -> WeightForecast:
    """A forecast at day 11 of 18."""
    days = (4.0, 7.0, 11.0) if weighed else ()
    eggs = tuple(
        EggForecast(
            egg=f"egg{number}",
            number=number,
            conductance=Estimate(0.25, 0.22, 0.28),
            at_target=Estimate(11.5, 10.5, 12.5),
            outside=0,
            weighings=len(days),
            base=MassBase.SET,
            points=tuple((day, day * a_day * (1 + 0.02 * (number - 6))) for day in days),
        )
        for number in range(1, 13)
    )
    return WeightForecast(
        basis=WeightBasis.EGGS if weighed else WeightBasis.PRIOR,
        base=MassBase.SET,
        target=LossTarget(11.0, 12.0, 13.0, 18.0),
        loss_now=Estimate(11 * a_day, 11 * a_day - 0.3, 11 * a_day + 0.3),
        at_target=Estimate(18 * a_day, 18 * a_day - 0.6, 18 * a_day + 0.6),
        assumed_humidity=48.0,
        assumed_from="recent",
        straight_line=18 * a_day,
        conductance=Estimate(0.25, 0.23, 0.27),
        prior=Estimate(0.3, 0.2, 0.4),
        prior_source="",
        prior_mark="",
        egg_count=36,
        weighed_eggs=12 if weighed else 0,
        too_little=3.0,
        too_much=1.0,
        too_little_held=2.0,
        too_much_held=1.0,
        egg_corridor=(8.8, 15.0),
        exposure_known=0.98,
        pressure_kpa=101.3,
        weighings=tuple(WeighedPoint(day, set_at + round(day * DAY_S), day * a_day, 0.1, 12) for day in days),
        eggs=eggs,
        path_so_far=path(0.0, 11.0, a_day),
        path_ahead=path(11.0, 18.0, a_day, 0.09),
        path_held=path(11.0, 18.0, a_day * 1.02) if held else None,
        advice=HoldAdvice(
            AdviceBasis.WEIGHT,
            41.0,
            38.0,
            44.0,
            40.1,
            Estimate(41.0, 38.0, 44.0),
            (36.0, 46.0),
            False,
            True,
            18.0,
        ),
    )
