"""Verdicts on a phase: hens, 45 % with a band of 40 to 50 % up to lockdown, unless a test says otherwise."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.drift import (
    DriftDirection,
    DriftVerdict,
    PhaseDrift,
    phase_verdict,
    tabular_cusum,
)
from hatchbook.statistics.trace import Trace

HOUR = 3600
DAY = 24 * HOUR
SET_S = 1_777_600_000
LOW, AIM, HIGH = 40.0, 45.0, 50.0


def logger(days: float, every_s: int = 300) -> np.ndarray:
    """Instants of a logger, in seconds since the set."""
    return np.arange(0, int(days * DAY) + 1, every_s)


def by_hand(days: float) -> np.ndarray:
    """Readings at seven in the morning and at seven in the evening, the batch set at eight in the evening."""
    return np.arange(11 * HOUR, int(days * DAY), 12 * HOUR)


def verdict(at: np.ndarray, values: np.ndarray | float, days: float) -> PhaseDrift:
    at_s, end_s = SET_S + at, SET_S + int(days * DAY)
    trace = Trace.for_window(at_s, np.broadcast_to(np.asarray(values, dtype=float), at.shape), SET_S, end_s)
    return phase_verdict(trace, SET_S, end_s, LOW, AIM, HIGH)


def stepped(at: np.ndarray, before: float, after: float, day: float) -> np.ndarray:
    return np.where(at < day * DAY, before, after)


# --- the sums -----------------------------------------------------------------------------------------------


def test_published_example_of_a_tabular_cusum() -> None:
    """Lucas & Crosier's example without head start, k = 0.5, as printed in Six Sigma: Advanced Tools for Black
    Belts and Master Black Belts (2006), p. 376, table 24.1."""
    sums = tabular_cusum(np.array([0.8, 1.9, 1.4, 2.0, 1.1, 0.7, 2.6]), 0.5)
    np.testing.assert_allclose(sums, [0.3, 1.7, 2.6, 4.1, 4.7, 4.9, 7.0], atol=1e-12)


def test_sums_agree_with_the_recursion_of_the_textbook() -> None:
    """Montgomery & Runger, equation 16-30: S(i) = max(0, x(i) - (aim + K) + S(i-1))."""
    deviations = np.random.default_rng(4).normal(size=200)
    expected, last = [], 0.0
    for deviation in deviations:
        last = max(0.0, deviation - 0.5 + last)
        expected.append(last)
    np.testing.assert_allclose(tabular_cusum(deviations, 0.5), expected, atol=1e-12)


def test_a_day_that_does_not_count_leaves_the_sums_as_they_were() -> None:
    np.testing.assert_allclose(tabular_cusum(np.array([2.0, math.nan, 1.0]), 0.5), [1.5, 1.5, 2.0])


def test_slack_and_decision_follow_the_band() -> None:
    drift = verdict(logger(3), 45.0, 3)
    assert (drift.cusum.slack, drift.cusum.decision) == (2.5, 6.25)


# --- on aim -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("at", [logger(18), by_hand(18)], ids=["logger", "by hand"])
def test_constant_on_the_aim(at: np.ndarray) -> None:
    drift = verdict(at, 45.0, 18)
    assert drift.verdict is DriftVerdict.ON_AIM
    assert (drift.mean, drift.share_inside) == (45.0, 1.0)
    assert drift.known_share > 0.95
    assert (drift.direction, drift.since_day, drift.since_s, drift.stray_at_s) == (None, None, None, None)
    assert not drift.cusum.up.any()
    assert not drift.cusum.down.any()


@pytest.mark.parametrize("level", [43.0, 47.4])
def test_a_little_above_or_below_does_no_harm(level: float) -> None:
    assert verdict(logger(18), level, 18).verdict is DriftVerdict.ON_AIM


def test_noise_and_the_rhythm_of_the_day_are_no_drift() -> None:
    at = logger(18)
    noise = np.random.default_rng(7).normal(0, 1.5, at.shape)
    drift = verdict(at, 45 + 3 * np.sin(2 * np.pi * at / DAY) + noise, 18)
    assert drift.verdict is DriftVerdict.ON_AIM


# --- outside the band ---------------------------------------------------------------------------------------


def test_mean_above_the_band_since_the_day_it_moved() -> None:
    at = logger(18)
    drift = verdict(at, stepped(at, 45, 60, 6), 18)
    assert drift.verdict is DriftVerdict.HIGH
    assert drift.direction is DriftDirection.UP
    assert drift.mean == pytest.approx(55.0, abs=0.05)
    assert drift.since_day == 6
    assert drift.since_s == SET_S + 6 * DAY


def test_mean_below_the_band_from_the_first_day() -> None:
    drift = verdict(logger(5), 35.0, 5)
    assert (drift.verdict, drift.direction, drift.since_day) == (DriftVerdict.LOW, DriftDirection.DOWN, 0)


def test_mean_outside_without_a_run_since_the_day_the_running_mean_left() -> None:
    """One very wet day early on: the daily means are back on aim, the mean of the phase is not."""
    at = logger(4)
    values = np.where((at >= DAY) & (at < 2 * DAY), 75.0, 45.0)
    drift = verdict(at, values, 4)
    assert drift.mean > HIGH
    assert drift.verdict is DriftVerdict.HIGH
    assert drift.cusum.up[-1] <= drift.cusum.decision
    assert drift.since_day == 1


def test_mean_on_the_edge_is_inside() -> None:
    assert verdict(logger(1), HIGH, 1).verdict is DriftVerdict.ON_AIM
    assert verdict(logger(1), HIGH + 0.01, 1).verdict is DriftVerdict.HIGH


# --- sliding ------------------------------------------------------------------------------------------------


def test_step_at_day_six_slides_since_day_six() -> None:
    at = logger(11)
    drift = verdict(at, stepped(at, 45, 51, 6), 11)
    assert drift.verdict is DriftVerdict.SLIDING
    assert drift.direction is DriftDirection.UP
    assert LOW <= drift.mean <= HIGH
    assert drift.since_day == 6
    assert drift.since_s == SET_S + 6 * DAY
    assert drift.daily.mean[5:8] == pytest.approx([45.0, 51.0, 51.0], abs=0.05)


def test_the_signal_comes_after_as_many_days_as_documented() -> None:
    at = logger(18)
    on_edge, four_off = stepped(at, 45, 50, 6), stepped(at, 45, 41, 6)
    assert verdict(at, on_edge, 8).verdict is DriftVerdict.ON_AIM
    assert verdict(at, on_edge, 9).verdict is DriftVerdict.SLIDING
    assert verdict(at, four_off, 10).verdict is DriftVerdict.ON_AIM
    assert verdict(at, four_off, 11).verdict is DriftVerdict.SLIDING
    assert verdict(at, four_off, 11).direction is DriftDirection.DOWN


def test_slow_slide_is_found_while_the_mean_is_still_inside() -> None:
    at = logger(18)
    drift = verdict(at, 45 + 7 * at / (18 * DAY), 18)
    assert drift.verdict is DriftVerdict.SLIDING
    assert drift.direction is DriftDirection.UP
    assert drift.mean == pytest.approx(48.5, abs=0.01)
    assert drift.since_day == 6  # the first day whose mean is more than half way to the edge


def test_two_readings_a_day_by_hand_find_the_slide_too() -> None:
    at = by_hand(12)
    drift = verdict(at, stepped(at, 45, 51, 6), 12)
    assert drift.verdict is DriftVerdict.SLIDING
    assert drift.since_day in (5, 6)  # by hand the line already rises through the last night of day 5


def test_steering_back_to_the_aim_is_not_sliding_the_other_way() -> None:
    """48 % for nine days, then the average to hold from now: 42 %."""
    at = logger(18)
    values = stepped(at, 48, 42, 9)
    for days in (12, 14, 16, 18):
        assert verdict(at, values, days).verdict is DriftVerdict.ON_AIM
    assert verdict(at, values, 18).cusum.down.max() > 0


def test_a_slide_that_was_corrected_is_over() -> None:
    at = logger(18)
    values = np.where((at >= 5 * DAY) & (at < 9 * DAY), 50.0, 45.0)
    assert verdict(at, values, 9).verdict is DriftVerdict.SLIDING
    assert verdict(at, values, 18).verdict is DriftVerdict.ON_AIM


# --- swinging -----------------------------------------------------------------------------------------------


def test_swings_about_the_aim() -> None:
    at = logger(10)
    drift = verdict(at, 45 + 12 * np.sin(2 * np.pi * at / (6 * HOUR)), 10)
    assert drift.verdict is DriftVerdict.SWINGING
    assert drift.share_inside == pytest.approx(2 * math.asin(5 / 12) / math.pi, abs=0.01)
    assert drift.since_day is None


def test_swings_inside_the_band_most_of_the_time_are_on_aim() -> None:
    at = logger(10)
    assert verdict(at, 45 + 6 * np.sin(2 * np.pi * at / (6 * HOUR)), 10).verdict is DriftVerdict.ON_AIM


# --- one stray reading --------------------------------------------------------------------------------------


@pytest.mark.parametrize("day", [0.0, 0.5, 6.25, 17.99])
def test_a_spike_of_five_minutes_makes_no_drift(day: float) -> None:
    at = logger(18)
    values = np.full(at.shape, 45.0)
    values[np.searchsorted(at, day * DAY)] = 95.0
    drift = verdict(at, values, 18)
    assert drift.verdict is DriftVerdict.ON_AIM
    assert drift.average.maximum == 95.0


@pytest.mark.parametrize("level", [42.0, 45.0, 47.0])
@pytest.mark.parametrize("stray", [5.0, 95.0])
@pytest.mark.parametrize("row", range(20))
def test_a_stray_reading_by_hand_makes_no_drift_on_any_day(level: float, stray: float, row: int) -> None:
    """By hand one reading stands for a whole day, so this is where it could weigh."""
    at = by_hand(10)
    values = np.full(at.shape, level)
    values[row % at.size] = stray
    for days in (1, 2, 3, 5, 10):
        drift = verdict(at[at < days * DAY], values[at < days * DAY], days)
        assert drift.verdict in (DriftVerdict.ON_AIM, DriftVerdict.SWINGING, DriftVerdict.TOO_LITTLE_KNOWN)
        assert drift.direction is None


def test_a_mean_outside_through_one_reading_alone_gets_no_verdict_and_names_it() -> None:
    at = by_hand(2)
    values = np.array([45.0, 95.0, 45.0, 45.0])
    drift = verdict(at, values, 2)
    assert drift.mean > HIGH
    assert drift.verdict is DriftVerdict.TOO_LITTLE_KNOWN
    assert drift.stray_at_s == SET_S + at[1]
    assert (drift.direction, drift.since_day) == (None, None)


def test_a_slide_that_hangs_on_one_reading_is_not_given() -> None:
    """47.9 % adds 0.4 a day to the sum; one stray reading by hand lifts it over the limit."""
    at = by_hand(9)
    values = np.full(at.shape, 47.9)
    values[13] = 75.0
    drift = verdict(at, values, 9)
    assert drift.cusum.up[-1] > drift.cusum.decision
    assert drift.verdict is DriftVerdict.ON_AIM
    assert drift.stray_at_s == SET_S + at[13]


def test_a_real_drift_with_a_stray_reading_stays_a_drift() -> None:
    at = by_hand(12)
    values = stepped(at, 45, 60, 4)
    values[15] = 95.0
    drift = verdict(at, values, 12)
    assert drift.verdict is DriftVerdict.HIGH
    assert drift.stray_at_s is None


# --- too little known ---------------------------------------------------------------------------------------


def test_less_than_half_known_gives_a_mean_but_no_verdict() -> None:
    at = logger(4)
    drift = verdict(at, 60.0, 10)
    assert drift.mean == 60.0
    assert drift.known_share == pytest.approx(0.4)
    assert drift.verdict is DriftVerdict.TOO_LITTLE_KNOWN
    assert drift.since_day is None


def test_sparse_readings_give_no_verdict() -> None:
    """One reading a day leaves gaps of 24 hours, which are not bridged."""
    drift = verdict(np.arange(10) * DAY, 60.0, 10)
    assert (drift.verdict, drift.known_share, drift.mean) == (DriftVerdict.TOO_LITTLE_KNOWN, 0.0, 60.0)


@pytest.mark.parametrize("days", [0, 3])
def test_no_readings_at_all(days: int) -> None:
    drift = verdict(np.array([], dtype=int), np.array([]), days)
    assert drift.verdict is DriftVerdict.TOO_LITTLE_KNOWN
    assert math.isnan(drift.mean)
    assert math.isnan(drift.share_inside)


def test_days_of_which_little_is_known_do_not_count() -> None:
    """Days 6 to 8 are known for four hours each, at 55 %: no run of days comes of it."""
    at = logger(12)
    hour_of_day = (at % DAY) / HOUR
    gappy = (at >= 6 * DAY) & (at < 9 * DAY)
    keep = ~gappy | ((hour_of_day >= 10) & (hour_of_day < 14))
    values = np.where(gappy, 55.0, 45.0)
    drift = verdict(at[keep], values[keep], 12)
    assert drift.known_share > 0.7
    assert drift.verdict is DriftVerdict.ON_AIM
    assert not drift.cusum.up.any()


def test_a_day_just_begun_does_not_count_yet() -> None:
    at = logger(9)
    values = stepped(at, 45, 50, 6)
    assert verdict(at, values, 8.4).verdict is DriftVerdict.ON_AIM
    assert verdict(at, values, 8.6).verdict is DriftVerdict.SLIDING


# --- bands --------------------------------------------------------------------------------------------------


def test_temperature_is_judged_the_same_way() -> None:
    at = SET_S + logger(10)
    values = np.where(at < SET_S + 6 * DAY, 37.5, 37.75)
    drift = phase_verdict(Trace(at, values), SET_S, SET_S + 10 * DAY, 37.2, 37.5, 37.8)
    assert (drift.verdict, drift.since_day) == (DriftVerdict.SLIDING, 6)


@pytest.mark.parametrize("band", [(50.0, 45.0, 40.0), (40.0, 55.0, 50.0), (45.0, 45.0, 45.0)])
def test_a_band_that_makes_no_sense_is_refused(band: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="needs a band"):
        phase_verdict(Trace([0, 60], [45, 45]), 0, 60, *band)
