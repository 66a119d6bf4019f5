"""Which humidity a batch wants of its machine."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.batch import batch_figures
from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.guide_wanted import wanted_humidity
from hatchbook.figures.results import BatchFigures
from hatchbook.figures.weight_results import AdviceBasis, Estimate, HoldAdvice
from hatchbook.trade.codes import PhaseKind
from tests.figures.conftest import DAY, SET_AT, Hatchery


def running(hatchery: Hatchery, day: float, humidity: float = 48.0) -> BatchFigures:
    """A hen batch on a day, read every hour so far; without any weight."""
    batch = hatchery.add_batch()
    hatchery.log(np.arange(SET_AT, SET_AT + round(day * DAY), 3600), humidity, 37.5)
    return replace(batch_figures(hatchery.journal, batch.uid, SET_AT + round(day * DAY)), forecast=None)


def advised(figures: BatchFigures, basis: AdviceBasis) -> BatchFigures:
    advice = HoldAdvice(
        basis, 38.0, 33.0, 44.0, 42.0, Estimate(38.0, 33.0, 44.0), (30.0, 46.0), True, True, 17.5
    )
    forecast: Any = SimpleNamespace(advice=advice)
    return replace(figures, forecast=forecast)


def test_a_running_phase_wants_what_brings_its_mean_to_the_aim(hatchery: Hatchery) -> None:
    found = wanted_humidity(running(hatchery, 9.0))
    assert found is not None
    assert found.origin is WantedFrom.HOLD
    assert found.humidity == pytest.approx(42.0)
    assert found.low == pytest.approx(32.0)
    assert found.high == pytest.approx(52.0)
    assert found.until_at == SET_AT + 18 * DAY


def test_the_eggs_weight_goes_before_it(hatchery: Hatchery) -> None:
    found = wanted_humidity(advised(running(hatchery, 9.0), AdviceBasis.WEIGHT))
    assert found is not None
    assert (found.origin, found.low, found.humidity, found.high) == (WantedFrom.WEIGHT, 33.0, 38.0, 44.0)
    assert found.until_at == SET_AT + round(17.5 * DAY)


def test_advice_by_the_band_is_the_phase_s_own(hatchery: Hatchery) -> None:
    found = wanted_humidity(advised(running(hatchery, 9.0), AdviceBasis.BAND))
    assert found is not None
    assert (found.origin, found.humidity) == (WantedFrom.HOLD, pytest.approx(42.0))


def test_what_lies_out_of_reach_is_brought_to_the_band(hatchery: Hatchery) -> None:
    figures = running(hatchery, 16.0, 36.0)
    hold = figures.phase.hold
    assert hold is not None
    assert hold.aim > 100
    found = wanted_humidity(figures)
    assert found is not None
    assert found.humidity == pytest.approx(50)
    assert found.low <= found.humidity <= found.high <= 100


def test_without_a_reading_the_aim_is_wanted(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch()
    found = wanted_humidity(batch_figures(hatchery.journal, batch.uid, SET_AT + DAY))
    assert found is not None
    assert (found.low, found.humidity, found.high) == (40, 45, 50)


def test_lockdown_wants_its_own_aim_whatever_its_mean_so_far(hatchery: Hatchery) -> None:
    found = wanted_humidity(advised(running(hatchery, 19.0), AdviceBasis.WEIGHT))
    assert found is not None
    assert (found.origin, found.phase) == (WantedFrom.LOCKDOWN, PhaseKind.LOCKDOWN)
    assert (found.low, found.humidity, found.high) == (60, 65, 70)


def test_a_batch_that_is_closed_wants_nothing(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch()
    hatchery.close(batch, 21.0)
    assert wanted_humidity(batch_figures(hatchery.journal, batch.uid, SET_AT + 30 * DAY)) is None
