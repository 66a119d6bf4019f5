"""The water and vent guide: a machine with twenty batches and a reading every ten minutes, in it and in the room.

Reading and fitting runs on the worker; its reference is to read the same readings once from the file. The guide for
a room's air runs in the window while a number is turned; its reference is a frame of a sixtieth of a second.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
from hatchbook.figures.guide import machine_guide_model
from hatchbook.figures.guide_results import RoomAir, RoomAirFrom
from hatchbook.journal import Batch, BatchPhase, Egg, Event, Journal, Machine, NewReadings
from hatchbook.statistics.moisture import relative_humidity
from hatchbook.trade.codes import EventKind, PhaseKind
from result import Result, best_of, seconds

DAY = 86_400
BATCHES, APART_DAYS, EVERY_S = 20, 24, 600
FIRST_AT = 1_735_720_000
NOW = FIRST_AT + BATCHES * APART_DAYS * DAY
ROUNDS = 5
FRAME_S = 1 / 60


def run() -> list[Result]:
    """The lines of the table."""
    with (
        tempfile.TemporaryDirectory() as folder,
        Journal.create(Path(folder) / "guide.hatchbook", time_zone="Europe/Lisbon") as journal,
    ):
        uid, probes = _made_up(journal)
        machine_guide_model(journal, uid, NOW)
        # Another instant each time, so that no model that was kept is handed out.
        instants = iter(range(NOW + 3600, NOW + 10**9, 3600))
        fitted, read = best_of(
            ROUNDS,
            lambda: seconds(lambda: machine_guide_model(journal, uid, next(instants))),
            lambda: seconds(lambda: [journal.readings.series(probe, FIRST_AT, NOW) for probe in probes]),
        )
        model = machine_guide_model(journal, uid, NOW)
        rooms = [RoomAir(15 + step / 2, 55.0, RoomAirFrom.TYPED) for step in range(20)]
        (turned,) = best_of(ROUNDS, lambda: seconds(lambda: [model.guide(room) for room in rooms]))
    return [
        Result("guide of 20 batches, against reading its readings", fitted, read, 15.0),
        Result("guide for another room air, against a frame", turned / len(rooms), FRAME_S, 1.0),
    ]


def _made_up(journal: Journal) -> tuple[str, list[int]]:
    rng = np.random.default_rng(5)
    machine = Machine("Blue one", 6, 7)
    journal.machines.keep(machine, 4)
    journal.probes.add_to("in", machine=machine.uid, from_at=FIRST_AT - DAY)
    journal.probes.add_to("room", machine=None, from_at=FIRST_AT - DAY)
    inside, room = journal.probes.by_name("in"), journal.probes.by_name("room")
    assert inside is not None
    assert room is not None
    at = np.arange(FIRST_AT, NOW, EVERY_S, dtype=np.int64)
    room_kpa = 1.15 + 0.15 * np.sin((at - FIRST_AT) / (9 * DAY)) + 0.03 * np.sin((at - FIRST_AT) / 13_750)
    shown = np.full(at.size, 18.0)
    for number in range(BATCHES):
        set_at = FIRST_AT + number * APART_DAYS * DAY
        _batch(journal, machine, number, set_at)
        for day in range(0, 21, 2):
            moved = day in (0, 6, 12, 18)
            channels, vent = (
                (4, 0.25) if day == 18 else (int(rng.integers(1, 4)), float(rng.choice([0.25, 0.5, 0.75])))
            )
            filled = channels if moved else None
            journal.events.add(
                Event(set_at + day * DAY, EventKind.WATER, machine=machine.uid, channels_filled=filled)
            )
            if moved:
                journal.events.add(Event(set_at + day * DAY, EventKind.VENT, machine=machine.uid, vent=vent))
                ratio = 0.25 * channels / (0.15 + 0.85 * vent) * 0.575
                from_now = (at >= set_at + day * DAY) & (at < set_at + 21 * DAY)
                alone = 100 * room_kpa[from_now] / 6.454
                shown[from_now] = (alone + 88 * ratio) / (1 + ratio)
    noise = rng.normal(0, 0.5, at.size)
    for probe, humidity, warm in (
        (inside, shown + noise, 37.5),
        (room, relative_humidity(20.0, room_kpa), 20.0),
    ):
        readings = NewReadings(
            probe.name, probe.name, "{}", at.size, at, np.full(at.size, warm), np.asarray(humidity)
        )
        journal.imports.bring_in(probe, readings, NOW)
    return machine.uid, [inside.number, room.number]


def _batch(journal: Journal, machine: Machine, number: int, set_at: int) -> None:
    batch = Batch(f"25-{number:02}", "hen", machine.uid, set_at, 21.0, '{"code": "hen"}', 7.0, 14.0)
    warmth = {"temperature_low_c": 37.2, "temperature_aim_c": 37.5, "temperature_high_c": 37.8}
    journal.batches.set_batch(
        batch,
        [
            BatchPhase(
                batch.uid,
                PhaseKind.INCUBATION,
                0.0,
                18.0,
                humidity_low=40.0,
                humidity_aim=45.0,
                humidity_high=50.0,
                **warmth,
            ),
            BatchPhase(
                batch.uid,
                PhaseKind.LOCKDOWN,
                18.0,
                21.0,
                humidity_low=60.0,
                humidity_aim=65.0,
                humidity_high=70.0,
                **warmth,
            ),
        ],
        [],
        [Egg(batch.uid, one + 1) for one in range(30)],
    )
    if number < BATCHES - 1:
        journal.batches.close(batch, set_at + 21 * DAY)
