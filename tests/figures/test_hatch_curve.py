"""The hatch curve: pips and chicks by the hour against the due time, who is waited for, chick yield."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures import batch_figures
from hatchbook.figures.hatch_curve import HatchCurve, HatchHour, hatch_curve
from hatchbook.journal import Batch, Hatching
from hatchbook.trade.codes import FindingCode, HatchMark

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600
DUE_AT = SET_AT + 21 * DAY
PIP, IN_PIP, HATCHED = HatchMark.EXTERNAL_PIP, HatchMark.INTERNAL_PIP, HatchMark.HATCHED


def note(
    hatchery: Any, batch: Batch, number: int, mark: HatchMark, hours: float, mass_g: float | None = None
) -> None:
    """A mark of an egg, so many hours from the due time."""
    egg = hatchery.eggs(batch)[number]
    record = Hatching(egg, DUE_AT + round(hours * HOUR), mark, mass_g)
    hatchery.journal.hatchings.note(batch.uid, [record])


def curve_of(hatchery: Any, batch: Batch, hours: float = 0.0) -> HatchCurve:
    figures = batch_figures(hatchery.journal, batch.uid, DUE_AT + round(hours * HOUR))
    return hatch_curve(hatchery.journal, figures)


def test_nothing_has_happened_yet(hatchery: Any) -> None:
    curve = curve_of(hatchery, hatchery.add_batch(eggs=4))
    assert (curve.first_pip_at, curve.first_chick_at, curve.spread_h, curve.hours) == (None, None, None, ())
    assert (curve.chicks, curve.eggs_in_question, curve.chick_yield) == (0, 4, None)
    assert curve.due_at == DUE_AT


def test_chicks_and_pips_add_up_hour_by_hour(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=6)
    for number, hours in ((1, -3.0), (2, -2.5), (3, -0.01)):
        note(hatchery, batch, number, PIP, hours)
    note(hatchery, batch, 1, HATCHED, -0.75)
    note(hatchery, batch, 4, HATCHED, 1.0)
    note(hatchery, batch, 5, HATCHED, 1.99)
    curve = curve_of(hatchery, batch, 3)
    assert curve.hours == (
        HatchHour(-3, chicks=0, pips=2, chicks_so_far=0, pips_so_far=2),
        HatchHour(-2, 0, 0, 0, 2),
        HatchHour(-1, 1, 1, 1, 3),
        HatchHour(0, 0, 0, 1, 3),
        HatchHour(1, 2, 0, 3, 3),
    )
    assert curve.first_pip_at == DUE_AT - 3 * HOUR
    assert curve.spread_h == pytest.approx(2.74)
    assert (curve.chicks, curve.eggs_in_question) == (3, 6)


def test_helped_weak_and_culled_chicks_count_and_one_that_died_in_the_pip_does_not(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=5)
    for number, mark in enumerate((HatchMark.HELPED, HatchMark.WEAK, HatchMark.CULLED), 1):
        note(hatchery, batch, number, mark, number)
    note(hatchery, batch, 4, PIP, 0)
    note(hatchery, batch, 4, HatchMark.DIED_IN_PIP, 8)
    curve = curve_of(hatchery, batch, 9)
    assert (curve.chicks, curve.eggs_in_question) == (3, 4)
    assert sum(hour.chicks for hour in curve.hours) == 3
    assert sum(hour.pips for hour in curve.hours) == 1
    assert curve.waited_for == ()


def test_pipped_eggs_are_waited_for_longest_first_and_external_pips_hatch_next(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatchery.candle(batch, 18, dict.fromkeys(range(2, 8), FindingCode.ALIVE) | {8: FindingCode.DEAD})
    note(hatchery, batch, 5, IN_PIP, -9)
    note(hatchery, batch, 3, PIP, -4)
    note(hatchery, batch, 4, PIP, -6)
    note(hatchery, batch, 2, HATCHED, -1)
    curve = curve_of(hatchery, batch)
    waited = [(one.egg.egg.number, one.external, (DUE_AT - one.since) // HOUR) for one in curve.waited_for]
    assert waited == [(5, False, 9), (4, True, 6), (3, True, 4)]
    # Eggs seen alive come before one that nobody looked into; the dead one comes not at all.
    assert [egg.egg.number for egg in curve.queue] == [4, 3, 5, 6, 7, 1]
    assert curve.eggs_in_question == 7


def test_chick_yield_is_the_mean_over_chicks_of_which_both_masses_are_known(
    hatchery: Any, as_json: Any
) -> None:
    batch = hatchery.add_batch(
        each_egg=[{"set_mass_g": 60.0}, {"set_mass_g": 50.0}, {}, {"set_mass_g": 58.0}, {"set_mass_g": 62.0}]
    )
    for number, mass_g in ((1, 42.0), (2, 33.0), (3, 40.0), (4, None)):
        note(hatchery, batch, number, HATCHED, number, mass_g)
    curve = curve_of(hatchery, batch, 9)
    # 42/60 = 70 %, 33/50 = 66 %; mean 68, standard error sqrt(8)/sqrt(2) = 2.
    assert curve.chick_yield is not None
    assert curve.chick_yield.mean_percent == pytest.approx(68.0)
    assert curve.chick_yield.standard_error == pytest.approx(2.0)
    assert (curve.chick_yield.chicks_counted, curve.weighed, curve.chicks) == (2, 3, 4)
    assert as_json(curve)["spread_h"] == pytest.approx(3.0)


def test_one_weighed_chick_has_a_yield_without_an_error(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}])
    note(hatchery, batch, 1, HATCHED, 0, 39.0)
    found = curve_of(hatchery, batch).chick_yield
    assert found is not None
    assert (found.mean_percent, found.standard_error) == (pytest.approx(65.0), None)


def test_a_mass_of_an_egg_that_gave_no_chick_does_not_count(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}])
    note(hatchery, batch, 1, HatchMark.DIED_IN_PIP, 0, 39.0)
    curve = curve_of(hatchery, batch)
    assert (curve.chick_yield, curve.weighed) == (None, 0)
