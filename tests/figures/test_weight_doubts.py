"""What is in doubt of a forecast, one thing at a time, against sums done by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import weight_exposure
from hatchbook.figures.weighed_eggs import step_of
from hatchbook.figures.weight_results import MassBase
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.statistics.weight_loss import TORR_PER_KPA, pull_torr
from hatchbook.trade.codes import MachineKind
from tests.figures.conftest import SET_AT, Hatchery
from tests.figures.test_weight_extremes import Incubation

DAY, HOUR = 86_400, 3_600
AsJson = Callable[[Any], Any]
A_POINT = 0.01 * float(saturation_kpa(37.5)) * TORR_PER_KPA
"""What a point of humidity is at 37.5 °C, torr."""


def forty(hatchery: Hatchery, species: str = "hen", **fields: Any) -> Incubation:
    """So many eggs, on a fine scale: what is left in doubt is not of the eggs."""
    return Incubation(hatchery, species, [{"set_mass_g": 60.01}] * 40, **fields)


def weigh(batch: Incubation, conductance: float, *days: float) -> None:
    for day in days:
        batch.weigh(day, [round(60.01 * (1 - batch.lost(conductance, day) / 100), 2)] * 40, 0.01)


@pytest.mark.parametrize("kind", [MachineKind.FORCED_AIR, MachineKind.STILL_AIR])
def test_the_conductance_is_as_sure_as_hygrometer_and_warmth(
    hatchery: Hatchery, as_json: AsJson, kind: MachineKind
) -> None:
    """5 points of a hygrometer never checked, 0.4 °C of the eggs, 0.7 °C in still air."""
    hatchery.journal.machines.keep(replace(hatchery.machine, kind=kind))
    batch = forty(hatchery)
    batch.log(14)
    weigh(batch, 0.26, 7, 14)
    forecast = batch.forecast(14, as_json)
    egg_c = 37.5 - (10 / 9 if kind is MachineKind.STILL_AIR else 0.0)
    pull = pull_torr(45.0, 37.5, egg_c)
    degree = pull_torr(45.0, 37.5, egg_c + 0.5) - pull_torr(45.0, 37.5, egg_c - 0.5)
    warmth_c = 0.4 if kind is MachineKind.FORCED_AIR else 0.7
    parts = math.hypot(5 / 1.96 * A_POINT, warmth_c * degree) / pull
    assert forecast.conductance.half_width / forecast.conductance.value == pytest.approx(
        1.96 * parts, rel=0.12
    )


def test_the_hygrometer_that_hung_there_longest_counts(hatchery: Hatchery, as_json: AsJson) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    hatchery.journal.probes.add_to("P9", machine=hatcher.uid, from_at=SET_AT - 9 * DAY, accuracy_humidity=0.5)
    good = hatchery.journal.probes.by_name("P9")
    assert good is not None
    batch = forty(hatchery, hatcher=hatcher.uid)
    batch.log(19)
    weigh(batch, 0.26, 7, 14)
    before = batch.forecast(18.9, as_json).conductance.half_width
    hatchery.log(SET_AT + 19 * DAY + np.arange(12) * HOUR, 65.0, 37.5, probe=good, name="h")
    after = batch.forecast(19.4, as_json).conductance.half_width
    assert after == pytest.approx(before, rel=0.02)


def test_a_humidity_that_nobody_measured_may_be_5_points_off(hatchery: Hatchery, as_json: AsJson) -> None:
    batch = forty(hatchery)
    weigh(batch, 0.26, 7)
    unread = batch.forecast(7.1, as_json).at_target
    batch.log(7.1)
    read = batch.forecast(7.1, as_json).at_target
    assert unread is not None
    assert read is not None
    # Of the days to come alone, from day 7.1 to 18; those gone by add to it.
    ahead = 1.96 * 0.26 * 5.0 * A_POINT * 10.9 / 10
    assert unread.half_width > ahead
    assert read.half_width < ahead


def test_the_humidity_of_lockdown_may_be_3_points_off_its_aim(
    hatchery: Hatchery, as_json: AsJson, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A turkey's target lies at its end."""
    batch = forty(hatchery, "turkey")
    batch.log(24)
    weigh(batch, 0.19, 7, 14, 21)

    def doubts() -> tuple[float, float]:
        forecast = batch.forecast(21.1, as_json)
        assert forecast.at_target is not None
        assert forecast.advice is not None
        assert forecast.advice.by_weight is not None
        return forecast.at_target.half_width, forecast.advice.by_weight.half_width

    loss, hold = doubts()
    monkeypatch.setattr(weight_exposure, "AIM_AHEAD_SD", 0.0)
    loss_without, hold_without = doubts()
    by_hand = 1.96 * 0.19 * 3.0 * A_POINT * 3 / 10
    assert math.sqrt(loss**2 - loss_without**2) == pytest.approx(by_hand, rel=0.1)
    # To hold for the target takes the same doubt, on the 3.9 days in which it can be made good.
    assert math.sqrt(hold**2 - hold_without**2) == pytest.approx(1.96 * 3.0 * 3 / 3.9, rel=0.15)


def test_eggs_measured_with_a_ruler_alone_tell_little(hatchery: Hatchery, as_json: AsJson) -> None:
    """By length and breadth a flock may be off by 2 % together: as much as it loses in three days."""
    measures = {"length_mm": 57.0, "breadth_mm": 42.0}
    batch = Incubation(hatchery, "hen", [measures] * 12)
    batch.log(12)
    mass_g = fresh_mass_g(57.0, 42.0)
    batch.weigh(11, [round(mass_g * (1 - batch.lost(0.26, 11) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(12, as_json)
    assert forecast.base is MassBase.ESTIMATED
    together = 1.96 * math.hypot(0.02, 0.045 / math.sqrt(12)) * 1000 / (11 * pull_torr(45.0, 37.5))
    assert 0.6 * together < forecast.conductance.half_width < together


def test_what_was_lost_in_storage_is_guessed_for_all_together(hatchery: Hatchery, as_json: AsJson) -> None:
    """0.2 % of each of 6 days, give or take half of that: 1.2 ± 0.6 % of the mass."""
    batch = Incubation(hatchery, "hen", [{"laid_mass_g": 60.7, "laid_on": "2026-04-28"}] * 40)
    batch.log(12)
    stored = 60.7 * (1 - 0.002 * 6.25)
    batch.weigh(7, [round(stored * (1 - batch.lost(0.26, 7) / 100), 2)] * 40, 0.01)
    found = batch.forecast(7.1, as_json).conductance
    storage = 0.5 * 0.002 * 6.25 * 1000 / (7 * pull_torr(45.0, 37.5))
    others = 0.26 * math.hypot(5 / 1.96 * A_POINT, 0.4 * 2.6) / pull_torr(45.0, 37.5)
    before = 1 / 0.06**2
    by_hand = 1 / math.sqrt(before + 1 / (storage**2 + others**2))
    assert found.half_width == pytest.approx(1.96 * by_hand, rel=0.1)
    assert found.value == pytest.approx(0.26, abs=0.02)


def test_a_mass_within_the_steps_of_a_coarse_scale_can_be_right(hatchery: Hatchery, as_json: AsJson) -> None:
    """An egg of 8.4 g shows 8 g when set and, by the scale's ways, 9 g three days later."""
    batch = Incubation(hatchery, "coturnix", [{"set_mass_g": 8.0}] * 6)
    batch.log(5)
    batch.weigh(3, [9.0] + [8.0] * 5, 1.0)
    forecast = batch.forecast(4, as_json)
    assert [egg.weighings for egg in forecast.eggs] == [1] * 6


@pytest.mark.parametrize(
    ("masses", "step"),
    [
        ([55.0, 60.0, 65.0, 60.0, 55.0], 5.0),
        ([55.0, 60.0, 65.0], 1.0),  # three may be by chance
        ([60.0] * 8, 1.0),  # and so may be any number of the same
        ([58.0, 60.0, 62.0, 54.0, 56.0, 58.0], 2.0),
        ([58.0, 61.0, 62.0, 54.0], 1.0),
        ([58.5, 60.0, 62.0, 54.5, 57.0], 0.5),
        ([58.5, 60.0, 62.0, 54.5], 0.1),
        ([58.4, 60.0], 0.1),
        ([58.43, 60.0], 0.01),
        ([58.437], 0.01),
    ],
)
def test_the_step_of_a_scale_shows_in_its_masses(masses: list[float], step: float) -> None:
    assert step_of(np.array(masses)) == step
