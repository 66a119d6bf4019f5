"""The one humidity to hold, of which key figure, chart and guide make their words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hatchbook.figures.batch import batch_figures
from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.results import PhaseFigures
from hatchbook.figures.to_hold import LITTLE_LEFT_H, to_hold, weight_decides
from hatchbook.figures.weight_results import AdviceBasis, Estimate, HoldAdvice
from tests.figures.conftest import DAY, SET_AT, Hatchery

WEIGHT = HoldAdvice(
    AdviceBasis.WEIGHT, 38.0, 33.0, 44.0, 42.0, Estimate(38.0, 33.0, 44.0), (30.0, 46.0), True, True, 17.5
)


def phases(hatchery: Hatchery, day: float, humidity: float) -> tuple[PhaseFigures, ...]:
    """A hen batch (lockdown from day 18 on) on a day, held at one humidity so far."""
    batch = hatchery.add_batch()
    now = SET_AT + round(day * DAY)
    hatchery.log(np.arange(SET_AT, now, 3600), humidity, 37.5)
    return batch_figures(hatchery.journal, batch.uid, now).phases


def test_it_brings_the_mean_onto_the_aim(hatchery: Hatchery) -> None:
    held = to_hold(phases(hatchery, 9.0, 48.0), None)
    assert held is not None
    assert (held.origin, held.until_day, held.aim_takes) == (WantedFrom.HOLD, 18.0, None)
    assert held.humidity == pytest.approx(42.0)
    assert held.ends_on == pytest.approx(45.0)
    assert held.steers
    assert held.in_band


def test_what_neither_band_nor_machine_knows_is_not_asked_for(hatchery: Hatchery) -> None:
    """47 % for 17 days: the aim would take 11 %, and the machine never held less than 47 %."""
    held = to_hold(phases(hatchery, 17.0, 47.0), None)
    assert held is not None
    assert held.aim_takes == pytest.approx(11.0)
    assert held.humidity == pytest.approx(40.0), "the low edge of the band"
    assert held.ends_on == pytest.approx((47 * 17 + 40) / 18)
    assert held.in_band


def test_what_the_machine_has_held_outside_the_band_is_asked_for(hatchery: Hatchery) -> None:
    first, *rest = phases(hatchery, 16.0, 47.0)
    assert first.hold is not None
    wide = replace(first, hold=replace(first.hold, reachable_low=30.0))
    held = to_hold((wide, *rest), None)
    assert held is not None
    assert held.aim_takes == pytest.approx(29.0)
    assert held.humidity == pytest.approx(30.0)


def test_a_phase_that_no_humidity_brings_back_says_where_it_ends(hatchery: Hatchery) -> None:
    held = to_hold(phases(hatchery, 16.0, 60.0), None)
    assert held is not None
    assert held.humidity == pytest.approx(40.0)
    assert held.ends_on == pytest.approx((60 * 16 + 40 * 2) / 18)
    assert not held.in_band


@pytest.mark.parametrize("humidity", [47.0, 41.0])
def test_with_little_left_the_band_is_enough(hatchery: Hatchery, humidity: float) -> None:
    day = 18 - (LITTLE_LEFT_H - 1) / 24
    held = to_hold(phases(hatchery, day, humidity), WEIGHT)
    assert held is not None
    assert not held.steers
    assert (held.low, held.high) == (40, 50)
    assert 40 <= held.humidity <= 50
    assert to_hold(phases(hatchery, 18 - (LITTLE_LEFT_H + 1) / 24, humidity), None).steers  # type: ignore[union-attr]


def test_the_weight_goes_before_the_mean_of_the_phase(hatchery: Hatchery) -> None:
    held = to_hold(phases(hatchery, 9.0, 48.0), WEIGHT)
    assert held is not None
    assert held.by_weight
    assert (held.low, held.humidity, held.high, held.until_day) == (33.0, 38.0, 44.0, 17.5)
    later = to_hold(phases(hatchery, 9.0, 48.0), replace(WEIGHT, until_day=25.0))
    assert later is not None
    assert later.until_day == 18.0, "no longer than the phase"


def test_weight_and_band_that_ask_for_nearly_the_same_are_one_advice() -> None:
    assert weight_decides(WEIGHT)
    agreeing = replace(WEIGHT, disagree=False)
    assert not weight_decides(agreeing), "42 % lies in what the weight allows"
    assert weight_decides(replace(agreeing, by_band=45.0))
    close = replace(agreeing, low=37.0, high=39.0)
    assert weight_decides(close)
    assert not weight_decides(replace(close, by_band=40.5)), "no machine is set more closely"
    assert weight_decides(replace(agreeing, by_band=None))
    assert not weight_decides(replace(WEIGHT, basis=AdviceBasis.BAND))
    assert not weight_decides(None)


def test_lockdown_holds_its_aim_whatever_went_before(hatchery: Hatchery) -> None:
    held = to_hold(phases(hatchery, 19.5, 55.0), WEIGHT)
    assert held is not None
    assert (held.origin, held.low, held.humidity, held.high) == (WantedFrom.LOCKDOWN, 60, 65, 70)
    assert held.ends_on == pytest.approx(60.0)


def test_before_a_reading_it_is_the_aim_and_after_the_end_nothing(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch()
    held = to_hold(batch_figures(hatchery.journal, batch.uid, SET_AT - DAY).phases, None)
    assert held is not None
    assert (held.origin, held.humidity, held.ends_on) == (WantedFrom.AIM, 45, None)
    assert to_hold(batch_figures(hatchery.journal, batch.uid, SET_AT + 40 * DAY).phases, None) is None
