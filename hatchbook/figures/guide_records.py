"""What was read of a machine for its guide: settled days, channels that fell dry, and the rest of its history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from hatchbook.figures.guide_settings import SettingLine
from hatchbook.figures.room import RoomSeries
from hatchbook.journal import Batch, Channel, Event, Machine
from hatchbook.statistics.water_guide import SettledDays, TopUps
from hatchbook.statistics.water_model import FloatArray, IntArray

USUAL_MACHINE_C = 37.6
"""How warm a machine is where neither its readings nor a programme tell, °C (our choice)."""


@dataclass(frozen=True)
class SettledDay:
    """The mean of at most a day in which filling and vent stood still; see `SettledDays`."""

    begin: int
    end: int
    channels: int
    vent: float
    humidity: float
    temperature_c: float
    room_kpa: float
    eggs_g_h_kpa: float
    hatching: bool
    known_h: float
    batch: int
    stretch: int


@dataclass(frozen=True)
class FallenDry:
    """Channels that fell dry so many days after they were filled, and the air while they had water."""

    channels: int
    days: float
    humidity: float
    temperature_c: float


@dataclass(frozen=True)
class MachineHistory:
    """All that a machine's readings and events tell of its water and vent, until an instant.

    batches: whose days they are, by their place. room_hours: vapour of the room hour by hour as far as it was read
    for it. dry_runs: (event, humidity shown, temperature shown).
    """

    machine: Machine
    channels: tuple[Channel, ...]
    line: SettingLine
    batches: tuple[Batch, ...]
    days: tuple[SettledDay, ...]
    top_ups: TopUps
    dry_runs: tuple[tuple[Event, float, float], ...]
    fallen_dry: tuple[FallenDry, ...]
    events: tuple[Event, ...] = field(repr=False)
    room: tuple[RoomSeries, ...] = field(repr=False)

    @property
    def channel_count(self) -> int:
        """How many channels it has; where that is not known, the most that were ever filled, at least 3."""
        if self.channels:
            return len(self.channels)
        return max((event.channels_filled or 0 for event in self.events), default=0) or 3

    @cached_property
    def evidence(self) -> dict[tuple[int, float], tuple[float, tuple[str, ...]]]:
        """Of each setting that was tried: hours of readings, and the labels of its batches, the newest first."""
        found: dict[tuple[int, float], tuple[float, tuple[str, ...]]] = {}
        for day in reversed(self.with_eggs):
            hours, labels = found.get((day.channels, day.vent), (0.0, ()))
            label = self.batches[day.batch].label
            labels = labels if label in labels else (*labels, label)
            found[day.channels, day.vent] = hours + day.known_h, labels
        return found

    @cached_property
    def with_eggs(self) -> tuple[SettledDay, ...]:
        """The settled days without the dry runs."""
        return tuple(day for day in self.days if day.eggs_g_h_kpa > 0)

    def place_of(self, batch: str) -> int | None:
        """The place of a batch among those of the history."""
        return next((place for place, one in enumerate(self.batches) if one.uid == batch), None)

    def settled(self) -> SettledDays:
        """The days as arrays."""
        days = self.days
        return SettledDays(
            channels=_floats(day.channels for day in days),
            vent=_floats(day.vent for day in days),
            humidity=_floats(day.humidity for day in days),
            temperature_c=_floats(day.temperature_c for day in days),
            room_kpa=_floats(day.room_kpa for day in days),
            eggs_g_h_kpa=_floats(day.eggs_g_h_kpa for day in days),
            hatching=_floats(day.hatching for day in days),
            known_h=_floats(day.known_h for day in days),
            batch=_whole(day.batch for day in days),
            stretch=_whole(day.stretch for day in days),
        )


def _floats(values: Iterable[float]) -> FloatArray:
    return np.array(list(values), dtype=np.float64)


def _whole(values: Iterable[int]) -> IntArray:
    return np.array(list(values), dtype=np.int64)
