"""What the readings say of a batch's phases, against plain numpy and sums done by hand."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import BatchState, PhaseState, batch_figures
from hatchbook.journal import Duty, Event, ProbeCheck, RecordMissingError
from hatchbook.statistics.averages import HoldReach
from hatchbook.statistics.drift import DriftDirection, DriftVerdict
from hatchbook.trade.codes import CheckMethod, DutyKind, EventKind, PhaseKind, Quantity

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600


def steady(hatchery: Any, from_day: float, to_day: float, humidity: float, step_s: int = 600) -> None:
    """Readings of one humidity between two days, 37.5 °C."""
    at = np.arange(SET_AT + int(from_day * DAY), SET_AT + int(to_day * DAY), step_s)
    hatchery.log(at, humidity, 37.5, name=f"{from_day}.csv")


def test_the_mean_of_a_phase_is_the_integral_of_its_line(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    random = np.random.default_rng(4)
    at = np.unique(SET_AT + np.cumsum(random.integers(300, 1500, 2000)))
    value = 45 + 3 * np.sin(at / 9000) + random.normal(0, 0.5, at.size)
    hatchery.log(at, value, 37.5)
    now = SET_AT + 10 * DAY
    phase = batch_figures(hatchery.journal, batch.uid, now).phases[0]
    # Independently: trapezoids from the first reading to the last until now; no gap is longer than an hour here.
    inside = at <= now
    last = at[inside][-1]
    mean = np.trapezoid(value[inside], at[inside]) / (last - at[0])
    assert phase.humidity.mean == pytest.approx(mean)
    assert phase.humidity.known_share == pytest.approx((last - at[0]) / (10 * DAY))
    assert phase.temperature.mean == pytest.approx(37.5)
    assert phase.temperature.verdict is DriftVerdict.ON_AIM
    assert phase.humidity.average.count == inside.sum()


def test_a_running_phase_says_what_to_hold_from_now_on(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 10.01, 50.0)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 10 * DAY)
    phase = figures.phases[0]
    assert (phase.elapsed_h, phase.remaining_h) == (240.0, 192.0)
    # (45 · 18 d − 50 · 10 d) / 8 d = 38.75; the edges the same way
    assert phase.hold.aim == pytest.approx(38.75)
    assert phase.hold.low == pytest.approx((40 * 18 - 500) / 8)
    assert phase.hold.high == pytest.approx((50 * 18 - 500) / 8)
    assert figures.phases[1].hold is None
    assert figures.phase is phase


def test_lockdown_has_a_hold_of_its_own(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 18, 50.0)
    steady(hatchery, 18, 19.01, 60.0)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 19 * DAY)
    incubation, lockdown = figures.phases
    assert incubation.state is PhaseState.OVER
    assert incubation.hold is None
    assert incubation.remaining_h == 0
    assert lockdown.humidity.mean == pytest.approx(60.0)
    # (65 · 3 d − 60 · 1 d) / 2 d
    assert lockdown.hold.aim == pytest.approx(67.5)
    assert figures.phase.kind is PhaseKind.LOCKDOWN


def test_a_machine_can_not_hold_what_it_never_held(hatchery: Any) -> None:
    earlier = hatchery.add_batch(SET_AT - 60 * DAY)
    for day in range(18):
        begin = SET_AT - 60 * DAY + day * DAY
        hatchery.log(np.arange(begin, begin + DAY, 1800), 42.0 + day / 2, name=f"earlier {day}.csv")
    hatchery.close(earlier, 21)
    batch = hatchery.add_batch()
    steady(hatchery, 0, 12.01, 50.0)
    hold = batch_figures(hatchery.journal, batch.uid, SET_AT + 12 * DAY).phases[0].hold
    # (45 · 18 − 50 · 12) / 6 = 35; the driest day was the first of the earlier batch, the moistest its last
    assert hold.aim == pytest.approx(35.0)
    assert hold.reach is HoldReach.DRIER_THAN_EVER
    assert (hold.reachable_low, hold.reachable_high) == pytest.approx((42.0, 50.5))
    assert hold.nearest == pytest.approx(42.0)


def test_with_few_days_of_evidence_nothing_is_out_of_reach(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 4.01, 50.0)
    hold = batch_figures(hatchery.journal, batch.uid, SET_AT + 4 * DAY).phases[0].hold
    assert (hold.reachable_low, hold.reachable_high) == (0.0, 100.0)
    steady(hatchery, 4.02, 5.01, 50.0)
    hold = batch_figures(hatchery.journal, batch.uid, SET_AT + 5 * DAY).phases[0].hold
    assert (hold.reachable_low, hold.reachable_high) == pytest.approx((50.0, 50.0))


def test_a_drifted_phase_says_so_and_since_when(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 3, 45.0)
    steady(hatchery, 3, 9, 54.0)
    humidity = batch_figures(hatchery.journal, batch.uid, SET_AT + 9 * DAY).phases[0].humidity
    assert humidity.verdict is DriftVerdict.HIGH
    assert humidity.direction is DriftDirection.UP
    assert humidity.since_day == 3
    assert humidity.mean == pytest.approx((3 * 45 + 6 * 54) / 9, abs=0.01)


def test_without_readings_there_is_no_mean(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch()
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 5 * DAY)
    assert figures.state is BatchState.RUNNING
    assert [(p.humidity, p.temperature, p.hold, p.plus_minus) for p in figures.phases] == [(None,) * 4] * 2
    assert figures.probe_name == ""
    assert figures.last_reading is None
    assert as_json(figures)["phases"][0]["humidity"] is None


def test_one_reading_gives_a_mean_and_no_verdict(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log([SET_AT + DAY], 47.0)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 5 * DAY)
    humidity = figures.phases[0].humidity
    assert humidity.mean == 47.0
    assert humidity.verdict is DriftVerdict.TOO_LITTLE_KNOWN
    assert figures.phases[0].temperature is None
    assert figures.last_reading.humidity == 47.0
    assert figures.last_reading.temperature_c is None
    assert as_json(figures)["phases"][0]["humidity"]["share_inside"] is None


def test_a_reading_at_the_very_beginning_is_a_mean_at_once(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log([SET_AT], 47.0, 37.5)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT)
    assert figures.phases[0].state is PhaseState.RUNNING
    assert figures.phases[0].humidity.mean == 47.0
    assert as_json(figures)["phases"][0]["elapsed_h"] == 0.0


def test_a_planned_batch_has_all_before_it(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(duties=[Duty(DutyKind.TURN, SET_AT)])
    hatchery.log(np.arange(SET_AT - 5 * DAY, SET_AT, 600), 30.0)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT - 2 * DAY)
    assert figures.state is BatchState.PLANNED
    assert figures.day == -2.0
    assert [phase.state for phase in figures.phases] == [PhaseState.TO_COME] * 2
    assert [phase.humidity for phase in figures.phases] == [None, None]
    assert (figures.phases[0].elapsed_h, figures.phases[0].remaining_h) == (0.0, 18 * 24.0)
    assert figures.phases[0].turns_due == 0
    assert figures.phase is figures.phases[0]
    as_json(figures)


def test_a_batch_closed_before_lockdown_has_a_mean_until_then(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 25, 45.0)
    hatchery.close(batch, 10)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 30 * DAY)
    assert figures.state is BatchState.CLOSED
    assert figures.day == 10.0
    assert [phase.state for phase in figures.phases] == [PhaseState.OVER] * 2
    assert [phase.elapsed_h for phase in figures.phases] == [240.0, 0.0]
    assert figures.phases[0].humidity.known_share == pytest.approx(1.0)
    assert figures.phases[1].humidity is None
    assert [phase.remaining_h for phase in figures.phases] == [0.0, 0.0]
    assert figures.last_reading.at <= SET_AT + 10 * DAY
    as_json(figures)


def test_a_batch_never_closed_is_followed_for_a_week_after_the_hatch(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 60, 45.0, step_s=3000)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 60 * DAY)
    assert figures.state is BatchState.RUNNING
    assert figures.day == 60.0
    assert figures.phases[1].state is PhaseState.OVER
    assert figures.phase is figures.phases[1]
    assert figures.phases[1].humidity.mean == pytest.approx(45.0)
    assert SET_AT + 27.9 * DAY < figures.last_reading.at <= SET_AT + 28 * DAY


def test_days_are_of_24_hours_when_the_clocks_change(hatchery: Any) -> None:
    # Lisbon puts the clocks back on 2026-10-25 at 01:00 UTC.
    set_at = 1_792_864_800 - 2 * DAY - 2 * HOUR
    batch = hatchery.add_batch(set_at)
    at = np.arange(set_at, set_at + 6 * DAY, 900)
    hatchery.log(at, 40.0 + (at - set_at) // DAY, 37.5)
    phase = batch_figures(hatchery.journal, batch.uid, set_at + 5 * DAY).phases[0]
    daily = phase.humidity.daily
    assert np.array_equal(daily.start_s, set_at + DAY * np.arange(5))
    # Over the last quarter of an hour of a day the line climbs by the point to the next: half of it on average.
    expected = 40 + np.arange(5) + 0.5 * 900 / DAY
    assert daily.mean == pytest.approx(expected)
    assert phase.remaining_h == 13 * 24.0


@pytest.mark.parametrize(
    ("checked_days_before", "accuracy", "expected"),
    [
        (None, None, 5.0),
        (30, None, 1.9),
        (200, None, 5.0),
        (-3, None, 1.9),
        (200, 1.5, 1.5),
        (None, 3.0, 3.0),
    ],
)
def test_the_hygrometer_is_as_good_as_its_last_check(
    hatchery: Any, checked_days_before: float | None, accuracy: float | None, expected: float
) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 2, 45.0)
    if accuracy is not None:
        hatchery.journal.probes.replace(dataclasses.replace(hatchery.probe, accuracy_humidity=accuracy))
    now = SET_AT + 5 * DAY
    if checked_days_before is not None:
        at = now - int(checked_days_before * DAY)
        check = ProbeCheck(hatchery.probe.uid, at, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 75.3)
        hatchery.journal.probes.add_check(check)
        temperature = dataclasses.replace(check, quantity=Quantity.TEMPERATURE, uid="0" * 16)
        hatchery.journal.probes.add_check(temperature)
    later = now + (10 * DAY if checked_days_before == -3 else 0)
    phase = batch_figures(hatchery.journal, batch.uid, later).phases[0]
    assert phase.plus_minus == pytest.approx(expected, abs=0.05)


def test_a_temperature_check_says_nothing_of_the_humidity(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    steady(hatchery, 0, 2, 45.0)
    check = ProbeCheck(hatchery.probe.uid, SET_AT, Quantity.TEMPERATURE, CheckMethod.REFERENCE, 37.5, 37.7)
    hatchery.journal.probes.add_check(check)
    assert batch_figures(hatchery.journal, batch.uid, SET_AT + DAY).phases[0].plus_minus == 5.0


def test_turnings_are_counted_once_however_they_were_noted(hatchery: Any) -> None:
    turns = [Duty(DutyKind.TURN, SET_AT + n * 8 * HOUR, ordinal=n % 3 + 1, of=3) for n in range(1, 10)]
    batch = hatchery.add_batch(duties=[*turns, Duty(DutyKind.CANDLE, SET_AT + DAY)])
    journal = hatchery.journal
    duties = [duty for duty in journal.duties.of_batch(batch.uid) if duty.kind is DutyKind.TURN]
    for duty in duties[:2]:
        journal.duties.tick(duty, duty.due_at + 60)
    # Two more ticked at one instant, one ticked in advance, one turned without a duty, by the machine's event.
    for duty in duties[2:4]:
        journal.duties.tick(duty, SET_AT + 34 * HOUR)
    journal.duties.tick(duties[8], SET_AT + 35 * HOUR)
    journal.events.add(Event(SET_AT + 36 * HOUR, EventKind.TURNED, batch=batch.uid))
    journal.events.add(Event(SET_AT + 37 * HOUR, EventKind.TURNED, machine=hatchery.machine.uid))
    phases = batch_figures(journal, batch.uid, SET_AT + 40 * HOUR).phases
    assert (phases[0].turns_due, phases[0].turns_done) == (5, 6)
    assert (phases[1].turns_due, phases[1].turns_done) == (0, 0)


def test_a_band_given_as_one_value_is_judged_with_what_instruments_can_tell(hatchery: Any) -> None:
    one = {"humidity_low": 45.0, "humidity_high": 45.0, "temperature_low_c": 37.5, "temperature_high_c": 37.5}
    batch = hatchery.add_batch(phases=one)
    steady(hatchery, 0, 5, 45.3)
    phase = batch_figures(hatchery.journal, batch.uid, SET_AT + 5 * DAY).phases[0]
    assert phase.humidity_band.low == phase.humidity_band.high == 45.0
    assert phase.humidity.verdict is not DriftVerdict.HIGH
    assert phase.temperature.verdict is DriftVerdict.ON_AIM


@pytest.mark.parametrize(("off", "inside"), [(0.3, True), (0.9, False)])
def test_a_humidity_of_one_value_may_be_half_a_point_off(hatchery: Any, off: float, inside: bool) -> None:
    batch = hatchery.add_batch(phases={"humidity_low": 45.0, "humidity_high": 45.0})
    steady(hatchery, 0, 10, 45.0 + off)
    drift = batch_figures(hatchery.journal, batch.uid, SET_AT + 10 * DAY).phases[0].humidity
    assert (drift.verdict is DriftVerdict.HIGH) == (not inside)


@pytest.mark.parametrize(("off", "inside"), [(0.05, True), (0.4, False)])
def test_a_temperature_of_one_value_may_be_a_tenth_off(hatchery: Any, off: float, inside: bool) -> None:
    one = 37.5 - off
    batch = hatchery.add_batch(
        phases={"temperature_low_c": one, "temperature_aim_c": one, "temperature_high_c": one}
    )
    steady(hatchery, 0, 10, 45.0)
    drift = batch_figures(hatchery.journal, batch.uid, SET_AT + 10 * DAY).phases[0].temperature
    assert (drift.verdict is DriftVerdict.HIGH) == (not inside)


def test_a_batch_that_is_gone_is_named_as_missing(hatchery: Any) -> None:
    with pytest.raises(RecordMissingError):
        batch_figures(hatchery.journal, "nothing", SET_AT)
