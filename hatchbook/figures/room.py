"""What the probes in the room say of its air, corrected as all readings are.

Instants are UTC seconds, humidity in % RH, temperature in °C.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.series import LEAD_S, batch_series
from hatchbook.journal import Journal, ReadingSeries
from hatchbook.statistics.averages import Trace

_HOUR_S = 3600


@dataclass(frozen=True)
class RoomAir:
    """A reading of the room; a value is None where the probe does not measure it."""

    at: int
    temperature_c: float | None
    humidity: float | None
    probe_name: str


@dataclass(frozen=True)
class RoomSeries:
    """The room hour by hour: ``at`` is the begin of each full UTC hour (int64), the means are NaN where unknown.

    Gaps are bridged as everywhere (`hatchbook.statistics.trace`), so that readings by hand carry over some hours.
    """

    at: NDArray[np.int64]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.at)


def room_air(journal: Journal, at: int) -> RoomAir | None:
    """The latest reading of a probe in the room at an instant; None without any.

    One that has both temperature and humidity goes before newer ones that lack one: both are needed to say what
    the air holds. How old it may be is for the caller to judge.
    """
    found: list[tuple[bool, int, RoomAir]] = []
    for stay in journal.probes.stays(None, 0, at + 1):
        last = journal.readings.last(stay.probe.number, stay.end_at - 1)
        if last is None or last.at < stay.start_at:
            continue
        readings = batch_series(journal, stay.probe, last.at, last.at)
        temperature_c, humidity = _value(readings.temperature_c[0]), _value(readings.humidity[0])
        whole = temperature_c is not None and humidity is not None
        found.append((whole, last.at, RoomAir(last.at, temperature_c, humidity, stay.probe.name)))
    return max(found, key=lambda one: one[:2])[2] if found else None


def room_series(journal: Journal, start_at: int, end_at: int) -> RoomSeries:
    """The hourly means of the room's air over a stretch, of all probes in it together.

    The hours are the full UTC hours that begin at or after ``start_at`` and end until ``end_at``.
    """
    begin, stop = -(-start_at // _HOUR_S) * _HOUR_S, end_at // _HOUR_S * _HOUR_S
    hours = np.arange(begin, max(stop, begin), _HOUR_S, dtype=np.int64)
    temperatures, humidities = [], []
    for readings in _of_probes(journal, begin, stop) if hours.size else ():
        temperatures.append(_means(readings.at, readings.temperature_c, hours))
        humidities.append(_means(readings.at, readings.humidity, hours))
    return RoomSeries(hours, _together(temperatures, hours), _together(humidities, hours))


def _of_probes(journal: Journal, start_at: int, end_at: int) -> list[ReadingSeries]:
    """The readings of each probe while it hung in the room, with what lies round the stretch."""
    parts: dict[str, list[ReadingSeries]] = defaultdict(list)
    for stay in journal.probes.stays(None, start_at - LEAD_S, end_at + LEAD_S):
        parts[stay.probe.uid].append(batch_series(journal, stay.probe, stay.start_at, stay.end_at - 1))
    return [
        ReadingSeries(
            of_one[0].probe,
            np.concatenate([part.at for part in of_one]),
            np.concatenate([part.temperature_c for part in of_one]),
            np.concatenate([part.humidity for part in of_one]),
        )
        for of_one in parts.values()
    ]


def _means(
    at: NDArray[np.int64], values: NDArray[np.float64], hours: NDArray[np.int64]
) -> NDArray[np.float64]:
    trace = Trace.for_window(at, values, float(hours[0]), float(hours[-1] + _HOUR_S))
    return trace.window_means(hours, hours + _HOUR_S)[0]


def _together(of_probes: list[NDArray[np.float64]], hours: NDArray[np.int64]) -> NDArray[np.float64]:
    """The mean over the probes that know the hour."""
    if not of_probes:
        return np.full(hours.size, np.nan)
    known = ~np.isnan(of_probes)
    count = known.sum(axis=0)
    return np.where(count > 0, np.nansum(of_probes, axis=0) / np.maximum(count, 1), np.nan)


def _value(number: float) -> float | None:
    return None if np.isnan(number) else float(number)
