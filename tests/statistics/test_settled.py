"""What is left of a time in which things were changed."""

from __future__ import annotations

from hatchbook.statistics.settled import SETTLE_S, Disturbance, cut_to_days, settled_windows

HOUR, DAY = 3600, 86_400


def test_an_undisturbed_time_is_one_window() -> None:
    assert settled_windows(0, 5 * HOUR, []) == [(0, 5 * HOUR)]


def test_two_hours_after_a_change_are_left_out() -> None:
    windows = settled_windows(0, DAY, [Disturbance(6 * HOUR, 6 * HOUR)])
    assert windows == [(0, 6 * HOUR), (8 * HOUR, DAY)]
    assert SETTLE_S == 2 * HOUR


def test_a_power_cut_is_left_out_as_long_as_it_lasted_and_two_hours_more() -> None:
    assert settled_windows(0, DAY, [Disturbance(0, 5 * HOUR)]) == [(7 * HOUR, DAY)]


def test_changes_that_overlap_leave_out_their_union_in_any_order() -> None:
    changes = [
        Disturbance(10 * HOUR, 10 * HOUR),
        Disturbance(9 * HOUR, 14 * HOUR),
        Disturbance(23 * HOUR, 24 * HOUR),
    ]
    for order in (changes, changes[::-1]):
        assert settled_windows(0, DAY, order) == [(0, 9 * HOUR), (16 * HOUR, 23 * HOUR)]


def test_a_change_whose_end_was_noted_before_its_begin_still_takes_two_hours() -> None:
    assert settled_windows(0, DAY, [Disturbance(6 * HOUR, 2 * HOUR)]) == [(0, 6 * HOUR), (8 * HOUR, DAY)]


def test_changes_outside_leave_the_time_alone_but_for_their_settling() -> None:
    assert settled_windows(
        10 * HOUR, 20 * HOUR, [Disturbance(9 * HOUR, 9 * HOUR), Disturbance(DAY, DAY)]
    ) == [(11 * HOUR, 20 * HOUR)]


def test_windows_are_cut_into_even_pieces_of_at_most_a_day() -> None:
    assert cut_to_days([(0, 36 * HOUR)], HOUR) == [(0, 18 * HOUR), (18 * HOUR, 36 * HOUR)]
    assert cut_to_days([(0, DAY)], HOUR) == [(0, DAY)]


def test_short_windows_are_left_out() -> None:
    assert cut_to_days([(0, 3 * HOUR), (DAY, DAY + 4 * HOUR)], 4 * HOUR) == [(DAY, DAY + 4 * HOUR)]
