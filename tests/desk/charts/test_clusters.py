"""Marks that would overlap."""

from __future__ import annotations

from hatchbook.desk.charts.clusters import arrange
from hypothesis import given
from hypothesis import strategies as st

PITCH = 12.0


def test_marks_with_room_stand_where_they_belong() -> None:
    assert [(spot.x, spot.rows) for spot in arrange([10.0, 40.0, 55.0], PITCH)] == [
        (10.0, 1),
        (40.0, 1),
        (55.0, 1),
    ]


def test_two_that_touch_stand_side_by_side_round_their_middle() -> None:
    assert [spot.x for spot in arrange([100.0, 102.0], PITCH)] == [95.0, 107.0]


def test_three_or_four_are_stacked_where_there_are_two_rows() -> None:
    spots = arrange([100.0, 100.0, 101.0, 103.0], PITCH, rows=2)
    assert [(spot.members, spot.row) for spot in spots] == [((0,), 0), ((1,), 1), ((2,), 0), ((3,), 1)]
    assert {spot.x for spot in spots} == {95.0, 107.0}


def test_a_crowd_ends_in_a_number_that_holds_the_rest() -> None:
    spots = arrange([50.0] * 9, PITCH, rows=2)
    assert len(spots) == 4
    assert spots[-1].is_crowd
    assert spots[-1].members == (3, 4, 5, 6, 7, 8)


@given(st.lists(st.floats(0, 800), max_size=60).map(sorted), st.sampled_from([1, 2]))
def test_every_mark_has_one_place_and_no_two_overlap(px: list[float], rows: int) -> None:
    spots = arrange(px, PITCH, rows=rows)
    assert sorted(member for spot in spots for member in spot.members) == list(range(len(px)))
    for one in spots:
        for other in spots:
            if one is not other and one.row == other.row:
                assert abs(one.x - other.x) >= PITCH - 1e-6


def test_a_crowd_at_the_edge_moves_into_view_and_what_lies_outside_stays_out() -> None:
    spots = arrange([-500.0, 40.0, 41.0, 42.0], PITCH, between=(40.0, 800.0))
    assert [spot.x for spot in spots] == [-500.0, 46.0, 58.0, 70.0]
