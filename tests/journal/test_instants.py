"""Instants sort and compare right where the clocks change, and in zones far from UTC."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.journal import Duty, Event, Journal, Machine, Reading
from hatchbook.trade.codes import DutyKind, EventKind

LISBON = ZoneInfo("Europe/Lisbon")


def in_autumn(hour: int, minute: int, fold: int) -> int:
    """On 25 October 2026 the clocks of Lisbon go from 02:00 back to 01:00: 01:30 comes twice."""
    return int(datetime(2026, 10, 25, hour, minute, tzinfo=LISBON, fold=fold).timestamp())


def test_the_repeated_hour_of_autumn_sorts_as_it_passed(journal: Journal) -> None:
    passed = [in_autumn(0, 30, 0), in_autumn(1, 30, 0), in_autumn(1, 30, 1), in_autumn(2, 30, 0)]
    assert np.diff(passed).tolist() == [3600, 3600, 3600]
    journal.probes.add_to("P1", machine=None, from_at=0)
    (probe,) = journal.probes.all()
    machine = Machine("Blue one", 2, 4)
    journal.machines.add(machine)
    for humidity, at in enumerate(reversed(passed), start=40):
        journal.readings.add(Reading(probe.number, at, humidity=float(humidity)))
        journal.events.add(Event(at, EventKind.TURNED, machine.uid, text=str(humidity)))
        journal.duties.add(Duty(DutyKind.TURN, at))
    series = journal.readings.series(probe.number, passed[0], passed[-1])
    assert series.at.tolist() == passed
    assert series.humidity.tolist() == [43.0, 42.0, 41.0, 40.0]
    assert [event.at for event in journal.events.all()] == passed
    assert [duty.due_at for duty in journal.duties.between(passed[1], passed[3])] == passed[1:3]
    shown = [datetime.fromtimestamp(at, journal.zone).strftime("%H:%M") for at in passed]
    assert shown == ["00:30", "01:30", "01:30", "02:30"]


@pytest.mark.parametrize("year", [1969, 1998, 2038, 2100])
def test_instants_of_any_season_are_kept(journal: Journal, year: int) -> None:
    at = int(datetime(year, 3, 28, 12, tzinfo=UTC).timestamp())
    machine = Machine("Blue one", 2, 4)
    journal.machines.add(machine)
    event = Event(at, EventKind.NOTE, machine.uid)
    journal.events.add(event)
    assert journal.events.get(event.uid).at == at
