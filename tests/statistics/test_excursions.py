"""How far and how long a line through readings leaves a range."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.excursions import excursions, time_outside
from hatchbook.statistics.trace import Trace
from hypothesis import given
from hypothesis import strategies as st

TEN_MINUTES = 600


def times(count: int) -> list[int]:
    return [TEN_MINUTES * number for number in range(count)]


def test_a_dip_lasts_from_crossing_to_crossing() -> None:
    # From 38 to 34 in ten minutes the line crosses 37 after a quarter of them.
    (dip,) = excursions(times(4), [38.0, 34.0, 34.0, 38.0], 37.0, 39.0)
    assert (dip.start_s, dip.end_s) == (150.0, 1650.0)
    assert dip.seconds == 1500
    assert (dip.extreme, dip.extreme_s, dip.above) == (34.0, 600, False)


def test_what_is_too_high_is_told_apart() -> None:
    found = excursions(times(5), [38.0, 40.0, 36.0, 41.0, 38.0], 37.0, 39.0)
    assert [(one.extreme, one.above) for one in found] == [(40.0, True), (36.0, False), (41.0, True)]
    assert found[0].end_s < found[1].start_s


def test_a_gap_ends_an_excursion_at_its_last_reading() -> None:
    at = [*times(3), 100_000, 100_600]
    before, after = excursions(at, [38.0, 30.0, 31.0, 32.0, 38.0], 37.0, 39.0)
    assert (before.end_s, after.start_s) == (1200.0, 100_000.0)
    assert (before.extreme, after.extreme) == (30.0, 32.0)


def test_a_reading_alone_between_gaps_has_no_length() -> None:
    (alone,) = excursions([0, 500_000, 1_000_000], [38.0, 20.0, 38.0], 37.0, 39.0, 3600)
    assert alone.seconds == 0


def test_readings_on_the_edge_are_inside() -> None:
    assert excursions(times(3), [37.0, 39.0, 38.0], 37.0, 39.0) == ()


def test_missing_values_and_no_readings_are_no_excursion() -> None:
    assert excursions([], [], 37.0, 39.0) == ()
    assert excursions(times(3), [38.0, np.nan, 38.0], 37.0, 39.0) == ()


def test_a_range_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="above its high edge"):
        excursions(times(2), [38.0, 38.0], 39.0, 37.0)


@given(st.lists(st.floats(30, 45), min_size=2, max_size=40))
def test_time_inside_and_outside_make_up_the_whole(values: list[float]) -> None:
    at, end = times(len(values)), TEN_MINUTES * (len(values) - 1)
    outside = sum(one.seconds for one in excursions(at, values, 36.0, 39.0))
    inside = Trace(at, values).share_inside(0, end, 36.0, 39.0) * end
    # A line that crosses the whole range between two readings is inside for a while as well.
    assert outside + inside == pytest.approx(end, abs=1e-3)


def test_time_outside_is_exact_for_straight_lines() -> None:
    # From 36 to 40 in four hours: an hour a degree; the band is 37 to 38.5.
    trace = Trace([0, 4 * 3600], [36.0, 40.0], 5 * 3600)
    below, above = time_outside(trace, 0, 4 * 3600, 37.0, 38.5)
    assert below == pytest.approx(3600)
    assert above == pytest.approx(1.5 * 3600)


def test_time_on_the_edge_of_the_band_is_inside() -> None:
    trace = Trace([0, 3600, 7200], [37.0, 37.0, 38.5], 5 * 3600)
    assert time_outside(trace, 0, 7200, 37.0, 38.5) == (0.0, 0.0)


def test_time_not_known_is_not_outside() -> None:
    trace = Trace([0, 600, 90_000, 90_600], [36.0, 36.0, 36.0, 36.0], 3600)
    below, above = time_outside(trace, 0, 90_600, 37.0, 38.0)
    assert (below, above) == (pytest.approx(1200), 0.0)
    assert time_outside(trace, 2000, 3000, 37.0, 38.0) == (0.0, 0.0)
