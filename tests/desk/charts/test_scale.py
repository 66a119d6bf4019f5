"""The time scale: what is in view, and that one cannot get lost."""

from __future__ import annotations

import pytest
from hatchbook.desk.charts.scale import NARROWEST_DAYS, DayScale
from hypothesis import given
from hypothesis import strategies as st


def made(first: float = -0.15, last: float = 21.15) -> DayScale:
    scale = DayScale()
    scale.lay(40.0, 840.0)
    scale.bound(1_000_000, first, last)
    scale.show_all()
    return scale


def test_everything_is_in_view_at_first() -> None:
    scale = made()
    assert scale.is_whole
    assert (scale.px(-0.15), scale.px(21.15)) == pytest.approx((40.0, 840.0))
    assert scale.day(40.0) == -0.15


def test_zooming_keeps_the_day_under_the_pointer() -> None:
    scale = made()
    before = scale.px(5.0)
    scale.zoom(0.4, 5.0)
    assert scale.px(5.0) == pytest.approx(before)
    assert scale.span == pytest.approx(21.3 * 0.4)


def test_instants_and_days_belong_together() -> None:
    scale = made()
    assert scale.day_of(1_000_000 + 43_200) == 0.5
    assert scale.at_of(1.5) == 1_000_000 + 129_600


def test_bringing_a_day_in_moves_no_further_than_needed() -> None:
    scale = made()
    scale.show(2.0, 4.0)
    assert not scale.bring_in(3.0)
    assert scale.bring_in(6.0)
    assert scale.sees(6.0)
    assert scale.high == pytest.approx(6.16)


moves = st.one_of(
    st.tuples(st.just("pan"), st.floats(-50, 50)),
    st.tuples(st.just("zoom"), st.floats(0.01, 20)),
    st.tuples(st.just("show"), st.floats(-30, 50)),
)


@given(st.lists(moves, max_size=25), st.floats(0.01, 60))
def test_whatever_one_does_the_view_stays_inside(done: list[tuple[str, float]], last: float) -> None:
    scale = made(-0.1, last)
    for move, amount in done:
        match move:
            case "pan":
                scale.pan(amount)
            case "zoom":
                scale.zoom(amount, scale.low + scale.span / 3)
            case _:
                scale.show(amount, amount + 3)
        assert scale.first - 1e-9 <= scale.low < scale.high <= scale.last + 1e-9
        assert scale.span >= min(NARROWEST_DAYS, scale.whole) - 1e-9
