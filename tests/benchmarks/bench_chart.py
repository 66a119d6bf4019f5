"""The chart: how long a batch takes to be painted, and a frame of panning over a million readings.

The reference of a frame is that of an empty pyqtgraph plot of the same size; that of the empty chart itself, with
its bands, aims and axes, is told beside it.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from hatchbook.figures.results import (
    Band,
    BatchFigures,
    BatchState,
    Curves,
    HatchTiming,
    PhaseFigures,
    PhaseState,
)
from hatchbook.journal import Batch, Event
from hatchbook.statistics.averages import Trace, hold_range
from hatchbook.statistics.drift import phase_verdict
from hatchbook.statistics.rates import batch_rates
from hatchbook.trade.codes import EventKind, PhaseKind
from result import Result, best_of, seconds

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

DAY = 86_400
SET_AT = 1_777_917_600
DAYS = 11.2
SIZE = (840, 600)
FRAMES = 40
ROUNDS = 5


def made_up_batch(readings: int) -> tuple[BatchFigures, Curves]:
    """A running hen batch with so many readings, its figures and curves."""
    rng = np.random.default_rng(1)
    now = SET_AT + round(DAYS * DAY)
    at = SET_AT + np.unique(np.linspace(0, DAYS * DAY, readings).astype(np.int64))
    humidity = 48 + 0.02 * np.cumsum(rng.normal(0, 0.05, at.size)) + rng.normal(0, 1, at.size)
    warmth = 37.7 + rng.normal(0, 0.05, at.size)
    start, end = SET_AT, SET_AT + 18 * DAY
    trace, warm = Trace.for_window(at, humidity, start, now), Trace.for_window(at, warmth, start, now)
    drift = phase_verdict(trace, start, now, 40, 45, 50)
    gone, left = (now - start) / 3600, (end - now) / 3600
    heat, nothing = Band(37.5, 37.7, 37.9), (None, None, None, None)
    told = (drift, phase_verdict(warm, start, now, 37.5, 37.7, 37.9), 2.0)
    hold = hold_range(drift.mean, gone, left, 40, 45, 50)
    running = PhaseFigures(
        PhaseKind.INCUBATION, PhaseState.RUNNING, 0.0, 18.0, start, end, Band(40, 45, 50), heat, 3, gone, left,
        *told, hold, 30, 30, "Dairy",
    )  # fmt: skip
    to_come = PhaseFigures(
        PhaseKind.LOCKDOWN, PhaseState.TO_COME, 18.0, 21.0, end, end + 3 * DAY, Band(60, 65, 70), heat, 0, 0.0,
        72.0, *nothing, 0, 0, "Dairy",
    )  # fmt: skip
    batch = Batch("26-05", "hen", "dairy", SET_AT, 21.0, "{}", 7.0, 14.0)
    means = trace.running_mean(start, now)
    events = tuple(
        Event(SET_AT + round(day * DAY), kind, batch=batch.uid)
        for day in range(11)
        for kind in (EventKind.WATER, EventKind.VENT)
    )
    phases = (running, to_come)
    curves = Curves(
        batch, now, start, end + 3 * DAY, at, humidity, warmth, means.at_s, means.mean,
        trace.unknown_stretches(start, now), phases, events, (),
    )  # fmt: skip
    figures = BatchFigures(
        batch, now, BatchState.RUNNING, DAYS, end, end + 3 * DAY, 18.0, "Dairy", (), "", None, phases, (), {},
        batch_rates([]), HatchTiming(None, None, None, (), 21.0), None, (), None,
    )  # fmt: skip
    return figures, curves


class Desk:
    """A window with a chart pane, as the program shows it."""

    def __init__(self) -> None:
        from hatchbook.desk.actions import Actions
        from hatchbook.desk.charts.pane import ChartPane
        from hatchbook.desk.tasks import InlineWorker
        from hatchbook.desk.theme.theme import current_theme
        from PySide6.QtWidgets import QApplication, QMainWindow

        self.application = QApplication.instance() or QApplication([])
        assert isinstance(self.application, QApplication)
        current_theme().apply(self.application)
        context: Any = SimpleNamespace(zone=ZoneInfo("Europe/Lisbon"), now=lambda: 0, worker=InlineWorker())
        self.window = QMainWindow()
        self.pane = ChartPane(context, Actions(self.window))
        self.window.setCentralWidget(self.pane)
        self.window.resize(*SIZE)
        self.window.show()
        self.application.processEvents()

    def close(self) -> None:
        """Takes the window away."""
        self.window.close()
        self.window.deleteLater()
        self.application.processEvents()

    def painted(self, figures: BatchFigures, curves: Curves | None) -> float:
        """How long it takes from figures and curves to the painted chart, seconds."""

        def show() -> None:
            self.pane.show_view(figures, curves)
            self.pane.graph.viewport().repaint()

        return seconds(show)

    def frame(self, low: float, span: float) -> float:
        """The median time of a frame while panning, seconds."""

        def move(step: int) -> None:
            self.pane.graph.show_days(low + step * 0.005, low + step * 0.005 + span)
            self.pane.graph.viewport().repaint()

        return median_frame(move)


def median_frame(move: Callable[[int], None]) -> float:
    """The median time of a step, seconds."""
    return float(np.median([seconds(lambda step=step: move(step)) for step in range(FRAMES)]))


def empty_plot_frame() -> float:
    """A frame of panning an empty pyqtgraph plot as large as the chart, seconds."""
    import pyqtgraph as pg
    from PySide6.QtWidgets import QApplication

    plot = pg.PlotWidget()
    plot.resize(*SIZE)
    plot.disableAutoRange()
    plot.show()
    QApplication.processEvents()

    def move(step: int) -> None:
        plot.setXRange(step * 0.005, 20 + step * 0.005, padding=0)
        plot.viewport().repaint()

    time = median_frame(move)
    plot.hide()
    plot.deleteLater()
    return time


def first_painted_chart(figures: BatchFigures, curves: Curves) -> float:
    """From figures and curves to the first painted chart in a window that is there already, seconds."""
    desk = Desk()
    try:
        return desk.painted(figures, curves)
    finally:
        desk.close()


def run() -> list[Result]:
    """A first chart, and frames."""
    some, many = made_up_batch(30_000), made_up_batch(1_000_000)
    first, again = best_of(
        ROUNDS, lambda: first_painted_chart(*some), lambda: first_painted_chart(some[0], None)
    )  # type: ignore[arg-type]
    desk = Desk()
    desk.painted(*many)
    plot, whole, week, two_days = best_of(
        ROUNDS,
        empty_plot_frame,
        lambda: desk.frame(0.0, 20.0),
        lambda: desk.frame(4.0, 7.0),
        lambda: desk.frame(8.0, 2.0),
    )
    desk.painted(many[0], None)
    (empty_chart,) = best_of(ROUNDS, lambda: desk.frame(0.0, 20.0))
    desk.close()
    return [
        Result("first painted chart of 30,000 readings / of none", first, again),
        Result("panning 1,000,000 readings, all in view / empty plot", whole, plot, 3.0),
        Result("panning 1,000,000 readings, a week in view / empty plot", week, plot, 3.0),
        Result("panning 1,000,000 readings, 48 h in view / empty plot", two_days, plot, 3.0),
        Result("panning 1,000,000 readings / the empty chart with its bands", whole, empty_chart, 3.0),
    ]
