"""What a breeder's journal holds of simulated machines: the same steps as of real ones, without a file."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, fields

import numpy as np
from hatchbook.statistics.drying import fell_dry
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.settled import Disturbance, cut_to_days, settled_windows
from hatchbook.statistics.trace import Trace
from hatchbook.statistics.water_guide import SettledDays, TopUps, no_days, no_top_ups
from hatchbook.statistics.water_model import Channels
from hatchbook.statistics.water_priors import ROOM_KPA
from numpy.typing import NDArray
from tests.statistics.simulated_machines import (
    STEP_S,
    STEPS_A_DAY,
    Floats,
    Handling,
    Machines,
    Run,
    egg_rates,
    run,
    weather,
)

BATCH_DAYS, LOCKDOWN_DAY = 21, 18
VENTS = (0.25, 1 / 3, 0.5, 0.5, 0.5, 2 / 3, 0.75)
LOCKDOWN_VENTS = (0.125, 0.25, 1 / 3)


@dataclass
class History:
    """What a breeder's journal of one machine holds after some batches, and how the machine stands at the end."""

    days: SettledDays
    top_ups: TopUps
    channels: Channels
    batch: int | None
    stretch: int | None
    setting: tuple[float, float] | None


def histories(
    machines: Machines, batches: int, rng: np.random.Generator, *, room_known: bool, one_setting: bool = False
) -> tuple[list[History], Floats, Floats]:
    """Runs some batches in each machine and reads them as the journal does.

    Of the last batch, which still lies there: the probe's offset and the clogging of the vent.
    """
    count = machines.channels.size
    found: list[list[tuple[SettledDays, TopUps]]] = [[] for _ in range(count)]
    setting = np.zeros((2, count))
    batch_off = clogged = np.zeros(count)
    fixed = _chosen(machines, rng, lockdown=False)
    stretch = np.zeros(count, np.int64)
    for batch in range(batches):
        # The last batch is still in the machine.
        days = BATCH_DAYS if batch < batches - 1 else 13
        steps = days * STEPS_A_DAY
        handling = _handle(machines, steps, rng, fixed if one_setting else None)
        eggs = np.full((steps, count), 1.0) * egg_rates(machines)
        day = np.arange(steps)[:, None] / STEPS_A_DAY
        hatching = np.where(day < LOCKDOWN_DAY, 1.0, np.where(day < 20, 1.3, 2.8)) * np.ones((1, count))
        season = rng.normal(0, 0.18, count)
        room = weather(machines, steps, rng, season)
        batch_off, clogged = rng.normal(0, 0.7, count), rng.normal(0, 0.07, count)
        ran = run(
            machines, handling, room, rng, eggs=eggs, hatching=hatching, batch_off=batch_off, clogged=clogged
        )
        room_read = room * np.exp(rng.normal(0, 0.02, (1, count)))
        for machine in range(count):
            part = _read(
                machines, machine, handling, ran, room_read, batch, int(stretch[machine]), room_known
            )
            found[machine].append(part[:2])
            stretch[machine] = part[2]
        setting = np.stack((handling.filled[-1], handling.vent[-1]))
    made = [
        History(
            _joined_days([days for days, _ in found[machine]]),
            _joined_ups([ups for _, ups in found[machine]]),
            Channels(int(machines.channels[machine]), None),
            batches - 1,
            int(stretch[machine]) - 1,
            (float(setting[0, machine]), float(setting[1, machine])),
        )
        for machine in range(count)
    ]
    return made, batch_off, clogged


def no_history(machines: Machines, rng: np.random.Generator) -> tuple[list[History], Floats, Floats]:
    """The same of machines that were never used."""
    made = [
        History(no_days(), no_top_ups(), Channels(int(count)), None, None, None)
        for count in machines.channels
    ]
    count = machines.channels.size
    return made, rng.normal(0, 0.7, count), rng.normal(0, 0.07, count)


def _chosen(machines: Machines, rng: np.random.Generator, *, lockdown: bool) -> Floats:
    count = machines.channels.size
    if lockdown:
        return np.stack((machines.channels, rng.choice(LOCKDOWN_VENTS, count)))
    half = np.round(machines.channels * rng.uniform(0.3, 0.9, count))
    return np.stack((np.maximum(half, 1), rng.choice(VENTS, count)))


def _handle(machines: Machines, steps: int, rng: np.random.Generator, fixed: Floats | None) -> Handling:
    count = machines.channels.size
    day = np.arange(steps) / STEPS_A_DAY
    filled, vent = np.empty((steps, count)), np.empty((steps, count))
    changes = [0.0, 5 + 2 * rng.random(), 11 + 2 * rng.random(), float(LOCKDOWN_DAY)]
    for begin in changes:
        lockdown = begin == LOCKDOWN_DAY
        chosen = fixed if fixed is not None else _chosen(machines, rng, lockdown=lockdown)
        filled[day >= begin], vent[day >= begin] = chosen
    fill = np.zeros((steps, count), np.bool_)
    for machine in range(count):
        every = 2 if rng.random() < 0.7 else 1
        for evening in range(every, int(day[-1]) + 1, every):
            if rng.random() > 0.06:
                fill[min(round((evening + 0.75) * STEPS_A_DAY), steps - 1), machine] = True
    fill[0] = True
    fill[1:] |= np.diff(filled, axis=0) != 0
    lid = rng.random((steps, count)) < 2 / STEPS_A_DAY
    return Handling(filled, vent, fill, lid)


def _read(
    machines: Machines,
    machine: int,
    handling: Handling,
    ran: Run,
    room_read: Floats,
    batch: int,
    stretch: int,
    room_known: bool,
) -> tuple[SettledDays, TopUps, int]:
    steps = ran.shown.shape[0]
    at = np.arange(steps, dtype=np.int64) * STEP_S
    filled, vent, fill = handling.filled[:, machine], handling.vent[:, machine], handling.fill[:, machine]
    changed = np.flatnonzero(np.append(True, (np.diff(filled) != 0) | (np.diff(vent) != 0)))
    disturbed = [
        Disturbance(int(at[step]), int(at[step])) for step in np.union1d(changed, np.flatnonzero(fill))
    ]
    disturbed.append(Disturbance(0, 0, 6 * 3600))
    trace = Trace(at, ran.shown[:, machine])
    moments = [*np.union1d(changed, np.flatnonzero(fill)).tolist(), steps - 1]
    for begun, ended in itertools.pairwise(dict.fromkeys(moments)):
        # Without a room probe the breeder takes an ordinary room.
        kpa = float(room_read[begun:ended, machine].mean()) if room_known else ROOM_KPA
        dried = fell_dry(trace, int(at[begun]), int(at[ended]), 100 * kpa / float(saturation_kpa(37.6)))
        if dried is not None:
            disturbed.append(dried.disturbance)
    pieces = cut_to_days(settled_windows(0, int(at[-1]), disturbed), 4 * 3600)
    begins, ends = np.array(pieces, np.int64).T
    humidity, known_s = trace.window_means(begins, ends)
    temperature = Trace(at, ran.temperature_c[:, machine]).window_means(begins, ends)[0]
    room = Trace(at, room_read[:, machine]).window_means(begins, ends)[0]
    first = begins // STEP_S
    which = np.searchsorted(changed, first, side="right") - 1 + stretch
    size = len(pieces)
    days = SettledDays(
        channels=filled[first],
        vent=vent[first],
        humidity=humidity,
        temperature_c=temperature,
        room_kpa=room if room_known else np.full(size, np.nan),
        eggs_g_h_kpa=np.full(size, egg_rates(machines)[machine]),
        hatching=(begins >= LOCKDOWN_DAY * 86_400).astype(float),
        known_h=known_s / 3600,
        batch=np.full(size, batch, np.int64),
        stretch=which.astype(np.int64),
    )
    return days, _top_ups(machine, fill, filled, ran, at), stretch + len(changed)


def _top_ups(
    machine: int, fill: NDArray[np.bool_], filled: Floats, ran: Run, at: NDArray[np.int64]
) -> TopUps:
    rows = []
    fills = np.flatnonzero(fill)
    for before, now in itertools.pairwise(fills):
        if filled[before] == filled[now] and now - before >= STEPS_A_DAY // 2:
            part = slice(before, now)
            rows.append(
                (
                    round(float(ran.drawn_ml[part, machine].sum()), -1) + 5,
                    float(at[now] - at[before]) / 3600,
                    float(filled[now]),
                    float(ran.shown[part, machine].mean()),
                    37.6,
                )
            )
    columns = np.array(rows[::2], dtype=np.float64).reshape(-1, 5).T
    return TopUps(*columns)


def _joined_days(parts: list[SettledDays]) -> SettledDays:
    return SettledDays(
        **{
            name: np.concatenate([getattr(part, name) for part in parts])
            for name in (one.name for one in fields(SettledDays))
        }
    )


def _joined_ups(parts: list[TopUps]) -> TopUps:
    return TopUps(
        **{
            name: np.concatenate([getattr(part, name) for part in parts])
            for name in (one.name for one in fields(TopUps))
        }
    )
