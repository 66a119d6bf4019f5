"""A machine in a journal whose air follows from how it is set: events, readings of it and of the room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from hatchbook.journal import Batch, Channel, Event, Probe
from hatchbook.statistics.moisture import relative_humidity, saturation_kpa
from hatchbook.statistics.water_model import Channels, Standing, balance, eggs_rate, parameter_priors
from hatchbook.trade.codes import EventKind
from tests.figures.conftest import DAY, HOUR, SET_AT, Hatchery

CHANNELS = Channels(4, 55.0)
ROOM_C = 20.0
WARM_C = 37.5
EVERY_S = 1800
#: What the believed machine is like, a little drier.
ROW = np.array([prior.middle for prior in parameter_priors(CHANNELS)]) + np.array(
    [-0.25, 0.2, 0.1, -0.2, 0.0, 0.0, 0.0, 0.0]
)


@dataclass
class GuideMachine:
    """Writes batches into the hatchery's machine, which gets four channels; ``room``: a probe in the room."""

    hatchery: Hatchery
    room: Probe | None = None
    eggs: int = 12
    seed: int = 1
    channels: list[Channel] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.rng = np.random.default_rng(self.seed)
        machines = self.hatchery.journal.machines
        machines.keep(self.hatchery.machine, 4)
        for channel in machines.channels(self.uid):
            machines.replace_channel(Channel(channel.machine, channel.position, "", 55.0, 240.0, channel.uid))

    @property
    def uid(self) -> str:
        return self.hatchery.machine.uid

    def humidity(self, channels: float, vent: float, room_kpa: float, *, hatching: bool = False) -> float:
        """What a setting really gives, with this machine's eggs."""
        one = np.ones(1)
        cases = Standing(
            channels * one, vent * one, room_kpa * one, WARM_C * one,
            eggs_rate(58.0 * self.eggs, 101.325) * one, float(hatching) * one,
        )  # fmt: skip
        return float(balance(ROW, cases, CHANNELS).humidity[0])

    def event(self, at: int, kind: EventKind, **fields: object) -> None:
        self.hatchery.journal.events.add(Event(at, kind, machine=self.uid, **fields))  # type: ignore[arg-type]

    def batch(
        self,
        set_at: int = SET_AT,
        settings: Sequence[tuple[float, int, float]] = ((0.0, 2, 0.5),),
        *,
        days: float = 21.0,
        room_kpa: float = 1.17,
        fills: Sequence[float] = (2, 4, 6, 8, 10, 12, 14, 16, 18, 20),
        dry_from_day: float | None = None,
        close: bool = True,
        log_settings: bool = True,
    ) -> Batch:
        """A batch with settings from a day on, each (day, channels, vent), and all that was read meanwhile."""
        batch = self.hatchery.add_batch(set_at, eggs=self.eggs)
        if log_settings:
            for day, channels, vent in settings:
                at = set_at + round(day * DAY)
                self.event(at, EventKind.WATER, channels_filled=channels)
                self.event(at, EventKind.VENT, vent=vent)
            for day in fills:
                if day < days:
                    self.event(set_at + round(day * DAY), EventKind.WATER)
        at = np.arange(set_at, set_at + round(days * DAY), EVERY_S, dtype=np.int64)
        day = (at - set_at) / DAY
        truth = np.empty(at.size)
        for begin, channels, vent in settings:
            filled = 0 if dry_from_day is not None and begin >= dry_from_day else channels
            truth[day >= begin] = self.humidity(filled, vent, room_kpa)
            truth[day >= max(begin, 18.0)] = self.humidity(filled, vent, room_kpa, hatching=True)
        if dry_from_day is not None:
            dry = self.humidity(0, settings[-1][2], room_kpa)
            gone = day >= dry_from_day
            truth[gone] = dry + (truth[gone] - dry) * np.exp(-(day[gone] - dry_from_day) * 24 / 2)
        noise = self.rng.normal(0, 0.4, at.size)
        name = f"{batch.label}.csv"
        self.hatchery.log(at, truth + noise, WARM_C + self.rng.normal(0, 0.05, at.size), name=name)
        if self.room is not None:
            self.log_room(set_at - DAY, set_at + round(days * DAY), room_kpa)
        if close:
            self.hatchery.close(batch, days)
        return batch

    def log_room(self, start_at: int, end_at: int, room_kpa: float) -> None:
        assert self.room is not None
        hours = np.arange(start_at, end_at, HOUR, dtype=np.int64)
        humid = float(relative_humidity(ROOM_C, room_kpa)) + self.rng.normal(0, 0.2, hours.size)
        self.hatchery.log(hours, humid, ROOM_C, probe=self.room, name=f"room {start_at}.csv")

    def dry_run(self, at: int, room_kpa: float) -> None:
        """An hour empty and warm, read every ten minutes."""
        self.event(at, EventKind.DRY_RUN, ends_at=at + HOUR)
        instants = np.arange(at, at + HOUR, 600, dtype=np.int64)
        alone = 100 * room_kpa / float(saturation_kpa(WARM_C))
        self.hatchery.log(instants, alone + 0.3, WARM_C, name=f"dry {at}.csv")
