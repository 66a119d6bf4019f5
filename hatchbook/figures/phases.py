"""What the readings say of each phase of a batch."""

from __future__ import annotations

import math
from collections import Counter

from hatchbook.figures.corrections import plus_minus_between, probe_corrections
from hatchbook.figures.course import Course, Stretch
from hatchbook.figures.reach import machine_reach
from hatchbook.figures.results import Band, PhaseFigures, PhaseState
from hatchbook.figures.series import StretchSeries
from hatchbook.journal import Probe
from hatchbook.statistics.averages import HoldFromNow, Trace, hold_range
from hatchbook.statistics.calibration import resolution_of
from hatchbook.statistics.drift import PhaseDrift, phase_verdict
from hatchbook.statistics.trace import FloatArray
from hatchbook.trade.codes import DutyKind, EventKind

NARROWEST_HUMIDITY = 0.5
NARROWEST_TEMPERATURE_C = 0.1
"""A band that was given as one value is judged with this half-width: no instrument reads finer (our choice)."""


def phase_figures(course: Course) -> tuple[PhaseFigures, ...]:
    """The phases of a batch, first to last."""
    return tuple(
        _phase(course, stretch, series)
        for stretch, series in zip(course.stretches, course.series, strict=True)
    )


def _phase(course: Course, stretch: Stretch, series: StretchSeries | None) -> PhaseFigures:
    phase = stretch.phase
    humidity_band = Band(phase.humidity_low, phase.humidity_aim, phase.humidity_high)
    temperature_band = Band(phase.temperature_low_c, phase.temperature_aim_c, phase.temperature_high_c)
    humidity = temperature = half = None
    if series is not None:
        humidity = _verdict(series.humidity_trace, stretch, humidity_band, NARROWEST_HUMIDITY)
        temperature = _verdict(series.temperature_trace, stretch, temperature_band, NARROWEST_TEMPERATURE_C)
        if series.humidity_probe is not None and humidity is not None:
            mean = humidity_band.aim if math.isnan(humidity.mean) else humidity.mean
            half = plus_minus(course, stretch, series.humidity_probe, series.shown_humidity, mean)
    due, done = _turns(course, stretch)
    return PhaseFigures(
        kind=phase.kind,
        state=stretch.state,
        from_day=phase.from_day,
        to_day=phase.to_day,
        start_at=stretch.start_at,
        end_at=stretch.end_at,
        humidity_band=humidity_band,
        temperature_band=temperature_band,
        turns_per_day=phase.turns_per_day,
        elapsed_h=stretch.elapsed_h,
        remaining_h=stretch.remaining_h,
        humidity=humidity,
        temperature=temperature,
        plus_minus=half,
        hold=None if humidity is None else _hold(course, stretch, humidity, humidity_band),
        turns_due=due,
        turns_done=done,
        machine_name=course.machine_names[course.machine_of(phase)],
        probe_name=series.probe.name if series is not None and series.probe is not None else "",
    )


def _verdict(trace: Trace | None, stretch: Stretch, band: Band, narrowest: float) -> PhaseDrift | None:
    if trace is None:
        return None
    low, high = min(band.low, band.aim - narrowest), max(band.high, band.aim + narrowest)
    if band.low < band.high:
        low, high = band.low, band.high
    return phase_verdict(trace, stretch.start_at, stretch.elapsed_at, low, band.aim, high)


def plus_minus(course: Course, stretch: Stretch, probe: Probe, shown: FloatArray, mean: float) -> float:
    """How far the mean humidity of a stretch may be off because of the hygrometer, % RH, plus or minus.

    By its checks and what they leave uncertain, else by its own accuracy; see ``plus_minus_between``.

    Args:
        shown: the readings of the stretch as the probe showed them.
        mean: of the stretch, corrected.
    """
    return plus_minus_between(
        probe_corrections(course.journal, probe).humidity,
        probe.accuracy_humidity,
        stretch.start_at,
        stretch.elapsed_at,
        mean,
        resolution_of(shown),
        course.now,
    )


def _hold(course: Course, stretch: Stretch, humidity: PhaseDrift, band: Band) -> HoldFromNow | None:
    """What to hold for the rest of a phase that runs and has a mean."""
    if stretch.state is not PhaseState.RUNNING or math.isnan(humidity.mean) or stretch.remaining_h <= 0:
        return None
    reach = machine_reach(course.journal, course.machine_of(stretch.phase), course.now)
    return hold_range(
        humidity.mean,
        stretch.elapsed_h,
        stretch.remaining_h,
        band.low,
        band.aim,
        band.high,
        reach.low,
        reach.high,
    )


def _turns(course: Course, stretch: Stretch) -> tuple[int, int]:
    """How many turnings of a phase were due until now, and how many were done.

    A ticked turning belongs to the phase in which it was due, whenever it was ticked; the event that its tick
    has logged counts no second time. Turnings logged without a duty count by their instant.
    """
    if course.seen_until < stretch.start_at:
        return 0, 0
    ends_at = min(stretch.elapsed_at + 1, stretch.end_at)
    ticked = Counter(
        duty.done_at for duty in course.duties if duty.kind is DutyKind.TURN and duty.done_at is not None
    )
    logged = Counter(
        event.at
        for event in course.events
        if event.kind is EventKind.TURNED and stretch.start_at <= event.at < ends_at
    )
    due = [
        duty
        for duty in course.duties
        if duty.kind is DutyKind.TURN and stretch.start_at <= duty.due_at < ends_at
    ]
    done = sum(duty.done_at is not None for duty in due)
    return len(due), done + sum(max(0, count - ticked[at]) for at, count in logged.items())
