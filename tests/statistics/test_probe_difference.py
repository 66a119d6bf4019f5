"""Probes in one air compared: difference, drift, and intervals that hold what they promise."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.probe_difference import ProbeDifference, compare_probes
from hatchbook.trade.codes import Quantity

DAY = 86_400
HUMIDITY = Quantity.HUMIDITY


def wandering(rng: np.random.Generator, count: int, spread: float, hours: float) -> np.ndarray:
    kept = np.exp(-1 / hours)
    steps = rng.normal(0.0, spread * np.sqrt(1 - kept**2), count)
    values = np.empty(count)
    values[0] = rng.normal(0.0, spread)
    for row in range(1, count):
        values[row] = kept * values[row - 1] + steps[row]
    return values


def pair(seed: int, days: int = 14, offset: float = 1.5, drift: float = 0.0, hours: float = 6.0) -> list:
    """An hourly pair of probes in one air; the first reads high and drifts by so much over the days."""
    rng = np.random.default_rng(seed)
    at = np.arange(days * 24) * 3600
    air = 45.0 + wandering(rng, at.size, 1.5, 12.0)
    first = air + offset + drift * at / at[-1] + wandering(rng, at.size, 0.5, hours)
    return [(at, first), (at, air)]


def compared(probes: list, days: int = 14) -> tuple[ProbeDifference | None, ...]:
    return compare_probes(HUMIDITY, probes, 0, days * DAY)


def test_the_difference_is_found_with_its_range() -> None:
    first, second = compared(pair(1))
    assert first is not None
    assert second is not None
    assert first.low < 1.5 < first.high
    assert second.difference == pytest.approx(-first.difference)
    assert (first.hours, first.days, first.span_days) == (336, 14, 13)
    assert not first.drifting
    assert first.apart(0.5)
    assert not first.apart(3.0)


def test_the_ranges_hold_what_they_promise() -> None:
    inside = change_inside = 0
    for seed in range(400):
        first, _ = compared(pair(seed))
        assert first is not None
        inside += first.low <= 1.5 <= first.high
        change_inside += first.change_low <= 0.0 <= first.change_high
    assert 0.92 <= inside / 400 <= 0.985
    assert 0.92 <= change_inside / 400 <= 0.99


def test_a_probe_that_moves_away_is_drifting_and_a_steady_one_is_not() -> None:
    assert sum(compared(pair(seed, drift=4.0))[0].drifting for seed in range(50)) >= 49
    assert sum(compared(pair(seed, drift=0.0))[0].drifting for seed in range(200)) == 0
    assert not compared(pair(3, drift=1.0))[0].drifting


def test_of_three_only_the_wrong_one_stands_apart() -> None:
    (at, wrong), (_, air) = pair(5, offset=6.0)
    noise = np.random.default_rng(9).normal(0.0, 0.3, at.size)
    first, second, third = compared([(at, wrong), (at, air), (at, air + 0.4 + noise)])
    assert first.apart(3.0)
    assert abs(second.difference) < 0.5
    assert abs(third.difference) < 0.5


def test_where_only_two_of_three_read_they_are_compared_with_each_other() -> None:
    (at, first), (_, air) = pair(6, offset=4.0)
    result = compared([(at, first), (at, air), (at[:24], air[:24])])
    assert result[0].difference == pytest.approx(4.0, abs=0.8)


def test_readings_by_hand_are_compared_with_the_loggers_hour() -> None:
    at = np.arange(0, 6 * DAY, 60)
    logged = 45.0 + np.sin(at / 5000)
    by_hand_at = np.arange(12) * DAY // 2 + 1800
    by_hand = 47.0 + np.sin(by_hand_at / 5000)
    logger, hand = compared([(at, logged), (by_hand_at, by_hand)], 6)
    assert hand.hours == 12
    assert hand.difference == pytest.approx(2.0, abs=0.1)
    assert logger.difference == pytest.approx(-2.0, abs=0.1)


def test_an_opened_lid_does_not_move_the_difference() -> None:
    (at, first), (_, air) = pair(7)
    opened = first.copy()
    opened[5::24] -= 20.0
    assert compared([(at, opened), (at, air)])[0].difference == pytest.approx(
        compared([(at, first), (at, air)])[0].difference, abs=0.1
    )


def test_without_a_common_hour_nothing_is_said() -> None:
    at = np.arange(24) * 3600
    values = np.full(24, 45.0)
    assert compared([(at, values)]) == (None,)
    assert compared([(at, values), (at + 2 * DAY, values)]) == (None, None)
    assert compared([(at, values), (at, np.full(24, np.nan))]) == (None, None)
    assert compare_probes(HUMIDITY, [(at, values)] * 2, 10, 10) == (None, None)


def test_a_single_day_has_a_difference_without_a_range() -> None:
    at = np.arange(24) * 3600
    first, _ = compared([(at, np.full(24, 46.0)), (at, np.full(24, 45.0))])
    assert (first.difference, first.low, first.high, first.change) == (1.0, None, None, None)
    assert not first.apart(0.1)
    assert not first.drifting


def test_probes_that_always_agree_are_not_divided_by_nothing() -> None:
    at = np.arange(10 * 24) * 3600
    first, _ = compared([(at, np.full(at.size, 45.0))] * 2)
    assert (first.difference, first.low, first.high, first.change) == (0.0, 0.0, 0.0, 0.0)


def test_where_days_resemble_each_other_the_ranges_widen() -> None:
    """A probe that wanders over days: without that they would hold 6 in 10."""
    inside = change_inside = 0
    for seed in range(120):
        first, _ = compared(pair(seed, days=18, hours=48.0), 18)
        assert first is not None
        inside += first.low <= 1.5 <= first.high
        change_inside += first.change_low <= 0.0 <= first.change_high
    assert inside / 120 >= 0.85
    assert change_inside / 120 >= 0.85


def test_four_days_tell_no_change() -> None:
    assert compared(pair(1, days=4), 4)[0].change is None
    assert compared(pair(1, days=5), 5)[0].change is not None


def test_a_thermometer_drifts_from_three_tenths_of_a_degree_on() -> None:
    rng = np.random.default_rng(4)
    at = np.arange(14 * 24) * 3600
    air = 37.6 + rng.normal(0, 0.05, at.size)
    for drift, drifting in ((0.15, False), (0.6, True)):
        moved = air + drift * at / at[-1] + rng.normal(0, 0.02, at.size)
        first, _ = compare_probes(Quantity.TEMPERATURE, [(at, moved), (at, air)], 0, 14 * DAY)
        assert first is not None
        assert first.drifting == drifting
