"""The weight of a batch: its fit and forecast beside one pass of numpy over its readings.

The pass computes what every reading pulls at the eggs' water and integrates it, as a formula in numpy does. Told
beside it: the same against a bare integral of the humidity, and the fit without the journal's records round it.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
from hatchbook.figures.batch_fit import batch_fit
from hatchbook.figures.course import Course
from hatchbook.figures.eggs import egg_figures
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.series import StretchSeries
from hatchbook.figures.weight_exposure import BatchAir
from hatchbook.figures.weight_forecast import weight_forecast
from hatchbook.figures.weight_target import batch_aims
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import Batch, BatchPhase, Egg, EggMass, Journal, Machine, NewReadings, Weighing
from hatchbook.statistics.weight_loss import pull_torr
from hatchbook.trade.codes import PhaseKind
from result import Result, best_of, seconds

DAY = 86_400
SET_AT = 1_777_917_600
EGGS = 120
READINGS = 30_000
DAYS_LOGGED = 15
ROUNDS = 60


def made_up_batch(journal: Journal) -> Course:
    """120 hens' eggs, weighed one by one four times, and 30,000 readings."""
    rng = np.random.default_rng(1)
    machine = Machine("Dairy", 10, 12)
    journal.machines.add(machine)
    journal.probes.add_to("P1", machine=machine.uid, from_at=SET_AT - DAY)
    probe = journal.probes.by_name("P1")
    assert probe is not None
    batch = Batch(
        "26-01", "hen", machine.uid, SET_AT, 21.0, "{}", 7.0, 14.0,
        loss_low_percent=12.0, loss_high_percent=13.0, loss_day=18.0,
    )  # fmt: skip
    mass_g = np.round(rng.normal(58, 4, EGGS), 1)
    eggs = [Egg(batch.uid, n + 1, set_mass_g=float(mass_g[n])) for n in range(EGGS)]
    phases = [
        BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, 40.0, 45.0, 50.0, 37.2, 37.5, 37.8),
        BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 18.0, 21.0, 60.0, 65.0, 70.0, 37.2, 37.5, 37.8),
    ]
    journal.batches.set_batch(batch, phases, [], eggs)
    at = SET_AT + np.linspace(0, DAYS_LOGGED * DAY, READINGS).astype(np.int64)
    humidity, warm = 45 + rng.normal(0, 1, READINGS), 37.6 + rng.normal(0, 0.05, READINGS)
    journal.imports.bring_in(probe, NewReadings("a.csv", "a", "{}", READINGS, at, warm, humidity), SET_AT)
    conductance = rng.normal(0.26, 0.04, EGGS)
    for day in (4, 7, 11, 14):
        weighing = Weighing(batch.uid, SET_AT + day * DAY, 0.1)
        now_g = np.round(mass_g * (1 - conductance * 26.6 * day / 1000), 1)
        journal.weighings.note_weighing(
            weighing, [EggMass(weighing.uid, egg.uid, float(now_g[n])) for n, egg in enumerate(eggs)]
        )
    return Course(journal, batch.uid, SET_AT + DAYS_LOGGED * DAY)


def one_pass(series: StretchSeries) -> float:
    """What the readings pull at the eggs' water, torr days."""
    pull = pull_torr(series.humidity, series.temperature_c)
    return float(np.trapezoid(pull, (series.at - SET_AT) / DAY))


def run() -> list[Result]:
    """Fit and forecast, and the fit alone."""
    with (
        tempfile.TemporaryDirectory() as folder,
        Journal.create(Path(folder) / "weight.hatchbook", time_zone="Europe/Lisbon") as journal,
    ):
        course = made_up_batch(journal)
        weights = BatchWeights(course)
        eggs, phases = egg_figures(course, weights), phase_figures(course)
        (series, *_) = course.series
        assert series is not None
        aims = batch_aims(course.batch, eggs)
        air = BatchAir(course, phases, aims)
        forecast, fit, pulled, bare = best_of(
            ROUNDS,
            lambda: seconds(lambda: weight_forecast(course, weights, eggs, phases)),
            lambda: seconds(lambda: batch_fit(course, weights, eggs, air.exposure, aims.prior)),
            lambda: seconds(lambda: one_pass(series)),
            lambda: seconds(lambda: np.trapezoid(series.humidity, series.at)),
        )
    name = f"of {EGGS} eggs and {READINGS:,} readings"
    return [
        Result(f"weight forecast {name} / one pass of their pull", forecast, pulled, 10.0),
        Result(f"fit {name} / one pass of their pull", fit, pulled),
        Result(f"weight forecast {name} / a bare integral", forecast, bare),
    ]
