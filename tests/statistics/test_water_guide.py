"""The moisture balance of a machine, and its fit to settled days."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from hatchbook.statistics import water_priors as priors
from hatchbook.statistics.moisture import saturation_kpa, vapour_kpa
from hatchbook.statistics.water_guide import (
    NORMAL_95,
    SettledDays,
    TopUps,
    fit_water,
    no_days,
    no_top_ups,
)
from hatchbook.statistics.water_model import (
    PARAMETERS,
    Channels,
    Parameter,
    Standing,
    balance,
    eggs_rate,
    parameter_priors,
)
from numpy.typing import NDArray
from tests.statistics.simulated_histories import histories
from tests.statistics.simulated_machines import Machines

Floats = NDArray[np.float64]
CHANNELS = Channels(4, 55.0)
MIDDLE = np.array([prior.middle for prior in parameter_priors(CHANNELS)])


def cases(channels: float | Floats, vent: float | Floats, **others: float) -> Standing:
    filled, opening = np.broadcast_arrays(np.atleast_1d(channels), np.atleast_1d(vent))
    usual = {"room_kpa": 1.17, "temperature_c": 37.5, "eggs_g_h_kpa": 0.0, "hatching": 0.0, **others}
    return Standing(
        filled.astype(float), opening.astype(float), **{k: np.full(filled.shape, v) for k, v in usual.items()}
    )


def settled(count: int, rng: np.random.Generator, **given: Floats) -> SettledDays:
    """Days of a machine that is as believed, by four batches."""
    days = SettledDays(
        channels=rng.integers(1, 5, count).astype(float),
        vent=rng.choice([0.25, 0.5, 0.75], count),
        humidity=np.zeros(count),
        temperature_c=np.full(count, 37.5),
        room_kpa=rng.uniform(0.9, 1.4, count),
        eggs_g_h_kpa=np.full(count, 0.1),
        hatching=np.zeros(count),
        known_h=np.full(count, 22.0),
        batch=np.arange(count, dtype=np.int64) % 4,
        stretch=np.arange(count, dtype=np.int64) // 3,
    )
    days = replace(days, **given)
    standing = Standing(
        *(
            getattr(days, name)
            for name in ("channels", "vent", "room_kpa", "temperature_c", "eggs_g_h_kpa", "hatching")
        )
    )
    humidity = balance(MIDDLE, standing, CHANNELS).humidity + rng.normal(0, 0.5, count)
    return replace(days, humidity=humidity)


@pytest.mark.parametrize(
    ("room_c", "room_humidity", "warmed"), [(20.0, 50.0, 18.1), (22.0, 50.0, 20.5), (25.0, 60.0, 29.5)]
)
def test_without_water_and_eggs_there_is_what_the_warmed_room_air_gives(
    room_c: float, room_humidity: float, warmed: float
) -> None:
    """Room air warmed to 37.5 °C, computed by ASHRAE 2017 ch. 1 eq. 6."""
    room = vapour_kpa(room_c, room_humidity)
    found = balance(MIDDLE, cases(0.0, np.array([0.0, 0.5, 1.0]), room_kpa=room), CHANNELS)
    assert found.humidity == pytest.approx(warmed, abs=0.06)


def test_more_water_is_moister_and_a_wider_vent_drier() -> None:
    by_channels = balance(MIDDLE, cases(np.arange(5.0), 0.5), CHANNELS).humidity
    by_vent = balance(MIDDLE, cases(2.0, np.linspace(0, 1, 5)), CHANNELS).humidity
    assert np.all(np.diff(by_channels) > 0)
    assert np.all(np.diff(by_vent) < 0)


def test_what_comes_in_goes_out() -> None:
    standing = cases(3.0, 0.4, eggs_g_h_kpa=0.2)
    found = balance(MIDDLE, standing, CHANNELS)
    saturated = float(saturation_kpa(37.5))
    vapour = float(found.humidity[0]) / 100 * saturated
    power, leak = np.exp(MIDDLE[Parameter.VENT_CURVE]), 1 / (1 + np.exp(-MIDDLE[Parameter.LEAK]))
    half = np.exp(MIDDLE[Parameter.CHANNEL] - MIDDLE[Parameter.WATER_TO_VENT]) * 2
    air = half * (leak + (1 - leak) * 0.4**power) / (leak + (1 - leak) * 0.5**power)
    assert air * (vapour - 1.17) == pytest.approx(float(found.water_g_h[0]) + 0.2 * (saturated - vapour))


def test_slopes_are_those_of_the_balance() -> None:
    standing = cases(np.array([0.0, 1, 2, 4]), np.array([0.0, 0.3, 0.5, 1]), eggs_g_h_kpa=0.15, hatching=1.0)
    row = MIDDLE + 0.2
    found = balance(row, standing, CHANNELS)
    for place in range(PARAMETERS):
        step = np.zeros(PARAMETERS)
        step[place] = 1e-6
        above, below = (balance(row + sign * step, standing, CHANNELS) for sign in (1, -1))
        assert found.slopes[:, place] == pytest.approx((above.humidity - below.humidity) / 2e-6, abs=1e-5)
        assert found.water_slopes[:, place] == pytest.approx(
            (above.water_g_h - below.water_g_h) / 2e-6, abs=1e-5
        )


def test_common_practice_comes_out_of_what_is_believed_beforehand() -> None:
    """*Common practice, no source*: half filled and half open about 45 %; all filled, a third open about 65 %."""
    eggs = eggs_rate(24 * 58.0, 101.325)
    before = balance(MIDDLE, cases(2.0, 0.5, eggs_g_h_kpa=eggs), CHANNELS).humidity
    lockdown = balance(MIDDLE, cases(4.0, 1 / 3, eggs_g_h_kpa=eggs, hatching=1.0), CHANNELS).humidity
    assert before == pytest.approx(45, abs=5)
    assert lockdown == pytest.approx(65, abs=5)


def test_eggs_lose_what_layers_were_measured_to_lose() -> None:
    """0.31 to 0.40 mg a day, gram and torr (Meir & Ar 2008)."""
    torr = 24.0
    lost = eggs_rate(58.0, 101.325) * 24 * torr / 7.500617
    assert 58 * 0.31e-3 * torr <= lost <= 58 * 0.40e-3 * torr


def test_high_up_eggs_give_off_more() -> None:
    """1.1983 times as much at 1500 m (ISA pressure; diffusion in inverse proportion to it)."""
    assert eggs_rate(58.0, 84.5559) / eggs_rate(58.0, 101.325) == pytest.approx(1.1983, abs=1e-4)


def test_the_share_of_the_eggs_is_what_they_add() -> None:
    with_eggs = balance(MIDDLE, cases(2.0, 0.5, eggs_g_h_kpa=0.2), CHANNELS)
    without = balance(MIDDLE, cases(2.0, 0.5), CHANNELS)
    assert with_eggs.egg_share[0] == pytest.approx(with_eggs.humidity[0] - without.humidity[0])
    assert with_eggs.egg_share[0] > 0


def test_without_history_the_beliefs_stand() -> None:
    fit = fit_water(no_days(), no_top_ups(), CHANNELS)
    assert fit.unknowns == pytest.approx(MIDDLE)
    expected = fit.expect(cases(2.0, 0.5))
    assert 6 <= NORMAL_95 * float(expected.spread[0]) <= 14


def test_a_machine_that_is_as_believed_is_found_again() -> None:
    rng = np.random.default_rng(2)
    fit = fit_water(settled(120, rng), no_top_ups(), CHANNELS)
    expected = fit.expect(cases(np.array([1.0, 2, 3, 4]), 0.5, eggs_g_h_kpa=0.1))
    truth = balance(MIDDLE, cases(np.array([1.0, 2, 3, 4]), 0.5, eggs_g_h_kpa=0.1), CHANNELS).humidity
    assert expected.humidity == pytest.approx(truth, abs=1.0)
    assert np.all(expected.spread < 2)


def test_one_wrong_entry_bends_nothing() -> None:
    rng = np.random.default_rng(2)
    days = settled(80, rng)
    humidity = days.humidity.copy()
    humidity[7] = 95.0
    clean = fit_water(days, no_top_ups(), CHANNELS).expect(cases(2.0, 0.5)).humidity
    dirty = (
        fit_water(replace(days, humidity=humidity), no_top_ups(), CHANNELS).expect(cases(2.0, 0.5)).humidity
    )
    assert dirty == pytest.approx(clean, abs=1.0)


def test_a_wrong_entry_among_the_days_of_a_stretch_bends_it_little() -> None:
    """A tenth of 25 points would be 2.5, and the days would seem to scatter by 8."""
    same, first = np.full(10, 2.0), np.zeros(10, np.int64)
    days = settled(10, np.random.default_rng(2), channels=same, vent=same / 4, stretch=first, batch=first)
    humidity = days.humidity.copy()
    humidity[7] += 25.0
    clean, dirty = (
        fit_water(replace(days, humidity=one), no_top_ups(), CHANNELS).expect(
            cases(2.0, 0.5, eggs_g_h_kpa=0.1), batch=0, stretch=0
        )
        for one in (days.humidity, humidity)
    )
    assert dirty.humidity == pytest.approx(clean.humidity, abs=0.8)
    assert dirty.spread[0] < 3 * clean.spread[0]


def test_three_days_that_agree_are_not_taken_for_days_without_weather() -> None:
    days = settled(3, np.random.default_rng(4), stretch=np.zeros(3, np.int64), batch=np.zeros(3, np.int64))
    same = replace(
        days,
        channels=np.full(3, 2.0),
        vent=np.full(3, 0.5),
        room_kpa=np.full(3, 1.17),
        humidity=np.full(3, float(days.humidity[0])),
    )
    assert fit_water(same, no_top_ups(), CHANNELS).day_spread > 0.6


def test_the_spread_of_a_day_is_not_made_small_by_what_is_fitted() -> None:
    """Few days for each stretch: what the stretches take up of the noise is counted back in."""
    found = []
    for chance in range(12):
        rng = np.random.default_rng(chance)
        same = np.full(24, 2.0)
        days = settled(24, rng, channels=same, vent=same / 4, stretch=np.arange(24, dtype=np.int64) // 2)
        noisy = replace(days, humidity=days.humidity + rng.normal(0, 1.5, 24))
        found.append(fit_water(noisy, no_top_ups(), CHANNELS).day_spread)
    assert np.mean(found) == pytest.approx(np.hypot(1.5, 0.5), rel=0.2)


def test_a_setting_far_from_all_that_were_tried_is_less_sure(monkeypatch: pytest.MonkeyPatch) -> None:
    same = np.full(40, 2.0)
    fit = fit_water(
        settled(40, np.random.default_rng(9), channels=same, vent=np.full(40, 0.5)), no_top_ups(), CHANNELS
    )
    near_and_far = cases(np.array([2.0, 4.0]), np.array([0.5, 0.1]))
    wider = fit.expect(near_and_far).spread
    monkeypatch.setattr(priors, "FAR_FROM_TRIED", 0.0)
    alone = fit.expect(near_and_far).spread
    assert wider[0] == pytest.approx(alone[0])
    assert wider[1] > 1.02 * alone[1]


def test_a_batch_to_come_is_less_sure_than_the_one_that_runs() -> None:
    same = np.full(60, 2.0)
    fit = fit_water(
        settled(60, np.random.default_rng(5), channels=same, vent=same / 4), no_top_ups(), CHANNELS
    )
    tried = cases(2.0, 0.5)
    running, to_come = (fit.expect(tried, batch=batch).spread[0] for batch in (3, None))
    assert to_come > 1.1 * running


def test_a_dry_run_tells_how_the_probes_lie_apart() -> None:
    rng = np.random.default_rng(8)
    days = settled(40, rng)
    shifted = replace(days, humidity=days.humidity + 3.0)
    dry = settled(6, rng, channels=np.zeros(6), eggs_g_h_kpa=np.zeros(6))
    dry = replace(dry, humidity=dry.humidity + 3.0, stretch=np.arange(100, 106))
    both = SettledDays(
        *(np.concatenate((getattr(shifted, one.name), getattr(dry, one.name))) for one in fields(SettledDays))
    )
    without = fit_water(shifted, no_top_ups(), CHANNELS)
    with_runs = fit_water(both, no_top_ups(), CHANNELS)
    assert with_runs.unknowns[Parameter.PROBE_APART] == pytest.approx(3.0, abs=0.8)
    spreads = [
        np.sqrt(fit.covariance[Parameter.PROBE_APART, Parameter.PROBE_APART]) for fit in (without, with_runs)
    ]
    assert spreads[1] < spreads[0]


def test_an_unknown_room_widens_the_range() -> None:
    fit = fit_water(settled(60, np.random.default_rng(1)), no_top_ups(), CHANNELS)
    known, guessed = (fit.expect(cases(2.0, 0.5), room_spread_kpa=spread) for spread in (0.0, 0.3))
    assert guessed.spread[0] > known.spread[0] + 1


def test_the_room_of_a_batch_without_a_room_probe_is_estimated() -> None:
    rng = np.random.default_rng(6)
    days = settled(80, rng, room_kpa=np.where(np.arange(80) % 4 == 3, 0.8, 1.17))
    hidden = replace(days, room_kpa=np.where(days.batch == 3, np.nan, days.room_kpa))
    fit = fit_water(hidden, no_top_ups(), CHANNELS)
    kpa, spread = fit.room_of(3)
    assert kpa < 1.05
    assert abs(kpa - 0.8) < 2.5 * spread
    assert fit.room_of(0) == (priors.ROOM_KPA, priors.ROOM_KPA * priors.ROOM_SPREAD)


def test_water_filled_up_tells_how_much_evaporates() -> None:
    rng = np.random.default_rng(3)
    days = settled(60, rng)
    drawn = float(saturation_kpa(37.5)) * (1 / (1 + np.exp(-2.0)) - 0.45)
    ml = 2 * 1.6 * drawn * 48 * np.exp(rng.normal(0, 0.2, 12))
    same = np.ones(12)
    ups = TopUps(ml, 48 * same, 2 * same, 45 * same, 37.5 * same)
    fit = fit_water(days, ups, CHANNELS)
    assert np.exp(fit.unknowns[Parameter.CHANNEL]) == pytest.approx(1.6, rel=0.15)
    unmeasured = fit_water(days, no_top_ups(), CHANNELS).expect(cases(2.0, 0.5))
    measured = fit.expect(cases(2.0, 0.5))
    relative = [float(one.water_spread[0] / one.water_ml_day[0]) for one in (unmeasured, measured)]
    assert relative[1] < 0.6 * relative[0]
    # The same hand fills to the same mark: more top-ups make that no surer.
    many = TopUps(*(np.tile(getattr(ups, one.name), 20) for one in fields(TopUps)))
    often = fit_water(days, many, CHANNELS).expect(cases(2.0, 0.5))
    assert float(often.water_spread[0] / often.water_ml_day[0]) >= 0.12


def test_ranges_of_the_water_of_a_day_hold_on_simulated_machines() -> None:
    rng = np.random.default_rng(31)
    machines = Machines.made_up(40, rng)
    made, _, _ = histories(machines, 4, rng, room_known=True)
    inside = []
    for machine, history in enumerate(made):
        fit = fit_water(history.days, history.top_ups, history.channels)
        row = history.days.humidity
        filled = float(np.median(history.days.channels))
        expected = fit.expect(cases(filled, 0.5, temperature_c=37.6, room_kpa=1.17))
        humid = float(expected.humidity[0])
        near = 1 - machines.cooling[machine] * (1.25 - humid / 100)
        rate = machines.evaporating(np.full(40, filled), np.full(40, 0.8))[machine]
        truth = 24 * rate * float(saturation_kpa(37.6)) * (near - humid / 100)
        log_off = np.log(truth / float(expected.water_ml_day[0]))
        inside.append(abs(log_off) <= NORMAL_95 * float(expected.water_spread[0] / expected.water_ml_day[0]))
        assert row.size
    assert 0.85 <= np.mean(inside) <= 1.0
