"""A batch whose eggs lose as they are told, for the tests of what is forecast of its weight."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from hatchbook.figures import batch_figures
from hatchbook.figures.weight_exposure import RISE_MEAN
from hatchbook.figures.weight_results import WeightForecast
from hatchbook.journal import EggMass, Weighing
from hatchbook.statistics.weight_loss import forecast_loss

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600
TARGET = {"loss_low_percent": 12.0, "loss_high_percent": 13.0, "loss_day": 18.0}
HUMIDITY, WARM, MASS_G, INCUBATION_DAYS = 45.0, 37.5, 60.07, 21.0


def lost(conductance: float, until_day: float, from_day: float = 0.0, *, humidity: float = HUMIDITY) -> float:
    """What an egg loses between two days, %, if its loss rises by as much as is taken of it."""
    from_middle = (from_day + until_day) / 2 / INCUBATION_DAYS - 0.5
    return forecast_loss(conductance, humidity, until_day - from_day) * (1 + RISE_MEAN * from_middle)


class Bench:
    """A batch in air of 45 % and 37.5 °C, and its eggs, which lose as they are told."""

    def __init__(self, hatchery: Any) -> None:
        self.hatchery = hatchery
        self.journal = hatchery.journal

    def set(
        self, eggs: int | Sequence[dict[str, Any]] = 12, mass_g: float | None = MASS_G, **fields: Any
    ) -> Any:
        each = [{"set_mass_g": mass_g}] * eggs if isinstance(eggs, int) else eggs
        self.batch = self.hatchery.add_batch(eggs=0, each_egg=each or None, **{**TARGET, **fields})
        return self.batch

    def log(self, until_day: float, humidity: float = HUMIDITY, *, from_day: float = 0.0) -> None:
        at = SET_AT + np.arange(round(from_day * 24), round(until_day * 24) + 1) * HOUR
        self.hatchery.log(at, humidity, WARM, name=f"{from_day}-{until_day}")

    def weigh(self, day: float, conductances: Sequence[float | None], *, mass_g: float = MASS_G) -> Weighing:
        """Weighs each egg as its conductance (from day 0 in this air) makes it, on a fine scale."""
        weighing, eggs = (
            Weighing(self.batch.uid, SET_AT + round(day * DAY), 0.01),
            self.hatchery.eggs(self.batch),
        )
        masses = [
            EggMass(weighing.uid, eggs[n + 1], round(mass_g * (1 - lost(k, day) / 100), 2))
            for n, k in enumerate(conductances)
            if k is not None
        ]
        self.journal.weighings.note_weighing(weighing, masses)
        return weighing

    def forecast(self, day: float) -> WeightForecast | None:
        return batch_figures(self.journal, self.batch.uid, SET_AT + round(day * DAY)).forecast

    def known(self, day: float) -> WeightForecast:
        forecast = self.forecast(day)
        assert forecast is not None
        return forecast
