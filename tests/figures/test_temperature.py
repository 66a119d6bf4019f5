"""Time outside the band, power cuts logged and found, and when the hatch is to be expected."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_view
from hatchbook.figures.temperature import TemperatureFigures, temperature_figures
from hatchbook.journal import Duty, Event
from hatchbook.trade.codes import DutyKind, EventKind
from hatchbook.trade.hatch_time import HatchShiftCode

DAY, HOUR, MINUTE = 86_400, 3_600, 60
SET_AT = 1_777_917_600


def cooling(at: Any, cuts: list[tuple[float, float]], level: float = 37.5, pace: float = 0.25) -> Any:
    """Temperatures of a machine that loses its heat at (day, hours), and warms up again with a lag."""
    degrees = np.full(at.size, level)
    for row in range(1, at.size):
        off = any(
            SET_AT + day * DAY <= at[row - 1] < SET_AT + day * DAY + hours * HOUR for day, hours in cuts
        )
        step = (at[row] - at[row - 1]) / HOUR
        target, rate = (18.0, pace) if off else (level, 2.2)
        degrees[row] = degrees[row - 1] + (target - degrees[row - 1]) * (1 - np.exp(-rate * step))
    return degrees + 0.04 * np.random.default_rng(3).standard_normal(at.size)


def figures_of(
    hatchery: Any, cuts: list[tuple[float, float]], days: float = 21.0, **batch: Any
) -> TemperatureFigures:
    made = hatchery.add_batch(**batch)
    at = np.arange(SET_AT, SET_AT + int(days * DAY), 600)
    degrees = cooling(at, cuts)
    # At constant vapour the relative humidity rises while it cools.
    hatchery.log(at, 45.0 * np.exp(0.055 * (37.5 - degrees)), degrees)
    return of(hatchery, made, days)


def of(hatchery: Any, batch: Any, days: float = 21.0) -> TemperatureFigures:
    figures, curves = batch_view(hatchery.journal, batch.uid, SET_AT + int(days * DAY))
    return temperature_figures(figures, curves, hatchery.journal.zone)


def test_hours_outside_the_band_are_counted_by_phase(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at = np.arange(SET_AT, SET_AT + 21 * DAY + 1, 600)
    degrees = np.full(at.size, 37.5)
    degrees[(at >= SET_AT + 2 * DAY) & (at < SET_AT + 2 * DAY + 10 * HOUR)] = 38.1
    degrees[(at >= SET_AT + 19 * DAY) & (at < SET_AT + 19 * DAY + 5 * HOUR)] = 36.9
    hatchery.log(at, 45.0, degrees)
    first, last = of(hatchery, batch).phases
    # The line crosses the edge half way between two readings on both sides.
    assert (first.below_h, first.above_h) == (0.0, pytest.approx(10.0, abs=0.17))
    assert (last.below_h, last.above_h) == (pytest.approx(5.0, abs=0.17), 0.0)
    assert first.known_h == pytest.approx(18 * 24)


def test_a_cut_that_nobody_logged_is_found(hatchery: Any) -> None:
    temperature = figures_of(hatchery, [(6.3, 2.0)])
    (cut,) = temperature.cuts
    assert cut.found
    assert cut.sure
    assert cut.seconds == pytest.approx(2 * HOUR, abs=15 * MINUTE)
    assert temperature.cold_h == cut.seconds / HOUR
    assert HatchShiftCode.COOLED in {shift.code for shift in temperature.expectation}


def test_a_logged_cut_and_its_curve_are_one(hatchery: Any) -> None:
    at = SET_AT + round(6.3 * DAY)
    event = Event(at, EventKind.POWER_CUT, machine=hatchery.machine.uid, ends_at=at + 2 * HOUR)
    hatchery.journal.events.add(event)
    (cut,) = figures_of(hatchery, [(6.3, 2.0)]).cuts
    assert cut.event == event.uid
    assert (cut.at, cut.until) == (at, at + 2 * HOUR)
    assert cut.lowest_c is not None
    assert 29.0 < cut.lowest_c < 31.5


def test_a_logged_cut_without_an_end_gets_it_from_the_curve(hatchery: Any) -> None:
    at = SET_AT + round(6.3 * DAY)
    event = Event(at, EventKind.POWER_CUT, machine=hatchery.machine.uid)
    hatchery.journal.events.add(event)
    (cut,) = figures_of(hatchery, [(6.3, 2.0)]).cuts
    assert cut.event == event.uid
    assert cut.seconds == pytest.approx(2 * HOUR, abs=15 * MINUTE)


def test_a_logged_cut_without_readings_stands(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at = SET_AT + DAY
    hatchery.journal.events.add(
        Event(at, EventKind.POWER_CUT, machine=hatchery.machine.uid, ends_at=at + HOUR)
    )
    temperature = of(hatchery, batch)
    (cut,) = temperature.cuts
    assert (cut.seconds, cut.lowest_c, temperature.searched) == (HOUR, None, False)


def test_a_candling_at_that_time_explains_a_short_dip(hatchery: Any) -> None:
    done = SET_AT + round(7.3 * DAY)
    candled = Duty(DutyKind.CANDLE, done, done_at=done + 20 * MINUTE)
    temperature = figures_of(hatchery, [(7.3, 0.8)], duties=[candled])
    assert temperature.cuts == ()


def test_an_even_curve_has_no_cut_and_was_searched(hatchery: Any) -> None:
    temperature = figures_of(hatchery, [])
    assert temperature.cuts == ()
    assert temperature.searched
    assert temperature.expectation == ()


def test_stored_eggs_are_expected_later(hatchery: Any) -> None:
    eggs = [{"laid_on": "2026-04-27"}] * 3 + [{}]
    temperature = figures_of(hatchery, [], each_egg=eggs)
    (shift,) = temperature.expectation
    assert (shift.code, shift.later, shift.value) == (HatchShiftCode.STORED, True, 7.0)
    assert shift.hours == 12.0


def test_too_few_laying_dates_tell_nothing(hatchery: Any) -> None:
    assert figures_of(hatchery, [], each_egg=[{"laid_on": "2026-04-27"}, {}, {}, {}]).expectation == ()


def test_a_cool_incubation_is_expected_later(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log(np.arange(SET_AT, SET_AT + 18 * DAY, 600), 45.0, 36.9)
    (shift,) = of(hatchery, batch, 18.0).expectation
    assert (shift.code, shift.later, shift.hours) == (HatchShiftCode.COOL, True, None)
    assert shift.value == pytest.approx(-0.3)


def test_a_planned_batch_has_no_temperature(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    temperature = of(hatchery, batch, -2.0)
    assert [phase.known_h for phase in temperature.phases] == [0.0, 0.0]
    assert temperature.cuts == ()


def test_the_figures_read_as_json(hatchery: Any, as_json: Callable[[Any], Any]) -> None:
    plain = as_json(figures_of(hatchery, [(6.3, 2.0)]))
    assert plain["cuts"][0]["event"] == ""
    assert plain["phases"][0]["kind"] == "incubation"
