"""Which masses count: eggs that die or leave bend no line; what a loss is a share of."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.weight_results import MassBase, WeightBasis
from hatchbook.journal import EggMass, Removal, Weighing
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.trade.codes import FindingCode, RemovalReason
from hatchbook.trade.programme import LossBase
from hatchbook.trade.programmes import programme_named
from tests.figures.weighing_bench import DAY, SET_AT, Bench, lost


@pytest.fixture
def bench(hatchery: Any) -> Bench:
    return Bench(hatchery)


def test_later_weights_of_a_dead_egg_change_nothing(bench: Bench) -> None:
    """Whatever it weighs after it was found dead, and on whatever scale."""
    bench.set()
    bench.log(15)
    spread = [0.22 + 0.01 * n for n in range(12)]
    bench.weigh(7, spread)
    bench.hatchery.candle(bench.batch, 8, {3: FindingCode.DEAD, 9: FindingCode.CLEAR})
    living = [None if n in (2, 8) else k for n, k in enumerate(spread)]
    bench.weigh(14, living)
    before = bench.known(15).as_dict()
    weighing = bench.journal.weighings.of_batch(bench.batch.uid)[-1]
    eggs = bench.hatchery.eggs(bench.batch)
    for number, mass_g in ((3, 31.44), (9, 57.0)):
        bench.journal.weighings.note_mass(weighing, EggMass(weighing.uid, eggs[number], mass_g))
    alone = Weighing(bench.batch.uid, SET_AT + round(14.5 * DAY))
    bench.journal.weighings.note_weighing(alone, [EggMass(alone.uid, eggs[3], 30.0)])
    assert bench.known(15).as_dict() == before


def test_an_egg_that_dies_bends_no_line(bench: Bench) -> None:
    """The path stays conductance times exposure of the eggs that live."""
    bench.set()
    bench.log(15)
    spread = [0.22 + 0.01 * n for n in range(12)]
    for day in (4, 7):
        bench.weigh(day, spread)
    whole = bench.known(11)
    bench.hatchery.candle(bench.batch, 9, {12: FindingCode.DEAD})
    bench.weigh(11, [*spread[:11], None])
    fewer = bench.known(11)
    assert (whole.egg_count, fewer.egg_count) == (12, 11)
    path = fewer.path_so_far
    mean = float(np.mean(spread[:11]))
    assert path.mean.tolist() == pytest.approx([lost(mean, day) for day in path.day.tolist()], abs=0.02)
    assert fewer.loss_now.value == pytest.approx(lost(float(np.mean(spread[:11])), 11), abs=0.03)
    weighed = [point.mean for point in fewer.weighings]
    assert weighed == pytest.approx([lost(mean, point.day) for point in fewer.weighings], rel=0.01)
    assert {egg.number for egg in fewer.eggs} == set(range(1, 12))


def test_an_egg_taken_out_still_tells_of_its_batch(bench: Bench) -> None:
    bench.set(6)
    bench.log(12)
    bench.weigh(7, [0.26] * 6)
    eggs = bench.hatchery.eggs(bench.batch)
    bench.journal.removals.add(Removal(eggs[2], SET_AT + 9 * DAY, RemovalReason.BROKEN))
    forecast = bench.known(12)
    assert (forecast.egg_count, forecast.weighed_eggs) == (5, 5)
    assert forecast.loss_now.value == pytest.approx(lost(0.26, 12), abs=0.1)


def test_a_mass_that_cannot_be_right_is_left_out_and_shown(bench: Bench) -> None:
    bench.set(6)
    bench.log(12)
    bench.weigh(7, [0.26] * 6)
    clean = bench.known(12)
    weighing, eggs = Weighing(bench.batch.uid, SET_AT + 11 * DAY, 0.01), bench.hatchery.eggs(bench.batch)
    bench.journal.weighings.note_weighing(
        weighing, [EggMass(weighing.uid, eggs[1], 75.6, kept_though_odd=True)]
    )
    forecast = bench.known(12)
    assert forecast.loss_now == clean.loss_now
    assert [(point.day, point.odd) for point in forecast.weighings] == [(7.0, False), (11.0, True)]
    assert forecast.straight_line == clean.straight_line


def test_a_mass_when_set_that_cannot_be_right_gives_way_to_the_later_ones(bench: Bench) -> None:
    bench.set([{"set_mass_g": 85.4}, *[{"set_mass_g": 60.0}] * 5])
    bench.log(12)
    for day in (4, 7, 11):
        bench.weigh(day, [0.26] * 6)
    forecast = bench.known(12)
    assert forecast.eggs[0].base is MassBase.FIRST_WEIGHING
    assert forecast.eggs[0].at_target.value == pytest.approx(lost(0.26, 18), abs=0.4)


def test_never_weighed_when_set_the_first_weighing_is_carried_back(bench: Bench) -> None:
    bench.set(6, mass_g=None)
    bench.log(15)
    for day in (5, 14):
        bench.weigh(day, [0.26] * 6)
    forecast = bench.known(15)
    assert forecast.base is MassBase.FIRST_WEIGHING
    assert forecast.loss_now.value == pytest.approx(lost(0.26, 15), abs=0.2)
    assert forecast.weighings[0].mean == pytest.approx(lost(0.26, 5), abs=0.2)


def test_a_weighing_on_the_first_day_stands_for_the_setting(bench: Bench) -> None:
    bench.set(6, mass_g=None)
    bench.log(11)
    for day in (0.1, 10):
        bench.weigh(day, [0.26] * 6)
    assert bench.known(11).base is MassBase.SET


def test_one_late_weighing_and_the_measures_of_the_egg_are_an_estimate(bench: Bench) -> None:
    measures = {"length_mm": 57.0, "breadth_mm": 42.0}
    mass_g = fresh_mass_g(57.0, 42.0)
    bench.set([measures] * 6)
    bench.log(12)
    bench.weigh(11, [0.26] * 6, mass_g=mass_g)
    forecast = bench.known(12)
    assert forecast.base is MassBase.ESTIMATED
    exact = Bench(bench.hatchery)
    exact.set(6, mass_g=round(mass_g, 2))
    exact.weigh(11, [0.26] * 6, mass_g=mass_g)
    assert forecast.at_target is not None
    known = exact.known(12).at_target
    assert known is not None
    assert known.half_width < 0.6 * forecast.at_target.half_width


def test_one_late_weighing_and_the_mass_when_laid(bench: Bench) -> None:
    bench.set([{"laid_mass_g": 60.6}] * 6)
    bench.log(12)
    bench.weigh(11, [0.26] * 6)
    forecast = bench.known(12)
    assert forecast.base is MassBase.LAID
    assert forecast.loss_now.value == pytest.approx(lost(0.26, 12), abs=0.5)


def test_one_late_weighing_alone_tells_nothing(bench: Bench) -> None:
    bench.set(6, mass_g=None)
    bench.log(12)
    bench.weigh(11, [0.26] * 6)
    forecast = bench.known(12)
    assert forecast.basis is WeightBasis.PRIOR
    assert (forecast.straight_line, forecast.weighings) == (None, ())


def test_a_target_of_the_laid_mass_is_carried_over(bench: Bench) -> None:
    hen = programme_named("hen")
    assert hen is not None
    programme = replace(hen, loss_base=LossBase.LAID).to_json()
    bench.set([{"laid_mass_g": 60.0, "set_mass_g": 58.8}] * 4, programme=programme)
    bench.log(7)
    target = bench.known(7).target
    assert target is not None
    # 2 % went in storage: 12 % of the laid mass are 10 of the 98 % left.
    assert (target.low, target.high) == (pytest.approx(1000 / 98), pytest.approx(1100 / 98))


def test_the_target_names_its_source_while_it_is_the_programmes(bench: Bench) -> None:
    hen = programme_named("hen")
    assert hen is not None
    bench.set(programme=hen.to_json())
    bench.log(7)
    target = bench.known(7).target
    assert target is not None
    assert "Meir & Ar" in target.source
    assert target.mark == "published"
    bench.set(programme=hen.to_json(), loss_high_percent=14.0)
    changed = bench.known(7).target
    assert changed is not None
    assert (changed.source, changed.aim) == ("", 13.0)


def test_a_mean_that_rises_again_is_odd_and_bends_no_straight_line(bench: Bench) -> None:
    """Within what one mass may do, and yet no dozen eggs gain weight together."""
    bench.set(12)
    bench.log(12)
    bench.weigh(7, [0.26] * 12)
    clean = bench.known(12).straight_line
    bench.weigh(7.5, [0.26 * 6.6 / 7.5] * 12)
    forecast = bench.known(12)
    assert [point.odd for point in forecast.weighings] == [False, True]
    assert forecast.straight_line == clean


def test_a_weighing_before_setting_tells_nothing_of_the_loss_in_the_machine(bench: Bench) -> None:
    bench.set(6, mass_g=None)
    bench.log(8)
    weighing, eggs = Weighing(bench.batch.uid, SET_AT - 3 * DAY, 0.01), bench.hatchery.eggs(bench.batch)
    bench.journal.weighings.note_weighing(
        weighing, [EggMass(weighing.uid, eggs[n], 60.5) for n in range(1, 7)]
    )
    bench.weigh(7, [0.26] * 6)
    forecast = bench.known(8)
    assert forecast.basis is WeightBasis.PRIOR
    assert forecast.weighings == ()
