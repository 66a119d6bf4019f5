"""Probes, where they hung when, and the checks that correct them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import CheckMethod, ProbePlace, Quantity


@dataclass(frozen=True)
class Probe:
    """A thermometer, hygrometer or logger; ``number`` is the short key of its readings.

    Accuracies are plus-minus half-widths, in % RH and °C, as its maker or its last check says.
    """

    KIND: ClassVar[str] = "probe"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    name: str
    number: int
    accuracy_humidity: float | None = None
    accuracy_temperature_c: float | None = None
    note: str = ""
    retired_on: str | None = None
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class ProbePlacement:
    """A probe hung in a machine, or in the room, from an instant until another (None: still)."""

    KIND: ClassVar[str] = "probe_placement"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    probe: str
    place: ProbePlace
    machine: str | None
    from_at: int
    until_at: int | None = None
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class ProbeCheck:
    """What a probe showed beside a known value (% RH or °C): a salt's fixed point or a reference instrument."""

    KIND: ClassVar[str] = "probe_check"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    probe: str
    at: int
    quantity: Quantity
    method: CheckMethod
    reference_value: float
    shown_value: float
    salt: str = ""
    temperature_c: float | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class Stay:
    """A stretch of time for which a probe hung in one place."""

    probe: Probe
    start_at: int
    end_at: int


class Probes(Collection[Probe]):
    """The probes of a journal."""

    record_class = Probe
    order = "retired_on IS NOT NULL, name"

    def next_number(self) -> int:
        """The short key for a new probe."""
        row = self._store.one("SELECT coalesce(max(number), 0) + 1 FROM probe")
        return int(row[0]) if row else 1

    def add_to(
        self,
        name: str,
        *,
        machine: str | None,
        from_at: int,
        accuracy_humidity: float | None = None,
        accuracy_temperature_c: float | None = None,
    ) -> Change:
        """Adds a probe that hangs in a machine (None: in the room) from an instant on, as one step."""
        probe = Probe(name, self.next_number(), accuracy_humidity, accuracy_temperature_c)
        place = ProbePlace.ROOM if machine is None else ProbePlace.MACHINE
        with self._history.step("probe_added", name=name) as step:
            step.add(probe)
            step.add(ProbePlacement(probe.uid, place, machine, from_at))
        return step.done

    def move(self, probe: Probe, *, machine: str | None, at: int) -> Change:
        """Hangs a probe elsewhere from an instant on, until its next known move if there is one.

        Its stay at that instant ends there; a stay that begins at the very instant is replaced.
        """
        place = ProbePlace.ROOM if machine is None else ProbePlace.MACHINE
        until_at = None
        with self._history.step("probe_moved", name=probe.name) as step:
            for placement in self.placements(probe.uid):
                if placement.from_at > at:
                    until_at = placement.from_at
                    break
                if placement.from_at == at:
                    step.remove(placement)
                elif placement.until_at is None or placement.until_at > at:
                    step.replace(replace(placement, until_at=at))
            step.add(ProbePlacement(probe.uid, place, machine, at, until_at))
        return step.done

    def remove(self, record: Probe) -> Change:
        """Removes a probe with its stays and checks as one step; one that has readings is refused."""
        with self._history.step("probe_removed", name=record.name) as step:
            for check in self.checks(record.uid):
                step.remove(check)
            for placement in self.placements(record.uid):
                step.remove(placement)
            step.remove(record)
        return step.done

    def by_name(self, name: str) -> Probe | None:
        """The probe of this name, or None."""
        found = self._where("name = ?", (name,))
        return found[0] if found else None

    def placements(self, probe: str) -> list[ProbePlacement]:
        """Where a probe hung, oldest first."""
        return self._store.records(ProbePlacement, "probe = ?", (probe,), "from_at")

    def stays(self, machine: str | None, start_at: int, end_at: int) -> list[Stay]:
        """Which probes hung in a machine (None: in the room) during a stretch, clipped to it, oldest first."""
        placements = self._store.records(
            ProbePlacement,
            "machine IS ? AND from_at < ? AND coalesce(until_at, ?) > ?",
            (machine, end_at, end_at, start_at),
            "from_at",
        )
        return [
            Stay(
                self.get(placement.probe),
                max(start_at, placement.from_at),
                end_at if placement.until_at is None else min(end_at, placement.until_at),
            )
            for placement in placements
        ]

    def present_in(self, machine: str | None, at: int) -> list[Probe]:
        """The probes that hang in a machine (None: in the room) at an instant."""
        return [stay.probe for stay in self.stays(machine, at, at + 1)]

    def machine_of(self, probe: str, at: int) -> str | None:
        """The uid of the machine in which a probe hangs at an instant; None: in the room or nowhere."""
        for placement in self.placements(probe):
            if placement.from_at <= at and (placement.until_at is None or at < placement.until_at):
                return placement.machine
        return None

    def checks(self, probe: str) -> list[ProbeCheck]:
        """The checks of a probe, newest first."""
        return self._store.records(ProbeCheck, "probe = ?", (probe,), "at DESC")

    def add_check(self, check: ProbeCheck) -> Change:
        """Stores a check as one step."""
        with self._history.step("probe_check_added", name=self.get(check.probe).name) as step:
            step.add(check)
        return step.done

    def add_checks(self, checks: Sequence[ProbeCheck]) -> Change:
        """Stores the checks of one session of a probe, such as over two salts, as one step."""
        with self._history.step("probe_check_added", name=self.get(checks[0].probe).name) as step:
            for check in checks:
                step.add(check)
        return step.done

    def replace_check(self, check: ProbeCheck) -> Change:
        """Stores what a check was changed to as one step.

        Raises:
            RecordMissingError: there is no such check.
        """
        with self._history.step("probe_check_changed", name=self.get(check.probe).name) as step:
            step.replace(check)
        return step.done

    def remove_check(self, check: ProbeCheck) -> Change:
        """Removes a check as one step."""
        with self._history.step("probe_check_removed", name=self.get(check.probe).name) as step:
            step.remove(check)
        return step.done
