"""A machine: what it is, which probes hang in it, and how the batches in it kept to their phases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hatchbook.figures.course import Course, present
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.plain import plain_fields
from hatchbook.figures.reach import MachineReach, machine_reach
from hatchbook.figures.results import BatchState, PhaseFigures
from hatchbook.journal import Channel, Journal, Machine, Probe, ProbeCheck


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
    """A batch that lay in a machine, with those of its phases that it spent there."""

    uid: str
    label: str
    name: str
    species: str
    state: BatchState
    set_at: int
    phases: tuple[PhaseFigures, ...]

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
    phases = [
        figures
        for figures, phase in zip(phase_figures(course), course.phases, strict=True)
        if course.machine_of(phase) == machine
    ]
    batch = course.batch
    return MachineBatch(
        batch.uid, batch.label, batch.name, batch.species, course.state, batch.set_at, tuple(phases)
    )
