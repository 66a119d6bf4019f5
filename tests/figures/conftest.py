"""A small hatchery to compute figures of: a machine, a probe in it, batches and readings as they are needed."""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import (
    Batch,
    BatchPhase,
    Candling,
    Duty,
    Egg,
    Journal,
    Machine,
    NewReadings,
    Probe,
    ProbePlacement,
)
from hatchbook.trade.codes import FindingCode, PhaseKind, ProbePlace

DAY = 86_400
HOUR = 3_600
#: 2026-05-04 18:00 UTC, 19:00 in Lisbon.
SET_AT = 1_777_917_600


class Hatchery:
    """A journal with one machine and one probe that hangs in it, and short ways to fill it."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        # What is computed does not depend on when the disk has written it; waiting for that is most of the time.
        journal._store.connection.execute("PRAGMA synchronous = OFF")
        self.machine = self.add_machine("Blue one")
        self.probe = self.add_probe("P1", self.machine)
        self._numbers = itertools.count(1)

    def add_machine(self, name: str) -> Machine:
        machine = Machine(name, 3, 4)
        self.journal.machines.add(machine)
        return machine

    def add_probe(self, name: str, machine: Machine | None, from_at: int = SET_AT - 400 * DAY) -> Probe:
        self.journal.probes.add_to(name, machine=machine.uid if machine else None, from_at=from_at)
        probe = self.journal.probes.by_name(name)
        assert probe is not None
        return probe

    def add_batch(
        self,
        set_at: int = SET_AT,
        *,
        eggs: int = 4,
        duties: Sequence[Duty] = (),
        phases: dict[str, Any] | None = None,
        lockdown: dict[str, Any] | None = None,
        each_egg: Sequence[dict[str, Any]] | None = None,
        **fields: Any,
    ) -> Batch:
        """A hen batch of 21 days, 45 % in a band of 40 to 50 up to day 18, then 65 % in 60 to 70."""
        number = next(self._numbers)
        given = {
            "label": f"26-{number:02}",
            "species": "hen",
            "machine": self.machine.uid,
            "set_at": set_at,
            "incubation_days": 21.0,
            "programme": '{"code": "hen"}',
            "early_until_day": 7.0,
            "mid_until_day": 14.0,
        }
        batch = Batch(**{**given, **fields})
        values = {"temperature_low_c": 37.2, "temperature_aim_c": 37.5, "temperature_high_c": 37.8}
        first = {
            **values,
            "humidity_low": 40.0,
            "humidity_aim": 45.0,
            "humidity_high": 50.0,
            **(phases or {}),
        }
        last = {
            **values,
            "humidity_low": 60.0,
            "humidity_aim": 65.0,
            "humidity_high": 70.0,
            **(lockdown or {}),
        }
        self.journal.batches.set_batch(
            batch,
            [
                BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, **first),
                BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 18.0, 21.0, **last),
            ],
            [Duty(**{**vars(duty), "batch": batch.uid}) for duty in duties],
            [
                Egg(batch.uid, n + 1, **((each_egg or [{}] * eggs)[n]))
                for n in range(len(each_egg or [{}] * eggs))
            ],
        )
        return batch

    def log(
        self,
        at: Any,
        humidity: Any = np.nan,
        temperature_c: Any = np.nan,
        *,
        probe: Probe | None = None,
        name: str = "logger.csv",
        brought_in_at: int = SET_AT + 5 * DAY,
    ) -> None:
        """Readings of a probe, as a logger's file brings them in."""
        at = np.asarray(at, dtype=np.int64)
        readings = NewReadings(
            name,
            f"digest of {name}",
            "{}",
            at.size,
            at,
            np.broadcast_to(np.asarray(temperature_c, dtype=np.float64), at.shape),
            np.broadcast_to(np.asarray(humidity, dtype=np.float64), at.shape),
        )
        self.journal.imports.bring_in(probe or self.probe, readings, brought_in_at)

    def hang(self, probe: Probe, machine: Machine | None, at: int) -> None:
        """Moves a probe."""
        self.journal.probes.move(probe, machine=machine.uid if machine else None, at=at)

    def forget_places(self, probe: Probe) -> None:
        """As if it had never been noted where a probe hung."""
        with self.journal.step("test") as step:
            for place in self.journal.probes.placements(probe.uid):
                step.remove(place)

    def place(self, probe: Probe, machine: Machine, from_at: int, until_at: int) -> None:
        """Notes where a probe hung."""
        with self.journal.step("test") as step:
            step.add(ProbePlacement(probe.uid, ProbePlace.MACHINE, machine.uid, from_at, until_at))

    def candle(self, batch: Batch, day: float, codes: dict[int, FindingCode]) -> None:
        """What was seen in the eggs, by number."""
        eggs = self.eggs(batch)
        at = batch.set_at + round(day * DAY)
        self.journal.candlings.note_findings(
            Candling(batch.uid, at), {eggs[number]: code for number, code in codes.items()}, at
        )

    def eggs(self, batch: Batch) -> dict[int, str]:
        """The uids of the eggs by number."""
        return {egg.number: egg.uid for egg in self.journal.eggs.of_batch(batch.uid)}

    def close(self, batch: Batch, day: float) -> None:
        """Closes a batch."""
        self.journal.batches.close(batch, batch.set_at + round(day * DAY))


@pytest.fixture
def hatchery(tmp_path: Path) -> Iterator[Hatchery]:
    """A hatchery in Lisbon."""
    with Journal.create(tmp_path / "hatchery.hatchbook", time_zone="Europe/Lisbon") as journal:
        yield Hatchery(journal)


@pytest.fixture
def as_json() -> Callable[[Any], Any]:
    """Figures as their JSON reads; fails on a value that is not a number."""
    return lambda figures: json.loads(json.dumps(figures.as_dict(), allow_nan=False))
