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

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.water_model import (
    PARAMETERS,
    Channels,
    FloatArray,
    IntArray,
    Parameter,
    Standing,
    air_change,
    balance,
    parameter_priors,
)

NORMAL_95 = 1.959964
_ROUNDS = 6
_STRAY = 2.5
"""From so many spreads on a day counts less (Huber): a sponge laid in, a lid left open, a wrong entry."""
_TOP_UP_STRAY = 4.0
"""So far off a top-up pulls no more: one in between was not noted."""
_VENT_STEP = 0.01
_MINIMUM_SPREAD = 0.02


@dataclass(frozen=True)
class SettledDays:
    """Daily means of stretches in which filling and vent stood still; arrays of one length.

    channels: filled. vent: 0 to 1. humidity, temperature_c: means by the machine's probe. room_kpa: vapour in the
    room's air, nan where unknown. eggs_g_h_kpa, hatching: see `Standing`. known_h: hours of readings. batch: which
    batch, counted from 0. stretch: which unbroken setting, counted from 0.
    """

    channels: FloatArray
    vent: FloatArray
    humidity: FloatArray
    temperature_c: FloatArray
    room_kpa: FloatArray
    eggs_g_h_kpa: FloatArray
    hatching: FloatArray
    known_h: FloatArray
    batch: IntArray
    stretch: IntArray

    def __len__(self) -> int:
        return len(self.humidity)


@dataclass(frozen=True)
class TopUps:
    """What was filled up and after how long; arrays of one length.

    water_ml: filled up. hours: since the channels were full. channels: filled. humidity, temperature_c: means of
    that time.
    """

    water_ml: FloatArray
    hours: FloatArray
    channels: FloatArray
    humidity: FloatArray
    temperature_c: FloatArray

    def __len__(self) -> int:
        return len(self.water_ml)


def no_days() -> SettledDays:
    """No history."""
    nothing, none = np.empty(0), np.empty(0, np.int64)
    return SettledDays(nothing, nothing, nothing, nothing, nothing, nothing, nothing, nothing, none, none)


def no_top_ups() -> TopUps:
    """Nothing was measured."""
    nothing = np.empty(0)
    return TopUps(nothing, nothing, nothing, nothing, nothing)


@dataclass(frozen=True)
class RoomBelief:
    """The room's air where no probe tells: vapour in kPa and the spread of its logarithm between batches."""

    kpa: float = priors.ROOM_KPA
    spread: float = priors.ROOM_SPREAD


@dataclass(frozen=True)
class Effects:
    """Where the effects of each kind begin in the row of unknowns, which they belong to, and their spread."""

    first: int
    keys: tuple[tuple[int, ...], ...]
    spread: float

    def place(self, key: tuple[int, ...]) -> int | None:
        """The place of an effect in the row of unknowns; None for one that was never seen."""
        return self.first + self.keys.index(key) if key in self.keys else None


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
    covariance: NDArray[np.float64]
    settings: Effects
    batches: Effects
    stretches: Effects
    rooms: Effects
    room: RoomBelief
    day_spread: float
    days: int
    _top_ups: int = field(default=0)

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
        air = np.log(air_change(row, openings * _VENT_STEP))
        water = np.log(np.maximum(channels, 0.5))
        by_air = np.abs(np.log(air_change(row, cases.vent))[:, None] - air)
        by_water = np.abs(np.log(np.maximum(cases.channels, 0.5))[:, None] - water)
        # Without water there is none whose surface could be mistaken.
        by_water[cases.channels == 0] = 0.0
        nearest: FloatArray = np.min(by_air + by_water, axis=1)
        return nearest

    def _setting_of(self, stretch: int) -> tuple[int, ...] | None:
        return next((key[1:] for key in self.stretches.keys if key[0] == stretch), None)


def setting_keys(channels: FloatArray, vent: FloatArray) -> list[tuple[int, ...]]:
    """Which setting each case is: openings closer than a hundredth are one."""
    openings = np.rint(vent / _VENT_STEP).astype(int).tolist()
    return list(zip(np.rint(channels).astype(int).tolist(), openings, strict=True))


def fit_water(
    days: SettledDays, top_ups: TopUps, channels: Channels, room: RoomBelief | None = None
) -> WaterFit:
    """Fits the balance of a machine to its settled days, all of them at once.

    With no days at all the answer is what is believed beforehand (`hatchbook.statistics.water_priors`).
    """
    return _Fit(days, top_ups, channels, RoomBelief() if room is None else room).run()


class _Fit:
    """The unknowns in one row: parameters, effects, room airs; residuals of days, top-ups and beliefs."""

    def __init__(self, days: SettledDays, top_ups: TopUps, channels: Channels, room: RoomBelief) -> None:
        self._days, self._top_ups, self._channels, self._room = days, top_ups, channels, room
        beliefs = parameter_priors(channels)
        self._middle = np.array([belief.middle for belief in beliefs])
        self._spread = np.array([belief.spread for belief in beliefs])
        settings = setting_keys(days.channels, days.vent)
        batches = days.batch.tolist()
        stretches = [(one, *key) for one, key in zip(days.stretch.tolist(), settings, strict=True)]
        unknown_room = np.isnan(days.room_kpa)
        roomless = [
            (batch,) if unknown else None for batch, unknown in zip(batches, unknown_room, strict=True)
        ]
        self._groups: list[Effects] = []
        self._places: list[IntArray] = []
        kinds: list[tuple[list[tuple[int, ...] | None], float]] = [
            (list(settings), priors.BETWEEN_SETTINGS),
            ([(one,) for one in batches], priors.BETWEEN_BATCHES),
            (list(stretches), priors.BETWEEN_STRETCHES),
            (list(roomless), room.spread),
        ]
        first = PARAMETERS
        for of_days, spread in kinds:
            keys = tuple(dict.fromkeys(key for key in of_days if key is not None))
            number = {key: first + place for place, key in enumerate(keys)}
            self._groups.append(Effects(first, keys, spread))
            self._places.append(np.array([-1 if key is None else number[key] for key in of_days], np.int64))
            first += len(keys)
        self._width = first
        self._day_spread = priors.DAY_SPREAD
        # A part of a day tells less of a day's mean.
        self._length = np.sqrt(np.clip(days.known_h / 24, 0.1, 1.0))
        self._trust = np.ones(len(days))

    def run(self) -> WaterFit:
        from scipy.optimize import least_squares

        row = np.concatenate((self._middle, np.zeros(self._width - PARAMETERS)))
        covariance = np.diag(np.concatenate((self._spread**2, np.zeros(self._width - PARAMETERS))))
        for _ in range(_ROUNDS if len(self._days) or len(self._top_ups) else 0):
            row = least_squares(self._residuals, row, self._jacobian, method="lm", xtol=1e-6, ftol=1e-8).x
            jacobian = self._jacobian(row)
            covariance = np.asarray(np.linalg.inv(jacobian.T @ jacobian), dtype=np.float64)
            self._learn(row, covariance, jacobian)
        settings, batches, stretches, rooms = self._groups
        return WaterFit(
            channels=self._channels,
            unknowns=row,
            covariance=covariance,
            settings=settings,
            batches=batches,
            stretches=stretches,
            rooms=rooms,
            room=self._room,
            day_spread=self._day_spread,
            days=len(self._days),
            _top_ups=len(self._top_ups),
        )

    # ---------------------------------------------------------------- residuals and slopes

    def _room_kpa(self, row: FloatArray) -> FloatArray:
        places = self._places[3]
        guessed = self._room.kpa * np.exp(np.where(places >= 0, row[places], 0.0))
        return np.where(places >= 0, guessed, self._days.room_kpa)

    def _standing(self, row: FloatArray) -> tuple[Standing, FloatArray]:
        days = self._days
        air_log = sum((row[places] for places in self._places[:3]), np.zeros(len(days)))
        cases = Standing(
            days.channels,
            days.vent,
            self._room_kpa(row),
            days.temperature_c,
            days.eggs_g_h_kpa,
            days.hatching,
        )
        return cases, air_log

    @property
    def _weight(self) -> FloatArray:
        weight: FloatArray = self._length * np.sqrt(self._trust) / self._day_spread
        return weight

    @property
    def _beliefs(self) -> FloatArray:
        spreads = [np.full(len(group.keys), group.spread) for group in self._groups]
        return np.concatenate((self._spread, *spreads))

    def _residuals(self, row: FloatArray) -> FloatArray:
        cases, air_log = self._standing(row)
        off = balance(row[:PARAMETERS], cases, self._channels, air_log).humidity - self._days.humidity
        believed = row.copy()
        believed[:PARAMETERS] -= self._middle
        return np.concatenate((off * self._weight, self._top_up_residuals(row), believed / self._beliefs))

    def _top_up_residuals(self, row: FloatArray) -> FloatArray:
        ups = self._top_ups
        rate = self._drawn(row) * ups.channels * ups.hours / ups.water_ml
        off: FloatArray = (row[Parameter.CHANNEL] + np.log(rate)) / priors.TOP_UP_SPREAD
        return np.clip(off, -_TOP_UP_STRAY, _TOP_UP_STRAY)

    def _drawn(self, row: FloatArray) -> FloatArray:
        """The difference of vapour pressure that drew the water of each top-up, kPa."""
        saturated = np.asarray(saturation_kpa(self._top_ups.temperature_c))
        nearness = 1 / (1 + np.exp(-row[Parameter.WATER_VAPOUR]))
        drawn: FloatArray = saturated * (nearness - self._top_ups.humidity / 100)
        return np.maximum(drawn, 0.05)

    def _jacobian(self, row: FloatArray) -> FloatArray:
        cases, air_log = self._standing(row)
        found = balance(row[:PARAMETERS], cases, self._channels, air_log)
        size, ups = len(self._days), len(self._top_ups)
        jacobian = np.zeros((size + ups + self._width, self._width))
        jacobian[:size, :PARAMETERS] = found.slopes
        lines = np.arange(size)
        for places in self._places[:3]:
            jacobian[lines, places] = found.by_air
        with_room = np.flatnonzero(self._places[3] >= 0)
        jacobian[with_room, self._places[3][with_room]] = (found.by_room * cases.room_kpa)[with_room]
        jacobian[:size] *= self._weight[:, None]
        inside = np.abs(self._top_up_residuals(row)) < _TOP_UP_STRAY
        nearness = 1 / (1 + np.exp(-row[Parameter.WATER_VAPOUR]))
        saturated = np.asarray(saturation_kpa(self._top_ups.temperature_c))
        jacobian[size : size + ups, Parameter.CHANNEL] = inside / priors.TOP_UP_SPREAD
        jacobian[size : size + ups, Parameter.WATER_VAPOUR] = (
            inside * saturated * nearness * (1 - nearness) / self._drawn(row) / priors.TOP_UP_SPREAD
        )
        jacobian[size + ups :] = np.diag(1 / self._beliefs)
        return jacobian

    # ---------------------------------------------------------------- spreads

    def _learn(self, row: FloatArray, covariance: FloatArray, jacobian: FloatArray) -> None:
        """Estimates the spreads anew, and how far each day is to be trusted."""
        size = len(self._days)
        if not size:
            return
        trusted = self._residuals(row)[:size]
        plain = np.abs(trusted) / np.sqrt(self._trust)
        off = np.minimum(plain, _STRAY)
        # What a day has in common with the fit does not show in its residual.
        taken = np.sum(jacobian[:size] @ covariance * jacobian[:size], axis=1)
        square = float(np.sum(off**2 + taken)) * self._day_spread**2
        believed = priors.DAY_WEIGHT * priors.DAY_SPREAD**2
        self._day_spread = float(np.sqrt((square + believed) / (size + priors.DAY_WEIGHT)))
        self._trust = np.where(plain > _STRAY, _STRAY / np.maximum(plain, 1e-9), 1.0)
        spreads = (priors.BETWEEN_SETTINGS, priors.BETWEEN_BATCHES, priors.BETWEEN_STRETCHES)
        for kind, belief in enumerate(spreads):
            group = self._groups[kind]
            own = slice(group.first, group.first + len(group.keys))
            second = float(np.sum(row[own] ** 2 + np.diag(covariance)[own]))
            spread = np.sqrt(
                (second + priors.SPREAD_WEIGHT * belief**2) / (len(group.keys) + priors.SPREAD_WEIGHT)
            )
            self._groups[kind] = Effects(group.first, group.keys, max(float(spread), _MINIMUM_SPREAD))
