"""The figures and the curves of one batch."""

from __future__ import annotations

import numpy as np

from hatchbook.figures.course import Course
from hatchbook.figures.eggs import egg_figures, hatch_timing, pen_names
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.results import BatchFigures, BatchState, Curves, LastReading, PhaseFigures
from hatchbook.figures.series import StretchSeries
from hatchbook.figures.weight_forecast import weight_forecast
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import Journal
from hatchbook.statistics.rates import batch_rates
from hatchbook.statistics.same_value import same_value_stretches
from hatchbook.statistics.trace import FloatArray
from hatchbook.trade.codes import DutyKind, PhaseKind


def batch_view(journal: Journal, uid: str, now: int | None = None) -> tuple[BatchFigures, Curves]:
    """The figures and the curves of a batch at an instant (None: of the clock), its readings read once.

    Raises:
        RecordMissingError: there is no such batch.
    """
    course = Course(journal, uid, now)
    phases = phase_figures(course)
    return _figures(course, phases), _curves(course, phases)


def batch_figures(journal: Journal, uid: str, now: int | None = None) -> BatchFigures:
    """The figures of a batch; see ``batch_view``."""
    course = Course(journal, uid, now)
    return _figures(course, phase_figures(course))


def batch_curves(journal: Journal, uid: str, now: int | None = None) -> Curves:
    """The curves of a batch; see ``batch_view``."""
    course = Course(journal, uid, now)
    return _curves(course, phase_figures(course))


def _figures(course: Course, phases: tuple[PhaseFigures, ...]) -> BatchFigures:
    batch = course.batch
    weights = BatchWeights(course)
    eggs = egg_figures(course, weights)
    rates = batch_rates([egg.outcome for egg in eggs])
    lockdown = next((phase for phase in phases if phase.kind is PhaseKind.LOCKDOWN), None)
    candlings = course.journal.candlings.of_batch(batch.uid)
    return BatchFigures(
        batch=batch,
        now=course.now,
        state=course.state,
        day=course.day,
        lockdown_at=course.due_at if lockdown is None else lockdown.start_at,
        hatch_due_at=course.due_at,
        lockdown_day=course.day_of(course.due_at) if lockdown is None else lockdown.from_day,
        machine_name=course.machine.name,
        pen_names=pen_names(eggs),
        probe_name=_probe_name(course),
        last_reading=_last_reading(course),
        phases=phases,
        eggs=eggs,
        counts=rates.counts.by_fate,
        rates=rates,
        timing=hatch_timing(course, eggs),
        weight=weights.latest(),
        candled_days=tuple(course.day_of(candling.at) for candling in candlings if candling.at <= course.now),
        next_weighing_day=_next_weighing_day(course),
        trays=course.machine.trays,
        tray_rows=course.machine.tray_rows,
        tray_columns=course.machine.tray_columns,
        forecast=weight_forecast(course, weights, eggs, phases),
    )


def _begun(course: Course) -> list[StretchSeries]:
    """The series of the phases that have begun and of which there is a reading, first to last."""
    return [series for series in course.series if series is not None and series.probe is not None]


def _probe_name(course: Course) -> str:
    """The probe whose readings count in the latest phase that has any."""
    begun = _begun(course)
    probe = begun[-1].probe if begun else None
    return "" if probe is None else probe.name


def _last_reading(course: Course) -> LastReading | None:
    for series in reversed(_begun(course)):
        probe = series.probe
        if series.at.size and probe is not None:
            temperature_c, humidity = float(series.temperature_c[-1]), float(series.humidity[-1])
            return LastReading(
                at=int(series.at[-1]),
                temperature_c=None if np.isnan(temperature_c) else temperature_c,
                humidity=None if np.isnan(humidity) else humidity,
                probe_name=probe.name,
            )
    return None


def _next_weighing_day(course: Course) -> float | None:
    """The day of the next weighing that is still to do; None for a closed batch."""
    if course.state is BatchState.CLOSED:
        return None
    to_do = (
        duty
        for duty in course.duties
        if duty.kind is DutyKind.WEIGH and duty.done_at is None and duty.due_at >= course.now
    )
    duty = next(to_do, None)
    return None if duty is None else course.day_of(duty.due_at)


def _curves(course: Course, phases: tuple[PhaseFigures, ...]) -> Curves:
    at, humidity, temperature_c, running_at, running_mean, unknown = [], [], [], [], [], []
    shown_humidity, shown_temperature_c = [], []
    for stretch, series, following in zip(
        course.stretches, course.series, [*course.series[1:], None], strict=True
    ):
        if series is None:
            continue
        # A reading on the stroke belongs to the phase that begins.
        stop = series.at.size
        if following is not None:
            stop = int(np.searchsorted(series.at, stretch.end_at))
        at.append(series.at[:stop])
        humidity.append(series.humidity[:stop])
        temperature_c.append(series.temperature_c[:stop])
        shown_humidity.append(series.shown_humidity[:stop])
        shown_temperature_c.append(series.shown_temperature_c[:stop])
        trace = series.humidity_trace
        if trace is not None:
            running = trace.running_mean(stretch.start_at, stretch.elapsed_at)
            running_at += [running.at_s, np.array([stretch.elapsed_at])]
            running_mean += [running.mean, np.array([np.nan])]
            unknown.append(trace.unknown_stretches(stretch.start_at, stretch.elapsed_at))
        elif stretch.elapsed_at > stretch.start_at:
            unknown.append(np.array([[stretch.start_at, stretch.elapsed_at]]))
    instants = np.concatenate([np.empty(0, np.int64), *at])
    return Curves(
        batch=course.batch,
        now=course.now,
        start_at=course.batch.set_at,
        end_at=max(course.due_at, course.seen_until),
        at=instants,
        humidity=_one(humidity),
        temperature_c=_one(temperature_c),
        running_at=np.concatenate([np.empty(0, np.int64), *running_at[:-1]]),
        running_mean=np.concatenate([np.empty(0), *running_mean[:-1]]),
        unknown=np.concatenate([np.empty((0, 2), np.int64), *unknown]),
        phases=phases,
        events=course.events,
        duties=course.duties,
        shown_humidity=_if_other(shown_humidity, humidity),
        shown_temperature_c=_if_other(shown_temperature_c, temperature_c),
        still=same_value_stretches(instants, _one(shown_humidity), _one(shown_temperature_c)),
    )


def _one(parts: list[FloatArray]) -> FloatArray:
    return np.concatenate([np.empty(0), *parts])


def _if_other(shown: list[FloatArray], corrected: list[FloatArray]) -> FloatArray | None:
    """What was shown; None where it is the same as what it was corrected to."""
    pairs = zip(shown, corrected, strict=True)
    return None if all(np.array_equal(*pair, equal_nan=True) for pair in pairs) else _one(shown)
