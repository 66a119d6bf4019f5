"""The one humidity that is advised: by the band of the phase or by the weight."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures.weight_results import AdviceBasis, WeightBasis
from hatchbook.journal import EggMass, Weighing
from hatchbook.statistics.weight_loss import forecast_loss, pull_torr
from tests.figures.weighing_bench import DAY, HUMIDITY, SET_AT, WARM, Bench


@pytest.fixture
def bench(hatchery: Any) -> Bench:
    return Bench(hatchery)


def test_eggs_of_tight_shells_are_held_drier_than_the_band(bench: Bench) -> None:
    bench.set(24)
    bench.log(9)
    for day in (4, 8):
        bench.weigh(day, [0.20] * 24)
    forecast = bench.known(9)
    advice = forecast.advice
    assert advice is not None
    assert advice.by_weight is not None
    assert advice.weight_edges is not None
    assert (advice.basis, advice.disagree, advice.reachable) == (AdviceBasis.WEIGHT, True, True)
    assert advice.by_band == pytest.approx(45.0, abs=0.1)
    left = 12.5 - forecast_loss(0.20, HUMIDITY, 9)
    by_hand = 100 * (1 - left * 10 / (0.20 * 9) / pull_torr(0.0, WARM))
    assert advice.humidity == pytest.approx(by_hand, abs=1.5)
    assert advice.low < advice.humidity < advice.high
    assert advice.weight_edges[0] < advice.humidity < advice.weight_edges[1]
    assert advice.until_day == 18.0
    assert forecast.path_held is not None
    assert forecast.path_held.mean[-1] == pytest.approx(12.5, abs=0.01)
    assert forecast.too_little is not None
    assert forecast.too_little_held is not None
    assert forecast.too_little_held < forecast.too_little
    assert "conductance_below_published" in forecast.published_apart
    assert "band_and_target_disagree" in forecast.published_apart


def test_what_no_air_can_do_is_said(bench: Bench) -> None:
    bench.set(24)
    bench.log(15)
    for day in (7, 14):
        bench.weigh(day, [0.14] * 24)
    advice = bench.known(15).advice
    assert advice is not None
    assert advice.by_weight is not None
    assert advice.by_weight.value < 0
    assert (advice.basis, advice.humidity, advice.reachable) == (AdviceBasis.WEIGHT, 0.0, False)


def test_close_to_its_day_the_weight_is_content_with_the_band(bench: Bench) -> None:
    bench.set(24)
    bench.log(17.5)
    for day in (7, 14, 17):
        bench.weigh(day, [0.261] * 24)
    advice = bench.known(17.5).advice
    assert advice is not None
    assert advice.weight_edges is not None
    assert advice.weight_edges[0] < 40 < 50 < advice.weight_edges[1]
    assert (advice.basis, advice.disagree) == (AdviceBasis.BAND, False)


def test_a_coarse_scale_on_the_second_day_does_not_decide(bench: Bench) -> None:
    bench.set(3)
    bench.log(1)
    weighing, eggs = Weighing(bench.batch.uid, SET_AT + DAY, 1.0), bench.hatchery.eggs(bench.batch)
    bench.journal.weighings.note_weighing(weighing, [EggMass(weighing.uid, eggs[1], 59.0)])
    forecast = bench.known(1.1)
    assert forecast.basis is WeightBasis.EGGS
    assert forecast.advice is not None
    assert forecast.advice.basis is AdviceBasis.BAND
    assert abs(forecast.conductance.value - 0.30) < 0.08
