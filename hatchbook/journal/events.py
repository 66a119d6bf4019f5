"""Events: water, vent, lid, power cuts, turnings, mistings, notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.eggs import number_of
from hatchbook.journal.history import Change
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

    def of_egg(self, egg: str) -> list[Event]:
        """What was noted of one egg, oldest first."""
        return self._where("egg = ?", (egg,))

    def note_eggs(self, batch: str, eggs: Sequence[str], text: str, at: int) -> Change:
        """Stores the same note for several eggs of a batch as one step."""
        details: dict[str, Any] = {"count": len(eggs), "text": text}
        if len(eggs) == 1:
            details["number"] = number_of(self._store, eggs[0])
        with self._history.step("eggs_noted", batch=batch, **details) as step:
            for egg in eggs:
                step.add(Event(at, EventKind.NOTE, batch=batch, egg=egg, text=text))
        return step.done

    def log_setting(
        self,
        machine: str,
        at: int,
        *,
        channels: int | None = None,
        water_ml: float | None = None,
        vent: float | None = None,
        text: str = "",
    ) -> Change:
        """Stores how a machine is set from an instant on, its water, its vent or both, as one step.

        Args:
            channels: how many channels hold water from then on; None: its water was left as it was.
            water_ml: how much was filled in, where it was measured.
            vent: 0 shut to 1 open; None: it was not moved.
            text: a note; with water and vent alike it stands with the water.

        Raises:
            ValueError: neither of them changed.
        """
        if channels is None and vent is None:
            raise ValueError("a setting needs water or a vent")
        details: dict[str, Any] = {
            name: value
            for name, value in (("channels_filled", channels), ("vent", vent))
            if value is not None
        }
        with self._history.step("setting_logged", **details) as step:
            if channels is not None:
                step.add(
                    Event(
                        at,
                        EventKind.WATER,
                        machine=machine,
                        channels_filled=channels,
                        water_ml=water_ml,
                        text=text,
                    )
                )
            if vent is not None:
                note = text if channels is None else ""
                step.add(Event(at, EventKind.VENT, machine=machine, vent=vent, text=note))
        return step.done

    def named(self, record: Event) -> dict[str, Any]:
        """Kind and values of the event."""
        values = {
            "kind": str(record.kind),
            "channels_filled": record.channels_filled,
            "vent": record.vent,
            "text": record.text,
            "number": None if record.egg is None else number_of(self._store, record.egg),
        }
        return {name: value for name, value in values.items() if value not in (None, "")}
