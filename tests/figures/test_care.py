"""Checks and care of a machine."""

from __future__ import annotations

from hatchbook.figures.care import machine_care
from hatchbook.journal import Event, ProbeCheck
from hatchbook.trade.codes import CheckMethod, EventKind, Quantity
from tests.figures.conftest import DAY, SET_AT, Hatchery


def check(probe: str, at: int) -> ProbeCheck:
    return ProbeCheck(probe, at, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.0, salt="NaCl")


def test_care_is_listed_newest_first_without_water_and_vent(hatchery: Hatchery) -> None:
    journal, machine = hatchery.journal, hatchery.machine.uid
    for day, kind in enumerate((EventKind.CLEANED, EventKind.WATER, EventKind.DRY_RUN, EventKind.CARE)):
        journal.events.add(Event(SET_AT + day * DAY, kind, machine=machine))
    journal.probes.add_check(check(hatchery.probe.uid, SET_AT + DAY))
    found = machine_care(journal, machine, SET_AT + 9 * DAY)
    assert [entry.record[0] for entry in found] == ["event", "event", "probe_check", "event"]
    assert [entry.at for entry in found] == sorted((entry.at for entry in found), reverse=True)
    assert found[2].probe_name == hatchery.probe.name


def test_what_is_still_to_come_is_not_listed(hatchery: Hatchery) -> None:
    hatchery.journal.events.add(Event(SET_AT + DAY, EventKind.CLEANED, machine=hatchery.machine.uid))
    assert machine_care(hatchery.journal, hatchery.machine.uid, SET_AT) == ()


def test_of_a_probe_that_went_elsewhere_only_the_checks_of_its_time_count(hatchery: Hatchery) -> None:
    journal, probe = hatchery.journal, hatchery.probe
    other = hatchery.add_machine("Green one")
    journal.probes.move(probe, machine=other.uid, at=SET_AT + 5 * DAY)
    for day in (2, 7):
        journal.probes.add_check(check(probe.uid, SET_AT + day * DAY))
    now = SET_AT + 9 * DAY
    assert [entry.at for entry in machine_care(journal, hatchery.machine.uid, now)] == [SET_AT + 2 * DAY]
    assert len(machine_care(journal, other.uid, now)) == 2, "of a probe that hangs in it all checks count"


def test_another_machine_has_none_of_it(hatchery: Hatchery) -> None:
    hatchery.journal.events.add(Event(SET_AT, EventKind.CLEANED, machine=hatchery.machine.uid))
    other = hatchery.add_machine("Green one")
    assert machine_care(hatchery.journal, other.uid, SET_AT + DAY) == ()
