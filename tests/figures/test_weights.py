"""The plain weight loss, against sums done by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_figures, journal_lines
from hatchbook.journal import EggMass, Weighing

DAY = 86_400
SET_AT = 1_777_917_600


def weigh(hatchery: Any, batch: Any, day: float, masses: dict[int, float]) -> None:
    weighing = Weighing(batch.uid, SET_AT + round(day * DAY))
    eggs = hatchery.eggs(batch)
    hatchery.journal.weighings.note_weighing(
        weighing, [EggMass(weighing.uid, eggs[number], mass) for number, mass in masses.items()]
    )


def weigh_tray(
    hatchery: Any, batch: Any, day: float, mass: float, eggs: int | None, tare: float = 100.0
) -> None:
    weighing = Weighing(
        batch.uid, SET_AT + round(day * DAY), tray_mass_g=mass, tare_g=tare, eggs_on_tray=eggs
    )
    hatchery.journal.weighings.note_weighing(weighing)


def weight_of(hatchery: Any, batch: Any, day: float = 20) -> Any:
    return batch_figures(hatchery.journal, batch.uid, SET_AT + round(day * DAY)).weight


def test_the_loss_is_the_mean_over_the_eggs_of_their_own_losses(hatchery: Any) -> None:
    batch = hatchery.add_batch(
        each_egg=[{"set_mass_g": 60.0}, {"set_mass_g": 50.0}, {"set_mass_g": 55.0}, {}]
    )
    weigh(hatchery, batch, 7, {1: 57.0, 2: 48.0})
    weigh(hatchery, batch, 14, {1: 54.0, 2: 46.0, 3: 49.5})
    weight = weight_of(hatchery, batch)
    losses = np.array([10.0, 8.0, 10.0])
    assert weight.mean_loss_percent == pytest.approx(losses.mean())
    assert weight.standard_error == pytest.approx(losses.std(ddof=1) / np.sqrt(3))
    assert (weight.eggs, weight.day, weight.since_day) == (3, 14.0, 0.0)
    earlier = weight_of(hatchery, batch, 8)
    assert earlier.mean_loss_percent == pytest.approx((5.0 + 4.0) / 2)
    assert earlier.day == 7.0


def test_one_egg_has_no_standard_error(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}])
    weigh(hatchery, batch, 7, {1: 57.0})
    assert weight_of(hatchery, batch).standard_error is None


def test_a_weighing_on_the_first_day_stands_for_the_mass_when_set(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=2)
    weigh(hatchery, batch, 0.5, {1: 60.0, 2: 50.0})
    assert weight_of(hatchery, batch) is None
    weigh(hatchery, batch, 7, {1: 57.0, 2: 47.5})
    weight = weight_of(hatchery, batch)
    assert weight.mean_loss_percent == pytest.approx(5.0)
    assert weight.since_day == 0.0


def test_a_later_first_weighing_is_said_to_be_the_base(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=1)
    weigh(hatchery, batch, 4, {1: 58.0})
    weigh(hatchery, batch, 14, {1: 55.1})
    weight = weight_of(hatchery, batch)
    assert weight.mean_loss_percent == pytest.approx(5.0)
    assert weight.since_day == 4.0


def test_losses_since_different_days_are_not_averaged(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}, {}])
    weigh(hatchery, batch, 7, {2: 50.0})
    weigh(hatchery, batch, 14, {1: 54.0, 2: 49.0})
    weight = weight_of(hatchery, batch)
    assert (weight.mean_loss_percent, weight.eggs, weight.since_day) == (pytest.approx(10.0), 1, 0.0)


def test_a_tray_weighed_as_one_counts_by_the_egg(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=10)
    weigh_tray(hatchery, batch, 0.0, 100.0 + 600.0, 10)
    weigh_tray(hatchery, batch, 7.0, 100.0 + 8 * 57.0, 8)
    weight = weight_of(hatchery, batch)
    assert weight.mean_loss_percent == pytest.approx(5.0)
    assert (weight.standard_error, weight.eggs) == (None, 8)


def test_a_tray_of_unknown_eggs_tells_nothing_and_an_earlier_weighing_stands(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}, {"set_mass_g": 60.0}])
    weigh(hatchery, batch, 7, {1: 57.0})
    weigh_tray(hatchery, batch, 9, 210.0, None)
    assert weight_of(hatchery, batch).day == 7.0
    weigh_tray(hatchery, batch, 10, 212.8, 2)
    weight = weight_of(hatchery, batch)
    assert (weight.mean_loss_percent, weight.day) == (pytest.approx(6.0), 10.0)


def test_without_a_base_there_is_no_loss(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=2)
    assert weight_of(hatchery, batch) is None
    weigh(hatchery, batch, 7, {1: 57.0})
    assert weight_of(hatchery, batch) is None
    lines = journal_lines(hatchery.journal, batch.uid, SET_AT + 9 * DAY)
    assert lines[0].values == {"eggs": 1, "loss_percent": None}
