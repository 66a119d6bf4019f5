"""The records of the demo's holding: machines with channels, probes with their checks, pens with their birds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time

import numpy as np

from hatchbook.exchange.demo.chance import chance, uids
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.scenario import ProbePlan, Scenario
from hatchbook.journal import Channel, Machine, Pen, PenMember, Probe, ProbeCheck, ProbePlacement
from hatchbook.journal.table import Record
from hatchbook.trade.codes import CheckMethod, ProbePlace, Quantity
from hatchbook.trade.instants import DAY_S

_STREAM = 9002
_YEAR_S = 365.25 * DAY_S
_OLDEST_SEASON = -4


@dataclass(frozen=True)
class Holding:
    """The records of machines, probes, pens and hens by their keys in the scenario, and all records to store."""

    machines: dict[str, Machine]
    probes: dict[str, Probe]
    pens: dict[str, Pen]
    hens: dict[str, tuple[PenMember, ...]]
    records: tuple[Record, ...]
    begun_at: int


def make_holding(scenario: Scenario, dates: DemoDates, seed: int) -> Holding:
    """The holding as it has stood since its first season."""
    rng = chance(seed, _STREAM)
    uid = uids(rng)
    begun_on = dates.in_season(_OLDEST_SEASON, 1, 10)
    begun_at = dates.instant(begun_on, time(9, 0))
    records: list[Record] = []
    machines: dict[str, Machine] = {}
    for plan in scenario.machines:
        machine = Machine(
            plan.name,
            plan.rows,
            plan.columns,
            plan.kind,
            altitude_m=plan.altitude_m,
            note=plan.note,
            uid=next(uid),
        )
        machines[plan.key] = machine
        records.append(machine)
        records += [
            Channel(
                machine.uid,
                position,
                area_cm2=plan.channel_cm2,
                volume_ml=plan.channel_ml,
                uid=next(uid),
            )
            for position in range(1, plan.channels + 1)
        ]
    probes: dict[str, Probe] = {}
    for number, one in enumerate(scenario.probes, 1):
        probe = Probe(one.name, number, one.accuracy_humidity, one.accuracy_temperature_c, uid=next(uid))
        hung = machines.get(one.place)
        place = ProbePlace.ROOM if hung is None else ProbePlace.MACHINE
        probes[one.key] = probe
        records.append(probe)
        records.append(
            ProbePlacement(probe.uid, place, None if hung is None else hung.uid, begun_at, uid=next(uid))
        )
        records += _checks(one, probe, dates, begun_at, rng, uid)
    pens, hens = {}, {}
    for kept in (one for one in scenario.pens if one.name):
        pen = Pen(
            kept.name, kept.species, kept.breed, kept.letter, str(begun_on), note=kept.note, uid=next(uid)
        )
        birds = [
            PenMember(pen.uid, bird.name, bird.sex, kept.breed, bird.ring, str(begun_on), uid=next(uid))
            for bird in kept.members
        ]
        pens[kept.key] = pen
        hens[kept.key] = tuple(bird for bird in birds if bird.sex == "female")
        records += [pen, *birds]
    return Holding(machines, probes, pens, hens, tuple(records), begun_at)


def reads_high(plan: ProbePlan, at: float, begun_at: int) -> float:
    """By how much a probe reads too high at an instant, % RH."""
    return plan.reads_high + plan.drifts_a_year * (at - begun_at) / _YEAR_S


def _checks(
    plan: ProbePlan,
    probe: Probe,
    dates: DemoDates,
    begun_at: int,
    rng: np.random.Generator,
    uid: Iterator[str],
) -> Iterator[ProbeCheck]:
    for check in plan.checks:
        at = dates.checked_at(check)
        shown = check.value + reads_high(plan, at, begun_at) + 0.25 * float(rng.standard_normal())
        yield ProbeCheck(
            probe.uid,
            at,
            Quantity.HUMIDITY,
            CheckMethod.SALT,
            reference_value=check.value,
            shown_value=round(shown, 1),
            salt=check.salt,
            temperature_c=check.celsius,
            note=check.note,
            uid=next(uid),
        )
