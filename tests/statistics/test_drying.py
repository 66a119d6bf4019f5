"""Channels that fell dry show in the humidity."""

from __future__ import annotations

import numpy as np
from hatchbook.statistics.drying import SINKS_S, fell_dry
from hatchbook.statistics.trace import Trace

HOUR, DAY = 3600, 86_400
ROOM_ONLY = 18.0


def humidity(dry_after_h: float | None, hours: int = 96, *, noise: float = 0.5) -> Trace:
    at = np.arange(0, hours * HOUR, HOUR // 2, dtype=np.int64)
    values = np.full(at.size, 45.0)
    if dry_after_h is not None:
        sunk = 1 - np.exp(-np.maximum(at / HOUR - dry_after_h, 0) / 1.5)
        values -= sunk * (45.0 - ROOM_ONLY)
    return Trace(at, values + np.random.default_rng(4).normal(0, noise, at.size))


def test_channels_that_keep_their_water_are_not_said_to_be_dry() -> None:
    assert fell_dry(humidity(None), 0, 4 * DAY, ROOM_ONLY) is None


def test_channels_that_fall_dry_are_found_within_some_hours() -> None:
    found = fell_dry(humidity(50.0), 0, 4 * DAY, ROOM_ONLY)
    assert found is not None
    assert abs(found.at / HOUR - 50.0) <= 4
    assert (found.disturbance.at, found.disturbance.until) == (found.at - SINKS_S, 4 * DAY)


def test_a_day_of_dry_air_from_outside_is_no_drying() -> None:
    at = np.arange(0, 4 * DAY, HOUR, dtype=np.int64)
    dip = np.where((at > DAY) & (at < 2 * DAY), 35.0, 45.0)
    assert fell_dry(Trace(at, dip), 0, 4 * DAY, ROOM_ONLY) is None


def test_where_water_brings_little_nothing_is_said() -> None:
    assert fell_dry(humidity(50.0), 0, 4 * DAY, 40.0) is None


def test_channels_that_were_never_moist_tell_nothing() -> None:
    assert fell_dry(humidity(0.0), 0, 4 * DAY, ROOM_ONLY) is None


def test_a_filling_soon_after_another_tells_nothing() -> None:
    assert fell_dry(humidity(10.0), 0, 14 * HOUR, ROOM_ONLY) is None


def test_without_readings_at_the_end_nothing_is_said() -> None:
    assert fell_dry(humidity(50.0, hours=52), 0, 4 * DAY, ROOM_ONLY) is None


def test_air_that_turns_drier_and_stays_so_is_no_drying() -> None:
    """A third of what the water brings is gone: a wider vent, a dry spell."""
    at = np.arange(0, 4 * DAY, HOUR, dtype=np.int64)
    assert fell_dry(Trace(at, np.where(at > 2 * DAY, 36.0, 45.0)), 0, 4 * DAY, ROOM_ONLY) is None
    assert fell_dry(Trace(at, np.where(at > 2 * DAY, 24.0, 45.0)), 0, 4 * DAY, ROOM_ONLY) is not None
