"""The one humidity to hold from now on: what key figure, chart and the machine's guide all show.

Humidity in % RH, days since the batch was set.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.results import PhaseFigures, PhaseState
from hatchbook.figures.weight_results import AdviceBasis, HoldAdvice
from hatchbook.statistics.mean_path import mean_path
from hatchbook.trade.codes import PhaseKind

LITTLE_LEFT_H = 12.0
"""Towards the end of a phase what is held hardly moves its mean: then its band is enough (our choice)."""
SAME_AIM = 3.0
"""Humidities nearer than this are one advice: no machine is set more closely (our choice, as for the guide)."""


@dataclass(frozen=True)
class ToHold:
    """The humidity to hold until a day, and why.

    low, high: the humidities that still do: the phase ends inside its band, or the eggs within what is sure of
        their weight.
    aim_takes: what the aim would take where that is not asked for, since no day in this machine ever held it and it
        lies outside the band, or since little is left; else None.
    ends_on: the phase's mean if it is held to the end; None without a mean, or where the weight decides.
    """

    humidity: float
    low: float
    high: float
    origin: WantedFrom
    phase: PhaseFigures
    until_day: float
    aim_takes: float | None = None
    ends_on: float | None = None

    @property
    def by_weight(self) -> bool:
        """Whether the eggs' weight decides."""
        return self.origin is WantedFrom.WEIGHT

    @property
    def steers(self) -> bool:
        """Whether it is worth steering for; else anything in the band is as good."""
        return self.origin is not WantedFrom.BAND

    @property
    def in_band(self) -> bool:
        """Whether the phase ends inside its band."""
        band = self.phase.humidity_band
        return self.ends_on is None or band.low <= self.ends_on <= band.high


def weight_decides(advice: HoldAdvice | None) -> bool:
    """Whether the eggs' weight asks for something else than the band, and is known well enough to be followed."""
    if advice is None or advice.basis is not AdviceBasis.WEIGHT:
        return False
    if advice.disagree or advice.by_band is None:
        return True
    inside = advice.low <= advice.by_band <= advice.high
    return not inside and abs(advice.by_band - advice.humidity) >= SAME_AIM


def to_hold(phases: Sequence[PhaseFigures], advice: HoldAdvice | None) -> ToHold | None:
    """What to hold in the phase that runs, or comes next; None when the last is over.

    In lockdown it is the phase's own aim: hours that were too dry are not made good by hours that are too moist.
    Before it the eggs' weight decides where it asks for something else than the band; else what brings the mean
    onto its aim, as far as the machine has ever held it or the band allows.
    """
    phase = next((one for one in phases if one.state is not PhaseState.OVER), None)
    if phase is None:
        return None
    by_band = held_by_band(phase)
    steered = phase.state is PhaseState.RUNNING and phase.kind is not PhaseKind.LOCKDOWN and by_band.steers
    if steered and advice is not None and weight_decides(advice):
        until = min(advice.until_day, phase.to_day)
        return ToHold(advice.humidity, advice.low, advice.high, WantedFrom.WEIGHT, phase, until)
    return by_band


def held_by_band(phase: PhaseFigures) -> ToHold:
    """What to hold in a phase that is not over, as if nothing were known of the eggs' weight."""
    band, hold = phase.humidity_band, phase.hold
    if phase.kind is PhaseKind.LOCKDOWN:
        return _ends(phase, band.aim, band.low, band.high, WantedFrom.LOCKDOWN)
    if phase.state is PhaseState.RUNNING and phase.remaining_h < LITTLE_LEFT_H:
        asked = band.aim if hold is None else hold.to_hold
        return _ends(phase, min(max(asked, band.low), band.high), band.low, band.high, WantedFrom.BAND)
    if hold is None or not math.isfinite(hold.to_hold):
        return ToHold(band.aim, band.low, band.high, WantedFrom.AIM, phase, phase.to_day)
    lowest, highest = min(hold.reachable_low, band.low), max(hold.reachable_high, band.high)
    return _ends(phase, min(max(hold.to_hold, lowest), highest), hold.low, hold.high, WantedFrom.HOLD)


def _ends(phase: PhaseFigures, humidity: float, low: float, high: float, origin: WantedFrom) -> ToHold:
    hold, drift = phase.hold, phase.humidity
    ends_on = None
    if drift is not None and not math.isnan(drift.mean):
        ends_on = float(mean_path(drift.mean, phase.elapsed_h, humidity, phase.remaining_h))
    takes = hold.aim if hold is not None and hold.aim != humidity else None
    return ToHold(humidity, low, high, origin, phase, phase.to_day, takes, ends_on)
