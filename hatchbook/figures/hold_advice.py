"""The humidity to hold: what the band of the phase asks for, what the weight does, and the one that is advised."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.figures.results import PhaseFigures
from hatchbook.figures.weight_exposure import AssumedAir, BatchAir
from hatchbook.figures.weight_results import AdviceBasis, Estimate, HoldAdvice, LossTarget
from hatchbook.statistics.loss_forecast import LossModel, held_for
from hatchbook.trade.codes import PhaseKind

SURE_ENOUGH = 0.5
"""The weight decides when its weighings have brought the variance of the batch's conductance below this share of
what it was before any (ours); else they say less than what is known of the species, and the band stands."""
LEAST_DAYS = 0.25
"""With less time left than this nothing is steered by weight any more (ours)."""


@dataclass(frozen=True)
class WeightAim:
    """The humidity that brings the batch to its target, and to the high and the low edge of its corridor, % RH."""

    humidity: Estimate
    edges: tuple[float, float]


def weight_aim(
    air: BatchAir, model: LossModel, target: LossTarget, until_day: float, assumed: AssumedAir
) -> WeightAim | None:
    """The humidity to hold in the running phase until a day; None where nothing of it can be steered any more.

    Phases to come are taken at their aims.
    """
    if until_day - air.end_day < LEAST_DAYS:
        return None
    dry, moist = (
        air.ahead(target.day, AssumedAir(humidity, "held", assumed.air_c), exact=True)
        for humidity in (0.0, 100.0)
    )
    found = [model.mean_loss(exposure, target.day) for exposure in (dry, dry.halfway_to(moist), moist)]
    losses, sds = (
        (float(found[0][part][0]), float(found[1][part][0]), float(found[2][part][0])) for part in (0, 1)
    )
    held = held_for(target.aim, losses, sds)
    if held is None:
        return None
    most, _, least = losses
    each_percent = (most - least) / 100.0
    edges = (most - target.high) / each_percent, (most - target.low) / each_percent
    return WeightAim(Estimate(*held), edges)


def hold_advice(phase: PhaseFigures, weight: WeightAim | None, surer: float, until_day: float) -> HoldAdvice:
    """What is advised for the rest of the running phase.

    Args:
        phase: the one that runs.
        weight: what the weight asks for; None when its day is over.
        surer: variance of the batch's conductance against that before any weighing.
        until_day: until when the weight would be steered, days since set.
    """
    hold, band = phase.hold, phase.humidity_band
    by_band = None if hold is None else hold.aim
    if weight is None or phase.kind is PhaseKind.LOCKDOWN:
        # Lockdown's humidity is for the membranes, whatever the eggs have lost.
        return _by_band(phase, by_band, None, None, False)
    (low, high), value = weight.edges, weight.humidity.value
    asked = band.aim if by_band is None else by_band
    disagree = not (low - (value - weight.humidity.low) <= asked <= high + (weight.humidity.high - value))
    # Towards its day the weight is content with almost any humidity; then it need not ask for one.
    content = low <= min(band.low, asked) and max(band.high, asked) <= high
    if surer > SURE_ENOUGH or content:
        return _by_band(phase, by_band, weight.humidity, weight.edges, disagree)
    return HoldAdvice(
        basis=AdviceBasis.WEIGHT,
        humidity=_possible(value),
        low=_possible(weight.humidity.low),
        high=_possible(weight.humidity.high),
        by_band=by_band,
        by_weight=weight.humidity,
        weight_edges=weight.edges,
        disagree=disagree,
        reachable=0.0 <= value <= 100.0,
        until_day=until_day,
    )


def _by_band(
    phase: PhaseFigures,
    by_band: float | None,
    by_weight: Estimate | None,
    edges: tuple[float, float] | None,
    disagree: bool,
) -> HoldAdvice:
    hold, band = phase.hold, phase.humidity_band
    low, value, high = (
        (band.low, band.aim, band.high) if hold is None or by_band is None else (hold.low, by_band, hold.high)
    )
    return HoldAdvice(
        basis=AdviceBasis.BAND,
        humidity=_possible(value),
        low=_possible(low),
        high=_possible(high),
        by_band=by_band,
        by_weight=by_weight,
        weight_edges=edges,
        disagree=disagree,
        reachable=0.0 <= value <= 100.0,
        until_day=phase.to_day,
    )


def _possible(humidity: float) -> float:
    return min(max(humidity, 0.0), 100.0)
