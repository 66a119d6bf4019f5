"""How much the air has pulled at the eggs' water since they were set, and how well that is known.

The exposure is the integral of the difference of vapour pressure over time, torr times days, carried to sea level:
eggs lose in proportion to it. It is summed over every two hours: their mean humidity and temperature, by the line
through the readings (`hatchbook.statistics.trace`). Where nothing was measured the mean of the stretch stands in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.moisture import STANDARD_PRESSURE_KPA, saturation_kpa
from hatchbook.statistics.trace import DAY_S, Trace
from hatchbook.statistics.weight_loss import TORR_PER_KPA

FloatArray = NDArray[np.float64]

STEP_S = 2 * 3600


@dataclass(frozen=True)
class AirStretch:
    """The air of a stretch in steps of two hours: arrays of one length.

    ``days``: how long each is; ``pull``: torr at sea level; ``each_percent``: by how much a point of humidity
    lessens that, torr; ``known``: share of the step of which readings tell. ``carried``: the humidity that stands
    in for what is not known, % RH, ``by_aim`` where that is not a mean of readings.
    """

    days: FloatArray
    pull: FloatArray
    each_percent: FloatArray
    known: FloatArray
    carried: float
    by_aim: bool


def air_of_stretch(
    humidity: Trace | None,
    temperature: Trace | None,
    start_s: float,
    end_s: float,
    *,
    aim_humidity: float,
    aim_c: float,
    egg_rise_c: float = 0.0,
    pressure_kpa: float = STANDARD_PRESSURE_KPA,
) -> AirStretch:
    """The air of a stretch by the readings in it; its aims stand in where there are none at all.

    Args:
        humidity, temperature: the lines through the readings, None without any.
        start_s, end_s: UTC seconds.
        aim_humidity, aim_c: % RH and °C.
        egg_rise_c: by how much eggs are warmer than what the thermometer says.
        pressure_kpa: of the air.
    """
    edges = np.append(np.arange(start_s, end_s, STEP_S, dtype=np.float64), end_s)
    edges = edges if edges.size > 1 else np.array([start_s, end_s])
    starts, ends = edges[:-1], edges[1:]
    rh, known, carried, by_aim = _means(humidity, starts, ends, aim_humidity)
    warm, _, _, _ = _means(temperature, starts, ends, aim_c)
    return _stretch((ends - starts) / DAY_S, rh, warm, known, carried, by_aim, egg_rise_c, pressure_kpa)


def steady_air(
    days: float,
    humidity: float,
    air_c: float,
    *,
    egg_rise_c: float = 0.0,
    pressure_kpa: float = STANDARD_PRESSURE_KPA,
) -> AirStretch:
    """A stretch to come of so many days in which humidity and temperature stay."""
    count = max(1, round(2 * days))
    each = np.full(count, days / count)
    one = np.ones(count)
    return _stretch(
        each, humidity * one, air_c * one, np.zeros(count), humidity, False, egg_rise_c, pressure_kpa
    )


def _stretch(
    days: FloatArray,
    humidity: FloatArray,
    air_c: FloatArray,
    known: FloatArray,
    carried: float,
    by_aim: bool,
    egg_rise_c: float,
    pressure_kpa: float,
) -> AirStretch:
    thin = TORR_PER_KPA * STANDARD_PRESSURE_KPA / pressure_kpa
    saturated = np.asarray(saturation_kpa(air_c)) * thin
    inside = saturated if egg_rise_c == 0 else np.asarray(saturation_kpa(air_c + egg_rise_c)) * thin
    each = saturated / 100.0
    return AirStretch(days, inside - each * humidity, each, known, carried, by_aim)


def _means(
    trace: Trace | None, starts: FloatArray, ends: FloatArray, aim: float
) -> tuple[FloatArray, FloatArray, float, bool]:
    """The mean of each hour, the share of it that is known, what stands in elsewhere, whether that is the aim."""
    if trace is None or ends[-1] <= starts[0]:
        return np.full(starts.shape, aim), np.zeros(starts.shape), aim, True
    carried, by_aim = float(trace.window_means(starts[:1], ends[-1:])[0][0]), False
    if carried != carried:
        carried, by_aim = aim, True
    mean, known_s = trace.window_means(starts, ends)
    known = known_s / (ends - starts)
    mean = np.where(known > 0, known * np.nan_to_num(mean) + (1.0 - known) * carried, carried)
    return mean, known, carried, by_aim


@dataclass(frozen=True)
class Doubt:
    """One thing about the exposure that is not known, the same for all eggs.

    ``sd``: its standard deviation, in its own unit; ``torr_days``: what a unit of it adds to the exposure until
    each edge.
    """

    sd: float
    torr_days: FloatArray


@dataclass(frozen=True)
class Exposure:
    """The exposure until each edge (days since set), torr days, with its doubts; it begins with 0 on day 0."""

    edge_day: FloatArray
    torr_days: FloatArray
    doubts: tuple[Doubt, ...]

    @property
    def end_day(self) -> float:
        """Until when it is known."""
        return float(self.edge_day[-1])

    def at(self, day: ArrayLike) -> FloatArray:
        """The exposure by a day or days."""
        days = np.asarray(day, dtype=np.float64)
        return np.asarray(np.interp(days, self.edge_day, self.torr_days), dtype=np.float64)

    def doubts_at(self, day: ArrayLike) -> FloatArray:
        """What a unit of each doubt adds by the days; shape (doubts, days)."""
        days = np.atleast_1d(np.asarray(day, dtype=np.float64))
        if not self.doubts:
            return np.empty((0, days.size))
        return np.stack([np.interp(days, self.edge_day, doubt.torr_days) for doubt in self.doubts])

    @property
    def doubt_sds(self) -> FloatArray:
        """The standard deviation of each doubt."""
        return np.array([doubt.sd for doubt in self.doubts])

    def until(self, day: float) -> Exposure:
        """Only what lies before a day."""
        stop = int(np.searchsorted(self.edge_day, day))
        edges = np.append(self.edge_day[:stop], min(day, self.end_day))
        doubts = tuple(
            replace(doubt, torr_days=np.interp(edges, self.edge_day, doubt.torr_days))
            for doubt in self.doubts
        )
        return Exposure(edges, self.at(edges), doubts)

    def halfway_to(self, other: Exposure) -> Exposure:
        """The mean of two that differ in the humidity held, and in nothing else."""
        doubts = tuple(
            Doubt(mine.sd, 0.5 * (mine.torr_days + theirs.torr_days))
            for mine, theirs in zip(self.doubts, other.doubts, strict=True)
        )
        return Exposure(self.edge_day, 0.5 * (self.torr_days + other.torr_days), doubts)

    def go_on(self, ahead: Sequence[tuple[AirStretch, float]], rise_days: float) -> Exposure:
        """The exposure with stretches to come, each with the standard deviation of its mean humidity, % RH.

        The first two doubts go on, a doubt for each stretch comes in.
        """
        return _summed(self, [air for air, _ in ahead], [sd for _, sd in ahead], rise_days)


HYGROMETER, RISE = 0, 1
"""The places of the first two doubts: what the hygrometer is off by, and how the loss rises during incubation."""


def exposure_of(
    stretches: Sequence[AirStretch],
    *,
    hygrometer_sd: float,
    gap_sds: Sequence[float],
    rise_sd: float,
    rise_days: float,
) -> Exposure:
    """The exposure of stretches that follow each other from setting on, with its doubts.

    Args:
        stretches: first to last.
        hygrometer_sd: by how much the hygrometer may be off throughout, % RH.
        gap_sds: by how much the humidity of the unknown time of each stretch may be off its stand-in, % RH.
        rise_sd: relative rise of the loss over ``rise_days``, about its middle.
        rise_days: the days of the incubation.
    """
    start = Exposure(
        np.zeros(1), np.zeros(1), (Doubt(hygrometer_sd, np.zeros(1)), Doubt(rise_sd, np.zeros(1)))
    )
    return _summed(start, stretches, gap_sds, rise_days)


def _summed(
    before: Exposure, stretches: Sequence[AirStretch], sds: Sequence[float], rise_days: float
) -> Exposure:
    if not stretches:
        return before
    days = np.concatenate([air.days for air in stretches])
    pull = np.concatenate([air.pull for air in stretches]) * days
    each = np.concatenate([air.each_percent for air in stretches]) * days
    unknown = each * (1.0 - np.concatenate([air.known for air in stretches]))
    edges = before.end_day + np.cumsum(days)
    middle = (edges - days / 2) / rise_days - 0.5

    def gone_on(values: FloatArray, more: FloatArray) -> FloatArray:
        return np.concatenate((values, values[-1] + np.cumsum(more)))

    added = [-each, pull * middle]
    doubts = [
        Doubt(doubt.sd, gone_on(doubt.torr_days, added[place] if place < 2 else np.zeros(days.size)))
        for place, doubt in enumerate(before.doubts)
    ]
    first = 0
    for air, sd in zip(stretches, sds, strict=True):
        stop = first + air.days.size
        more = np.zeros(days.size)
        more[first:stop] = -unknown[first:stop]
        if sd > 0 and more.any():
            doubts.append(Doubt(sd, gone_on(np.zeros(before.edge_day.size), more)))
        first = stop
    return Exposure(np.concatenate((before.edge_day, edges)), gone_on(before.torr_days, pull), tuple(doubts))
