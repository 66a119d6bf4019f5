"""Conductances from weighings: recovered where they are known, held by the species' where they are not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hatchbook.statistics.conductance import (
    SPREAD_WEIGHT,
    BatchConductance,
    ConductancePrior,
    Weighed,
    batch_conductance,
    common_sd,
    egg_lines,
    scale_sd,
)
from hypothesis import given
from hypothesis import strategies as st

PRIOR = ConductancePrior(0.30, 0.06, 0.18)
PULL = 26.0


def weighed(
    conductances: list[float], days: list[float], *, sd_g: float = 0.05, off_g: object = 0.0
) -> Weighed:
    """Eggs of 60 g, weighed when set and on some days, with an error added."""
    at = np.array([0.0, *days])
    k = np.array(conductances)
    mass_g = 60.0 * (1 - np.outer(k, at) * PULL / 1000) + np.asarray(off_g)
    egg = np.repeat(np.arange(k.size), at.size)
    exposure = np.tile(at * PULL, k.size)
    return Weighed(
        egg, exposure, mass_g.ravel() / 60.0, np.full(egg.size, sd_g / 60.0), np.empty((0, egg.size)), k.size
    )


def found(rows: Weighed, prior: ConductancePrior = PRIOR) -> BatchConductance:
    return batch_conductance(egg_lines(rows, prior.mean), prior, np.empty(0))


def test_exact_weighings_give_each_egg_its_own() -> None:
    true = [0.21, 0.25, 0.26, 0.31]
    mean, variance, _ = found(weighed(true, [4, 7, 11], sd_g=0.001)).each_egg()
    assert mean.tolist() == pytest.approx(true, abs=1e-4)
    assert np.sqrt(variance).max() < 2e-4


def test_the_mass_when_set_need_not_be_known() -> None:
    rows = weighed([0.25, 0.29], [7, 14])
    later = rows.exposure > 0
    lines = egg_lines(
        Weighed(rows.egg[later], rows.exposure[later], rows.mass[later], rows.sd[later], np.empty((0, 4)), 2),
        0.3,
    )
    assert lines.slope.tolist() == pytest.approx([0.25, 0.29])
    assert lines.mass_when_set(lines.slope).tolist() == pytest.approx([1.0, 1.0])


def test_two_weighings_give_no_wild_line() -> None:
    """A coarse scale after one day says 1.4 mg; the egg is taken to be about as hens' eggs are."""
    batch = found(weighed([0.30], [1], sd_g=scale_sd(1.0), off_g=np.array([[0.5, -0.9]])))
    (mean,), (variance,), _ = batch.each_egg()
    assert abs(mean - 0.30) < 0.05
    assert math.sqrt(variance) == pytest.approx(math.hypot(0.06, 0.054), rel=0.2)
    assert batch.surer > 0.9


def test_nothing_weighed_leaves_what_is_known_of_the_species() -> None:
    empty = Weighed(np.empty(0, np.int64), np.empty(0), np.empty(0), np.empty(0), np.empty((2, 0)), 0)
    batch = batch_conductance(egg_lines(empty, 0.3), PRIOR, np.array([2.5, 0.06]))
    assert not batch.told
    mean, variance, _ = batch.mean_of(np.empty(0, np.int64), 24)
    assert mean == pytest.approx(0.30)
    assert variance == pytest.approx(0.06**2 + batch.weight @ batch.spread**2 / 24)
    assert batch.surer == pytest.approx(1.0)


def test_one_mass_of_an_egg_tells_nothing_of_it() -> None:
    rows = weighed([0.25, 0.27], [7])
    kept = np.array([True, True, False, True])  # the second was not weighed when set
    one = Weighed(rows.egg[kept], rows.exposure[kept], rows.mass[kept], rows.sd[kept], np.empty((0, 3)), 2)
    batch = found(one)
    means, variances, _ = batch.each_egg()
    other_mean, other_variance = batch.another_egg()
    assert (means[1], variances[1]) == (pytest.approx(other_mean), pytest.approx(other_variance))
    assert variances[0] < variances[1]


def test_eggs_that_were_not_weighed_have_their_batchs_mean_and_spread() -> None:
    rng = np.random.default_rng(3)
    true = rng.normal(0.24, 0.03, 24)
    batch = found(weighed(true.tolist(), [7, 14]))
    mean, variance = batch.another_egg()
    assert mean == pytest.approx(0.24, abs=0.02)
    assert 0.02 < math.sqrt(variance) < 0.05
    alone, of_alone, _ = batch.mean_of(np.arange(24), 0)
    assert alone == pytest.approx(true.mean(), abs=1e-3)
    _, of_both, _ = batch.mean_of(np.arange(24), 24)
    assert of_both > of_alone


def test_an_egg_far_from_the_others_is_believed_when_weighed_well() -> None:
    mean, _, _ = found(weighed([0.24, 0.25, 0.26, 0.25, 0.60], [7, 14])).each_egg()
    assert mean[4] == pytest.approx(0.60, abs=0.02)


def test_a_coarse_scale_leans_towards_the_batch() -> None:
    off = np.zeros((6, 2))
    off[5, 1] = -1.5
    fine = found(weighed([0.25] * 6, [4], sd_g=0.05, off_g=off)).each_egg()[0][5]
    coarse = found(weighed([0.25] * 6, [4], sd_g=0.6, off_g=off)).each_egg()[0][5]
    assert 0.25 < coarse < fine


@given(st.permutations(list(range(6))))
def test_the_order_of_the_eggs_does_not_matter(order: list[int]) -> None:
    true = [0.20, 0.22, 0.25, 0.26, 0.30, 0.33]
    straight = found(weighed(true, [7])).each_egg()[0]
    shuffled = found(weighed([true[place] for place in order], [7])).each_egg()[0]
    assert shuffled.tolist() == pytest.approx(straight[order].tolist())


def test_a_hygrometer_that_may_be_off_widens_the_batch_not_the_eggs() -> None:
    rows = weighed([0.25, 0.27, 0.29], [7, 14])
    doubts = np.stack((-0.484 * rows.exposure / PULL, np.zeros(rows.egg.size)))
    doubted = Weighed(rows.egg, rows.exposure, rows.mass, rows.sd, doubts, 3)
    lines = egg_lines(doubted, 0.3)
    # A point too low makes the air seem to pull more: the conductance seems 0.3 × 0.484 / 26 less.
    assert lines.shifts[0].tolist() == pytest.approx([-0.3 * 0.484 / PULL] * 3)
    batch = batch_conductance(lines, PRIOR, np.array([2.5, 0.06]))
    assert batch.shifts.tolist() == pytest.approx([-0.3 * 0.484 / PULL, 0.0])


@pytest.mark.parametrize(("step_g", "sd_g"), [(0.01, 0.02), (0.1, 0.025), (1.0, 0.25), (5.0, 1.25)])
def test_the_zero_of_a_scale_is_off_by_a_quarter_of_its_step(step_g: float, sd_g: float) -> None:
    assert common_sd(step_g) == pytest.approx(sd_g)


@pytest.mark.parametrize(("step_g", "sd_g"), [(0.01, 0.0202), (0.1, 0.0416), (1.0, 0.416)])
def test_the_scale_is_off_by_its_rounding_and_a_little_more(step_g: float, sd_g: float) -> None:
    assert scale_sd(step_g) == pytest.approx(sd_g, rel=0.01)


def test_a_scale_that_scatters_more_than_its_steps_say_is_found_out() -> None:
    rng = np.random.default_rng(5)
    off = rng.normal(0, 0.05, (12, 4))
    good = egg_lines(weighed([0.26] * 12, [4, 7, 11], sd_g=0.05, off_g=off), 0.3)
    bad = egg_lines(weighed([0.26] * 12, [4, 7, 11], sd_g=0.05, off_g=4 * off), 0.3)
    assert 9 < bad.variance[0] / good.variance[0] < 16


def test_the_first_guess_of_the_mean_leans_on_the_species() -> None:
    """One egg on a coarse scale on the first day says 1.4 mg."""
    lines = egg_lines(weighed([0.30], [1], sd_g=scale_sd(1.0), off_g=np.array([[0.5, -1.2]])), 0.3)
    assert lines.slope[0] > 1.0
    assert lines.rough_mean(PRIOR) == pytest.approx(0.30, abs=0.05)


def shared(conductances: list[float], days: list[float], common_g: float) -> Weighed:
    """Weighed on a fine scale whose zero may be off at each weighing."""
    rows = weighed(conductances, days, sd_g=0.02)
    per_egg = len(days) + 1
    return replace(
        rows,
        weighing=np.tile(np.arange(per_egg), len(conductances)),
        common=np.full(rows.egg.size, common_g / 60.0),
    )


def test_what_all_masses_of_a_weighing_are_off_by_is_not_averaged_out() -> None:
    """By hand: with masses on day 0 and 7 the conductance is off by the difference of the two zeros."""
    batch = found(shared([0.26] * 40, [7], 0.3))
    by_hand = (1000 * 0.3 / 60.0 / (7 * PULL)) ** 2 * 2
    assert batch.by_scale == pytest.approx(by_hand, rel=1e-6)
    # What is left of the species' variance by an observation of that variance.
    assert batch.surer == pytest.approx(by_hand / (by_hand + PRIOR.batch_sd**2), abs=0.04)
    assert found(shared([0.26] * 40, [7], 0.0)).surer < 0.1


def test_the_posterior_is_that_of_the_model_by_brute_force() -> None:
    """Means, spreads and eggs on a fine grid, without any of the closed forms."""
    true, sd_g = [0.42, 0.48, 0.62], 0.12
    rows = weighed(true, [6], sd_g=sd_g)
    lines = egg_lines(rows, 0.3)
    batch = batch_conductance(lines, PRIOR, np.empty(0))
    mean = np.linspace(0.0, 0.9, 1801)[:, None]
    spread = PRIOR.egg_sd * np.geomspace(0.3, 3.2, 401)[None, :]
    log = -0.5 * ((mean - PRIOR.mean) / PRIOR.batch_sd) ** 2
    log = log - SPREAD_WEIGHT * (np.log(spread) + 0.5 * (PRIOR.egg_sd / spread) ** 2)
    for slope, variance in zip(lines.slope, lines.variance, strict=True):
        each = variance + spread**2
        log = log - 0.5 * np.log(each) - 0.5 * (slope - mean) ** 2 / each
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    middle = float((weight * mean).sum())
    assert batch.batch_mean[0] == pytest.approx(middle, rel=2e-3)
    assert batch.batch_mean[1] == pytest.approx(float((weight * (mean - middle) ** 2).sum()), rel=0.02)
    means, variances, together = batch.each_egg()
    for place, (slope, variance) in enumerate(zip(lines.slope, lines.variance, strict=True)):
        lean = variance / (variance + spread**2)
        egg = (1 - lean) * slope + lean * mean
        egg_mean = float((weight * egg).sum())
        inside = lean * spread**2
        assert means[place] == pytest.approx(egg_mean, rel=2e-3)
        assert variances[place] == pytest.approx(
            float((weight * (inside + (egg - egg_mean) ** 2)).sum()), rel=0.02
        )
        assert together[place] == pytest.approx(
            float((weight * (egg - egg_mean) * (mean - middle)).sum()), rel=0.03, abs=5e-6
        )
    whole, of_whole, with_batch = batch.mean_of(np.arange(3), 0)
    assert whole == pytest.approx(float(means.mean()))
    assert with_batch == pytest.approx(float(together.mean()))
    assert of_whole < float(variances.mean())
