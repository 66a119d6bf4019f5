"""Power cuts found in simulated curves; no published example is known, so the truth is what was simulated."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.statistics.power_cuts import PowerCut, power_cuts

DAY, HOUR, MINUTE = 86_400, 3_600, 60
START = 1_777_917_600
LEVEL, ROOM = 37.7, 18.0
VAPOUR = 45.0


class Machine:
    """A machine that is followed minute by minute; heat and lid are taken away for stretches."""

    def __init__(
        self, days: float = 6.0, *, cools: float = 0.25, heats: float = 2.0, chance: int = 1
    ) -> None:
        self.cools, self.heats = cools, heats
        self.minutes = int(days * 1440)
        self.random = np.random.default_rng(chance)
        self.off = np.zeros(self.minutes, dtype=bool)
        self.lid = np.zeros(self.minutes, dtype=bool)
        self.level = np.full(self.minutes, LEVEL)

    def cut(self, day: float, minutes: float) -> Machine:
        first = int(day * 1440)
        self.off[first : first + int(minutes)] = True
        return self

    def open_lid(self, day: float, minutes: float) -> Machine:
        first = int(day * 1440)
        self.lid[first : first + int(minutes)] = True
        return self

    def readings(self, step_min: int = 10, noise: float = 0.05) -> tuple[Any, Any, Any]:
        warm, moist = np.empty(self.minutes), np.empty(self.minutes)
        degrees, vapour = LEVEL, VAPOUR
        for minute in range(self.minutes):
            warm[minute] = degrees
            # At constant vapour the relative humidity goes about 5.5 % up for each degree down.
            moist[minute] = vapour * np.exp(0.055 * (LEVEL - degrees))
            if self.lid[minute]:
                degrees += 1.6 / 60 * (ROOM + 8 - degrees)
                vapour += 4.0 / 60 * (15.0 - vapour)
            elif self.off[minute]:
                degrees += self.cools / 60 * (ROOM - degrees)
            else:
                degrees += self.heats / 60 * (self.level[minute] - degrees)
                vapour += 1.5 / 60 * (VAPOUR - vapour)
        cycle = 0.05 * np.sin(2 * np.pi * np.arange(self.minutes) / 47)
        at = np.arange(0, self.minutes, step_min)
        warm = warm[at] + cycle[at] + noise * self.random.standard_normal(at.size)
        return START + at * 60, warm, moist[at] + 0.5 * self.random.standard_normal(at.size)


def found(machine: Machine, step_min: int = 10, **given: Any) -> tuple[PowerCut, ...]:
    at, degrees, moist = machine.readings(step_min, **given)
    return power_cuts(at, degrees, moist, ROOM)


@pytest.mark.parametrize("cools", [0.12, 0.25, 0.6])
@pytest.mark.parametrize("minutes", [55, 110, 240])
@pytest.mark.parametrize("step_min", [1, 5, 10, 15])
def test_a_cut_is_found_with_its_length_and_depth(cools: float, minutes: int, step_min: int) -> None:
    machine = Machine(cools=cools, chance=minutes).cut(3.2, minutes)
    (cut,) = found(machine, step_min)
    assert cut.until is not None
    assert cut.sure
    assert cut.at == pytest.approx(START + 3.2 * DAY, abs=max(step_min, 6) * MINUTE)
    assert cut.until - cut.at == pytest.approx(minutes * MINUTE, abs=1.5 * max(step_min, 6) * MINUTE)
    lowest = ROOM + (LEVEL - ROOM) * np.exp(-cools * minutes / 60)
    # The lowest reading may come a step before the heat is back.
    assert lowest - 0.2 <= cut.lowest_c <= lowest + 0.2 + cools * step_min / 60 * (LEVEL - ROOM)


def test_two_cuts_are_two() -> None:
    cuts = found(Machine().cut(2.0, 90).cut(4.5, 150))
    assert [round((cut.at - START) / DAY, 1) for cut in cuts] == [2.0, 4.5]


def test_a_long_cut_goes_down_to_the_room_and_stays_there() -> None:
    (cut,) = found(Machine(cools=0.5).cut(2.0, 12 * 60))
    assert cut.lowest_c == pytest.approx(ROOM, abs=0.3)
    assert cut.sure


@pytest.mark.parametrize("chance", range(40))
@pytest.mark.parametrize(("step_min", "noise"), [(5, 0.05), (10, 0.15), (15, 0.4), (60, 0.1)])
def test_a_noisy_steady_curve_raises_no_alarm(chance: int, step_min: int, noise: float) -> None:
    random = np.random.default_rng([chance, step_min])
    at = START + np.arange(0, 21 * DAY, step_min * MINUTE)
    wave = 0.3 * np.sin(2 * np.pi * (at - START) / DAY + chance)
    assert power_cuts(at, LEVEL + wave + noise * random.standard_normal(at.size)) == ()


@pytest.mark.parametrize("minutes", [5, 12, 20, 35, 50])
@pytest.mark.parametrize("step_min", [1, 5, 10])
def test_an_opened_lid_is_no_cut_where_the_humidity_tells(minutes: int, step_min: int) -> None:
    assert found(Machine(chance=minutes).open_lid(3.1, minutes), step_min) == ()


@pytest.mark.parametrize("minutes", [5, 12, 20, 35])
def test_without_a_hygrometer_an_opened_lid_is_never_surely_a_cut(minutes: int) -> None:
    at, degrees, _ = Machine(chance=minutes).open_lid(3.1, minutes).readings(5)
    assert not any(cut.sure for cut in power_cuts(at, degrees, None, ROOM))


def test_a_cut_is_found_without_a_hygrometer_too() -> None:
    at, degrees, _ = Machine().cut(3.0, 110).readings(10)
    (cut,) = power_cuts(at, degrees, None, ROOM)
    assert cut.sure


def test_a_thermostat_set_lower_is_no_cut() -> None:
    machine = Machine()
    machine.level[2 * 1440 : 3 * 1440] = LEVEL - 2.5
    machine.heats = 0.7
    assert found(machine) == ()


def test_a_slow_slide_is_no_cut() -> None:
    machine = Machine()
    machine.level = LEVEL - np.clip((np.arange(machine.minutes) - 2880) / 1440, 0, 2) * 1.5
    assert found(machine) == ()


def test_cold_eggs_at_the_setting_are_no_cut() -> None:
    at, degrees, moist = Machine().readings()
    degrees = degrees - 12 * np.exp(-(at - START) / (2 * HOUR))
    assert power_cuts(at, degrees, moist, ROOM) == ()


def test_a_single_stray_reading_is_no_cut() -> None:
    at, degrees, moist = Machine().readings()
    degrees[300] = 25.0
    assert power_cuts(at, degrees, moist, ROOM) == ()


def test_a_probe_taken_out_is_no_cut() -> None:
    """It falls to the room within minutes, far faster than a machine."""
    at, degrees, moist = Machine().readings(5)
    out = slice(600, 612)
    degrees[out] = ROOM + 14 * np.exp(-np.arange(12) / 1.5)
    moist[out] = 60.0
    assert power_cuts(at, degrees, moist, ROOM) == ()


def test_a_cut_that_is_not_over_has_no_end() -> None:
    (cut,) = found(Machine(days=3.0).cut(2.9, 144))
    assert cut.until is None
    assert cut.at == pytest.approx(START + 2.9 * DAY, abs=10 * MINUTE)


def test_what_begins_in_a_gap_is_not_sure() -> None:
    at, degrees, moist = Machine().cut(3.0, 200).readings()
    keep = (at < START + 2.5 * DAY) | (at > START + 3.0 * DAY + 40 * MINUTE)
    (cut,) = power_cuts(at[keep], degrees[keep], moist[keep], ROOM)
    assert not cut.sure


def test_readings_by_hand_tell_nothing() -> None:
    at = START + np.arange(0, 21 * DAY, DAY // 2)
    degrees = np.full(at.size, LEVEL)
    degrees[7:9] = 30.0
    assert power_cuts(at, degrees) == ()


def test_nothing_read_is_no_cut() -> None:
    assert power_cuts([], []) == ()
    assert power_cuts(START + np.arange(50) * 600, np.full(50, np.nan)) == ()


def curve(*stretch: tuple[float, float], step_min: int = 5) -> tuple[Any, Any]:
    """A steady machine, from day 3 on by points (minutes after it, °C off its level) joined by lines."""
    at = np.arange(0, 6 * 1440, step_min)
    noise = 0.02 * np.random.default_rng(2).standard_normal(at.size)
    minutes, off = zip((0.0, 0.0), *stretch, strict=True)
    return START + at * 60, LEVEL + np.interp(at - 3 * 1440, minutes, off, left=0.0, right=0.0) + noise


def test_a_curve_falls_as_it_is_told() -> None:
    """What the cases below depart from: two degrees in an hour, and back."""
    at, degrees = curve((60, -2.5), (90, 0.0))
    assert len(power_cuts(at, degrees, None, ROOM)) == 1


def test_a_dip_of_a_degree_is_no_cut() -> None:
    at, degrees = curve((60, -1.0), (90, 0.0))
    assert power_cuts(at, degrees, None, ROOM) == ()


def test_a_fall_slower_than_any_machine_cools_is_no_cut() -> None:
    """Two degrees in five hours: two hundredths of what it is warmer than the room in an hour."""
    at, degrees = curve((300, -2.0), (330, 0.0))
    assert power_cuts(at, degrees, None, ROOM) == ()


def test_a_thermostat_set_lower_for_some_hours_is_no_cut() -> None:
    at, degrees = curve((30, -2.2), (60, -2.5), (240, -2.5), (270, 0.0))
    assert power_cuts(at, degrees, None, ROOM) == ()


def test_a_fall_that_goes_up_and_down_is_no_cut() -> None:
    steps = [(20.0 * n, -0.9 * n + (1.2 if n % 2 else 0.0)) for n in range(1, 6)]
    at, degrees = curve(*steps, (120, 0.0))
    assert degrees.min() < LEVEL - 2
    assert power_cuts(at, degrees, None, ROOM) == ()


def test_a_fall_that_grows_faster_is_no_cut() -> None:
    at, degrees = curve((20, -0.2), (40, -0.8), (60, -2.0), (80, -4.0), (100, 0.0))
    assert power_cuts(at, degrees, None, ROOM) == ()


def test_two_falling_readings_are_not_sure() -> None:
    at, degrees = curve((100, -6.0), (130, 0.0), step_min=45)
    (cut,) = power_cuts(at, degrees, None, ROOM)
    assert not cut.sure


def test_readings_two_hours_apart_are_not_looked_into() -> None:
    at, degrees = curve((480, -8.0), (600, 0.0), step_min=120)
    assert degrees.min() < LEVEL - 6
    assert power_cuts(at, degrees, None, ROOM) == ()
