"""Which humidity a batch in a machine wants now, and why."""

from __future__ import annotations

from hatchbook.figures.guide_results import Wanted, WantedFrom
from hatchbook.figures.results import BatchFigures, PhaseFigures, PhaseState
from hatchbook.figures.weight_results import AdviceBasis
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.plan import instant_of_day


def wanted_humidity(figures: BatchFigures) -> Wanted | None:
    """The humidity to hold from now on: by the eggs' weight where that advises, else by the phase.

    None for a batch that is over. In lockdown it is the phase's own aim, since its mean must not be made good by
    hours that are too moist or too dry; before it, an average out of reach is brought to what can be held.
    """
    phase = _phase(figures)
    if phase is None:
        return None
    band, until_at = phase.humidity_band, phase.end_at
    if phase.kind is PhaseKind.LOCKDOWN:
        return _wanted(figures, phase, band.low, band.aim, band.high, WantedFrom.LOCKDOWN, until_at)
    advice = figures.forecast.advice if figures.forecast is not None else None
    if advice is not None and advice.basis is AdviceBasis.WEIGHT and phase.state is PhaseState.RUNNING:
        until = instant_of_day(figures.batch.set_at, advice.until_day)
        return _wanted(figures, phase, advice.low, advice.humidity, advice.high, WantedFrom.WEIGHT, until)
    hold = phase.hold
    if hold is not None:
        # An aim far out, as at the end of a phase, is brought to what the machine has held or the band allows.
        lowest, highest = min(hold.reachable_low, band.low), max(hold.reachable_high, band.high)
        humidity = min(max(hold.to_hold, lowest), highest)
        return _wanted(figures, phase, hold.low, humidity, hold.high, WantedFrom.HOLD, until_at)
    return _wanted(figures, phase, band.low, band.aim, band.high, WantedFrom.AIM, until_at)


def _phase(figures: BatchFigures) -> PhaseFigures | None:
    """The phase that runs or comes next; None when the last is over."""
    open_ones = [phase for phase in figures.phases if phase.state is not PhaseState.OVER]
    return open_ones[0] if open_ones else None


def _wanted(
    figures: BatchFigures,
    phase: PhaseFigures,
    low: float,
    humidity: float,
    high: float,
    origin: WantedFrom,
    until_at: int,
) -> Wanted:
    middle = min(max(humidity, 0.0), 100.0)
    return Wanted(
        humidity=middle,
        low=min(max(low, 0.0), middle),
        high=max(min(high, 100.0), middle),
        origin=origin,
        phase=phase.kind,
        batch=figures.batch.uid,
        batch_label=figures.batch.label,
        batch_name=figures.batch.name,
        until_at=until_at,
    )
