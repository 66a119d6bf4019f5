"""The round without a window: order, cursor, verdicts, pace."""

from __future__ import annotations

import pytest
from hatchbook.desk.candling_room.round_state import PAUSE_S, Direction, Order, RoundEgg, RoundState
from hatchbook.trade.codes import FindingCode
from hypothesis import given
from hypothesis import strategies as st

ALIVE, CLEAR = FindingCode.ALIVE, FindingCode.CLEAR


def tray(rows: int = 2, columns: int = 3, **named: set[int]) -> list[RoundEgg]:
    """Eggs numbered from 1 row by row, on one full tray."""
    return [
        RoundEgg(
            f"e{number}",
            number,
            (1, (number - 1) // columns + 1, (number - 1) % columns + 1),
            passed=number in named.get("passed", set()) | named.get("left", set()),
            left=number in named.get("left", set()),
        )
        for number in range(1, rows * columns + 1)
    ]


def numbers(state: RoundState) -> list[int]:
    return [egg.number for egg in state.eggs]


def at(state: RoundState) -> int:
    assert state.current is not None
    return state.current.number


def give(state: RoundState, code: FindingCode = ALIVE, seconds: int = 0) -> None:
    assert state.current is not None
    state.note(state.current.uid, code, seconds)
    state.go_on()


@pytest.mark.parametrize(
    ("order", "expected"),
    [
        (Order.ROWS, [1, 2, 3, 4, 5, 6]),
        (Order.COLUMNS, [1, 4, 2, 5, 3, 6]),
        (Order.SNAKE, [1, 2, 3, 6, 5, 4]),
    ],
)
def test_eggs_are_gone_through_in_the_order_that_was_chosen(order: Order, expected: list[int]) -> None:
    state = RoundState(tray(), {}, order=order)
    assert numbers(state) == expected
    visited = []
    for _ in expected:
        visited.append(at(state))
        give(state)
    assert visited == expected
    assert state.finished


def test_trays_follow_each_other_and_eggs_without_a_place_come_last() -> None:
    eggs = [
        RoundEgg("loose", 1),
        RoundEgg("second", 2, (2, 1, 1)),
        RoundEgg("right", 3, (1, 1, 2)),
        RoundEgg("left", 4, (1, 1, 1)),
    ]
    for order in Order:
        assert [egg.uid for egg in RoundState(eggs, {}, order=order).eggs] == [
            "left",
            "right",
            "second",
            "loose",
        ]


def test_eggs_that_are_out_are_passed_but_can_be_gone_to() -> None:
    state = RoundState(tray(passed={1, 3}), {})
    assert (at(state), state.total) == (2, 4)
    give(state)
    assert at(state) == 4
    assert state.step(Direction.LEFT)
    assert at(state) == 3
    give(state, CLEAR)
    assert (state.total, state.done) == (5, 2)


def test_a_skipped_egg_comes_again_at_the_end() -> None:
    state = RoundState(tray(1, 3), {})
    assert state.skip(0)
    give(state)
    give(state)
    assert at(state) == 1
    assert not state.skip(0)
    give(state)
    assert state.finished


def test_the_cursor_begins_on_the_first_egg_without_a_verdict() -> None:
    state = RoundState(tray(), {"e1": ALIVE, "e2": CLEAR, "gone since": ALIVE})
    assert (at(state), state.done, state.total) == (3, 2, 6)
    assert state.counts == {ALIVE: 1, CLEAR: 1}


def test_a_change_of_order_leaves_the_cursor_where_it_is() -> None:
    state = RoundState(tray(), {})
    give(state)
    state.set_order(Order.COLUMNS)
    assert at(state) == 2
    give(state)
    assert at(state) == 5


def test_what_is_taken_back_is_gone_and_the_cursor_returns() -> None:
    state = RoundState(tray(), {})
    give(state)
    give(state)
    state.take_back("e2", None, 0)
    assert (at(state), dict(state.verdicts)) == (2, {"e1": ALIVE})
    state.take_back("e1", CLEAR, 0)
    assert (at(state), dict(state.verdicts)) == (1, {"e1": CLEAR})


@pytest.mark.parametrize(
    ("start", "direction", "end"),
    [
        (1, Direction.RIGHT, 2),
        (3, Direction.RIGHT, 4),
        (4, Direction.LEFT, 3),
        (1, Direction.LEFT, 1),
        (6, Direction.RIGHT, 6),
        (2, Direction.DOWN, 5),
        (5, Direction.UP, 2),
        (2, Direction.UP, 2),
        (5, Direction.DOWN, 5),
    ],
)
@pytest.mark.parametrize("order", Order)
def test_arrows_lead_over_the_tray_whatever_the_order(
    order: Order, start: int, direction: Direction, end: int
) -> None:
    state = RoundState(tray(), {}, order=order)
    assert state.go_to(start)
    assert state.step(direction) is (start != end)
    assert at(state) == end


def test_an_arrow_passes_empty_places_and_finds_the_nearest_where_the_column_is_empty() -> None:
    eggs = [
        RoundEgg("a1", 1, (1, 1, 1)),
        RoundEgg("b2", 2, (1, 2, 2)),
        RoundEgg("b5", 3, (1, 2, 5)),
        RoundEgg("d1", 4, (1, 4, 1)),
        RoundEgg("loose", 5),
    ]
    state = RoundState(eggs, {})
    assert state.step(Direction.DOWN)
    assert at(state) == 4
    assert state.go_to(3)
    assert state.step(Direction.UP)
    assert at(state) == 1
    state.go_to(3)
    assert state.step(Direction.DOWN)
    assert at(state) == 4
    state.go_to(5)
    assert not state.step(Direction.UP)
    assert state.step(Direction.LEFT)
    assert at(state) == 4


def test_there_is_no_way_to_a_number_that_no_egg_has() -> None:
    state = RoundState(tray(), {})
    assert not state.go_to(7)
    assert at(state) == 1


def test_a_batch_without_eggs_is_no_trouble() -> None:
    state = RoundState([], {})
    assert state.current is None
    assert state.finished
    assert not state.skip(0)
    assert not state.step(Direction.DOWN)
    state.go_on()
    assert (state.total, state.seconds_left()) == (0, None)


def test_time_left_is_the_median_of_the_last_ten_eggs_times_the_rest() -> None:
    state = RoundState(tray(5, 6), {}, at=0)
    now = 0
    for interval in (60, 60):
        now += interval
        give(state, seconds=now)
    assert state.seconds_left() is None
    for interval in (60, *[5] * 6, 20, 40, 40, 40):
        now += interval
        give(state, seconds=now)
    # The last ten: 5 × 6, 20, 40 × 3.
    assert state.seconds_left() == 5 * (30 - 13)


def test_a_pause_and_what_was_taken_back_do_not_count_for_the_pace() -> None:
    state = RoundState(tray(5, 6), {}, at=0)
    for seconds in (10, 20, 30, 40 + PAUSE_S, 50 + PAUSE_S):
        give(state, seconds=seconds)
    assert state.seconds_left() == 10 * 25
    state.take_back("e5", None, 90 + PAUSE_S)
    give(state, seconds=92 + PAUSE_S)
    # 10, 10, 10, and 2 since it was taken back.
    assert state.seconds_left() == 10 * 25


@given(
    st.lists(st.tuples(st.integers(1, 3), st.integers(1, 4), st.integers(1, 5)), unique=True, max_size=25),
    st.integers(0, 4),
    st.sets(st.integers(0, 30)),
    st.sampled_from(Order),
)
def test_going_on_visits_every_egg_once_and_ends(
    places: list[tuple[int, int, int]], loose: int, passed: set[int], order: Order
) -> None:
    all_places = [*places, *[None] * loose]
    eggs = [RoundEgg(f"e{n}", n, place, passed=n in passed) for n, place in enumerate(all_places)]
    state = RoundState(eggs, {}, order=order)
    visited = []
    while not state.finished:
        visited.append(at(state))
        give(state)
    assert visited == [egg.number for egg in state.eggs if not egg.passed]
    assert sorted(numbers(state)) == [egg.number for egg in eggs]


@given(st.lists(st.sampled_from([*Direction, *Order]), max_size=30), st.integers(1, 12))
def test_arrows_never_lead_off_the_eggs(moves: list[Direction | Order], start: int) -> None:
    eggs = [egg for egg in tray(3, 4) if egg.number not in (2, 6, 7)]
    state = RoundState(eggs, {})
    state.go_to(start)
    for move in moves:
        if isinstance(move, Direction):
            state.step(move)
        else:
            state.set_order(move)
        assert state.current in eggs
