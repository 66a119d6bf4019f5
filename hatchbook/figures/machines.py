"""A machine: what it is, which probes hang in it, and how the batches in it kept to their phases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hatchbook.figures.course import Course, present
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.plain import plain_fields
from hatchbook.figures.reach import MachineReach, machine_reach
from hatchbook.figures.results import BatchState, PhaseFigures
from hatchbook.figures.series import StretchSeries
from hatchbook.journal import Channel, Journal, Machine, Probe, ProbeCheck

_NINE_OF_TEN = (0.05, 0.95)


@dataclass(frozen=True)
class MachineProbe:
    """A probe that hangs in a machine now, since when, and its latest check."""

    probe: Probe
    since_at: int
    last_check: ProbeCheck | None

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


@dataclass(frozen=True)
class MachineBatch:
    """A batch that lay in a machine, with those of its phases that it spent there.

    ``most_readings``: for each of the phases between which humidities nine of ten of its readings lay, % RH; None
    without any.
    """

    uid: str
    label: str
    name: str
    species: str
    state: BatchState
    set_at: int
    phases: tuple[PhaseFigures, ...]
    most_readings: tuple[tuple[float, float] | None, ...]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


@dataclass(frozen=True)
class MachineFigures:
    """A machine with its channels, its probes, what it has ever held, and its batches, newest first."""

    machine: Machine
    channels: tuple[Channel, ...]
    probes: tuple[MachineProbe, ...]
    reach: MachineReach
    batches: tuple[MachineBatch, ...]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


def machine_figures(journal: Journal, uid: str, now: int | None = None) -> MachineFigures:
    """The figures of a machine; reads the readings of every batch in it.

    Raises:
        RecordMissingError: there is no such machine.
    """
    at = present(now)
    return MachineFigures(
        machine=journal.machines.get(uid),
        channels=tuple(journal.machines.channels(uid)),
        probes=tuple(_probe(journal, probe, uid, at) for probe in journal.probes.present_in(uid, at)),
        reach=machine_reach(journal, uid, at),
        batches=tuple(_batch(journal, batch.uid, uid, at) for batch in journal.batches.with_phase_in(uid)),
    )


def _probe(journal: Journal, probe: Probe, machine: str, at: int) -> MachineProbe:
    since_at = max(
        place.from_at
        for place in journal.probes.placements(probe.uid)
        if place.machine == machine and place.from_at <= at
    )
    checks = [check for check in journal.probes.checks(probe.uid) if check.at <= at]
    return MachineProbe(probe, since_at, checks[0] if checks else None)


def _batch(journal: Journal, uid: str, machine: str, at: int) -> MachineBatch:
    course = Course(journal, uid, at)
    here = [
        (figures, _most_readings(series))
        for figures, phase, series in zip(phase_figures(course), course.phases, course.series, strict=True)
        if course.machine_of(phase) == machine
    ]
    batch = course.batch
    return MachineBatch(
        uid=batch.uid,
        label=batch.label,
        name=batch.name,
        species=batch.species,
        state=course.state,
        set_at=batch.set_at,
        phases=tuple(figures for figures, _most in here),
        most_readings=tuple(most for _figures, most in here),
    )


def _most_readings(series: StretchSeries | None) -> tuple[float, float] | None:
    known = np.empty(0) if series is None else series.humidity[~np.isnan(series.humidity)]
    if not known.size:
        return None
    low, high = np.quantile(known, _NINE_OF_TEN)
    return float(low), float(high)
