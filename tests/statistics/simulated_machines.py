"""Machines that do not do what the water and vent guide believes: lags, gusts, lids, drying channels, wrong probes.

Against the model (`hatchbook.statistics.water_model`) they have: air that follows with a lag and gusts; a vent
whose air change is no power of its opening (a leak, and a hood that chokes it when wide open); water that is the
cooler the drier the air; channels whose surface shrinks as they fall, and that fall dry; channels that stand in
each other's way; a room that swings with day and weather; lids that are opened unlogged every day; hatching chicks;
a probe that is off, differently in each batch, and noisy. All machines run side by side as columns.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.water_model import eggs_rate
from numpy.typing import NDArray

Floats = NDArray[np.float64]
STEP_S = 1200
STEPS_A_DAY = 86_400 // STEP_S
GRAMS_PER_M3_KPA = 6.97


@dataclass
class Machines:
    """What the machines are; each array has one value a machine."""

    channels: Floats
    half_air: Floats
    leak: Floats
    curve: Floats
    choke: Floats
    channel_rate: Floats
    channel_ml: Floats
    cooling: Floats
    crowding: Floats
    inside: Floats
    eggs: Floats
    egg_factor: Floats
    probe_off: Floats
    room_mean: Floats

    @classmethod
    def made_up(cls, count: int, rng: np.random.Generator) -> Machines:
        channels = rng.integers(2, 6, count).astype(float)
        channel_rate = 0.72 * np.exp(rng.normal(0, 0.4, count))
        ratio = np.exp(rng.normal(-0.40, 0.22, count))
        return cls(
            channels=channels,
            half_air=channel_rate * channels / 2 / ratio,
            leak=rng.uniform(0.03, 0.45, count),
            curve=rng.uniform(0.55, 1.7, count),
            choke=rng.uniform(0.0, 0.25, count),
            channel_rate=channel_rate,
            channel_ml=rng.uniform(130, 260, count),
            cooling=rng.uniform(0.0, 0.35, count),
            crowding=rng.uniform(0.0, 0.10, count),
            inside=rng.uniform(0.1, 0.3, count),
            eggs=rng.integers(8, 45, count).astype(float),
            egg_factor=np.exp(rng.normal(0, 0.25, count)),
            probe_off=rng.normal(0, 1.0, count),
            room_mean=1.17 * np.exp(rng.normal(0, 0.12, count)),
        )

    def repeated(self, times: int) -> Machines:
        """Each machine so many times, one after the other."""
        return Machines(*(np.repeat(getattr(self, field.name), times) for field in fields(self)))

    def air(self, vent: Floats) -> Floats:
        """Air change of each machine at an opening, g an hour and kPa."""
        open_air = self.leak + (1 - self.leak) * vent**self.curve - self.choke * vent**3
        half = self.leak + (1 - self.leak) * 0.5**self.curve - self.choke * 0.5**3
        return self.half_air * open_air / half

    def evaporating(self, filled: Floats, level: Floats) -> Floats:
        """What the filled channels give off, g an hour and kPa; ``level``: how full, 0 to 1."""
        crowded = 1 - self.crowding * np.maximum(filled - 1, 0)
        surface = np.where(level > 0.12, 0.85 + 0.15 * level, np.maximum(level, 0.0) / 0.12 * 0.87)
        return self.channel_rate * filled * crowded * surface


@dataclass
class Handling:
    """Steps by machines: channels filled, vent, filled up in this step, lid opened in it, the machine warm."""

    filled: Floats
    vent: Floats
    fill: NDArray[np.bool_]
    lid: NDArray[np.bool_]


@dataclass
class Run:
    """Steps by machines: vapour and humidity as they were and as they were read, the room, and what evaporated."""

    humidity: Floats
    shown: Floats
    temperature_c: Floats
    room_kpa: Floats
    drawn_ml: Floats


def weather(machines: Machines, steps: int, rng: np.random.Generator, season: Floats) -> Floats:
    """The vapour in the room of each machine, kPa: a season, weather of some days, and a daily swing."""
    slow = np.empty((steps, season.size))
    value = rng.normal(0, 0.10, season.size)
    keep = np.exp(-1 / (2.5 * STEPS_A_DAY))
    push = 0.10 * np.sqrt(1 - keep**2)
    noise = rng.normal(0, 1, (steps, season.size))
    for step in range(steps):
        value = keep * value + push * noise[step]
        slow[step] = value
    hour = 24 * np.arange(steps)[:, None] / STEPS_A_DAY
    daily = 0.05 * np.cos(2 * np.pi * (hour - 15) / 24)
    return machines.room_mean * np.exp(season + slow + daily)


def run(
    machines: Machines,
    handling: Handling,
    room_kpa: Floats,
    rng: np.random.Generator,
    *,
    eggs: Floats,
    hatching: Floats,
    batch_off: Floats,
    clogged: Floats | float = 0.0,
    level: Floats | None = None,
) -> Run:
    """Lets all machines run; ``eggs`` and ``hatching`` (factor) are steps by machines, ``clogged`` a logarithm."""
    steps, count = room_kpa.shape
    temperature_c = 37.6 + rng.normal(0, 0.06, (steps, count)) + 0.05 * np.sin(np.arange(steps)[:, None] / 11)
    saturated = np.asarray(saturation_kpa(temperature_c))
    gust, gusts = np.zeros(count), rng.normal(0, 1, (steps, count))
    vapour = 1.3 * room_kpa[0]
    level = np.ones(count) if level is None else level.copy()
    brim = rng.uniform(0.75, 1.0, (steps, count))
    humidity, drawn = np.empty((steps, count)), np.zeros((steps, count))
    hours = STEP_S / 3600
    for step in range(steps):
        gust = 0.97 * gust + 0.06 * np.sqrt(1 - 0.97**2) * gusts[step]
        level = np.where(handling.fill[step], brim[step], level)
        filled = handling.filled[step]
        air = machines.air(handling.vent[step]) * np.exp(gust - clogged)
        water = machines.evaporating(filled, level)
        laying = eggs[step] * machines.egg_factor * hatching[step]
        near = 1 - machines.cooling * (1.25 - vapour / saturated[step])
        total = air + water + laying
        gain = air * room_kpa[step] + water * near * saturated[step] + laying * saturated[step]
        share = 1 - np.exp(-total / (GRAMS_PER_M3_KPA * machines.inside) * hours)
        drawn[step] = np.maximum(water * (near * saturated[step] - vapour), 0) * hours
        level = level - drawn[step] / np.maximum(filled, 1) / machines.channel_ml
        level = np.maximum(level, 0.0)
        vapour = vapour + (gain / total - vapour) * share
        vapour = np.where(handling.lid[step], vapour + 0.35 * (room_kpa[step] - vapour), vapour)
        humidity[step] = np.minimum(100 * vapour / saturated[step], 97.0)
    noise = rng.normal(0, 0.5, (steps, count))
    shown = np.round(humidity + machines.probe_off + batch_off + noise, 1)
    return Run(humidity, shown, temperature_c, room_kpa, drawn)


def day_at(
    machines: Machines,
    filled: Floats,
    vent: Floats,
    rng: np.random.Generator,
    batch_off: Floats,
    clogged: Floats,
) -> tuple[Floats, Floats]:
    """What a day at each setting shows, % RH by the machine's probe, and the room's mean vapour that day, kPa.

    The channels were filled some time within two days before; the first hours, while it settles, do not count.
    """
    steps, settle = STEPS_A_DAY + 18, 18
    count = filled.size
    room = weather(machines, steps, rng, rng.normal(0, 0.18, count))
    nothing = np.zeros((steps, count), np.bool_)
    lid = rng.random((steps, count)) < 2 / STEPS_A_DAY
    handling = Handling(np.tile(filled, (steps, 1)), np.tile(vent, (steps, 1)), nothing, lid)
    ran = run(
        machines,
        handling,
        room,
        rng,
        eggs=np.ones((steps, count)) * egg_rates(machines),
        hatching=np.ones((steps, count)),
        batch_off=batch_off,
        clogged=clogged,
        level=rng.uniform(0.6, 1.0, count),
    )
    return ran.shown[settle:].mean(axis=0), room[settle:].mean(axis=0)


def egg_rates(machines: Machines) -> Floats:
    return np.array([eggs_rate(58 * eggs, 101.325) for eggs in machines.eggs])
