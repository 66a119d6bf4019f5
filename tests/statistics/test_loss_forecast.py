"""Losses by conductances and exposure: what falls out of the ranges, and what does not."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.conductance import (
    SPREAD_WEIGHT,
    BatchConductance,
    ConductancePrior,
    Weighed,
    batch_conductance,
    egg_lines,
)
from hatchbook.statistics.exposure import Exposure, Rise, exposure_of, steady_air
from hatchbook.statistics.loss_forecast import (
    DAY_TO_DAY,
    LossModel,
    held_for,
    sd_of_next_mean,
    share_below,
)
from hypothesis import given
from hypothesis import strategies as st

PRIOR = ConductancePrior(0.30, 0.06, 0.18)
HYGROMETER_SD = 2.5


def exposure(days: float, humidity: float = 45.0, *, rise_sd: float = 0.0) -> Exposure:
    air = steady_air(days, humidity, 37.5)
    return exposure_of(
        [air], hygrometer_sd=HYGROMETER_SD, gap_sds=[0.0], rise=Rise(0.0, rise_sd, 21.0), warmth_sd=0.0
    )


def weighed(conductances: list[float], days: list[float], air: Exposure) -> BatchConductance:
    at = np.array([0.0, *days])
    k, pulled = np.array(conductances), air.at(at)
    egg = np.repeat(np.arange(k.size), at.size)
    rows = Weighed(
        egg,
        np.tile(pulled, k.size),
        (1 - np.outer(k, pulled) / 1000).ravel(),
        np.full(egg.size, 1e-5),
        np.tile(air.doubts_at(at), k.size),
        k.size,
    )
    return batch_conductance(egg_lines(rows, float(k.mean())), PRIOR, air.doubt_sds)


def test_a_loss_is_conductance_times_exposure() -> None:
    air = exposure(11.0)
    model = LossModel(weighed([0.24, 0.26, 0.28], [4, 7, 11], air), np.arange(3), 0)
    mean, sd = model.mean_loss(air, [0.0, 5.5, 11.0])
    assert mean.tolist() == pytest.approx(
        [0.0, 0.26 * float(air.at(5.5)) / 10, 0.26 * float(air.at(11.0)) / 10], abs=2e-3
    )
    assert sd[0] == 0.0


def test_what_the_hygrometer_is_off_by_falls_out_while_the_humidity_stays() -> None:
    air = exposure(9.0)
    batch = weighed([0.24, 0.26, 0.28], [4, 9], air)
    model = LossModel(batch, np.arange(3), 0)
    same = air.go_on([(steady_air(9.0, 45.0, 37.5), 0.0)])
    moister = air.go_on([(steady_air(9.0, 75.0, 37.5), 0.0)])
    _, sd_same = model.mean_loss(same, 18.0)
    _, sd_moister = model.mean_loss(moister, 18.0)
    alone = 0.026 * HYGROMETER_SD * 0.484 * 18  # what it would be of eggs never weighed
    assert sd_same[0] < 0.05 * alone
    assert 3 * sd_same[0] < sd_moister[0] < 0.5 * alone


def test_of_eggs_never_weighed_all_of_it_counts() -> None:
    air = exposure(18.0)
    empty = Weighed(np.empty(0, np.int64), np.empty(0), np.empty(0), np.empty(0), np.empty((3, 0)), 0)
    batch = batch_conductance(egg_lines(empty, 0.3), PRIOR, air.doubt_sds)
    mean, sd = LossModel(batch, np.empty(0, np.int64), 10_000).mean_loss(air, 18.0)
    pulled = float(air.at(18.0))
    assert mean[0] == pytest.approx(0.030 * pulled)
    assert sd[0] == pytest.approx(math.hypot(0.006 * pulled, 0.030 * HYGROMETER_SD * 0.4841 * 18), rel=0.01)


def test_the_conductance_itself_is_less_sure_than_the_forecast() -> None:
    air = exposure(9.0)
    model = LossModel(weighed([0.24, 0.26, 0.28], [4, 9], air), np.arange(3), 0)
    mean, variance = model.true_conductance
    # 2.5 points are 4.5 % of the pull of 26.6 torr.
    assert math.sqrt(variance) == pytest.approx(0.26 * HYGROMETER_SD * 0.4841 / 26.63, rel=0.05)
    assert mean == pytest.approx(0.26, abs=0.005)
    assert math.sqrt(model.variance) < 1e-3


def test_a_loss_that_may_rise_widens_what_is_far_ahead() -> None:
    air = exposure(7.0, rise_sd=0.06)
    model = LossModel(weighed([0.24, 0.26, 0.28], [7], air), np.arange(3), 0)
    ahead = air.go_on([(steady_air(11.0, 45.0, 37.5), 0.0)])
    _, sd = model.mean_loss(ahead, [7.0, 10.0, 18.0])
    assert sd[0] < 0.01
    assert sd[0] < sd[1] < sd[2]
    # From the middle of the first week to the middle of 18 days: 0.26 of the incubation.
    assert sd[2] == pytest.approx(12.4 * 0.06 * (18 - 7) / 2 / 21, rel=0.15)


def test_there_must_be_an_egg() -> None:
    with pytest.raises(ValueError, match="no egg"):
        LossModel(weighed([0.25], [7], exposure(7.0)), np.empty(0, np.int64), 0)


def test_the_share_below_a_limit() -> None:
    shares = share_below(12.0, np.array([12.0, 11.0, 13.96, 14.0]), np.array([1.0, 0.0, 1.0, 0.0]))
    assert shares.tolist() == pytest.approx([0.5, 1.0, 0.025, 0.0], abs=1e-4)


def test_the_humidity_to_hold_of_a_known_conductance_has_no_range() -> None:
    value, low, high = held_for(12.5, (20.0, 12.5, 5.0), (0.0, 0.0, 0.0)) or (0, 0, 0)
    assert (value, low, high) == pytest.approx((50.0, 50.0, 50.0))


def test_no_humidity_matters_when_it_makes_no_difference() -> None:
    assert held_for(12.5, (12.0, 12.0, 12.0), (0.1, 0.1, 0.1)) is None


@given(st.floats(8, 16), st.floats(0.1, 1.2), st.floats(0.05, 0.8))
def test_the_range_to_hold_is_where_the_aim_lies_in_the_range_of_the_loss(
    aim: float, dry_sd: float, moist_sd: float
) -> None:
    losses = (22.0, 13.0, 4.0)
    middle_sd = math.sqrt((dry_sd**2 + moist_sd**2) / 2)
    found = held_for(aim, losses, (dry_sd, middle_sd, moist_sd))
    assert found is not None
    value, low, high = found
    assert low < value < high
    for humidity in (low, high):
        variance = dry_sd**2 + (moist_sd**2 - dry_sd**2) * humidity / 100
        loss = 22.0 - 0.18 * humidity
        assert abs(loss - aim) == pytest.approx(1.96 * math.sqrt(variance), rel=1e-3)


def test_where_the_range_has_no_end_it_is_taken_at_the_aim() -> None:
    found = held_for(10.0, (12.0, 11.0, 10.0), (3.0, 1.0, 3.0))
    assert found is not None
    assert found[2] - found[0] == pytest.approx(found[0] - found[1])


def test_the_mean_of_many_days_is_surer_than_that_of_one() -> None:
    assert sd_of_next_mean(2.0, 1.0) == pytest.approx(2.0)
    assert sd_of_next_mean(2.0, 2.0) == pytest.approx(2.0 * math.sqrt((1 + DAY_TO_DAY) / 2))
    assert sd_of_next_mean(2.0, 16.0) < sd_of_next_mean(2.0, 8.0) < 2.0


def test_two_days_foretell_the_next_better_than_the_day_after() -> None:
    """By drawing such series: the mean of the next days against that of the two just gone."""
    rng = np.random.default_rng(8)
    days = np.empty((20_000, 9))
    days[:, 0] = rng.standard_normal(20_000)
    for day in range(1, 9):
        step = math.sqrt(1 - DAY_TO_DAY**2) * rng.standard_normal(20_000)
        days[:, day] = DAY_TO_DAY * days[:, day - 1] + step
    for ahead in (1, 3, 7):
        drawn = (days[:, 2 : 2 + ahead].mean(axis=1) - days[:, :2].mean(axis=1)).std()
        assert sd_of_next_mean(1.0, ahead, recent_days=2.0) == pytest.approx(drawn, rel=0.03)


@given(st.floats(9, 15), st.floats(0.2, 1.0), st.floats(0.1, 1.0), st.floats(0.05, 0.9))
def test_the_range_to_hold_follows_a_bent_doubt(
    aim: float, dry_sd: float, moist_sd: float, sag: float
) -> None:
    """The variance of the loss is a parabola of the humidity; its ends are looked for by bisection."""
    losses = (22.0, 13.0, 4.0)
    dry, moist = dry_sd**2, moist_sd**2
    middle = (1 - sag) * (dry + moist) / 2

    def distance(humidity: float) -> float:
        share = humidity / 100
        bent = 2 * (dry - 2 * middle + moist)
        variance = dry + (4 * middle - 3 * dry - moist) * share + bent * share**2
        return abs(22.0 - 0.18 * humidity - aim) - 1.959964 * math.sqrt(max(variance, 0.0))

    found = held_for(aim, losses, (dry_sd, math.sqrt(middle), moist_sd))
    assert found is not None
    value, low, high = found
    assert value == pytest.approx((22.0 - aim) / 0.18)
    for end in (low, high):
        assert abs(distance(end)) < 0.01


@pytest.mark.parametrize("eggs", [1, 2, 12])
def test_where_the_truth_is_the_models_own_its_ranges_are_exact(eggs: int) -> None:
    """Truths drawn as is believed of them, weighed on a coarse scale with a zero of its own each time, in air read
    by a hygrometer that is off. Errors in standard deviations: their mean square is 1."""
    rng = np.random.default_rng(eggs)
    air = steady_air(7.0, 45.0, 37.5)
    so_far = exposure_of([air], hygrometer_sd=4.0, gap_sds=[0.0], rise=Rise(0.05, 0.1, 21.0), warmth_sd=0.5)
    whole = so_far.go_on([(steady_air(11.0, 60.0, 37.5), 3.0)])
    at = np.array([0.0, 7.0])
    own_sd, common = 0.006, 0.005
    rows = np.repeat(np.arange(eggs), 2)
    errors = np.empty((1500, 3))
    for draw in range(errors.shape[0]):
        batch = rng.normal(PRIOR.mean, PRIOR.batch_sd)
        # The spread between eggs as it is believed: a scaled inverse chi square.
        spread = PRIOR.egg_sd * math.sqrt(SPREAD_WEIGHT / rng.chisquare(SPREAD_WEIGHT))
        true = rng.normal(batch, spread, eggs)
        off = rng.normal(0, whole.doubt_sds)
        pulled = {day: float(whole.at(day)) + float(off @ whole.doubts_at(day)[:, 0]) for day in (7.0, 18.0)}
        mass = 1 - np.outer(true, [0.0, pulled[7.0]]) / 1000
        mass = mass + rng.normal(0, common, 2) + rng.normal(0, own_sd, mass.shape)
        weighings = Weighed(
            rows,
            np.tile(so_far.at(at), eggs),
            mass.ravel(),
            np.full(rows.size, own_sd),
            np.tile(so_far.doubts_at(at), eggs),
            eggs,
            np.tile([0, 1], eggs),
            np.full(rows.size, common),
        )
        lines = egg_lines(weighings, PRIOR.mean)
        model = LossModel(batch_conductance(lines, PRIOR, so_far.doubt_sds), np.arange(eggs), 0)
        loss, sd = model.mean_loss(whole, 18.0)
        errors[draw, 0] = (true.mean() * pulled[18.0] / 10 - loss[0]) / sd[0]
        each, each_sd = model.egg_losses(whole, 18.0)
        errors[draw, 1] = (true[0] * pulled[18.0] / 10 - each[0]) / each_sd[0]
        mean, variance = model.true_conductance
        errors[draw, 2] = (true.mean() - mean) / math.sqrt(variance)
    assert (errors**2).mean(axis=0).tolist() == pytest.approx([1.0, 1.0, 1.0], abs=0.13)
    assert errors.mean(axis=0).tolist() == pytest.approx([0.0, 0.0, 0.0], abs=0.1)
