"""The fit of a machine's moisture balance: least squares with beliefs, the spreads estimated beside it.

Residuals are daily means, top-ups and beliefs; unknowns the parameters of the balance and the effects.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.water_days import RoomBelief, SettledDays, TopUps, setting_keys
from hatchbook.statistics.water_model import (
    PARAMETERS,
    Balance,
    Channels,
    FloatArray,
    IntArray,
    Parameter,
    Standing,
    balance,
    parameter_priors,
)

_ROUNDS = 6
_STRAY = 2.5
"""From so many spreads on a day counts less (Huber): a sponge laid in, a lid left open, a wrong entry."""
_TOP_UP_STRAY = 4.0
"""So far off a top-up pulls no more: one in between was not noted."""
_MOVED, _ROOMS = (0, 1, 2), 3
"""The kinds of effects, by their place: settings, batches and stretches move the air change; then the rooms."""
_MINIMUM_SPREAD = 0.02


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
class Fitted:
    """The unknowns with their covariance; effects of settings, batches, stretches, rooms; the spread of a day."""

    unknowns: FloatArray
    covariance: FloatArray
    effects: tuple[Effects, ...]
    day_spread: float


class Fitting:
    """The unknowns in one row: parameters, effects, room airs; residuals of days, top-ups and beliefs."""

    def __init__(self, days: SettledDays, top_ups: TopUps, channels: Channels, room: RoomBelief) -> None:
        self._days, self._top_ups, self._channels, self._room = days, top_ups, channels, room
        beliefs = parameter_priors(channels)
        self._middle = np.array([belief.middle for belief in beliefs])
        self._spread = np.array([belief.spread for belief in beliefs])
        # Where nothing gives off water the air change does not show.
        empty = (days.channels == 0) & (days.eggs_g_h_kpa == 0)
        settings = setting_keys(days.channels, days.vent)
        batches = days.batch.tolist()
        stretches = [(one, *key) for one, key in zip(days.stretch.tolist(), settings, strict=True)]
        unknown_room = np.isnan(days.room_kpa)
        roomless = [
            (batch,) if unknown else None for batch, unknown in zip(batches, unknown_room, strict=True)
        ]
        self._groups: list[Effects] = []
        self._places: list[IntArray] = []

        def moved(keys: list[tuple[int, ...]]) -> list[tuple[int, ...] | None]:
            return [None if none else key for key, none in zip(keys, empty.tolist(), strict=True)]

        kinds: list[tuple[list[tuple[int, ...] | None], float]] = [
            (moved(settings), priors.BETWEEN_SETTINGS),
            (moved([(one,) for one in batches]), priors.BETWEEN_BATCHES),
            (moved(stretches), priors.BETWEEN_STRETCHES),
            ([*roomless], room.spread),
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
        self._saturated = np.asarray(saturation_kpa(days.temperature_c))
        self._top_ups_saturated = np.asarray(saturation_kpa(top_ups.temperature_c))
        self._last: tuple[FloatArray, Standing, Balance] | None = None
        # A part of a day tells less of a day's mean.
        self._length = np.sqrt(np.clip(days.known_h / 24, 0.1, 1.0))
        self._trust = np.ones(len(days))

    def run(self) -> Fitted:
        from scipy.optimize import least_squares

        row = np.concatenate((self._middle, np.zeros(self._width - PARAMETERS)))
        covariance = np.diag(np.concatenate((self._spread**2, np.zeros(self._width - PARAMETERS))))
        for _ in range(_ROUNDS if len(self._days) or len(self._top_ups) else 0):
            row = least_squares(self._residuals, row, self._jacobian, method="lm", xtol=1e-6, ftol=1e-8).x
            jacobian = self._jacobian(row)
            covariance = np.asarray(np.linalg.inv(jacobian.T @ jacobian), dtype=np.float64)
            self._learn(row, covariance, jacobian)
        return Fitted(row, covariance, tuple(self._groups), self._day_spread)

    # ---------------------------------------------------------------- residuals and slopes

    def _effect(self, row: FloatArray, kind: int) -> FloatArray:
        """The effect of a kind on each day; 0 on days that it does not touch."""
        places = self._places[kind]
        return np.where(places >= 0, row[places], 0.0)

    def _balance(self, row: FloatArray) -> tuple[Standing, Balance]:
        """Each day and its balance; asked for residuals and slopes of the same row one after the other."""
        if self._last is not None and np.array_equal(self._last[0], row):
            return self._last[1:]
        days = self._days
        guessed = self._room.kpa * np.exp(self._effect(row, _ROOMS))
        air_log = sum((self._effect(row, kind) for kind in _MOVED), np.zeros(len(days)))
        cases = Standing(
            days.channels,
            days.vent,
            np.where(self._places[_ROOMS] >= 0, guessed, days.room_kpa),
            days.temperature_c,
            days.eggs_g_h_kpa,
            days.hatching,
            self._saturated,
        )
        found = balance(row[:PARAMETERS], cases, self._channels, air_log)
        self._last = row.copy(), cases, found
        return cases, found

    @property
    def _weight(self) -> FloatArray:
        weight: FloatArray = self._length * np.sqrt(self._trust) / self._day_spread
        return weight

    @property
    def _beliefs(self) -> FloatArray:
        spreads = [np.full(len(group.keys), group.spread) for group in self._groups]
        return np.concatenate((self._spread, *spreads))

    def _residuals(self, row: FloatArray) -> FloatArray:
        off = self._balance(row)[1].humidity - self._days.humidity
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
        nearness = 1 / (1 + np.exp(-row[Parameter.WATER_VAPOUR]))
        drawn: FloatArray = self._top_ups_saturated * (nearness - self._top_ups.humidity / 100)
        return np.maximum(drawn, 0.05)

    def _jacobian(self, row: FloatArray) -> FloatArray:
        cases, found = self._balance(row)
        size, ups = len(self._days), len(self._top_ups)
        jacobian = np.zeros((size + ups + self._width, self._width))
        jacobian[:size, :PARAMETERS] = found.slopes
        for kind in (*_MOVED, _ROOMS):
            places = self._places[kind]
            lines = np.flatnonzero(places >= 0)
            by = found.by_air if kind in _MOVED else found.by_room * cases.room_kpa
            jacobian[lines, places[lines]] = by[lines]
        jacobian[:size] *= self._weight[:, None]
        inside = np.abs(self._top_up_residuals(row)) < _TOP_UP_STRAY
        nearness = 1 / (1 + np.exp(-row[Parameter.WATER_VAPOUR]))
        jacobian[size : size + ups, Parameter.CHANNEL] = inside / priors.TOP_UP_SPREAD
        jacobian[size : size + ups, Parameter.WATER_VAPOUR] = (
            inside
            * self._top_ups_saturated
            * nearness
            * (1 - nearness)
            / self._drawn(row)
            / priors.TOP_UP_SPREAD
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
