"""What is known of the room's air for the guide: as it is, as it was, and on a dry and a damp day."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hatchbook.figures.guide_history import room_vapour
from hatchbook.figures.guide_records import MachineHistory
from hatchbook.figures.guide_results import RoomAir, RoomAirFrom
from hatchbook.figures.room import RoomSeries, room_air
from hatchbook.journal import Journal
from hatchbook.statistics.moisture import relative_humidity, vapour_kpa
from hatchbook.statistics.water_guide import RoomBelief, WaterFit
from hatchbook.statistics.water_model import FloatArray
from hatchbook.statistics.water_priors import ROOM_SPREAD
from hatchbook.trade.instants import DAY_S

FRESH_S = DAY_S
"""A reading of the room tells of its air for a day (our choice)."""
ASSUMED_C = 20.0
DRY, DAMP = "dry", "damp"
_ASSUMED_WEATHER = (
    (DRY, RoomAir(20.0, 35.0, RoomAirFrom.ASSUMED)),
    (DAMP, RoomAir(22.0, 65.0, RoomAirFrom.ASSUMED)),
)
"""A dry winter day and a damp summer day in a room (our choice)."""
_DRY_SHARE, _DAMP_SHARE = 10, 90
_DAYS_NEEDED = 10
_LEAST_SPREAD = 0.08
_HOUR_S = 3600
_HOURS_OF_A_DAY = 12


@dataclass(frozen=True)
class RoomKnowledge:
    """The room's air for one machine's guide.

    now: as last read, or assumed. belief: for times without a room probe. assumed_spread_kpa: how far an assumed
    air may be off. weather: a dry and a damp day, by code.
    """

    now: RoomAir
    belief: RoomBelief
    assumed_spread_kpa: float
    weather: tuple[tuple[str, RoomAir], ...]
    series: tuple[RoomSeries, ...]

    def at(self, instant: int) -> RoomAir | None:
        """The room's air in the hour of an instant, or in the next two that are known; None: unknown then."""
        for hours in self.series:
            first, stop = np.searchsorted(hours.at, (instant - _HOUR_S + 1, instant + 2 * _HOUR_S + 1))
            for place in range(int(first), int(stop)):
                temperature_c, humidity = float(hours.temperature_c[place]), float(hours.humidity[place])
                if not np.isnan(temperature_c) and not np.isnan(humidity):
                    at = int(hours.at[place])
                    return RoomAir(temperature_c, humidity, RoomAirFrom.READING, at)
        return None

    def with_fit(self, fit: WaterFit, batch: int | None) -> RoomKnowledge:
        """The same; where the air of now is assumed, as the batch in the machine makes believe."""
        if self.now.origin is not RoomAirFrom.ASSUMED:
            return self
        kpa, spread = fit.room_of(batch)
        return replace(self, now=_of_vapour(kpa), assumed_spread_kpa=spread)


def room_kpa(room: RoomAir) -> float:
    """The vapour pressure of a room's air, kPa."""
    return float(vapour_kpa(room.temperature_c, room.humidity))


def room_knowledge(journal: Journal, history: MachineHistory, now: int) -> RoomKnowledge:
    """What the journal tells of the room at an instant, from what was read for the history."""
    temperature, humidity, vapour = _daily(history.room)
    belief = RoomBelief()
    if vapour.size >= _DAYS_NEEDED:
        logs = np.log(vapour)
        # Batches without a probe lay in other seasons than those with one: half of what is believed stays.
        spread = float(np.sqrt(logs.var() + (0.5 * ROOM_SPREAD) ** 2))
        belief = RoomBelief(float(np.exp(logs.mean())), max(spread, _LEAST_SPREAD))
    air = _as_read(journal, now) or _of_vapour(belief.kpa)
    weather: tuple[tuple[str, RoomAir], ...] = _ASSUMED_WEATHER
    if vapour.size >= _DAYS_NEEDED:
        weather = tuple(
            (code, _day_of(temperature, humidity, vapour, share))
            for code, share in ((DRY, _DRY_SHARE), (DAMP, _DAMP_SHARE))
        )
    return RoomKnowledge(air, belief, belief.kpa * belief.spread, weather, history.room)


def _as_read(journal: Journal, now: int) -> RoomAir | None:
    """The last reading of the room, if it is fresh and whole."""
    last = room_air(journal, now)
    if last is None or now - last.at > FRESH_S or last.temperature_c is None or last.humidity is None:
        return None
    return RoomAir(last.temperature_c, last.humidity, RoomAirFrom.READING, last.at, last.probe_name)


def _of_vapour(kpa: float) -> RoomAir:
    humidity = float(relative_humidity(ASSUMED_C, kpa))
    return RoomAir(ASSUMED_C, min(round(humidity), 99), RoomAirFrom.ASSUMED)


def _daily(rooms: tuple[RoomSeries, ...]) -> tuple[FloatArray, FloatArray, FloatArray]:
    """The room's daily means: °C, % RH and vapour in kPa, of days of which half is known; each day once."""
    if not rooms:
        return np.empty(0), np.empty(0), np.empty(0)
    at = np.concatenate([hours.at for hours in rooms])
    at, once = np.unique(at, return_index=True)
    columns = [
        np.concatenate([hours.temperature_c for hours in rooms])[once],
        np.concatenate([hours.humidity for hours in rooms])[once],
        np.concatenate([room_vapour(hours) for hours in rooms])[once],
    ]
    known = ~np.isnan(columns[2])
    day = at[known] // DAY_S
    if not day.size:
        return np.empty(0), np.empty(0), np.empty(0)
    _, place, count = np.unique(day, return_inverse=True, return_counts=True)
    enough = count >= _HOURS_OF_A_DAY
    temperature, humidity, vapour = (
        (np.bincount(place, column[known]) / count)[enough] for column in columns
    )
    return temperature, humidity, vapour


def _day_of(temperature: FloatArray, humidity: FloatArray, vapour: FloatArray, share: int) -> RoomAir:
    """The day of the journal's own whose vapour comes nearest to a percentile of all."""
    place = int(np.argmin(np.abs(vapour - np.percentile(vapour, share))))
    return RoomAir(float(temperature[place]), float(humidity[place]), RoomAirFrom.READING)
