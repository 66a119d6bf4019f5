"""The exposure of eggs: sums by hand, gaps, altitude, and what is in doubt of it."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.exposure import (
    HYGROMETER,
    RISE,
    WARMTH,
    AirStretch,
    Exposure,
    Rise,
    air_of_stretch,
    exposure_of,
    steady_air,
)
from hatchbook.statistics.trace import Trace
from hatchbook.statistics.weight_loss import pull_torr

HOUR, DAY = 3600, 86_400
AIMS = {"aim_humidity": 45.0, "aim_c": 37.5}


def steady(humidity: float, days: float, *, warm: float = 37.5, every: int = 600) -> tuple[Trace, Trace]:
    at = np.arange(0, round(days * DAY) + 1, every)
    return Trace(at, np.full(at.size, humidity)), Trace(at, np.full(at.size, warm))


def summed(*airs: AirStretch, gap_sd: float = 2.0, rise: float = 0.0) -> Exposure:
    return exposure_of(
        airs,
        hygrometer_sd=2.5,
        gap_sds=[gap_sd] * len(airs),
        rise=Rise(rise, 0.06, 21.0),
        warmth_sd=0.4,
    )


def test_a_steady_humidity_pulls_evenly() -> None:
    exposure = summed(air_of_stretch(*steady(50.0, 10.0), 0, 10 * DAY, **AIMS))
    assert exposure.end_day == pytest.approx(10.0)
    for day in (0.0, 0.7, 3.25, 10.0):
        assert float(exposure.at(day)) == pytest.approx(pull_torr(50.0, 37.5) * day)


def test_swings_of_the_humidity_add_up_as_its_mean() -> None:
    at = np.arange(0, 4 * DAY + 1, 900)
    humidity = 50 + 10 * np.sin(2 * np.pi * at / DAY)
    air = air_of_stretch(Trace(at, humidity), None, 0, 4 * DAY, **AIMS)
    assert float(summed(air).at(4.0)) == pytest.approx(4 * pull_torr(50.0, 37.5), rel=1e-4)


def test_humidity_counts_with_the_warmth_it_was_measured_at() -> None:
    """A cold hour (a power cut) with moist air: both count, hour by hour."""
    at = np.arange(0, 2 * DAY + 1, HOUR // 2)
    cold = (at >= DAY) & (at < DAY + 5 * HOUR)
    humidity, warm = np.where(cold, 70.0, 45.0), np.where(cold, 30.0, 37.5)
    air = air_of_stretch(Trace(at, humidity), Trace(at, warm), 0, 2 * DAY, **AIMS)
    fine = np.trapezoid(pull_torr(humidity, warm), at / DAY)
    assert float(summed(air).at(2.0)) == pytest.approx(fine, rel=4e-3)


def test_a_silence_is_carried_by_the_mean_and_said() -> None:
    humidity, warm = steady(50.0, 10.0)
    keep = (humidity.at_s < 3 * DAY) | (humidity.at_s > 5 * DAY)
    trace = Trace(humidity.at_s[keep], np.where(humidity.at_s[keep] < 3 * DAY, 40.0, 56.0))
    air = air_of_stretch(trace, warm, 0, 10 * DAY, **AIMS)
    assert float(air.days @ air.known) == pytest.approx(8.0, abs=0.02)
    assert air.carried == pytest.approx((3 * 40 + 5 * 56) / 8, abs=0.05)
    exposure = summed(air)
    middle = float(exposure.at(5.0)) - float(exposure.at(3.0))
    assert middle == pytest.approx(2 * pull_torr(50.0, 37.5), rel=0.01)
    assert not air.by_aim
    (gap,) = exposure.doubt_torr_days[3:]
    assert gap[-1] == pytest.approx(2 * (pull_torr(51, 37.5) - pull_torr(50, 37.5)), rel=0.02)


def test_without_readings_the_aims_stand_in() -> None:
    air = air_of_stretch(None, None, 0, 5 * DAY, **AIMS)
    assert (air.carried, air.by_aim, float(air.known.sum())) == (45.0, True, 0.0)
    assert float(summed(air).at(5.0)) == pytest.approx(5 * pull_torr(45.0, 37.5))


def test_a_lone_reading_stands_for_its_stretch() -> None:
    air = air_of_stretch(Trace([HOUR], [52.0]), None, 0, DAY, **AIMS)
    assert (air.carried, air.by_aim) == (52.0, False)
    assert float(air.known.sum()) == 0.0


def test_altitude_and_cooler_eggs() -> None:
    humidity, warm = steady(50.0, 1.0, warm=38.9)
    sea = air_of_stretch(humidity, warm, 0, DAY, **AIMS)
    high = air_of_stretch(humidity, warm, 0, DAY, **AIMS, pressure_kpa=84.5559)
    assert float(summed(high).at(1)) / float(summed(sea).at(1)) == pytest.approx(1.1983, abs=1e-4)
    cooler = air_of_stretch(humidity, warm, 0, DAY, **AIMS, egg_rise_c=-1.1)
    assert float(summed(cooler).at(1)) == pytest.approx(pull_torr(50.0, 38.9, 37.8))


def test_doubts_go_on_into_what_is_to_come() -> None:
    so_far = summed(air_of_stretch(*steady(50.0, 8.0), 0, 8 * DAY, **AIMS))
    assert so_far.doubt_sds.size == 3
    whole = so_far.go_on([(steady_air(6.0, 45.0, 37.5), 2.0), (steady_air(3.0, 65.0, 37.5), 3.0)])
    assert whole.end_day == pytest.approx(17.0)
    ahead = 6 * pull_torr(45.0, 37.5) + 3 * pull_torr(65.0, 37.5)
    assert float(whole.at(17.0)) == pytest.approx(8 * pull_torr(50.0, 37.5) + ahead)
    each = (pull_torr(0.0, 37.5) - pull_torr(100.0, 37.5)) / 100
    by_day = whole.doubts_at([8.0, 14.0, 17.0])
    assert by_day[HYGROMETER].tolist() == pytest.approx([-8 * each, -14 * each, -17 * each])
    assert by_day[3].tolist() == pytest.approx([0.0, -6 * each, -6 * each])
    assert by_day[4].tolist() == pytest.approx([0.0, 0.0, -3 * each])
    # The loss rises about the middle of the incubation: less than on the mean in the first half.
    assert by_day[RISE][0] < 0
    assert whole.doubt_sds.tolist() == [2.5, 0.06, 0.4, 2.0, 3.0]


def test_a_degree_of_the_eggs_adds_what_it_adds_to_their_pull() -> None:
    exposure = summed(air_of_stretch(*steady(50.0, 4.0), 0, 4 * DAY, **AIMS))
    half = 4 * (pull_torr(50.0, 37.5, 38.0) - pull_torr(50.0, 37.5, 37.0))
    assert float(exposure.doubts_at(4.0)[WARMTH, 0]) == pytest.approx(half, rel=0.01)


def test_the_loss_rises_about_the_middle_of_the_incubation() -> None:
    """By 10 %: 5 % less than on the mean at first, 5 % more at the end, and over all days the same."""
    air = air_of_stretch(*steady(50.0, 21.0), 0, 21 * DAY, **AIMS)
    plain, rising = summed(air), summed(air, rise=0.1)
    assert float(rising.at(21.0)) == pytest.approx(float(plain.at(21.0)))
    assert float(rising.at(0.5)) == pytest.approx(0.95 * float(plain.at(0.5)), rel=0.002)
    last = [float(one.at(21.0)) - float(one.at(20.5)) for one in (plain, rising)]
    assert last[1] == pytest.approx(1.05 * last[0], rel=0.002)
    # What the doubt of the rise adds is what the rise itself adds.
    added = float(rising.at(7.0)) - float(plain.at(7.0))
    assert added == pytest.approx(0.1 * float(plain.doubts_at(7.0)[RISE, 0]))


def test_a_step_that_is_known_in_part_takes_its_stand_in_for_the_rest() -> None:
    """40 % for the first hour of two, then nothing for five, then 60 %: the mean of what is known is 55 %."""
    at = np.concatenate((np.arange(0, HOUR + 1, 300), np.arange(6 * HOUR, 9 * HOUR + 1, 300)))
    humidity = Trace(at, np.where(at <= HOUR, 40.0, 60.0), 600.0)
    air = air_of_stretch(humidity, None, 0, 9 * HOUR, aim_humidity=20.0, aim_c=37.5)
    assert air.carried == pytest.approx(55.0)
    half_known = (40.0 + 55.0) / 2
    assert air.pull[0] == pytest.approx(pull_torr(half_known, 37.5))
    assert air.known.tolist() == pytest.approx([0.5, 0.0, 0.0, 1.0, 1.0])


def test_in_what_is_to_come_a_degree_of_the_eggs_counts_as_well() -> None:
    start = summed(air_of_stretch(*steady(50.0, 1.0), 0, DAY, **AIMS))
    ahead = start.go_on([(steady_air(3.0, 50.0, 37.5), 0.0)])
    added = float(ahead.doubts_at(4.0)[WARMTH, 0]) / float(start.doubts_at(1.0)[WARMTH, 0])
    assert added == pytest.approx(4.0)
