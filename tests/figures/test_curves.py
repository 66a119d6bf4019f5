"""What the chart draws of a batch."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_curves, batch_figures
from hatchbook.journal import Duty, Event
from hatchbook.trade.codes import DutyKind, EventKind

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600


def test_the_running_mean_begins_anew_with_each_phase(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at = np.arange(SET_AT, SET_AT + 21 * DAY, 900)
    random = np.random.default_rng(11)
    value = np.where(at < SET_AT + 18 * DAY, 45.0, 65.0) + random.normal(0, 1, at.size)
    hatchery.log(at, value, 37.5)
    now = SET_AT + 20 * DAY
    curves = batch_curves(hatchery.journal, batch.uid, now)
    parting = np.flatnonzero(np.isnan(curves.running_mean))
    assert parting.size == 1
    assert np.all(np.diff(curves.running_at) >= 0)
    # Independently: the trapezoids summed up, in each phase from its first reading on.
    first, second = np.split(np.arange(curves.running_at.size), parting)
    for rows, begin in ((first, SET_AT), (second[1:], SET_AT + 18 * DAY)):
        inside = (at >= begin) & (at <= curves.running_at[rows[-1]])
        t, v = at[inside], value[inside]
        area = np.concatenate(([0.0], np.cumsum(np.diff(t) * (v[1:] + v[:-1]) / 2)))
        assert np.array_equal(curves.running_at[rows], t)
        assert curves.running_mean[rows][1:] == pytest.approx(area[1:] / (t[1:] - begin))
    figures = batch_figures(hatchery.journal, batch.uid, now)
    assert curves.running_mean[-1] == pytest.approx(figures.phases[1].humidity.mean, abs=0.01)
    assert curves.running_mean[first[-1]] == pytest.approx(figures.phases[0].humidity.mean, abs=0.01)


def test_silences_are_told_with_the_time_before_and_after(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    begin, silent, again, end = (SET_AT + n * HOUR for n in (5, 40, 60, 90))
    at = np.concatenate((np.arange(begin, silent + 1, 600), np.arange(again, end + 1, 600)))
    hatchery.log(at, 45.0)
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT + 100 * HOUR)
    assert curves.unknown.tolist() == [
        [SET_AT, begin],
        [silent, again],
        [end, SET_AT + 100 * HOUR],
    ]


def test_a_batch_without_readings_is_unknown_all_through(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT + 19 * DAY)
    assert curves.unknown.tolist() == [
        [SET_AT, SET_AT + 18 * DAY],
        [SET_AT + 18 * DAY, SET_AT + 19 * DAY],
    ]
    assert curves.at.size == curves.humidity.size == curves.running_at.size == 0


def test_a_planned_batch_has_axes_and_nothing_on_them(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT - DAY)
    assert (curves.start_at, curves.end_at) == (SET_AT, SET_AT + 21 * DAY)
    assert curves.unknown.shape == (0, 2)
    assert curves.running_mean.size == 0


def test_the_axis_grows_while_a_hatch_is_late(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log(np.arange(SET_AT, SET_AT + 23 * DAY, 600), 45.0)
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT + 22 * DAY)
    assert curves.end_at == SET_AT + 22 * DAY
    assert curves.at[-1] == SET_AT + 22 * DAY
    assert curves.running_at[-1] <= SET_AT + 21 * DAY
    hatchery.close(batch, 21.5)
    assert batch_curves(hatchery.journal, batch.uid, SET_AT + 30 * DAY).end_at == SET_AT + int(21.5 * DAY)


def test_events_of_the_machine_are_the_batch_s_while_it_lies_there(hatchery: Any) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    batch = hatchery.add_batch(
        lockdown={"machine": hatcher.uid}, duties=[Duty(DutyKind.CANDLE, SET_AT + 7 * DAY)]
    )
    events = hatchery.journal.events
    for day, machine in ((-1, hatchery.machine), (2, hatcher), (3, hatchery.machine), (19, hatcher)):
        events.add(Event(SET_AT + day * DAY, EventKind.WATER, machine.uid, channels_filled=1))
    events.add(Event(SET_AT + 19 * DAY, EventKind.VENT, hatchery.machine.uid, vent=0.5))
    events.add(Event(SET_AT + 4 * DAY, EventKind.NOTE, batch=batch.uid, text="smells well"))
    curves = batch_curves(hatchery.journal, batch.uid, SET_AT + 20 * DAY)
    assert [(event.at - SET_AT) // DAY for event in curves.events] == [3, 4, 19]
    assert [duty.kind for duty in curves.duties] == [DutyKind.CANDLE]
