"""Machines and their water channels."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import MachineKind


@dataclass(frozen=True)
class Machine:
    """An incubator: how its air moves, how high it stands (m), how its trays are laid out."""

    KIND: ClassVar[str] = "machine"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    name: str
    tray_rows: int
    tray_columns: int
    kind: MachineKind = MachineKind.FORCED_AIR
    altitude_m: float = 0.0
    trays: int = 1
    note: str = ""
    retired_on: str | None = None
    uid: str = field(default_factory=new_uid)

    @property
    def places(self) -> int:
        """How many eggs it holds."""
        return self.trays * self.tray_rows * self.tray_columns


@dataclass(frozen=True)
class Channel:
    """A water reservoir in a machine's base, with its open surface (cm²) and what it holds (ml), if known."""

    KIND: ClassVar[str] = "channel"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    machine: str
    position: int
    name: str = ""
    area_cm2: float | None = None
    volume_ml: float | None = None
    uid: str = field(default_factory=new_uid)


class Machines(Collection[Machine]):
    """The machines of a journal."""

    record_class = Machine
    order = "retired_on IS NOT NULL, name"

    def channels(self, machine: str) -> list[Channel]:
        """The channels of a machine, by position."""
        return self._store.records(Channel, "machine = ?", (machine,), "position")

    def remove(self, record: Machine) -> Change:
        """Removes a machine with its channels as one step; one in which something was set or hung is refused."""
        with self._history.step("machine_removed", name=record.name) as step:
            for channel in self.channels(record.uid):
                step.remove(channel)
            step.remove(record)
        return step.done

    def keep(self, machine: Machine, channels: int | None = None) -> Change:
        """Adds a machine or stores its changes, with this many channels, as one step.

        Args:
            machine: the machine; one with its uid is replaced.
            channels: how many channels it is to have; further ones are added, the last ones taken away.
        """
        known = self.find(machine.uid)
        code = "machine_added" if known is None else "machine_changed"
        with self._history.step(code, name=machine.name) as step:
            if known is None:
                step.add(machine)
            else:
                step.replace(machine)
            present = self.channels(machine.uid)
            if channels is not None:
                for position in range(len(present) + 1, channels + 1):
                    step.add(Channel(machine.uid, position))
                for channel in reversed(present[channels:]):
                    step.remove(channel)
        return step.done

    def replace_channel(self, channel: Channel) -> Change:
        """Stores a channel's name, surface or volume as one step.

        Raises:
            RecordMissingError: there is no such channel.
        """
        with self._history.step("machine_changed", name=self.get(channel.machine).name) as step:
            step.replace(channel)
        return step.done
