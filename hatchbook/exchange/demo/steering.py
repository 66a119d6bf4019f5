"""What the breeder of the demo does about water and vent: settings, and the filling up in between."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import time

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.air import steady_humidity
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.scenario import BatchStory, MachinePlan, Steering
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import BatchPlan

VENTS = (0.25, 1 / 3, 0.5, 2 / 3, 0.75)
LOCKDOWN_VENTS = (0.125, 0.25, 1 / 3)
USUAL_VENT = 0.5
_SPONGE_CHANNELS = 1.2
_FILLS_EVERY_DAYS = 2
_DRIES_IN_TWO_DAYS = 0.10
"""So much of the open surface is lost in two days without filling up; it grows with the square of the time."""
_HATCH_MOISTURE = 2.0
"""Hatching eggs give off so many times the water, on average over lockdown."""


@dataclass(frozen=True)
class WaterSetting:
    """How water and vent stand from an instant on; ``moves`` where the breeder has just changed them."""

    at: int
    channels: int
    vent: float
    text: str = ""
    moves_channels: bool = False
    moves_vent: bool = False
    sponge: bool = False


@dataclass(frozen=True)
class WaterCare:
    """The settings of a batch, oldest first, and when the channels were filled up in between."""

    settings: tuple[WaterSetting, ...]
    fills: tuple[int, ...]

    def open_water(self, at: NDArray[np.int64], set_at: int, leaks_a_day: float) -> NDArray[np.float64]:
        """Open water at instants, as a number of channels brim-full."""
        count = np.array([one.channels + _SPONGE_CHANNELS * one.sponge for one in self.settings])
        filled = np.array(sorted({*self.fills, *(one.at for one in self.settings)}))
        age_days = (at - filled[np.searchsorted(filled, at, side="right") - 1]) / DAY_S
        dried = _DRIES_IN_TWO_DAYS * np.minimum(age_days / _FILLS_EVERY_DAYS, 2.0) ** 2
        leaked = np.minimum(leaks_a_day * (at - set_at) / DAY_S, 0.9)
        brim_full: NDArray[np.float64] = count[self._standing(at)] * (1 - dried) * (1 - leaked)
        return brim_full

    def vent(self, at: NDArray[np.int64]) -> NDArray[np.float64]:
        """How far the vent is open at instants, 0 to 1."""
        return np.array([one.vent for one in self.settings])[self._standing(at)]

    def _standing(self, at: NDArray[np.int64]) -> NDArray[np.int64]:
        begins = np.array([one.at for one in self.settings])
        return np.maximum(np.searchsorted(begins, at, side="right") - 1, 0)


@dataclass(frozen=True)
class Steersman:
    """The breeder at one batch: knows the machine and what the room's air will be like."""

    machine: MachinePlan
    story: BatchStory
    plan: BatchPlan
    room: Room
    dates: DemoDates
    eggs_g_h_kpa: float
    egg_cooler_c: float

    def care(self, until: int, rng: np.random.Generator) -> WaterCare:
        """What is done from setting until an instant."""
        asked = [one for one in self._asked(rng) if self._at(one) < until]
        if not asked:  # it is not yet set
            return WaterCare((WaterSetting(self.plan.set_at_s, 0, USUAL_VENT),), ())
        ends = [*(self._at(one) for one in asked[1:]), until]
        settings: list[WaterSetting] = []
        for one, end in zip(asked, ends, strict=True):
            before = settings[-1] if settings else None
            settings.append(self._set(one, before, end))
        fills = tuple(at for at in self._fills(settings, rng) if at < until)
        return WaterCare(tuple(settings), fills)

    def _asked(self, rng: np.random.Generator) -> Iterator[Steering]:
        phase, lockdown = self.plan.phases[0].targets, self.plan.phases[-1].targets
        off = rng.normal(0.0, (1.2, 0.7, 0.6))
        usual = (
            Steering(0.0, phase.humidity_aim + float(np.clip(off[0], -2, 2))),
            Steering(round(0.27 * phase.to_day) + 0.4, phase.humidity_aim + float(off[1])),
            Steering(round(0.6 * phase.to_day) + 0.4, phase.humidity_aim + float(off[2])),
        )
        yield from self.story.steer or usual
        yield Steering(lockdown.from_day, lockdown.humidity_aim)

    def _at(self, asked: Steering) -> int:
        return self.plan.set_at_s + round(asked.day * DAY_S / 600) * 600

    def _set(self, asked: Steering, before: WaterSetting | None, end: int) -> WaterSetting:
        at = self._at(asked)
        if asked.channels is not None and asked.vent is not None:
            chosen = WaterSetting(at, asked.channels, asked.vent)
        else:
            chosen = self._best(asked, before, at, end)
        return replace(
            chosen,
            text=asked.text,
            moves_channels=before is None or before.channels != chosen.channels,
            moves_vent=before is None or before.vent != chosen.vent,
        )

    def _best(self, asked: Steering, before: WaterSetting | None, at: int, end: int) -> WaterSetting:
        """The setting that comes nearest to the aim; one that is known, or usual, goes before."""
        lockdown = at >= self.plan.lockdown_at_s
        sponge = lockdown and self.story.sponge
        targets = self.plan.phases[-1 if lockdown else 0].targets
        room_kpa = float(np.mean(self.room.air(np.arange(at, max(end, at + 3600), 3600)).vapour_kpa))
        aim = targets.humidity_aim if asked.aim is None else asked.aim
        saturated_kpa = saturation_kpa(targets.temperature_aim_c)
        in_egg_kpa = saturation_kpa(targets.temperature_aim_c - self.egg_cooler_c)

        def miss(setting: WaterSetting) -> float:
            humidity = steady_humidity(
                self.machine,
                channels=(setting.channels + _SPONGE_CHANNELS * sponge) * (1 - 0.4 * _DRIES_IN_TWO_DAYS),
                vent=setting.vent,
                room_kpa=room_kpa,
                saturated_kpa=saturated_kpa,
                in_egg_kpa=in_egg_kpa,
                eggs_g_h_kpa=self.eggs_g_h_kpa * (_HATCH_MOISTURE if lockdown else 1.0),
            )
            moved = before is not None and (setting.channels, setting.vent) != (before.channels, before.vent)
            unusual = 0.0 if lockdown else abs(setting.vent - USUAL_VENT)
            return abs(humidity - aim) + 0.4 * moved + 1.2 * unusual

        counts = (
            range(self.machine.channels - lockdown, self.machine.channels + 1)
            if lockdown
            else range(self.machine.channels + 1)
        )
        vents: Sequence[float] = LOCKDOWN_VENTS if lockdown else VENTS
        tried = (
            WaterSetting(at, count, vent, sponge=sponge) for count, vent in itertools.product(counts, vents)
        )
        return min(tried, key=miss)

    def _fills(self, settings: Sequence[WaterSetting], rng: np.random.Generator) -> Iterator[int]:
        """Every second evening, unless the channels were just set."""
        for day in range(_FILLS_EVERY_DAYS, int(self.plan.programme.incubation_days), _FILLS_EVERY_DAYS):
            at = self.dates.of_batch(self.plan.set_at_s, day, time(18, 0)) + 60 * int(rng.integers(0, 70))
            near = any(abs(one.at - at) < DAY_S // 2 for one in settings)
            standing = [one for one in settings if one.at <= at]
            if not near and standing and standing[-1].channels:
                yield at
