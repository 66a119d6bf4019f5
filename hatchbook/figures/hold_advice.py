"""The humidity to hold: what the band of the phase asks for, what the weight does, and the one that is advised."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.figures.results import Band, PhaseFigures
from hatchbook.figures.to_hold import LITTLE_LEFT_H
from hatchbook.figures.weight_exposure import AssumedAir, BatchAir
from hatchbook.figures.weight_results import AdviceBasis, AdviceReason, Estimate, HoldAdvice, LossTarget
from hatchbook.statistics.loss_forecast import LossModel, held_for
from hatchbook.trade.codes import PhaseKind

SURE_ENOUGH = 0.5
"""The weight decides when its weighings have brought the variance of the batch's conductance below this share of
what it was before any (ours); else they say less than what is known of the species, and the band stands."""
STEERED_BY = 20.0
LITTLE_LEFT_PERCENT = 0.25
"""When so many points of humidity, % RH, held until the target's day, move the loss by less than this, nothing is
steered by weight any more: a batch is not dried out or drenched for what no egg notices (ours). Of hens' eggs that
is the last day."""
DRIEST, MOISTEST = 20.0, 80.0
"""What a machine can be asked to hold, % RH, unless the band asks for more (ours). Room air alone gives 18 to 30 %;
at 85 to 93 % chicks hatch with too much water in them (Branum, Tazawa & Burggren 2022, Front. Physiol.
13:880737)."""


@dataclass(frozen=True)
class WeightAim:
    """The humidity that brings the batch to its target, and to the high and the low edge of its corridor, % RH.

    ``moves``: by how much `STEERED_BY` points of humidity move the loss until the target's day, %.
    """

    humidity: Estimate
    edges: tuple[float, float]
    moves: float


def weight_aim(
    air: BatchAir, model: LossModel, target: LossTarget, until_day: float, assumed: AssumedAir
) -> WeightAim | None:
    """The humidity to hold in the running phase until a day; None where nothing of it can be steered any more.

    Phases to come are taken at their aims.
    """
    if until_day <= air.end_day:
        return None
    dry, moist = (
        air.ahead(target.day, AssumedAir(humidity, "held", assumed.air_c), exact=True)
        for humidity in (0.0, 100.0)
    )
    losses, sds = model.mean_loss_between(dry, moist, target.day, (0.0, 0.5, 1.0))
    held = held_for(target.aim, losses, sds)
    if held is None:
        return None
    most, _, least = losses.tolist()
    each_percent = (most - least) / 100.0
    edges = (most - target.high) / each_percent, (most - target.low) / each_percent
    return WeightAim(Estimate(*held), edges, STEERED_BY * each_percent)


def hold_advice(
    phase: PhaseFigures,
    weight: WeightAim | None,
    surer: float,
    until_day: float,
    *,
    verified: bool = True,
) -> HoldAdvice:
    """What is advised for the rest of the running phase.

    Which of the two aims decides is not held from reading to reading, and need not be: how sure the conductance is
    changes with weighings alone; that little is left comes once; and what the weight is content with widens faster
    towards its day than readings move it.

    Args:
        phase: the one that runs.
        weight: what the weight asks for; None when its day is over.
        surer: variance of the batch's conductance against that before any weighing.
        until_day: until when the weight would be steered, days since set.
        verified: the target was published, or set by the breeder. One from memory is told and not steered for: eggs
            of quail lose 8 % by day 15 by what is published, and 12 would take air that no book advises.
    """
    if phase.kind is PhaseKind.LOCKDOWN:
        # Lockdown's humidity is for the membranes, whatever the eggs have lost.
        return _by_band(phase, AdviceReason.LOCKDOWN)
    if weight is None:
        return _by_band(phase, AdviceReason.NO_TARGET)
    if weight.moves < LITTLE_LEFT_PERCENT:
        return _by_band(phase, AdviceReason.LITTLE_LEFT)
    band = phase.humidity_band
    (low, high), value = weight.edges, weight.humidity.value
    asked = _asked_by_band(phase)
    disagree = not (low - (value - weight.humidity.low) <= asked <= high + (weight.humidity.high - value))
    if surer > SURE_ENOUGH:
        return _by_band(phase, AdviceReason.UNSURE, weight, disagree=disagree)
    if not verified:
        return _by_band(phase, AdviceReason.UNVERIFIED, weight, disagree=disagree)
    # Towards its day the weight is content with almost any humidity; then it need not ask for one.
    if low <= min(band.low, asked) and max(band.high, asked) <= high:
        return _by_band(phase, AdviceReason.CONTENT, weight, disagree=disagree)
    humidity = possible(value, band)
    reachable = humidity == value or low <= humidity <= high
    return HoldAdvice(
        basis=AdviceBasis.WEIGHT,
        humidity=humidity,
        low=possible(weight.humidity.low, band),
        high=possible(weight.humidity.high, band),
        by_band=None if phase.hold is None else asked,
        by_weight=weight.humidity,
        weight_edges=weight.edges,
        disagree=disagree,
        reachable=reachable,
        until_day=until_day,
        reason=AdviceReason.WEIGHT if reachable else AdviceReason.OUT_OF_REACH,
    )


def possible(humidity: float, band: Band) -> float:
    """The nearest humidity that a machine can be asked to hold, % RH."""
    return min(max(humidity, min(DRIEST, band.low)), max(MOISTEST, band.high))


def _asked_by_band(phase: PhaseFigures) -> float:
    """What brings the phase onto its aim, as far as the machine has ever held it or the band allows; within the
    band where little of it is left. As `hatchbook.figures.to_hold` says it."""
    hold, band = phase.hold, phase.humidity_band
    if hold is None or phase.kind is PhaseKind.LOCKDOWN:
        # In lockdown hours that were too dry are not made good by hours that are too moist.
        return band.aim
    if phase.remaining_h < LITTLE_LEFT_H:
        return min(max(hold.aim, band.low), band.high)
    lowest, highest = min(hold.reachable_low, band.low), max(hold.reachable_high, band.high)
    return possible(min(max(hold.aim, lowest), highest), band)


def _by_band(
    phase: PhaseFigures, reason: AdviceReason, weight: WeightAim | None = None, *, disagree: bool = False
) -> HoldAdvice:
    hold, band = phase.hold, phase.humidity_band
    value = _asked_by_band(phase)
    low, high = band.low, band.high
    if hold is not None and phase.kind is not PhaseKind.LOCKDOWN:
        low, high = hold.low, hold.high
    return HoldAdvice(
        basis=AdviceBasis.BAND,
        humidity=value,
        low=min(possible(low, band), value),
        high=max(possible(high, band), value),
        by_band=None if hold is None else value,
        by_weight=None if weight is None else weight.humidity,
        weight_edges=None if weight is None else weight.edges,
        disagree=disagree,
        reachable=hold is None or phase.kind is PhaseKind.LOCKDOWN or value == hold.aim,
        until_day=phase.to_day,
        reason=reason,
    )
