"""The conductance of a tray weighed as one: eggs taken off are not lost weight."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.conductance import ConductancePrior, scale_sd
from hatchbook.statistics.tray_line import TrayMasses, conductance_of_tray

PRIOR = ConductancePrior(0.30, 0.06, 0.18)
NO_DOUBT = np.empty(0)
DAYS = np.array([0.0, 7.0, 14.0])
EXPOSURE = 26.0 * DAYS


def tray(mass: np.ndarray, eggs: list[float], *, chosen: bool, mass_cv: float = 0.08) -> TrayMasses:
    count = np.array(eggs)
    return TrayMasses(
        EXPOSURE,
        mass,
        scale_sd(1.0) / (58.0 * count),
        count,
        np.full(3, chosen),
        mass_cv,
        np.empty((0, 3)),
    )


def test_a_whole_tray_tells_well() -> None:
    found = conductance_of_tray(
        tray(1 - 0.25 * EXPOSURE / 1000, [24, 24, 24], chosen=False), PRIOR, NO_DOUBT, 24
    )
    assert found is not None
    batch, when_set = found
    mean, variance, _ = batch.mean_of(np.empty(0, np.int64), 24)
    assert (mean, when_set) == (pytest.approx(0.25, abs=1e-3), pytest.approx(1.0))
    assert math.sqrt(variance) < 0.002
    assert math.sqrt(batch.another_egg()[1]) == pytest.approx(PRIOR.egg_sd, rel=0.01)


def test_eggs_taken_off_make_it_less_sure() -> None:
    masses = 1 - 0.25 * EXPOSURE / 1000
    whole = conductance_of_tray(tray(masses, [24, 24, 24], chosen=True), PRIOR, NO_DOUBT, 24)
    fewer = conductance_of_tray(tray(masses, [24, 16, 16], chosen=True), PRIOR, NO_DOUBT, 24)
    assert whole is not None
    assert fewer is not None
    assert fewer[0].variance[0] > 5 * whole[0].variance[0]


def test_the_range_holds_what_taking_eggs_off_does() -> None:
    """Eggs of masses 8 % apart; a third of them is taken off by chance after the first weighing."""
    rng = np.random.default_rng(4)
    inside = 0
    for _ in range(400):
        own = rng.normal(1.0, 0.08, 24)
        kept = rng.permutation(24)[:16]
        true = rng.normal(0.27, 0.05)
        left = np.array([own.mean(), own[kept].mean(), own[kept].mean()])
        scale = rng.normal(0, scale_sd(1.0) / (58.0 * np.array([24, 16, 16])))
        masses = left * (1 - true * EXPOSURE / 1000) / own.mean() + scale
        found = conductance_of_tray(tray(masses, [24, 16, 16], chosen=True), PRIOR, NO_DOUBT, 24)
        assert found is not None
        mean, variance = found[0].batch_mean
        inside += abs(mean - true) < 1.96 * math.sqrt(variance)
    assert 0.92 < inside / 400 < 0.98


def test_one_weighing_is_no_line() -> None:
    masses = tray(np.ones(3), [24, 24, 24], chosen=False)
    same = TrayMasses(np.zeros(3), masses.mass, masses.sd, masses.eggs, masses.chosen, 0.08, np.empty((0, 3)))
    assert conductance_of_tray(same, PRIOR, NO_DOUBT, 24) is None


def test_a_tray_that_tells_nothing_leaves_the_batch_and_its_few_eggs_in_doubt() -> None:
    """The mean of three eggs lies from the species' as batches do, and from its batch's as eggs do."""
    coarse = TrayMasses(
        EXPOSURE,
        1 - 0.3 * EXPOSURE / 1000,
        np.full(3, 10.0),
        np.full(3, 3.0),
        np.full(3, False),
        0.08,
        np.empty((0, 3)),
    )
    found = conductance_of_tray(coarse, PRIOR, NO_DOUBT, 3)
    assert found is not None
    assert found[0].batch_mean[1] == pytest.approx(PRIOR.batch_sd**2 + PRIOR.egg_sd**2 / 3, rel=1e-3)


def test_a_doubt_of_the_exposure_shifts_a_tray_as_it_shifts_eggs() -> None:
    """A point too low on the hygrometer makes the air seem to pull more, and the shells tighter."""
    each = 0.484 * EXPOSURE / 26.0
    masses = tray(1 - 0.3 * EXPOSURE / 1000, [24, 24, 24], chosen=False)
    doubted = TrayMasses(
        masses.exposure, masses.mass, masses.sd, masses.eggs, masses.chosen, 0.08, -each[None, :]
    )
    found = conductance_of_tray(doubted, PRIOR, np.array([2.5]), 24)
    assert found is not None
    assert found[0].shifts.tolist() == pytest.approx([-0.3 * 0.484 / 26.0], rel=1e-6)
    assert found[0].by_doubts == pytest.approx((0.3 * 0.484 / 26.0 * 2.5) ** 2, rel=1e-6)
