"""Where the eggs of a batch come to lie, and which of them are marked."""

from __future__ import annotations

import itertools
from typing import Any

from hatchbook.figures.egg_places import RowOfEggs, lay_out, places_of, spread
from hatchbook.journal import Egg, Machine
from hypothesis import given
from hypothesis import strategies as st


@given(st.integers(0, 60), st.integers(0, 60))
def test_spread_marks_are_as_many_as_asked_and_nowhere_further_apart_than_needed(
    count: int, among: int
) -> None:
    chosen = sorted(spread(count, among))
    assert len(chosen) == min(count, among)
    assert all(0 <= position < among for position in chosen)
    gaps = [later - earlier for earlier, later in itertools.pairwise(chosen)]
    assert not gaps or max(gaps) - min(gaps) <= 1


def test_eggs_fill_the_tray_row_by_row_in_the_order_of_the_pens() -> None:
    eggs = lay_out(Machine("m", 2, 3), [RowOfEggs(2), RowOfEggs(3)], (), 0)
    assert [egg.place for egg in eggs] == [(1, 1, 1), (1, 1, 2), (1, 1, 3), (1, 2, 1), (1, 2, 2)]
    assert [egg.row for egg in eggs] == [0, 0, 1, 1, 1]
    assert [egg.number for egg in eggs] == [1, 2, 3, 4, 5]


def test_places_of_another_batch_are_left_out_and_what_finds_none_has_none() -> None:
    eggs = lay_out(Machine("m", 1, 4), [RowOfEggs(4)], {(1, 1, 1), (1, 1, 3)}, 0)
    assert [egg.place for egg in eggs] == [(1, 1, 2), (1, 1, 4), None, None]


def test_a_second_tray_is_filled_after_the_first() -> None:
    assert list(places_of(Machine("m", 1, 2, trays=2))) == [(1, 1, 1), (1, 1, 2), (2, 1, 1), (2, 1, 2)]


def known(number: int, column: int, **fields: Any) -> Egg:
    return Egg("b", number, 1, 1, column, **fields)


def test_eggs_that_lie_there_keep_their_places_and_new_ones_come_behind() -> None:
    there = (known(1, 3), known(2, 1))
    eggs = lay_out(Machine("m", 1, 6), [RowOfEggs(4, there)], (), 0)
    assert [(egg.number, egg.place) for egg in eggs] == [
        (1, (1, 1, 3)),
        (2, (1, 1, 1)),
        (3, (1, 1, 2)),
        (4, (1, 1, 4)),
    ]


def test_a_smaller_row_loses_eggs_without_records_first() -> None:
    there = (known(1, 1), known(2, 2), known(3, 3))
    eggs = lay_out(Machine("m", 1, 6), [RowOfEggs(2, there)], (), 0, {there[2].uid})
    assert [egg.number for egg in eggs] == [1, 3]


def test_eggs_move_only_where_another_machine_has_not_their_place() -> None:
    there = (known(1, 5), known(2, 1))
    eggs = lay_out(Machine("m", 1, 4), [RowOfEggs(2, there)], (), 0)
    assert [egg.place for egg in eggs] == [(1, 1, 2), (1, 1, 1)]


def test_marks_stay_while_their_number_is_right() -> None:
    there = (known(1, 1, marked=True), known(2, 2), known(3, 3))
    kept = lay_out(Machine("m", 1, 6), [RowOfEggs(3, there)], (), 1)
    assert [egg.marked for egg in kept] == [True, False, False]
    spread_anew = lay_out(Machine("m", 1, 6), [RowOfEggs(3, there)], (), 3)
    assert [egg.marked for egg in spread_anew] == [True, True, True]
