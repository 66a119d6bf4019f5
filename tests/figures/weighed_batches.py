"""Batches whose eggs lose weight as they really would, for the tests of what is forecast of it.

The truth is not of the model: the humidity wanders, swings with the day and saws with each filling, the hygrometer
is off and noisy, embryos grow warmer than the air from the ninth day on, shells grow a little tighter or looser,
eggs differ by anything from 9 to 31 %, scales round and do not quite find their zero.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from hatchbook.figures.course import Course
from hatchbook.figures.eggs import egg_figures
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.weight_forecast import weight_forecast
from hatchbook.figures.weight_results import WeightForecast
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import Batch, EggMass, Probe, Weighing
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.trade.codes import FindingCode
from numpy.typing import NDArray

DAY, HOUR = 86_400, 3_600
TORR = 7.500617
TARGET_DAY = 18
INCUBATION_DAYS = 21
PRIOR = (0.30, 0.06)  # of hens, resources/species/hen.toml
UNCHECKED = 5.0 / 1.96  # a hygrometer never checked may be off by 5 points

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Case:
    """What is done to a batch: how many eggs, how many of them weighed, when, on what scale, seen when."""

    eggs: int
    marked: int
    days: tuple[float, ...]
    step_g: float
    seen: float
    gaps: bool = False
    deaths: bool = False
    by_hand: bool = False
    tray: bool = False


@dataclass(frozen=True)
class Truth:
    """What a batch really does: mean loss of the eggs alive and of each by number, %; what to hold, % RH."""

    at_target: float
    now: float
    each: dict[int, float]
    hold: float
    conductance: float


def wandering(rng: np.random.Generator, hours: int) -> Floats:
    """A humidity hour by hour, % RH."""
    follows = math.exp(-1 / (24 * rng.uniform(0.8, 4)))
    steps = rng.uniform(1, 3.5) * math.sqrt(1 - follows**2) * rng.standard_normal(hours)
    value, wander = float(steps[0]) / math.sqrt(1 - follows**2), np.empty(hours)
    for hour in range(hours):
        value = follows * value + steps[hour]
        wander[hour] = value
    hour = np.arange(hours)
    day = rng.uniform(0, 1.5) * np.sin(2 * np.pi * (hour / 24 + rng.random()))
    filled_every = int(rng.integers(20, 70))
    saw = rng.uniform(0, 4) * (0.5 - (hour % filled_every) / filled_every)
    humidity = rng.uniform(38, 60) + wander + day + saw + 0.8 * rng.standard_normal(hours)
    return np.clip(humidity, 8, 92)


def run(hatchery: Any, case: Case, rng: np.random.Generator, set_at: int) -> tuple[WeightForecast, Truth]:
    """Lets a batch run, writes down what a breeder would see of it, and forecasts."""
    batch_mean = max(rng.normal(*PRIOR), 0.12)
    egg_cv = math.exp(rng.uniform(math.log(0.09), math.log(0.31)))
    conductance = np.maximum(batch_mean * (1 + egg_cv * rng.standard_normal(case.eggs)), 0.05)
    mass_g = np.maximum(rng.normal(58, 4.5, case.eggs), 35)
    hours = TARGET_DAY * 24 + 1
    day = np.arange(hours) / 24
    humidity, warm = wandering(rng, hours), 37.6 + 0.05 * rng.standard_normal(hours)
    off = rng.normal(0, UNCHECKED)
    eggs = _Eggs(day, warm, rng)
    pulled = eggs.pulled(humidity)
    died = np.full(case.eggs, np.inf)
    if case.deaths:
        dying = rng.random(case.eggs) < 0.25
        died[dying] = rng.choice([7, 14], int(dying.sum()))
    set_g = _on_scale(mass_g, case.step_g, rng)
    # A machine of its own, so that what others held is not looked through for each.
    machine = hatchery.add_machine(f"M{set_at}")
    probe = hatchery.add_probe(f"P{set_at}", machine, set_at - DAY)
    batch = hatchery.add_batch(
        set_at,
        machine=machine.uid,
        each_egg=[{"set_mass_g": None if case.tray else float(one)} for one in set_g],
        loss_low_percent=12.0,
        loss_high_percent=13.0,
        loss_day=float(TARGET_DAY),
    )
    _log(hatchery, probe, case, rng, set_at, humidity + off, warm)
    for weighed in case.days:
        lost = conductance * float(np.interp(weighed, day, pulled)) / 1000
        _weigh(hatchery, batch, case, rng, weighed, mass_g * (1 - lost), died)
    for candled in (7, 14):
        dead = {int(egg) + 1: FindingCode.DEAD for egg in np.flatnonzero(died == candled)}
        if dead and candled <= case.seen:
            hatchery.candle(batch, candled, dead)
    alive = died > case.seen
    now = float(conductance[alive].mean() * np.interp(case.seen, day, pulled) / 10)
    truth = Truth(
        at_target=float(conductance[alive].mean() * pulled[-1] / 10),
        now=now,
        each={int(egg) + 1: float(conductance[egg] * pulled[-1] / 10) for egg in np.flatnonzero(alive)},
        hold=_to_hold(case, float(conductance[alive].mean()), now, eggs) + off,
        conductance=float(conductance[alive].mean()),
    )
    forecast = forecast_of(hatchery, batch, case.seen)
    assert forecast is not None
    return forecast, truth


def forecast_of(hatchery: Any, batch: Batch, day: float) -> WeightForecast | None:
    """The forecast of a batch on a day, without the rest of its figures."""
    course = Course(hatchery.journal, batch.uid, batch.set_at + round(day * DAY))
    weights = BatchWeights(course)
    return weight_forecast(course, weights, egg_figures(course, weights), phase_figures(course))


class _Eggs:
    """How warm the eggs are hour by hour, and how their shells change."""

    def __init__(self, day: Floats, warm: Floats, rng: np.random.Generator) -> None:
        at_the_end_c = rng.uniform(0.0, 1.0)
        warmer = rng.normal(-0.1, 0.2) + at_the_end_c * np.maximum(day - 9, 0) / 9
        self._inside, self._outside = saturation_kpa(warm + warmer) * TORR, saturation_kpa(warm) * TORR
        self._shells = 1 + rng.uniform(-0.05, 0.05) * (day / INCUBATION_DAYS - 0.5)

    def pulled(self, humidity: Floats | float) -> Floats:
        """Torr days until each hour."""
        pull = (self._inside - self._outside * humidity / 100) * self._shells
        return np.concatenate(([0.0], np.cumsum((pull[1:] + pull[:-1]) / 48)))


def _on_scale(mass_g: Floats, step_g: float, rng: np.random.Generator) -> Floats:
    """What a scale shows that was zeroed within a third of its step."""
    zero = rng.uniform(-step_g / 3, step_g / 3)
    shown = np.round((mass_g + zero + rng.normal(0, 0.3 * step_g, mass_g.shape)) / step_g) * step_g
    return np.round(shown, 6)


def _log(
    hatchery: Any,
    probe: Probe,
    case: Case,
    rng: np.random.Generator,
    set_at: int,
    humidity: Floats,
    warm: Floats,
) -> None:
    hour = np.arange(humidity.size)
    keep = hour <= case.seen * 24
    if case.gaps:
        for _ in range(2):
            begins = rng.uniform(0, case.seen)
            keep &= ~((hour / 24 > begins) & (hour / 24 < begins + rng.uniform(0.6, 2.5)))
    if case.by_hand:
        keep &= (hour % 24 == 8) | (hour % 24 == 20)
    at = set_at + hour[keep] * HOUR
    shown = np.clip(humidity + rng.normal(0, 0.5, humidity.size), 0, 100)[keep]
    hatchery.log(at, shown, warm[keep], probe=probe, name=f"{set_at}.csv", brought_in_at=int(at[-1]))


def _weigh(
    hatchery: Any,
    batch: Batch,
    case: Case,
    rng: np.random.Generator,
    day: float,
    mass_g: Floats,
    died: NDArray[np.float64],
) -> None:
    at = batch.set_at + round(day * DAY)
    if case.tray:
        there = died > day
        total = _on_scale(np.array([mass_g[there].sum() + 200.0]), case.step_g, rng)
        hatchery.journal.weighings.note_weighing(
            Weighing(
                batch.uid,
                at,
                case.step_g,
                tray_mass_g=float(total[0]),
                tare_g=200.0,
                eggs_on_tray=int(there.sum()),
            )
        )
        return
    weighing, eggs = Weighing(batch.uid, at, case.step_g), hatchery.eggs(batch)
    shown = _on_scale(mass_g, case.step_g, rng)
    hatchery.journal.weighings.note_weighing(
        weighing, [EggMass(weighing.uid, eggs[n + 1], float(shown[n])) for n in range(case.marked)]
    )


def _to_hold(case: Case, conductance: float, lost: float, eggs: _Eggs) -> float:
    """The humidity that would have brought the mean to 12.5 % by its day."""
    seen = round(case.seen * 24)
    dry, moist = (float(pulled[-1] - pulled[seen]) for pulled in (eggs.pulled(0.0), eggs.pulled(100.0)))
    return 100 * (dry - (12.5 - lost) * 10 / conductance) / (dry - moist)
