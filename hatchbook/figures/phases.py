"""What the readings say of each phase of a batch."""

from __future__ import annotations

import math
from collections import Counter

from hatchbook.figures.course import Course, Stretch
from hatchbook.figures.reach import machine_reach
from hatchbook.figures.results import Band, PhaseFigures, PhaseState
from hatchbook.figures.series import StretchSeries
from hatchbook.journal import Journal, Probe
from hatchbook.statistics.averages import HoldFromNow, Trace, hold_range
from hatchbook.statistics.drift import PhaseDrift, phase_verdict
from hatchbook.trade.codes import DutyKind, EventKind, Quantity
from hatchbook.trade.instants import DAY_S

CHECKED_PLUS_MINUS = 2.0
UNCHECKED_PLUS_MINUS = 5.0
"""How far a mean humidity may be off because of the hygrometer, % RH: low-cost capacitive sensors, typically 2 to
5 % with a slow drift upwards. *From memory*: no source for it was found."""
CHECK_HOLDS_S = 183 * DAY_S
"""A check tells for half a year before and after it (our choice)."""

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
    humidity = temperature = probe = None
    if series is not None:
        humidity = _verdict(series.humidity_trace, stretch, humidity_band, NARROWEST_HUMIDITY)
        temperature = _verdict(series.temperature_trace, stretch, temperature_band, NARROWEST_TEMPERATURE_C)
        probe = series.humidity_probe
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
        plus_minus=None if probe is None else plus_minus(course.journal, probe, stretch, course.now),
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


def plus_minus(journal: Journal, probe: Probe, stretch: Stretch, now: int) -> float:
    """How far the mean humidity of a stretch may be off because of the hygrometer, % RH, plus or minus.

    The probe's own accuracy where it is known; else by whether it was checked within half a year.
    """
    if probe.accuracy_humidity is not None:
        return probe.accuracy_humidity
    until = min(now, stretch.elapsed_at + CHECK_HOLDS_S)
    checked = any(
        check.quantity is Quantity.HUMIDITY and stretch.elapsed_at - CHECK_HOLDS_S <= check.at <= until
        for check in journal.probes.checks(probe.uid)
    )
    return CHECKED_PLUS_MINUS if checked else UNCHECKED_PLUS_MINUS


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
