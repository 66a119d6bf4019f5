"""What each filling and vent of a machine gives, fitted to the stretches in which both stood still.

The balance (`hatchbook.statistics.water_model`) is fitted to daily means, never to single readings, since those
of a day hang together. What the balance does not contain is carried as effects on the logarithm of the air
change: of each setting, of each batch and of each stretch (`Effects`), normal, with spreads that are estimated
beside the parameters (expectation-maximisation round a least-squares fit, each spread with a weak prior of its
own). So a setting that was tried often is known better than one that was not, and a batch that runs is known by
its own days.

Humidity in % RH, vapour in kPa, temperatures in °C, water in ml (= g).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.intervals import NORMAL_95
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.water_days import (
    VENT_STEP,
    RoomBelief,
    SettledDays,
    TopUps,
    no_days,
    no_top_ups,
    setting_keys,
)
from hatchbook.statistics.water_fit import Effects, Fitting
from hatchbook.statistics.water_model import (
    PARAMETERS,
    Channels,
    FloatArray,
    Parameter,
    Standing,
    air_change,
    balance,
)

__all__ = [
    "NORMAL_95",
    "Expected",
    "RoomBelief",
    "SettledDays",
    "TopUps",
    "WaterFit",
    "fit_water",
    "no_days",
    "no_top_ups",
    "setting_keys",
]


@dataclass(frozen=True)
class Expected:
    """What settings are expected to give; arrays of one length. spread: standard deviation of a day's mean."""

    humidity: FloatArray
    spread: FloatArray
    egg_share: FloatArray
    water_ml_day: FloatArray
    water_spread: FloatArray


@dataclass(frozen=True)
class WaterFit:
    """The balance of a machine as its history tells it, with what is not known of it.

    unknowns: parameters, then effects of settings, batches, stretches, then the room's air of batches without a
    room probe. covariance: of them. day_spread: of a day's mean in its stretch, % RH.
    """

    channels: Channels
    unknowns: FloatArray
    covariance: FloatArray
    settings: Effects
    batches: Effects
    stretches: Effects
    rooms: Effects
    room: RoomBelief
    day_spread: float
    days: int

    def expect(
        self,
        cases: Standing,
        *,
        batch: int | None = None,
        stretch: int | None = None,
        room_spread_kpa: float = 0.0,
    ) -> Expected:
        """What each case gives, as the mean of a day.

        Args:
            batch: whose days tell of the machine as it is now; None for a batch to come.
            stretch: the stretch that still goes on: its effect holds for the cases at its own setting.
            room_spread_kpa: standard deviation of the room's vapour pressure.
        """
        size, width = cases.vent.size, self.unknowns.size
        air_log, unseen = np.zeros(size), (priors.FAR_FROM_TRIED * self._far(cases)) ** 2
        carries = np.zeros((size, width))
        own = None if stretch is None else self._setting_of(stretch)
        keys = setting_keys(cases.channels, cases.vent)
        for case, key in enumerate(keys):
            wanted: list[tuple[Effects, tuple[int, ...] | None]] = [
                (self.settings, key),
                (self.batches, None if batch is None else (batch,)),
                (self.stretches, (stretch, *key) if stretch is not None and key == own else None),
            ]
            for effects, which in wanted:
                place = None if which is None else effects.place(which)
                if place is None:
                    unseen[case] += effects.spread**2
                else:
                    air_log[case] += self.unknowns[place]
                    carries[case, place] = 1.0
        found = balance(self.unknowns[:PARAMETERS], cases, self.channels, air_log)
        gradient = carries * found.by_air[:, None]
        gradient[:, :PARAMETERS] = found.slopes
        known = np.sum(gradient @ self.covariance * gradient, axis=1)
        apart = found.by_air**2 * unseen + (found.by_room * room_spread_kpa) ** 2
        water = 24 * found.water_slopes
        water_known = np.sum(water @ self.covariance[:PARAMETERS, :PARAMETERS] * water, axis=1)
        return Expected(
            humidity=found.humidity,
            spread=np.sqrt(np.maximum(known, 0) + apart + self.day_spread**2),
            egg_share=found.egg_share,
            water_ml_day=24 * found.water_g_h,
            water_spread=np.hypot(
                np.sqrt(np.maximum(water_known, 0)), priors.FILLED_ALIKE * 24 * found.water_g_h
            ),
        )

    def evaporates(self, channels: float, humidity: float, temperature_c: float) -> float:
        """What filled channels give off at a humidity, ml a day."""
        row = self.unknowns
        saturated = float(saturation_kpa(temperature_c))
        nearness = 1 / (1 + np.exp(-row[Parameter.WATER_VAPOUR]))
        drawn = max(saturated * (float(nearness) - humidity / 100), 0.0)
        return 24 * channels * float(np.exp(row[Parameter.CHANNEL])) * drawn

    def room_of(self, batch: int | None) -> tuple[float, float]:
        """The room's vapour pressure as a batch without a room probe tells it, kPa, and its standard deviation."""
        place = None if batch is None else self.rooms.place((batch,))
        if place is None:
            return self.room.kpa, self.room.kpa * self.room.spread
        kpa = self.room.kpa * float(np.exp(self.unknowns[place]))
        return kpa, kpa * float(np.sqrt(self.covariance[place, place]))

    def _far(self, cases: Standing) -> FloatArray:
        """How far each case lies from the nearest setting that was tried, in factors e; 0 without any history."""
        if not self.settings.keys:
            return np.zeros(cases.vent.size)
        channels, openings = np.array(self.settings.keys, dtype=np.float64).T
        row = self.unknowns[:PARAMETERS]
        air = np.log(air_change(row, openings * VENT_STEP))
        water = np.log(np.maximum(channels, 0.5))
        by_air = np.abs(np.log(air_change(row, cases.vent))[:, None] - air)
        by_water = np.abs(np.log(np.maximum(cases.channels, 0.5))[:, None] - water)
        # Without water there is none whose surface could be mistaken.
        by_water[cases.channels == 0] = 0.0
        nearest: FloatArray = np.min(by_air + by_water, axis=1)
        return nearest

    def _setting_of(self, stretch: int) -> tuple[int, ...] | None:
        return next((key[1:] for key in self.stretches.keys if key[0] == stretch), None)


def fit_water(
    days: SettledDays, top_ups: TopUps, channels: Channels, room: RoomBelief | None = None
) -> WaterFit:
    """Fits the balance of a machine to its settled days, all of them at once.

    With no days at all the answer is what is believed beforehand (`hatchbook.statistics.water_priors`).
    """
    belief = RoomBelief() if room is None else room
    found = Fitting(days, top_ups, channels, belief).run()
    settings, batches, stretches, rooms = found.effects
    return WaterFit(
        channels=channels,
        unknowns=found.unknowns,
        covariance=found.covariance,
        settings=settings,
        batches=batches,
        stretches=stretches,
        rooms=rooms,
        room=belief,
        day_spread=found.day_spread,
        days=len(days),
    )
