"""What the temperature of a batch did: time outside its bands, power cuts, and when the hatch is to be expected.

Power cuts are those that were logged and those found from the curve alone; one of each that overlap are the same.
What is found while the machine stood open anyway (a candling, a weighing, a lid logged open) is none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from hatchbook.figures.egg_age import egg_ages
from hatchbook.figures.plain import plain_fields
from hatchbook.figures.results import BatchFigures, Curves, PhaseFigures
from hatchbook.journal import Event
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.statistics.excursions import time_outside
from hatchbook.statistics.power_cuts import COARSEST_S, ROOM_C, power_cuts
from hatchbook.trade.codes import DutyKind, EventKind, PhaseKind
from hatchbook.trade.hatch_time import HatchShift, shift_by_cooling, shift_by_temperature, shifts_by_storage

OPEN_DUTIES = frozenset({DutyKind.CANDLE, DutyKind.WEIGH, DutyKind.LOCKDOWN})
OPEN_AROUND_S = 45 * 60
"""So long before and after a candling, a weighing or the move to lockdown the lid may have stood open (ours)."""
_SAME_WITHIN_S = 30 * 60
_SETTING_S = 3 * 3600
"""In the first hours the cold eggs cool the machine: nothing is looked for in them."""
_MOSTLY = 0.5


@dataclass(frozen=True)
class PhaseTemperature:
    """Hours outside the band of a phase, of those known."""

    kind: PhaseKind
    known_h: float
    below_h: float
    above_h: float


@dataclass(frozen=True)
class CutFigures:
    """A power cut. ``until``: None where it is not known. ``lowest_c``: None where nothing was measured.

    ``event``: the uid of the event that logs it; "" for one found from the curve alone, of which ``sure`` says
    whether it can be anything else.
    """

    at: int
    until: int | None
    lowest_c: float | None
    sure: bool
    event: str = ""

    @property
    def seconds(self) -> int:
        """How long it lasted; 0 where that is not known."""
        return 0 if self.until is None else self.until - self.at

    @property
    def found(self) -> bool:
        """Whether it was found from the curve alone."""
        return not self.event


@dataclass(frozen=True)
class TemperatureFigures:
    """Temperature beyond its mean. ``searched``: the readings lie near enough together to show a cut.

    ``expectation``: why the hatch is to be expected earlier or later, with the source of each reason.
    """

    phases: tuple[PhaseTemperature, ...]
    cuts: tuple[CutFigures, ...]
    searched: bool
    expectation: tuple[HatchShift, ...]

    @property
    def cold_h(self) -> float:
        """Hours without heat, the doubtful ones left out."""
        return sum(cut.seconds for cut in self.cuts if cut.sure) / 3600

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self) | {"cold_h": self.cold_h}


def temperature_figures(figures: BatchFigures, curves: Curves, zone: ZoneInfo) -> TemperatureFigures:
    """The temperature of a batch, from its figures and curves; ``zone`` tells the date of the setting."""
    cuts = curves.cuts
    return TemperatureFigures(
        phases=tuple(_phase(phase, curves) for phase in figures.phases),
        cuts=cuts,
        searched=_searched(curves),
        expectation=_expectation(figures, cuts, zone),
    )


def batch_cuts(curves: Curves, room_c: float = ROOM_C) -> tuple[CutFigures, ...]:
    """The cuts of a batch, logged and found, in the order of time."""
    logged = [event for event in curves.events if event.kind is EventKind.POWER_CUT]
    opened = opened_stretches(curves)
    found: list[CutFigures] = []
    for phase in curves.phases:
        first = int(np.searchsorted(curves.at, phase.start_at))
        stop = int(np.searchsorted(curves.at, phase.end_at if phase is not curves.phases[-1] else 2**62))
        part = slice(first, stop)
        for cut in power_cuts(curves.at[part], curves.temperature_c[part], curves.humidity[part], room_c):
            end = cut.at if cut.until is None else cut.until
            if cut.at < curves.start_at + _SETTING_S:
                continue
            explained = any(begin <= end and cut.at <= until for begin, until in opened)
            if not (explained and end - cut.at < 2 * OPEN_AROUND_S):
                found.append(CutFigures(cut.at, cut.until, cut.lowest_c, cut.sure and not explained))
    merged = [_logged(event, found, curves) for event in logged]
    alone = [cut for cut in found if not any(_same(cut, event) for event in logged)]
    return tuple(sorted([*merged, *alone], key=lambda cut: cut.at))


def opened_stretches(curves: Curves) -> tuple[tuple[int, int], ...]:
    """When the machine stood open or may have: lids, candlings, weighings, the move to lockdown. UTC seconds."""
    lids = [
        (event.at - _SAME_WITHIN_S // 2, (event.ends_at or event.at) + _SAME_WITHIN_S // 2)
        for event in curves.events
        if event.kind is EventKind.LID
    ]
    duties = [
        (duty.done_at - OPEN_AROUND_S, duty.done_at + OPEN_AROUND_S)
        for duty in curves.duties
        if duty.kind in OPEN_DUTIES and duty.done_at is not None
    ]
    return tuple(sorted(lids + duties))


def _same(cut: CutFigures, event: Event) -> bool:
    end = event.at if event.ends_at is None else event.ends_at
    until = cut.at if cut.until is None else cut.until
    return cut.at <= end + _SAME_WITHIN_S and until >= event.at - _SAME_WITHIN_S


def _logged(event: Event, found: list[CutFigures], curves: Curves) -> CutFigures:
    """A logged cut, with what the curve adds: how low it went, and its end where none was noted."""
    same = [cut for cut in found if _same(cut, event)]
    until = event.ends_at
    if until is None and same:
        until = same[-1].until
    lows = [cut.lowest_c for cut in same if cut.lowest_c is not None]
    lowest = min(lows, default=None)
    if lowest is None and until is not None:
        part = slice(*np.searchsorted(curves.at, (event.at, until + OPEN_AROUND_S)))
        read = curves.temperature_c[part][~np.isnan(curves.temperature_c[part])]
        lowest = float(read.min()) if read.size else None
    return CutFigures(event.at, until, lowest, True, event.uid)


def _searched(curves: Curves) -> bool:
    at = curves.at[~np.isnan(curves.temperature_c)]
    return at.size > 2 and float(np.median(np.diff(at))) <= COARSEST_S


def _phase(phase: PhaseFigures, curves: Curves) -> PhaseTemperature:
    part = slice(*np.searchsorted(curves.at, (phase.start_at, phase.end_at + 1)))
    trace = Trace(curves.at[part], curves.temperature_c[part])
    end_at = min(phase.end_at, int(phase.start_at + phase.elapsed_h * 3600))
    if end_at <= phase.start_at:
        return PhaseTemperature(phase.kind, 0.0, 0.0, 0.0)
    band = phase.temperature_band
    below, above = time_outside(trace, phase.start_at, end_at, band.low, band.high)
    known = trace.average(phase.start_at, end_at).known_s
    return PhaseTemperature(phase.kind, known / 3600, below / 3600, above / 3600)


def _expectation(
    figures: BatchFigures, cuts: tuple[CutFigures, ...], zone: ZoneInfo
) -> tuple[HatchShift, ...]:
    ages = egg_ages((egg.egg for egg in figures.eggs), figures.batch.set_at, zone)
    shifts: list[HatchShift | None] = []
    if ages is not None and ages.known >= _MOSTLY * ages.eggs and ages.mean >= 0:
        shifts += shifts_by_storage(figures.batch.species, ages.mean)
    for phase in figures.phases[:1]:
        drift, band = phase.temperature, phase.temperature_band
        if drift is not None and drift.verdict in (DriftVerdict.LOW, DriftVerdict.HIGH):
            edge = band.low if drift.verdict is DriftVerdict.LOW else band.high
            shifts.append(shift_by_temperature(drift.mean - edge))
    shifts.append(shift_by_cooling(sum(cut.seconds for cut in cuts if cut.sure) / 3600))
    return tuple(shift for shift in shifts if shift is not None)
