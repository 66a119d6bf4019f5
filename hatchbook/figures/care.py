"""What keeps a machine true and clean: checks of its probes, cleanings, dry runs, power cuts, repairs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hatchbook.figures.course import present
from hatchbook.figures.plain import plain_fields
from hatchbook.journal import Event, Journal, Probe, ProbeCheck
from hatchbook.trade.codes import EventKind

CARE_KINDS = frozenset({EventKind.CLEANED, EventKind.DRY_RUN, EventKind.POWER_CUT, EventKind.CARE})
"""The events of a machine that are care rather than how it was set."""


@dataclass(frozen=True)
class CareEntry:
    """A check of a probe, or an event of the machine; the other one is None. ``at``: UTC seconds."""

    at: int
    check: ProbeCheck | None = None
    event: Event | None = None
    probe_name: str = ""

    @property
    def record(self) -> tuple[str, str]:
        """Kind and uid of the record that the entry opens."""
        one = self.check or self.event
        assert one is not None
        return one.KIND, one.uid

    def as_dict(self) -> dict[str, Any]:
        """The entry as plain JSON values."""
        return plain_fields(self)


def machine_care(journal: Journal, machine: str, now: int | None = None) -> tuple[CareEntry, ...]:
    """The checks and care of a machine until now, newest first.

    Of a probe that hangs in it now all checks count; of one that hung in it earlier those of that time.
    """
    at = present(now)
    entries = [
        CareEntry(event.at, event=event)
        for event in journal.events.of_machine(machine, 0, at + 1)
        if event.kind in CARE_KINDS
    ]
    for probe in _probes(journal, machine, at):
        stays = [
            place
            for place in journal.probes.placements(probe.uid)
            if place.machine == machine and place.from_at <= at
        ]
        still = any(place.until_at is None or place.until_at > at for place in stays)
        entries += [
            CareEntry(check.at, check=check, probe_name=probe.name)
            for check in journal.probes.checks(probe.uid)
            if check.at <= at
            and (
                still or any(place.from_at <= check.at < (place.until_at or check.at + 1) for place in stays)
            )
        ]
    return tuple(sorted(entries, key=lambda entry: entry.at, reverse=True))


def _probes(journal: Journal, machine: str, at: int) -> list[Probe]:
    found: dict[str, Probe] = {}
    for stay in journal.probes.stays(machine, 0, at + 1):
        found[stay.probe.uid] = stay.probe
    return list(found.values())
