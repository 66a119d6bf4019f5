"""Averages of irregular readings: a published example, the rules one by one, and properties of any readings."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import pytest
from hatchbook.statistics.averages import (
    Trace,
    daily_means,
    longest_bridge,
    running_mean,
    share_inside,
    time_weighted,
    unknown_stretches,
)
from hypothesis import given
from hypothesis import strategies as st

HOUR = 3600
DAY = 24 * HOUR
SET_S = 1_777_600_000


# --- the longest bridge -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spacing_s", "bridge_s"),
    [
        (60, HOUR),  # a logger every minute: never below one hour
        (20 * 60, HOUR),
        (30 * 60, 1.5 * HOUR),  # three spacings
        (2 * HOUR, 6 * HOUR),
        (12 * HOUR, 13 * HOUR),  # two readings a day by hand: never above thirteen hours
        (48 * HOUR, 13 * HOUR),
    ],
)
def test_the_bridge_is_three_spacings_within_one_and_thirteen_hours(spacing_s: int, bridge_s: float) -> None:
    assert longest_bridge(SET_S + spacing_s * np.arange(20)) == bridge_s


def test_a_single_silence_does_not_stretch_the_bridge() -> None:
    at = np.concatenate((np.arange(0, DAY, 1800), 3 * DAY + np.arange(0, DAY, 1800)))
    assert longest_bridge(at) == 1.5 * HOUR


def test_readings_of_one_instant_have_no_spacing() -> None:
    assert longest_bridge([0, 0, 0, 1800, 1800, 1800, 3600, 3600]) == 1.5 * HOUR
    assert longest_bridge([]) == longest_bridge([5, 5]) == 13 * HOUR


# --- means of a window --------------------------------------------------------------------------------------


def test_the_published_trapezoid_example() -> None:
    """stats.stackexchange.com, question 373857: t 0, 1000, 2000, 3000, 5000 and v 1 to 5 give 3.3."""
    average = time_weighted([0, 1000, 2000, 3000, 5000], [1, 2, 3, 4, 5], 0, 5000)
    assert average.mean == pytest.approx(3.3, abs=1e-12)
    assert (average.known_share, average.known_s, average.count) == (1.0, 5000.0, 5)
    assert (average.minimum, average.maximum) == (1.0, 5.0)


def test_a_window_is_cut_on_the_line_between_readings_outside_it() -> None:
    average = time_weighted([0, 1000], [10, 20], 250, 750, longest_bridge_s=HOUR)
    assert average.mean == pytest.approx(15.0)
    assert (average.minimum, average.maximum) == pytest.approx((12.5, 17.5))
    assert (average.known_share, average.count) == (1.0, 0)


def test_a_gap_longer_than_the_bridge_is_unknown() -> None:
    at = [0, HOUR, 5 * HOUR, 6 * HOUR]
    average = time_weighted(at, [40, 40, 60, 60], 0, 6 * HOUR, longest_bridge_s=2 * HOUR)
    assert average.mean == 50.0
    assert average.known_share == pytest.approx(2 / 6)
    bridged = time_weighted(at, [40, 40, 60, 60], 0, 6 * HOUR, longest_bridge_s=4 * HOUR)
    assert bridged.known_share == 1.0


def test_time_before_the_first_and_after_the_last_reading_is_unknown() -> None:
    average = time_weighted([HOUR, 2 * HOUR], [50, 50], 0, 4 * HOUR, longest_bridge_s=HOUR)
    assert average.known_share == 0.25


def test_the_line_is_not_drawn_on_past_the_readings() -> None:
    average = time_weighted([HOUR, 2 * HOUR], [40, 50], 0, 3 * HOUR, longest_bridge_s=HOUR)
    assert (average.minimum, average.maximum) == (40.0, 50.0)


def test_readings_count_by_the_time_they_stand_for_not_by_their_number() -> None:
    """Twenty readings in the wet hour after a misting do not outweigh the dry day."""
    at = np.concatenate((np.arange(0, 24, 6) * HOUR, 24 * HOUR + np.arange(0, HOUR, 180)))
    values = np.where(at < 24 * HOUR, 45.0, 80.0)
    average = time_weighted(at, values, 0, 25 * HOUR, longest_bridge_s=8 * HOUR)
    assert values.mean() > 70
    assert average.mean < 53


def test_what_was_not_measured_is_left_out() -> None:
    average = time_weighted([0, 600, 1200], [40, np.nan, 50], 0, 1200)
    assert (average.mean, average.count, average.known_share) == (45.0, 2, 1.0)


def test_readings_of_one_instant_share_it_in_any_order() -> None:
    one = time_weighted([0, 600, 600, 1200], [40, 40, 50, 45], 0, 1200)
    other = time_weighted([0, 600, 600, 1200], [40, 50, 40, 45], 0, 1200)
    assert one == other
    assert one.mean == pytest.approx((42.5 + 45) / 2)
    assert (one.count, one.maximum) == (4, 50.0)


def test_a_lone_reading_gives_a_mean_but_makes_no_time_known() -> None:
    at, values = [0, 2 * DAY], [40.0, 50.0]
    average = time_weighted(at, values, 0, 3 * DAY)
    assert (average.mean, average.known_share, average.count) == (45.0, 0.0, 2)
    assert (average.minimum, average.maximum) == (40.0, 50.0)


def test_a_lone_reading_does_not_outweigh_known_time() -> None:
    average = time_weighted([0, HOUR, 3 * DAY], [40, 40, 90], 0, 3 * DAY, longest_bridge_s=HOUR)
    assert (average.mean, average.maximum) == (40.0, 90.0)


def test_nothing_known_gives_no_mean() -> None:
    for at, values in (([], []), ([0, 60], [np.nan, np.nan]), ([-9 * DAY], [45.0])):
        average = time_weighted(at, values, 0, DAY)
        assert math.isnan(average.mean)
        assert math.isnan(average.minimum)
        assert (average.known_share, average.count) == (0.0, 0)


def test_a_window_without_length_knows_the_reading_of_its_instant() -> None:
    assert time_weighted([0, 600], [40, 50], 600, 600).mean == 50.0
    assert time_weighted([0, 600], [40, 50], 600, 600).known_share == 0.0


def test_the_bridge_follows_the_phase_that_is_asked_for() -> None:
    """By hand up to lockdown, then a logger: each phase gets the bridge of its own readings."""
    by_hand = np.arange(0, 18 * DAY, 12 * HOUR)
    logger = np.arange(18 * DAY, 21 * DAY, 600)
    at = np.concatenate((by_hand, logger))
    values = np.full(at.shape, 45.0)
    assert time_weighted(at, values, 0, 18 * DAY).longest_bridge_s == 13 * HOUR
    assert time_weighted(at, values, 18 * DAY, 21 * DAY).longest_bridge_s == HOUR


@pytest.mark.parametrize(
    ("at", "values", "window", "sentence"),
    [
        ([0, 60, 30], [1, 2, 3], (0, 60), "order of their times"),
        ([0, 60], [1], (0, 60), "one value for each time"),
        ([0.5, 60], [1, 2], (0, 60), "whole seconds"),
        ([0.0, np.nan], [1, 2], (0, 60), "whole seconds"),
        ([0, 60], [1, np.inf], (0, 60), "infinite"),
        ([0, 60], [1, 2], (60, 0), "ends before it starts"),
    ],
)
def test_wrong_readings_are_refused_with_a_plain_sentence(
    at: list[float], values: list[float], window: tuple[int, int], sentence: str
) -> None:
    with pytest.raises(ValueError, match=sentence):
        time_weighted(at, values, *window)


# --- share inside the band ----------------------------------------------------------------------------------


def test_share_inside_is_exact_on_a_straight_line() -> None:
    # From 30 to 60: 40 to 50 is a third of the way, 35 to 100 five sixths.
    assert share_inside([0, 3000], [30, 60], 0, 3000, 40, 50, HOUR) == pytest.approx(1 / 3, abs=1e-15)
    assert share_inside([0, 3000], [60, 30], 0, 3000, 35, 100, HOUR) == pytest.approx(5 / 6, abs=1e-15)
    # Only the part of the line inside the window counts: from 45 to 60.
    assert share_inside([0, 3000], [30, 60], 1500, 3000, 40, 50, HOUR) == pytest.approx(1 / 3, abs=1e-15)


def test_the_edges_belong_to_the_band() -> None:
    assert share_inside([0, 60], [50, 50], 0, 60, 40, 50) == 1.0
    assert share_inside([0, 60], [50.001, 50.001], 0, 60, 40, 50) == 0.0


def test_share_inside_counts_known_time_only() -> None:
    at = [0, HOUR, 9 * HOUR, 10 * HOUR]
    assert share_inside(at, [45, 45, 60, 60], 0, 12 * HOUR, 40, 50, 2 * HOUR) == 0.5
    assert math.isnan(share_inside([5], [45], 0, 10, 40, 50))
    assert math.isnan(share_inside(at, [45, 45, 60, 60], 2 * HOUR, 8 * HOUR, 40, 50, 2 * HOUR))


def test_a_band_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="low edge of the band"):
        share_inside([0, 60], [50, 50], 0, 60, 50, 40)


# --- daily and running means, gaps --------------------------------------------------------------------------


def test_daily_means_count_24_hours_from_the_setting() -> None:
    at = SET_S + np.arange(0, 2.5 * DAY + 1, 600).astype(int)
    hours = (at - SET_S) / HOUR
    values = np.interp(hours, [0, 24, 48, 60], [40, 40, 52, 52])
    daily = daily_means(at, values, SET_S, SET_S + int(2.5 * DAY))
    assert daily.day.tolist() == [0, 1, 2]
    assert daily.start_s.tolist() == [SET_S, SET_S + DAY, SET_S + 2 * DAY]
    np.testing.assert_allclose(daily.mean, [40, 46, 52])
    assert daily.known_share.tolist() == [1.0, 1.0, 1.0]
    assert daily.known_s.tolist() == [DAY, DAY, DAY / 2]


def test_a_day_without_readings_has_no_mean() -> None:
    at = np.concatenate((np.arange(0, DAY, 600), np.arange(2 * DAY, 3 * DAY, 600)))
    daily = daily_means(at, np.full(at.shape, 45.0), 0, 3 * DAY)
    assert np.isnan(daily.mean).tolist() == [False, True, False]
    assert daily.known_share[1] == 0.0


def test_a_lone_reading_on_the_stroke_belongs_to_the_day_that_begins() -> None:
    daily = daily_means([DAY], [45.0], 0, 2 * DAY)
    assert np.isnan(daily.mean[0])
    assert daily.mean[1] == 45.0
    assert daily.known_share.tolist() == [0.0, 0.0]


def test_running_mean_ends_on_the_mean_so_far_and_skips_gaps() -> None:
    at = np.array([0, HOUR, 2 * HOUR, 9 * HOUR, 10 * HOUR])
    running = running_mean(at, [40, 40, 40, 60, 60], 0, 12 * HOUR, longest_bridge_s=HOUR)
    np.testing.assert_allclose(running.mean, [40, 40, 40, 40, (2 * 40 + 60) / 3])
    assert running.at_s.tolist() == at.tolist()


def test_unknown_stretches_name_head_gaps_and_tail() -> None:
    at = [HOUR, 2 * HOUR, 9 * HOUR, 10 * HOUR]
    stretches = unknown_stretches(at, 0, 12 * HOUR, longest_bridge_s=HOUR)
    assert stretches.tolist() == [[0, HOUR], [2 * HOUR, 9 * HOUR], [10 * HOUR, 12 * HOUR]]
    assert unknown_stretches([], 0, DAY).tolist() == [[0, DAY]]
    assert unknown_stretches([0, HOUR], 0, HOUR).shape == (0, 2)
    # A gap reaches into the window only as far as the window goes.
    assert unknown_stretches(at, 3 * HOUR, 4 * HOUR, HOUR).tolist() == [[3 * HOUR, 4 * HOUR]]


# --- properties of any readings -----------------------------------------------------------------------------


class Readings(NamedTuple):
    at: np.ndarray
    values: np.ndarray
    bridge: float


@st.composite
def readings(draw: st.DrawFn) -> Readings:
    """Up to 40 readings with gaps, repeats and missing values over about ten days."""
    gap = st.one_of(st.integers(0, 1200), st.integers(0, 2 * DAY))
    gaps = draw(st.lists(gap, max_size=40))
    at = SET_S + np.cumsum(np.array(gaps, dtype=np.int64))
    value = st.one_of(st.floats(0, 100), st.integers(0, 100).map(float), st.just(math.nan))
    values = draw(st.lists(value, min_size=len(gaps), max_size=len(gaps)))
    return Readings(
        at, np.array(values, dtype=np.float64), draw(st.sampled_from([900.0, HOUR, 5.5 * HOUR, 13.0 * HOUR]))
    )


instants = st.integers(SET_S - DAY, SET_S + 20 * DAY)
windows = st.tuples(instants, instants).map(sorted)


@given(readings(), windows)
def test_mean_lies_between_minimum_and_maximum(r: Readings, window: list[int]) -> None:
    average = Trace(r.at, r.values, r.bridge).average(*window)
    assert 0.0 <= average.known_share <= 1.0
    if not math.isnan(average.mean):
        assert average.minimum - 1e-9 <= average.mean <= average.maximum + 1e-9
    else:
        assert average.known_s == 0
        assert average.count == 0


@given(readings(), windows, st.floats(0, 1))
def test_splitting_a_window_changes_nothing(r: Readings, window: list[int], where: float) -> None:
    start, end = window
    middle = round(start + where * (end - start))
    trace = Trace(r.at, r.values, r.bridge)
    whole, first, second = trace.average(start, end), trace.average(start, middle), trace.average(middle, end)
    assert first.known_s + second.known_s == pytest.approx(whole.known_s)
    if whole.known_s > 0:
        parts = [part for part in (first, second) if part.known_s > 0]
        recombined = sum(part.mean * part.known_s for part in parts) / whole.known_s
        assert recombined == pytest.approx(whole.mean, abs=1e-7)
        inside = sum(
            trace.share_inside(a, b, 40, 50) * part.known_s
            for a, b, part in ((start, middle, first), (middle, end, second))
            if part.known_s > 0
        )
        assert inside / whole.known_s == pytest.approx(trace.share_inside(start, end, 40, 50), abs=1e-7)


@given(readings(), windows, st.integers(-(10**9), 10**9))
def test_shifting_time_changes_nothing(r: Readings, window: list[int], shift: int) -> None:
    start, end = window
    here = Trace(r.at, r.values, r.bridge)
    there = Trace(r.at + shift, r.values, r.bridge)
    assert repr(there.average(start + shift, end + shift)) == repr(here.average(start, end))  # nan is not nan
    moved = there.unknown_stretches(start + shift, end + shift) - shift
    assert moved.tolist() == here.unknown_stretches(start, end).tolist()


@given(readings(), windows, st.data())
def test_adding_a_reading_on_the_line_changes_nothing(
    r: Readings, window: list[int], data: st.DataObject
) -> None:
    trace = Trace(r.at, r.values, r.bridge)
    rows = np.flatnonzero(trace.bridged & (np.diff(trace.at_s) >= 2))
    if not rows.size:
        return
    row = data.draw(st.sampled_from(rows.tolist()))
    at = data.draw(st.integers(int(trace.at_s[row]) + 1, int(trace.at_s[row + 1]) - 1))
    value = float(np.interp(at, trace.at_s[row : row + 2], trace.values[row : row + 2]))
    place = int(np.searchsorted(r.at, at))
    more = Trace(np.insert(r.at, place, at), np.insert(r.values, place, value), r.bridge)
    before, after = trace.average(*window), more.average(*window)
    assert after.known_s == before.known_s
    if before.known_s > 0:
        assert after.mean == pytest.approx(before.mean, abs=1e-7)
        assert after.minimum == pytest.approx(before.minimum, abs=1e-9)
        assert more.share_inside(*window, 40, 50) == pytest.approx(
            trace.share_inside(*window, 40, 50), abs=1e-6
        )


@given(readings(), windows)
def test_known_and_unknown_time_fill_the_window(r: Readings, window: list[int]) -> None:
    trace = Trace(r.at, r.values, r.bridge)
    unknown = trace.unknown_stretches(*window)
    assert np.all(unknown[:, 0] < unknown[:, 1])
    assert np.all(unknown[1:, 0] >= unknown[:-1, 1])
    known = trace.average(*window).known_s
    assert known + (unknown[:, 1] - unknown[:, 0]).sum() == pytest.approx(window[1] - window[0])


@given(readings(), windows)
def test_days_and_running_means_are_averages_of_their_windows(r: Readings, window: list[int]) -> None:
    start, end = window
    trace = Trace(r.at, r.values, r.bridge)
    daily = trace.daily_means(start, end)
    assert daily.known_s.sum() == pytest.approx(trace.average(start, end).known_s)
    for day, begins, mean, known in zip(daily.day, daily.start_s, daily.mean, daily.known_s, strict=True):
        expected = trace.average(begins, min(begins + DAY, end))
        assert begins == start + day * DAY
        assert known == expected.known_s
        assert daily.known_share[day] == pytest.approx(expected.known_share)
        if known > 0:
            assert mean == pytest.approx(expected.mean, abs=1e-9)
    running = trace.running_mean(start, end)
    for at, mean in zip(running.at_s, running.mean, strict=True):
        assert mean == pytest.approx(trace.average(start, at).mean, abs=1e-9)


@given(readings(), windows)
def test_the_answers_agree_with_a_plain_loop(r: Readings, window: list[int]) -> None:
    """The same rules written the slow way: stretch by stretch, every stretch cut at the window."""
    start, end = window
    trace = Trace(r.at, r.values, r.bridge)
    seconds = area = inside = 0.0
    at, values = trace.at_s.tolist(), trace.values.tolist()
    for (a, u), (b, v) in zip(
        zip(at, values, strict=True), zip(at[1:], values[1:], strict=False), strict=False
    ):
        begin, finish = max(a, start), min(b, end)
        if b - a > r.bridge or finish <= begin:
            continue
        left = u + (v - u) * (begin - a) / (b - a)
        right = u + (v - u) * (finish - a) / (b - a)
        seconds += finish - begin
        area += (finish - begin) * (left + right) / 2
        if left == right:
            inside += (finish - begin) * (40 <= left <= 50)
        else:
            low, high = sorted(((40 - left) / (right - left), (50 - left) / (right - left)))
            inside += (finish - begin) * max(0.0, min(high, 1.0) - max(low, 0.0))
    average = trace.average(start, end)
    assert average.known_s == pytest.approx(seconds)
    if seconds > 0:
        assert average.mean == pytest.approx(area / seconds, abs=1e-7)
        assert trace.share_inside(start, end, 40, 50) == pytest.approx(inside / seconds, abs=1e-6)
