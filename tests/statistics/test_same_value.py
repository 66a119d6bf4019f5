"""A probe that stands still is told from a coarse one in a steady machine."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.same_value import same_value_stretches

HOUR = 3600
DAYS = 14


def machine(seed: int, step_s: int, humidity_step: float, temperature_step: float) -> tuple[np.ndarray, ...]:
    """A fortnight of a steady machine: the room's day, slow wandering, the thermostat's play; rounded as shown."""
    rng = np.random.default_rng(seed)
    count = DAYS * 24 * HOUR // step_s
    at = np.arange(count) * step_s
    kept = np.exp(-step_s / (12 * HOUR))
    wander = np.empty(count)
    wander[0] = 0.0
    steps = rng.normal(0.0, 0.4 * np.sqrt(1 - kept**2), count)
    for row in range(1, count):
        wander[row] = kept * wander[row - 1] + steps[row]
    humidity = 45.2 + wander + 0.5 * np.sin(at / 86_400 * 2 * np.pi) + rng.normal(0.0, 0.05, count)
    temperature = 37.6 + rng.normal(0.0, 0.1, count)
    return (
        at,
        np.round(humidity / humidity_step) * humidity_step,
        np.round(temperature / temperature_step) * temperature_step,
    )


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize(("step_s", "steps"), [(600, (1.0, 0.1)), (600, (1.0, 1.0)), (300, (0.1, 0.1))])
def test_a_steady_machine_is_not_taken_for_a_broken_probe(
    seed: int, step_s: int, steps: tuple[float, float]
) -> None:
    at, humidity, temperature = machine(seed, step_s, *steps)
    assert same_value_stretches(at, humidity, temperature) == ()
    assert same_value_stretches(at, humidity, np.full(at.size, np.nan)) == ()


@pytest.mark.parametrize(("step_s", "steps"), [(600, (1.0, 0.1)), (3600, (0.1, 0.1)), (300, (0.1, 0.1))])
def test_both_values_unchanged_for_nine_hours_are_told(step_s: int, steps: tuple[float, float]) -> None:
    at, humidity, temperature = machine(1, step_s, *steps)
    begin, count = at.size // 2, 9 * HOUR // step_s + 1
    humidity[begin : begin + count] = 46.3
    temperature[begin : begin + count] = 37.3
    (found,) = same_value_stretches(at, humidity, temperature)
    assert found.seconds == 9 * HOUR
    assert (found.start_at, found.humidity, found.temperature_c) == (at[begin], 46.3, 37.3)


def test_a_fine_hygrometer_that_stands_still_is_told_while_the_thermometer_moves_on() -> None:
    at, humidity, temperature = machine(2, 600, 0.1, 0.1)
    humidity[1000:1055] = 46.3
    (found,) = same_value_stretches(at, humidity, temperature)
    assert found.seconds == 9 * HOUR
    assert found.humidity == 46.3
    assert np.isnan(found.temperature_c)


def test_a_thermometer_alone_may_stand_still() -> None:
    at, humidity, temperature = machine(2, 600, 0.1, 0.1)
    temperature[:] = 37.5
    assert same_value_stretches(at, humidity, temperature) == ()


def test_a_coarse_hygrometer_is_told_after_days() -> None:
    at, humidity, _ = machine(3, 600, 1.0, 0.1)
    nothing = np.full(at.size, np.nan)
    humidity[800 : 800 + 6 * 30] = 45.0
    assert same_value_stretches(at, humidity, nothing) == ()
    humidity[800 : 800 + 6 * 24 * 5] = 45.0
    (found,) = same_value_stretches(at, humidity, nothing)
    assert found.seconds >= 5 * 24 * HOUR - 600


def test_a_probe_that_never_moved_is_told_after_three_days() -> None:
    for days, expected in ((2, 0), (4, 1)):
        at = np.arange(0, days * 86_400, 600)
        assert len(same_value_stretches(at, np.full(at.size, 45.3), np.full(at.size, 37.5))) == expected


def test_two_readings_a_day_that_agree_are_no_stretch() -> None:
    at = np.arange(0, 20) * 12 * HOUR
    assert same_value_stretches(at, np.full(20, 45.0), np.full(20, 37.5)) == ()


def test_silence_between_two_equal_readings_is_no_stretch() -> None:
    at, humidity, temperature = machine(4, 600, 0.1, 0.1)
    gap = (at > 5 * 86_400) & (at < 5 * 86_400 + 20 * HOUR)
    humidity[~gap & (np.abs(at - 5.4 * 86_400) < 12 * HOUR)] = 46.0
    keep = ~gap
    found = same_value_stretches(at[keep], humidity[keep], temperature[keep])
    assert all(one.seconds < 12 * HOUR for one in found)


def test_without_readings_there_is_nothing_to_tell() -> None:
    empty = np.empty(0)
    assert same_value_stretches(np.empty(0, np.int64), empty, empty) == ()
    one = np.array([45.0])
    assert same_value_stretches(np.array([0]), one, one) == ()


def test_a_few_equal_readings_far_apart_are_no_stretch() -> None:
    """Six within seven hours: a breeder who looks in every 84 minutes and sees the same."""
    at, humidity, temperature = machine(5, 5040, 0.1, 0.1)
    humidity[50:56] = 46.3
    temperature[50:56] = 37.3
    assert same_value_stretches(at, humidity, temperature) == ()
    humidity[50:62] = 46.3
    temperature[50:62] = 37.3
    assert len(same_value_stretches(at, humidity, temperature)) == 1
