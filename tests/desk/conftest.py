"""A small journal, and the desk's context over it, for tests of pages and dialogs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.journal import Batch, Egg, Event, Journal, Machine, NewReadings, Pen, Probe, plan_records
from hatchbook.trade.codes import EventKind
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programmes import programme_named
from hatchbook.trade.stages import StageBounds
from pytestqt.qtbot import QtBot

DAY = 86_400
ZONE = ZoneInfo("Europe/Lisbon")
#: 2026-05-03 08:00 UTC, 09:00 in Lisbon.
SET_AT = 1_777_795_200
#: Day 11 and 5 hours.
NOW = SET_AT + 11 * DAY + 5 * 3600


class Clock:
    """An instant that the test moves."""

    def __init__(self, at: float) -> None:
        self.at = at

    def __call__(self) -> float:
        return self.at


@dataclass
class Desk:
    """The context over a journal with one running batch of twelve eggs in the machine Dairy."""

    context: DeskContext
    journal: Journal
    batch: Batch
    eggs: list[Egg]
    probe: Probe
    clock: Clock

    @property
    def door(self) -> Door:
        return self.context.door


def set_batch(journal: Journal, machine: Machine, label: str = "26-05", set_at: int = SET_AT) -> Batch:
    """Sets twelve hen eggs from one pen by the customary programme."""
    programme = programme_named("hen")
    assert programme is not None
    bounds = StageBounds.for_incubation(programme.incubation_days)
    batch = Batch(
        label=label,
        name="Orchard hens",
        species="hen",
        machine=machine.uid,
        set_at=set_at,
        incubation_days=programme.incubation_days,
        programme=programme.to_json(),
        early_until_day=bounds.early_until_day,
        mid_until_day=bounds.mid_until_day,
        loss_low_percent=11.0,
        loss_high_percent=13.0,
        loss_day=18.0,
    )
    phases, duties = plan_records(batch, plan_batch(programme, set_at, ZONE))
    pen = journal.pens.by_name("Orchard")
    assert pen is not None
    eggs = [
        Egg(batch.uid, n + 1, 1, n // 4 + 1, n % 4 + 1, pen=pen.uid, laid_on="2026-04-29", marked=n % 4 == 0)
        for n in range(12)
    ]
    journal.batches.set_batch(batch, phases, duties, eggs)
    return batch


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Iterator[Desk]:
    """A context over a small journal, with readings every half hour and a few events."""
    clock = Clock(NOW)
    journal = Journal.create(tmp_path / "small.hatchbook", time_zone=ZONE.key, clock=clock)
    machine = Machine("Dairy", 3, 4, altitude_m=120.0)
    journal.machines.keep(machine, 4)
    journal.probes.add_to("Shelf logger", machine=machine.uid, from_at=SET_AT - 30 * DAY)
    journal.pens.add(Pen("Orchard", species="hen", letter="O"))
    batch = set_batch(journal, machine)
    probe = journal.probes.by_name("Shelf logger")
    assert probe is not None
    at = np.arange(SET_AT, NOW, 1800, dtype=np.int64)
    day = (at - SET_AT) / DAY
    humidity = 46 + 3 * np.sin(day * 2 * np.pi)
    temperature = 37.7 + 0.1 * np.cos(day * 2 * np.pi)
    readings = NewReadings("shelf.csv", "0" * 64, "{}", len(at), at, temperature, humidity)
    journal.imports.bring_in(probe, readings, NOW)
    journal.events.add(Event(SET_AT, EventKind.WATER, machine=machine.uid, channels_filled=2))
    journal.events.add(Event(SET_AT + 3600, EventKind.VENT, machine=machine.uid, vent=0.5))
    journal.events.add(Event(SET_AT + 4 * DAY, EventKind.VENT, machine=machine.uid, vent=0.25))
    door = Door(clock)
    door.take(journal)
    context = DeskContext(door, InlineWorker(), DeskSettings())
    context.choose_batch(batch.uid)
    yield Desk(context, journal, batch, journal.eggs.of_batch(batch.uid), probe, clock)
    door.take(None)
