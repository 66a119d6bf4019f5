"""How much the air has pulled at the eggs' water since they were set, and how well that is known.

The exposure is the integral of the difference of vapour pressure over time, torr times days, carried to sea level:
eggs lose in proportion to it. It is summed over every two hours: their mean humidity and temperature, by the line
through the readings (`hatchbook.statistics.trace`). Where nothing was measured the mean of the stretch stands in.

Eggs lose a little more a day as they grow older: an embryo is cooler than the air at first and from the middle on
warmer, by the heat it makes (French 1997, Poult. Sci. 76:124-133). So the exposure is given a rise over the days of
the incubation, about their middle, with a doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.moisture import STANDARD_PRESSURE_KPA, saturation_kpa
from hatchbook.statistics.trace import Trace
from hatchbook.statistics.weight_loss import TORR_PER_KPA
from hatchbook.trade.instants import DAY_S

FloatArray = NDArray[np.float64]

STEP_S = 2 * 3600
A_DEGREE = 0.054
"""By how much saturation rises for a degree near 37.5 °C, in parts of it (ASHRAE 2017 ch. 1 eq. 6)."""


@dataclass(frozen=True)
class AirStretch:
    """The air of a stretch in steps of two hours: arrays of one length.

    ``days``: how long each is; ``pull``: torr at sea level; ``each_percent``: by how much a point of humidity
    lessens that, ``each_degree``: by how much a degree of the eggs adds to it, torr; ``known``: share of the step
    of which readings tell. ``carried``: the humidity that stands in for what is not known, % RH, ``by_aim`` where
    that is not a mean of readings.
    """

    days: FloatArray
    pull: FloatArray
    each_percent: FloatArray
    each_degree: FloatArray
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
    rh, known, carried, by_aim = _means(humidity, edges, aim_humidity)
    warm, _, _, _ = _means(temperature, edges, aim_c)
    thin = TORR_PER_KPA * STANDARD_PRESSURE_KPA / pressure_kpa
    saturated = np.asarray(saturation_kpa(warm)) * thin
    inside = saturated if egg_rise_c == 0 else np.asarray(saturation_kpa(warm + egg_rise_c)) * thin
    each = saturated / 100.0
    return AirStretch(
        days=np.diff(edges) / DAY_S,
        pull=inside - each * rh,
        each_percent=each,
        each_degree=A_DEGREE * inside,
        known=known,
        carried=carried,
        by_aim=by_aim,
    )


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
    saturated = _saturated_torr(air_c, pressure_kpa)
    inside = saturated if egg_rise_c == 0 else _saturated_torr(air_c + egg_rise_c, pressure_kpa)
    each = saturated / 100.0
    one = np.ones(count)
    return AirStretch(
        days=days / count * one,
        pull=(inside - each * humidity) * one,
        each_percent=each * one,
        each_degree=A_DEGREE * inside * one,
        known=np.zeros(count),
        carried=humidity,
        by_aim=False,
    )


@lru_cache(maxsize=64)
def _saturated_torr(air_c: float, pressure_kpa: float) -> float:
    """Saturation pressure, torr, carried to sea level."""
    return saturation_kpa(air_c) * TORR_PER_KPA * STANDARD_PRESSURE_KPA / pressure_kpa


def _means(trace: Trace | None, edges: FloatArray, aim: float) -> tuple[FloatArray, FloatArray, float, bool]:
    """The mean of each step, the share of it that is known, what stands in elsewhere, whether that is the aim."""
    lasts = np.diff(edges)
    if trace is None or edges[-1] <= edges[0]:
        return np.full(lasts.shape, aim), np.zeros(lasts.shape), aim, True
    mean, known_s = trace.step_means(edges)
    known = known_s / lasts
    whole_s = float(known_s.sum())
    if whole_s > 0:
        carried, by_aim = float(np.where(known_s > 0, mean, 0.0) @ known_s) / whole_s, False
    else:
        carried, by_aim = float(trace.window_means(edges[:1], edges[-1:])[0][0]), False
    if carried != carried:
        carried, by_aim = aim, True
    if whole_s < edges[-1] - edges[0]:
        mean = np.where(known > 0, known * np.nan_to_num(mean) + (1.0 - known) * carried, carried)
    return mean, known, carried, by_aim


@dataclass(frozen=True)
class Rise:
    """How the loss rises: by ``mean`` ± ``sd`` (parts of it) over the ``days`` of the incubation, about their
    middle."""

    mean: float
    sd: float
    days: float

    def from_middle(self, day: FloatArray) -> FloatArray:
        """How far a day lies from the middle, in parts of the incubation: -0.5 on its first day."""
        return day / self.days - 0.5


@dataclass(frozen=True)
class Exposure:
    """The exposure until each edge (days since set), torr days; it begins with 0 on day 0. With its doubts.

    A doubt is one thing about the exposure that is not known, the same for all eggs. ``doubt_sds``: the standard
    deviation of each in its own unit; ``doubt_torr_days``: what a unit of it adds until each edge, (doubts, edges).
    The first are those of `HYGROMETER`, `RISE` and `WARMTH`; then those of gaps and of stretches to come.
    """

    edge_day: FloatArray
    torr_days: FloatArray
    doubt_sds: FloatArray
    doubt_torr_days: FloatArray
    rise: Rise

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
        edges = self.edge_day
        if edges.size < 2:
            return np.repeat(self.doubt_torr_days, days.size, axis=1)
        before = np.minimum(np.maximum(edges.searchsorted(days, side="right") - 1, 0), edges.size - 2)
        begun_at = edges[before]
        along = np.minimum(np.maximum((days - begun_at) / (edges[before + 1] - begun_at), 0.0), 1.0)
        begun = self.doubt_torr_days[:, before]
        return np.asarray(begun + (self.doubt_torr_days[:, before + 1] - begun) * along, dtype=np.float64)

    def go_on(self, ahead: Sequence[tuple[AirStretch, float]]) -> Exposure:
        """The exposure with stretches to come, each with the standard deviation of its mean humidity, % RH.

        The standing doubts go on, a doubt for each stretch comes in.
        """
        return _summed(self, [air for air, _ in ahead], [sd for _, sd in ahead])


HYGROMETER, RISE, WARMTH = 0, 1, 2
"""The places of the standing doubts: what the hygrometer is off by, how the loss rises during incubation, and by
how much the eggs are warmer or cooler than is taken (a thermometer that is off counts in)."""


def exposure_of(
    stretches: Sequence[AirStretch],
    *,
    hygrometer_sd: float,
    gap_sds: Sequence[float],
    rise: Rise,
    warmth_sd: float,
) -> Exposure:
    """The exposure of stretches that follow each other from setting on, with its doubts.

    Args:
        stretches: first to last.
        hygrometer_sd: by how much the hygrometer may be off throughout, % RH.
        gap_sds: by how much the humidity of the unknown time of each stretch may be off its stand-in, % RH.
        rise: of the loss during the incubation.
        warmth_sd: by how much the eggs may be warmer or cooler than is taken, °C.
    """
    sds = np.empty(3)
    sds[[HYGROMETER, RISE, WARMTH]] = hygrometer_sd, rise.sd, warmth_sd
    start = Exposure(np.zeros(1), np.zeros(1), sds, np.zeros((3, 1)), rise)
    return _summed(start, stretches, gap_sds)


def _summed(before: Exposure, stretches: Sequence[AirStretch], sds: Sequence[float]) -> Exposure:
    if not stretches:
        return before
    days = np.concatenate([air.days for air in stretches])
    edges = before.end_day + np.cumsum(days)
    from_middle = before.rise.from_middle(edges - days / 2)
    days_risen = days * (1.0 + before.rise.mean * from_middle)
    pull = np.concatenate([air.pull for air in stretches])
    each = np.concatenate([air.each_percent for air in stretches]) * days_risen
    unknown = each * (1.0 - np.concatenate([air.known for air in stretches]))
    degree = np.concatenate([air.each_degree for air in stretches]) * days_risen
    stops = np.cumsum([air.days.size for air in stretches]).tolist()
    gaps = [
        (sd, first, stop)
        for sd, first, stop in zip(sds, [0, *stops], stops, strict=False)
        if sd > 0 and unknown[first:stop].any()
    ]
    old = before.doubt_sds.size
    added = np.zeros((old + len(gaps), days.size))
    added[HYGROMETER], added[RISE], added[WARMTH] = -each, pull * days * from_middle, degree
    for row, (_, first, stop) in enumerate(gaps, start=old):
        added[row, first:stop] = -unknown[first:stop]
    doubts = np.zeros((old + len(gaps), before.edge_day.size + days.size))
    doubts[:old, : before.edge_day.size] = before.doubt_torr_days
    doubts[:, before.edge_day.size :] = np.cumsum(added, axis=1) + doubts[:, [before.edge_day.size - 1]]
    return Exposure(
        np.concatenate((before.edge_day, edges)),
        np.concatenate((before.torr_days, before.torr_days[-1] + np.cumsum(pull * days_risen))),
        np.concatenate((before.doubt_sds, [sd for sd, _, _ in gaps])),
        doubts,
        before.rise,
    )
