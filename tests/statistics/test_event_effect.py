"""What an event did to the humidity: against simulated curves whose step is known."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.statistics.event_effect import effect_of, student_quantile
from hatchbook.statistics.trace import Trace

DAY, HOUR = 86_400, 3_600
START = 1_777_917_600
END = START + 18 * DAY


def curve(step: float, at: int, chance: int = 1, *, lag_h: float = 0.5, swing: float = 1.0) -> Any:
    """Ten-minute readings: a day's swing, weather that wanders, noise, and a step that settles with a lag."""
    random = np.random.default_rng(chance)
    times = np.arange(START, END, 600)
    weather = np.zeros(times.size)
    for row in range(1, times.size):
        weather[row] = 0.995 * weather[row - 1] + 0.12 * random.standard_normal()
    values = 45 + swing * np.sin(2 * np.pi * (times - START) / DAY + chance) + weather
    values += 0.4 * random.standard_normal(times.size)
    since = np.maximum(times - at, 0) / HOUR
    values += step * (1 - np.exp(-since / lag_h)) * (times >= at)
    return Trace(times, values)


NONE = np.empty((0, 2))
AT = START + 7 * DAY + 1000


def test_the_step_is_found_with_its_means() -> None:
    trace = curve(6.0, AT, swing=0.0)
    effect = effect_of(trace, AT, NONE, START, END)
    assert effect is not None
    assert effect.change == pytest.approx(6.0, abs=1.0)
    assert effect.low < 6.0 < effect.high
    assert effect.after - effect.before == effect.change
    assert effect.settled_h == 2.0
    assert effect.quiet > 20


def test_the_range_covers_the_true_step_about_95_times_in_100() -> None:
    covered = 0
    for chance in range(300):
        at = START + int(np.random.default_rng(chance).integers(2 * DAY, 16 * DAY))
        effect = effect_of(curve(5.0, at, chance), at, NONE, START, END)
        assert effect is not None
        covered += effect.low <= 5.0 <= effect.high
    assert 0.92 <= covered / 300 <= 0.98


def test_what_happens_shortly_after_leaves_nothing_to_say() -> None:
    trace = curve(6.0, AT)
    assert effect_of(trace, AT, [[AT + 2 * HOUR, AT + 2 * HOUR]], START, END) is None
    shortened = effect_of(trace, AT, [[AT + 3.2 * HOUR, AT + 3.2 * HOUR]], START, END)
    assert shortened is not None
    assert shortened.change == pytest.approx(6.0, abs=2.5)


def test_what_happened_shortly_before_leaves_nothing_to_say() -> None:
    trace = curve(6.0, AT)
    assert effect_of(trace, AT, [[AT - 2.5 * HOUR, AT - 2.5 * HOUR]], START, END) is None
    assert effect_of(trace, AT, [[AT - 3.5 * HOUR, AT - 3.5 * HOUR]], START, END) is not None
    assert effect_of(trace, AT, [[AT - 9 * HOUR, AT - 2 * HOUR]], START, END) is None


def test_two_things_at_once_can_not_be_told_apart() -> None:
    assert effect_of(curve(6.0, AT), AT, [[AT, AT]], START, END) is None
    assert effect_of(curve(6.0, AT), AT, [[AT - HOUR, AT + HOUR]], START, END) is None


def test_without_readings_on_both_sides_there_is_nothing_to_say() -> None:
    trace = curve(6.0, AT)
    before = trace.at_s < AT
    assert effect_of(Trace(trace.at_s[before], trace.values[before]), AT, NONE, START, END) is None
    gap = (trace.at_s < AT + HOUR) | (trace.at_s > AT + 3.5 * HOUR)
    assert effect_of(Trace(trace.at_s[gap], trace.values[gap]), AT, NONE, START, END) is None
    assert effect_of(Trace([], []), AT, NONE, START, END) is None


def test_an_event_at_the_begin_or_the_end_of_the_stretch_has_no_window() -> None:
    trace = curve(6.0, AT)
    assert effect_of(trace, START + 1800, NONE, START, END) is None
    assert effect_of(trace, END - HOUR, NONE, START, END) is None


def test_where_nothing_is_quiet_the_customary_spread_is_taken() -> None:
    others = [[at, at] for at in range(START, AT - 4 * HOUR, 3 * HOUR)]
    others += [[at, at] for at in range(AT + 5 * HOUR, END, 3 * HOUR)]
    effect = effect_of(curve(6.0, AT), AT, others, START, END)
    assert effect is not None
    assert effect.quiet == 0
    assert effect.high - effect.low == pytest.approx(2 * 1.959964 * 2.5)


@pytest.mark.parametrize(
    ("df", "value"),
    [(4, 2.7764), (5, 2.5706), (8, 2.3060), (10, 2.2281), (30, 2.0423), (120, 1.9799)],
)
def test_quantiles_of_student_agree_with_the_tables(df: int, value: float) -> None:
    """Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.10 (from memory)."""
    assert student_quantile(df) == pytest.approx(value, rel=0.004)
