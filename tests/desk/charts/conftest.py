"""A made-up batch for the charts: eleven days of a hen batch at ten minutes, with a gap, lids and a power cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from types import SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.figures.results import (
    Band,
    BatchFigures,
    BatchState,
    Curves,
    HatchTiming,
    LastReading,
    PhaseFigures,
    PhaseState,
)
from hatchbook.journal import Batch, Duty, Event
from hatchbook.statistics.averages import Trace, hold_range
from hatchbook.statistics.drift import phase_verdict
from hatchbook.statistics.rates import batch_rates
from hatchbook.trade.codes import DutyKind, EventKind, PhaseKind
from numpy.typing import NDArray
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget

ZONE = ZoneInfo("Europe/Lisbon")
SET_AT = int(datetime(2026, 5, 3, 9, 0, tzinfo=ZONE).timestamp())
DAY = 86_400
HEN = (
    (PhaseKind.INCUBATION, 0.0, 18.0, Band(40, 45, 50), Band(37.5, 37.7, 37.9), 3),
    (PhaseKind.LOCKDOWN, 18.0, 21.0, Band(60, 65, 70), Band(37.2, 37.5, 37.8), 0),
)


def make_phases(
    at: NDArray[np.int64],
    humidity: NDArray[np.float64],
    temperature_c: NDArray[np.float64],
    now: int,
    set_at: int = SET_AT,
    programme: Sequence[tuple[Any, ...]] = HEN,
) -> tuple[tuple[PhaseFigures, ...], list[Any], list[Any]]:
    """Phase figures as `hatchbook.figures` makes them, with the running means and the unknown stretches."""
    phases, running, unknown = [], [], []
    for kind, from_day, to_day, band, heat, turns in programme:
        start, end = set_at + round(from_day * DAY), set_at + round(to_day * DAY)
        elapsed = max(start, min(now, end))
        drift = heat_drift = hold = None
        state = PhaseState.TO_COME if now < start else PhaseState.OVER if now >= end else PhaseState.RUNNING
        if now > start and not np.isnan(humidity).all():
            trace = Trace.for_window(at, humidity, start, elapsed)
            warm = Trace.for_window(at, temperature_c, start, elapsed)
            drift = phase_verdict(trace, start, elapsed, band.low, band.aim, band.high)
            heat_drift = phase_verdict(warm, start, elapsed, heat.low, heat.aim, heat.high)
            means = trace.running_mean(start, elapsed)
            running.append((means.at_s, means.mean, elapsed))
            unknown.append(trace.unknown_stretches(start, elapsed))
            if state is PhaseState.RUNNING:
                gone, left = (elapsed - start) / 3600, (end - elapsed) / 3600
                hold = hold_range(drift.mean, gone, left, band.low, band.aim, band.high)
        phases.append(
            PhaseFigures(
                kind=kind,
                state=state,
                from_day=from_day,
                to_day=to_day,
                start_at=start,
                end_at=end,
                humidity_band=band,
                temperature_band=heat,
                turns_per_day=turns,
                elapsed_h=(elapsed - start) / 3600,
                remaining_h=(end - elapsed) / 3600,
                humidity=drift,
                temperature=heat_drift,
                plus_minus=2.0 if drift else None,
                hold=hold,
                turns_due=0,
                turns_done=0,
                machine_name="Dairy",
            )
        )
    return tuple(phases), running, unknown


def make_curves(
    at: NDArray[np.int64],
    humidity: NDArray[np.float64],
    temperature_c: NDArray[np.float64],
    now: int,
    *,
    set_at: int = SET_AT,
    programme: Sequence[tuple[Any, ...]] = HEN,
    events: Sequence[Event] = (),
    duties: Sequence[Duty] = (),
    batch: Batch | None = None,
) -> Curves:
    """Curves as `hatchbook.figures` makes them."""
    phases, running, unknown = make_phases(at, humidity, temperature_c, now, set_at, programme)
    running_at: list[Any] = []
    running_mean: list[Any] = []
    for instants, means, elapsed in running:
        running_at += [instants, [elapsed]]
        running_mean += [means, [np.nan]]
    return Curves(
        batch=batch or make_batch(set_at, programme[-1][2]),
        now=now,
        start_at=set_at,
        end_at=max(phases[-1].end_at, int(at[-1]) if at.size else 0),
        at=at,
        humidity=humidity,
        temperature_c=temperature_c,
        running_at=np.concatenate([np.empty(0, np.int64), *running_at[:-1]]).astype(np.int64),
        running_mean=np.concatenate([np.empty(0), *running_mean[:-1]]),
        unknown=np.concatenate([np.empty((0, 2), np.int64), *unknown]),
        phases=phases,
        events=tuple(events),
        duties=tuple(duties),
    )


def make_batch(set_at: int = SET_AT, days: float = 21.0, label: str = "26-05") -> Batch:
    """A batch of the made-up holding."""
    return Batch(
        label=label,
        species="hen",
        machine="dairy",
        set_at=set_at,
        incubation_days=days,
        programme="{}",
        early_until_day=7,
        mid_until_day=14,
        name="Orchard hens",
        uid=f"batch-{label}",
    )


def make_figures(curves: Curves, state: BatchState = BatchState.RUNNING) -> BatchFigures:
    """Figures that go with curves."""
    last = None
    if curves.at.size:
        last = LastReading(
            int(curves.at[-1]), float(curves.temperature_c[-1]), float(curves.humidity[-1]), "Shelf"
        )
    return BatchFigures(
        batch=curves.batch,
        now=curves.now,
        state=state,
        day=(curves.now - curves.start_at) / DAY,
        lockdown_at=curves.phases[-1].start_at,
        hatch_due_at=curves.phases[-1].end_at,
        lockdown_day=curves.phases[-1].from_day,
        machine_name="Dairy",
        pen_names=("Orchard",),
        probe_name="Shelf",
        last_reading=last,
        phases=curves.phases,
        eggs=(),
        counts={},
        rates=batch_rates([]),
        timing=HatchTiming(None, None, None, (), 21.0),
        weight=None,
        candled_days=(),
        next_weighing_day=None,
    )


def _event(day: float, kind: EventKind, uid: str, **more: Any) -> Event:
    return Event(SET_AT + round(day * DAY), kind, batch="batch-26-05", uid=uid, **more)


def sample_events() -> list[Event]:
    """What was done to the machine and what befell it."""
    filled = (0.02, 1.98, 3.95, 5.9, 7.3, 8.9, 10.35)
    events = [
        _event(day, EventKind.WATER, f"water{number}", channels_filled=3) for number, day in enumerate(filled)
    ]
    events += [
        _event(3.96, EventKind.VENT, "vent0", vent=0.5),
        _event(8.92, EventKind.VENT, "vent1", vent=0.75),
    ]
    events += [
        _event(day, EventKind.LID, f"lid{number}", ends_at=SET_AT + round(day * DAY) + minutes * 60)
        for number, (day, minutes) in enumerate(((3.95, 4), (7.42, 14), (11.02, 11)))
    ]
    events.append(_event(6.62, EventKind.POWER_CUT, "power0", ends_at=SET_AT + round(6.62 * DAY) + 110 * 60))
    events.append(_event(6.7, EventKind.NOTE, "note0", text="Generator borrowed"))
    events += [_event(day + 0.3, EventKind.TURNED, f"turn{day}") for day in range(11)]
    return sorted(events, key=lambda event: event.at)


def sample_duties(now: int) -> list[Duty]:
    """The plan of a hen batch, done as far as it was due."""
    plan = (
        (0.0, DutyKind.SET),
        (4.0, DutyKind.WEIGH),
        (6.82, DutyKind.CANDLE),
        (7.28, DutyKind.WEIGH),
        (10.9, DutyKind.WEIGH),
        (13.82, DutyKind.CANDLE),
        (14.28, DutyKind.WEIGH),
        (17.66, DutyKind.CANDLE),
        (18.0, DutyKind.LOCKDOWN),
        (18.1, DutyKind.WEIGH),
        (21.0, DutyKind.HATCH),
    )
    duties = []
    for day, kind in plan:
        due = SET_AT + round(day * DAY)
        duties.append(Duty(kind, due, "batch-26-05", day, done_at=due if due <= now else None))
    duties += [Duty(DutyKind.TURN, SET_AT + day * DAY + 3600, "batch-26-05", day) for day in range(18)]
    return duties


def simulate(days: float, step_s: int = 600, seed: int = 5) -> tuple[Any, Any, Any]:
    """Readings of a machine: fillings, lids, a power cut, a dead battery; instants, % RH, °C."""
    rng = np.random.default_rng(seed)
    t = np.arange(0, days, step_s / DAY)
    per_ten_minutes = step_s / 600
    noise = np.zeros(t.size)
    shocks = rng.normal(0, 0.32 * per_ten_minutes**0.5, t.size)
    for i in range(1, t.size):
        noise[i] = 0.96**per_ten_minutes * noise[i - 1] + shocks[i]
    level = np.select([t < 3.95, t < 8.9, t < 18], [52.5, 47.0, 42.0], 64.0)
    # The box takes an hour or two to follow.
    smooth = np.convolve(np.concatenate((np.full(15, level[0]), level)), np.full(16, 1 / 16), "valid")
    wave = 0.8 * np.sin(2 * np.pi * (t - 0.25)) + 0.8 * np.sin(2 * np.pi * t / 5.1 + 1)
    humidity = smooth + wave + noise
    humidity -= 9 * np.exp(-t / 0.06)
    heat = 37.7 + rng.normal(0, 0.05, t.size) + 0.06 * np.sin(2 * np.pi * (t - 0.3))
    heat[t > 18] -= 0.2
    for day, minutes in ((1.98, 3), (3.95, 4), (5.9, 3), (7.42, 14), (8.9, 4), (10.35, 3), (11.02, 11)):
        x = (t - day) * 1440
        decay = np.where(x < 0, 0, np.where(x < minutes, 1, np.exp(-np.maximum(x - minutes, 0) / 26)))
        humidity -= (7 + 0.85 * minutes) * decay
        heat -= (0.8 + 0.16 * minutes) * decay
    x = (t - 6.62) * 1440
    cut = np.where(x < 0, 0, np.where(x < 110, np.minimum(1, x / 90), np.exp(-np.maximum(x - 110, 0) / 40)))
    heat -= 6.1 * cut
    humidity += 9.5 * cut
    there = (t < 2.62) | (t > 3.08)
    at = SET_AT + np.rint(t * DAY).astype(np.int64)
    return at[there], np.clip(humidity, 1, 99)[there].round(1), heat[there].round(2)


NOW = SET_AT + round(11.215 * DAY)


@pytest.fixture
def sample() -> Curves:
    """The running batch, at 14:10 on its eleventh day."""
    at, humidity, heat = simulate(11.21)
    return make_curves(at, humidity, heat, NOW, events=sample_events(), duties=sample_duties(NOW))


@pytest.fixture
def figures(sample: Curves) -> BatchFigures:
    """The figures that go with it."""
    return make_figures(sample)


class FakeDoor(QObject):
    """As much of the door as the charts see."""

    changed = Signal(object)


@pytest.fixture
def context() -> SimpleNamespace:
    """As much of the context as the charts see."""
    from hatchbook.desk.tasks import InlineWorker

    return SimpleNamespace(zone=ZONE, now=lambda: NOW, worker=InlineWorker(), door=FakeDoor())


@pytest.fixture
def window(qapp: QApplication) -> Iterator[QMainWindow]:
    """A window to hold actions and panes."""
    from hatchbook.desk.theme.theme import current_theme

    current_theme().apply(qapp)
    window = QMainWindow()
    yield window
    window.close()
    window.deleteLater()


@pytest.fixture
def pane(window: QMainWindow, context: SimpleNamespace, qtbot: Any) -> Callable[..., Any]:
    """Makes a chart pane of a size, shown."""

    def make(width: int = 840, height: int = 600) -> QWidget:
        from hatchbook.desk.actions import Actions
        from hatchbook.desk.charts.pane import ChartPane

        made = ChartPane(context, Actions(window))
        window.setCentralWidget(made)
        window.resize(width, height)
        with qtbot.waitExposed(window):
            window.show()
        return made

    return make
