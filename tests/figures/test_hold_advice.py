"""The one humidity that is advised: by the band of the phase or by the weight."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.hold_advice import DRIEST
from hatchbook.figures.weight_exposure import RISE_MEAN
from hatchbook.figures.weight_results import AdviceBasis, AdviceReason, WeightBasis
from hatchbook.journal import EggMass, Weighing
from hatchbook.statistics.weight_loss import pull_torr
from hatchbook.trade.codes import MachineKind
from tests.figures.weighing_bench import DAY, SET_AT, WARM, Bench, lost


@pytest.fixture
def bench(hatchery: Any) -> Bench:
    return Bench(hatchery)


def test_eggs_of_tight_shells_are_held_drier_than_the_band(bench: Bench) -> None:
    bench.set(24)
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.22] * 24)
    forecast = bench.known(9)
    advice = forecast.advice
    assert advice is not None
    assert advice.by_weight is not None
    assert advice.weight_edges is not None
    assert (advice.basis, advice.disagree, advice.reachable) == (AdviceBasis.WEIGHT, True, True)
    assert advice.reason is AdviceReason.WEIGHT
    assert advice.by_band == pytest.approx(45.0, abs=0.1)
    left = 12.5 - lost(0.22, 9)
    risen = 1 + RISE_MEAN * (13.5 / 21 - 0.5)  # on the middle of the days to come
    by_hand = 100 * (1 - left * 10 / (0.22 * 9 * risen) / pull_torr(0.0, WARM))
    assert advice.humidity == pytest.approx(by_hand, abs=1.5)
    assert advice.low < advice.humidity < advice.high
    assert advice.weight_edges[0] < advice.humidity < advice.weight_edges[1]
    assert advice.until_day == 18.0
    assert forecast.path_held is not None
    assert forecast.path_held.mean[-1] == pytest.approx(12.5, abs=0.01)
    assert forecast.too_little is not None
    assert forecast.too_little_held is not None
    assert forecast.too_little_held < forecast.too_little
    assert forecast.published_apart == ()  # layers 0.31 to 0.40, but broiler breeders 0.20


def test_what_no_machine_can_be_asked_to_hold_is_not_advised(bench: Bench) -> None:
    bench.set(24)
    bench.log(15)
    for day in (7, 14):
        bench.weigh(day, [0.14] * 24)
    advice = bench.known(15).advice
    assert advice is not None
    assert advice.by_weight is not None
    assert advice.by_weight.value < 0
    assert (advice.basis, advice.humidity, advice.reachable) == (AdviceBasis.WEIGHT, DRIEST, False)
    assert advice.reason is AdviceReason.OUT_OF_REACH


def test_eggs_that_no_humidity_of_the_band_brings_to_the_target_are_told(bench: Bench) -> None:
    bench.set(24)
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.15] * 24)
    assert bench.known(9).published_apart == ("conductance_below_published", "band_and_target_disagree")


@pytest.mark.parametrize(
    ("conductance", "code"),
    [(0.14, "below"), (0.19, None), (0.43, None), (0.55, "above")],
)
def test_what_is_published_is_left_only_where_the_range_says_so(
    bench: Bench, conductance: float, code: str | None
) -> None:
    """0.20 to 0.40 in print; the hygrometer leaves a tenth of it in doubt."""
    bench.set(24)
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [conductance] * 24)
    told = [one for one in bench.known(9).published_apart if one.startswith("conductance")]
    assert told == ([] if code is None else [f"conductance_{code}_published"])


def test_a_band_of_which_some_humidity_reaches_the_target_does_not_disagree(bench: Bench) -> None:
    """At 40 % these eggs would lose 18 %, at 60 % 12 %."""
    bench.set(24, phases={"humidity_low": 40.0, "humidity_high": 60.0})
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.35] * 24)
    assert bench.known(9).published_apart == ()


def test_in_still_air_the_band_is_judged_by_cooler_eggs(bench: Bench) -> None:
    """At 50 % eggs of 36.4 °C lose 12 % where such of 38.6 °C would lose 15 %."""
    bench.journal.machines.keep(replace(bench.hatchery.machine, kind=MachineKind.STILL_AIR))
    bench.set(24)
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.33] * 24)
    assert "band_and_target_disagree" not in bench.known(9).published_apart


def test_in_the_last_hours_of_a_phase_its_band_is_enough(bench: Bench) -> None:
    """The machine has held 25 % before, and 25 % would bring the mean from 46 % a little nearer to its aim."""
    earlier = bench.hatchery.add_batch(SET_AT - 40 * DAY)
    at = earlier.set_at + np.arange(0, 18 * 24) * 3600
    bench.hatchery.log(at, 25.0, WARM, name="earlier")
    bench.hatchery.close(earlier, 21)
    bench.set(24)
    bench.log(17.6, 46.0)
    advice = bench.known(17.6).advice
    assert advice is not None
    assert advice.humidity == 40.0


def test_a_band_of_one_value_and_the_target_it_leads_to_do_not_disagree(bench: Bench) -> None:
    bench.set(24, phases={"humidity_low": 45.0, "humidity_high": 45.0})
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.26] * 24)
    assert "band_and_target_disagree" not in bench.known(9).published_apart


def test_where_the_band_lies_lower_it_may_be_asked_for(bench: Bench) -> None:
    """Ostriches are hatched at 15 to 25 %."""
    bench.set(24, phases={"humidity_low": 15.0, "humidity_aim": 20.0, "humidity_high": 25.0})
    bench.log(15)
    for day in (7, 14):
        bench.weigh(day, [0.14] * 24)
    advice = bench.known(15).advice
    assert advice is not None
    assert advice.humidity == 15.0


@pytest.mark.parametrize("day", [17.5, 17.8, 17.96])
@pytest.mark.parametrize("conductance", [0.14, 0.22, 0.30, 0.38])
def test_in_the_last_day_nothing_is_steered_by_weight_any_more(
    bench: Bench, day: float, conductance: float
) -> None:
    bench.set(24)
    bench.log(day)
    for weighed in (7, 14, 17):
        bench.weigh(weighed, [conductance] * 24)
    advice = bench.known(day).advice
    assert advice is not None
    assert (advice.basis, advice.by_weight) == (AdviceBasis.BAND, None)
    assert advice.reason is AdviceReason.LITTLE_LEFT
    assert 40 <= advice.humidity <= 50


def test_the_band_is_not_made_good_for_in_its_last_hours(bench: Bench) -> None:
    """35 % until now: 9 hours would have to be at 10 times the band's width."""
    bench.set(24)
    bench.log(17.6, 35.0)
    advice = bench.known(17.6).advice
    assert advice is not None
    assert (advice.humidity, advice.by_band, advice.reachable) == (50.0, 50.0, False)


def test_a_wide_corridor_leaves_it_to_the_band(bench: Bench) -> None:
    bench.set(24, loss_low_percent=9.0, loss_high_percent=17.0)
    bench.log(14)
    for day in (7, 14):
        bench.weigh(day, [0.26] * 24)
    advice = bench.known(14).advice
    assert advice is not None
    assert advice.weight_edges is not None
    assert advice.weight_edges[0] < 40 < 50 < advice.weight_edges[1]
    assert (advice.basis, advice.reason) == (AdviceBasis.BAND, AdviceReason.CONTENT)
    assert not advice.disagree


def test_weighings_that_tell_less_than_the_species_do_not_decide(bench: Bench) -> None:
    """A dozen eggs in whole grams on day 2: the zero of the scale alone may be a third of what was lost."""
    bench.set(12, mass_g=60.0)
    bench.log(3)
    weighing, eggs = Weighing(bench.batch.uid, SET_AT + 2 * DAY, 1.0), bench.hatchery.eggs(bench.batch)
    bench.journal.weighings.note_weighing(
        weighing, [EggMass(weighing.uid, eggs[n + 1], 59.0) for n in range(12)]
    )
    forecast = bench.known(2.5)
    assert forecast.advice is not None
    assert forecast.advice.reason is AdviceReason.UNSURE
    assert forecast.conductance.half_width < 0.95 * forecast.prior.half_width


def test_a_coarse_scale_on_the_second_day_does_not_decide(bench: Bench) -> None:
    bench.set(3)
    bench.log(1)
    weighing, eggs = Weighing(bench.batch.uid, SET_AT + DAY, 1.0), bench.hatchery.eggs(bench.batch)
    bench.journal.weighings.note_weighing(weighing, [EggMass(weighing.uid, eggs[1], 59.0)])
    forecast = bench.known(1.1)
    assert forecast.basis is WeightBasis.EGGS
    assert forecast.advice is not None
    assert (forecast.advice.basis, forecast.advice.reason) == (AdviceBasis.BAND, AdviceReason.UNSURE)
    assert abs(forecast.conductance.value - 0.30) < 0.08
