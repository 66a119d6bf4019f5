"""Events: water, vent, lid, power cuts, turnings, mistings, notes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import EventKind


@dataclass(frozen=True)
class Event:
    """Something that happened to a machine or a batch, at an instant or until another.

    ``channels_filled``: how many channels hold water from then on. ``vent``: 0 shut to 1 fully open.
    """

    KIND: ClassVar[str] = "event"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    at: int
    kind: EventKind
    machine: str | None = None
    batch: str | None = None
    egg: str | None = None
    ends_at: int | None = None
    channels_filled: int | None = None
    vent: float | None = None
    water_ml: float | None = None
    text: str = ""
    uid: str = field(default_factory=new_uid)


class Events(Collection[Event]):
    """The events of a journal."""

    record_class = Event
    order = "at, kind"

    def of_batch(self, batch: str, machines: list[str], start_at: int, end_at: int) -> list[Event]:
        """What concerned a batch: its own events, and those of its machines while it was in them."""
        marks = ", ".join("?" * len(machines))
        return self._where(
            f"batch = ? OR (batch IS NULL AND machine IN ({marks}) AND at >= ? AND at < ?)",
            (batch, *machines, start_at, end_at),
        )

    def of_machine(self, machine: str, start_at: int, end_at: int) -> list[Event]:
        """The events of a machine within a stretch of time."""
        return self._where("machine = ? AND at >= ? AND at < ?", (machine, start_at, end_at))

    def last_before(self, machine: str, kind: EventKind, at: int) -> Event | None:
        """The latest event of a kind in a machine before an instant: how its vent or its water stood."""
        found = self._store.records(
            Event, "machine = ? AND kind = ? AND at < ?", (machine, str(kind), at), "at DESC LIMIT 1"
        )
        return found[0] if found else None

    def named(self, record: Event) -> dict[str, Any]:
        """Kind and values of the event."""
        values = {
            "kind": str(record.kind),
            "channels_filled": record.channels_filled,
            "vent": record.vent,
            "text": record.text,
        }
        return {name: value for name, value in values.items() if value not in (None, "")}
