"""The stages of death and the days between which an embryo died."""

from __future__ import annotations

import math

import pytest
from hatchbook.trade.codes import Fate
from hatchbook.trade.stages import StageBounds, span_of_death

HEN = StageBounds.for_incubation(21)


@pytest.mark.parametrize(
    ("day", "stage"),
    [
        # Weekly scheme for hens, from memory: early 1-7, mid 8-14, late 15-21.
        *[(day, Fate.EARLY_DEAD) for day in (0, 1, 4, 7)],
        *[(day, Fate.MID_DEAD) for day in (7.01, 8, 11, 14)],
        *[(day, Fate.LATE_DEAD) for day in (14.01, 15, 18, 21, 25)],
        (-0.5, Fate.EARLY_DEAD),
    ],
)
def test_hen_embryo_belongs_to_the_week_it_died_in(day: float, stage: Fate) -> None:
    assert HEN.stage_of(day) is stage


@pytest.mark.parametrize(
    ("days", "early", "mid"),
    [(21, 7, 14), (28, 28 / 3, 56 / 3), (17.5, 17.5 / 3, 35 / 3), (34, 34 / 3, 68 / 3)],
)
def test_bounds_keep_their_fraction_of_the_incubation(days: float, early: float, mid: float) -> None:
    bounds = StageBounds.for_incubation(days)
    assert bounds.early_until_day == pytest.approx(early)
    assert bounds.mid_until_day == pytest.approx(mid)
    assert bounds.incubation_days == days


def test_a_duck_on_day_nine_is_still_early() -> None:
    # 28 days: day_duck = day_hen * 28 / 21, so day 9 is a hen's day 6.75.
    assert StageBounds.for_incubation(28).stage_of(9) is Fate.EARLY_DEAD
    assert HEN.stage_of(9) is Fate.MID_DEAD


@pytest.mark.parametrize("days", [0, -21, math.nan, math.inf])
def test_an_impossible_incubation_is_refused(days: float) -> None:
    with pytest.raises(ValueError, match="incubation lasts more than 0 days"):
        StageBounds.for_incubation(days)


@pytest.mark.parametrize("bounds", [(7, 7, 21), (14, 7, 21), (0, 14, 21), (7, 21, 21), (7, 14, math.inf)])
def test_bounds_out_of_order_are_refused(bounds: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="stage"):
        StageBounds(*bounds)


def test_a_day_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="must be a number"):
        HEN.stage_of(math.nan)


def test_days_of_a_stage_meet_without_a_gap() -> None:
    assert HEN.days_of(Fate.EARLY_DEAD) == (0, 7)
    assert HEN.days_of(Fate.MID_DEAD) == (7, 14)
    assert HEN.days_of(Fate.LATE_DEAD) == (14, math.inf)
    assert HEN.days_of(Fate.PIPPED_DEAD) == (14, math.inf)
    with pytest.raises(ValueError, match="hatched is not a stage"):
        HEN.days_of(Fate.HATCHED)


@pytest.mark.parametrize(
    ("limits", "alive", "dead", "span"),
    [
        ((0, math.inf), [], [], (0, None)),
        ((0, math.inf), [7, 14], [18, 22], (14, 18)),
        ((7, 14), [], [], (7, 14)),
        ((7, 14), [10], [22], (10, 14)),
        ((7, 14), [], [11], (7, 11)),
        # a sighting that can not be true does not bend the span
        ((0, 7), [18], [22], (0, 7)),
        ((14, math.inf), [], [7, 22], (14, 22)),
        # one within a day of the limit is taken for the limit
        ((0, 7), [7.4], [14], (7, 7)),
    ],
)
def test_span_runs_from_last_seen_alive_to_first_seen_dead(
    limits: tuple[float, float], alive: list[float], dead: list[float], span: tuple[float, float | None]
) -> None:
    assert span_of_death(limits, alive, dead) == span
