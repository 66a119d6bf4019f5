"""Whose readings count: several probes, a probe that was moved, a hatcher, a thermometer beside a hygrometer."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_curves, batch_figures, batch_view
from hatchbook.journal.readings import Readings

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600
NOW = SET_AT + 10 * DAY


def span(from_day: float, to_day: float, step_s: int = 600) -> np.ndarray:
    return np.arange(SET_AT + int(from_day * DAY), SET_AT + int(to_day * DAY), step_s)


def test_the_probe_that_covers_most_of_the_time_counts(hatchery: Any) -> None:
    other = hatchery.add_probe("A2", hatchery.machine)
    batch = hatchery.add_batch()
    hatchery.log(span(0, 4, 60), 50.0)
    hatchery.log(span(0, 9), 44.0, probe=other)
    figures = batch_figures(hatchery.journal, batch.uid, NOW)
    assert figures.probe_name == "A2"
    assert figures.phases[0].humidity.mean == pytest.approx(44.0)
    assert figures.phases[0].probe_name == "A2"


def test_the_probe_of_the_room_never_counts(hatchery: Any) -> None:
    room = hatchery.add_probe("Room", None)
    batch = hatchery.add_batch()
    hatchery.log(span(0, 10), 50.0, probe=room)
    hatchery.log(span(0, 1), 44.0)
    figures = batch_figures(hatchery.journal, batch.uid, NOW)
    assert figures.probe_name == "P1"


def test_the_batch_s_own_probe_counts_whatever_others_cover(hatchery: Any) -> None:
    other = hatchery.add_probe("A2", hatchery.machine)
    batch = hatchery.add_batch(probe=hatchery.probe.uid)
    hatchery.log(span(0, 4), 50.0)
    hatchery.log(span(0, 9), 44.0, probe=other)
    assert batch_figures(hatchery.journal, batch.uid, NOW).phases[0].humidity.mean == pytest.approx(50.0)


def test_the_batch_s_own_probe_need_not_have_a_place_noted(hatchery: Any) -> None:
    batch = hatchery.add_batch(probe=hatchery.probe.uid)
    hatchery.forget_places(hatchery.probe)
    hatchery.log(span(0, 4), 50.0)
    assert batch_figures(hatchery.journal, batch.uid, NOW).probe_name == "P1"


def test_the_batch_s_own_probe_does_not_count_while_it_hung_elsewhere(hatchery: Any) -> None:
    batch = hatchery.add_batch(probe=hatchery.probe.uid)
    hatchery.log(span(0, 10), np.where(span(0, 10) < SET_AT + 4 * DAY, 45.0, 80.0))
    hatchery.hang(hatchery.probe, None, SET_AT + 4 * DAY)
    humidity = batch_figures(hatchery.journal, batch.uid, NOW).phases[0].humidity
    assert humidity.mean == pytest.approx(45.0)
    assert humidity.known_share == pytest.approx(0.4, abs=0.001)


def test_where_the_own_probe_says_nothing_another_of_the_machine_does(hatchery: Any) -> None:
    other = hatchery.add_probe("A2", hatchery.machine)
    batch = hatchery.add_batch(probe=hatchery.probe.uid)
    hatchery.log(span(0, 9), 44.0, probe=other)
    assert batch_figures(hatchery.journal, batch.uid, NOW).probe_name == "A2"


def test_a_probe_moved_to_another_machine_takes_its_readings_with_it(hatchery: Any) -> None:
    second = hatchery.add_machine("Old one")
    batch = hatchery.add_batch()
    there = hatchery.add_batch(machine=second.uid)
    values = np.where(span(0, 10) < SET_AT + 6 * DAY, 42.0, 55.0)
    hatchery.log(span(0, 10), values)
    hatchery.hang(hatchery.probe, second, SET_AT + 6 * DAY)
    here, other = (batch_view(hatchery.journal, uid, NOW) for uid in (batch.uid, there.uid))
    assert here[0].phases[0].humidity.mean == pytest.approx(42.0)
    assert here[0].phases[0].humidity.known_share == pytest.approx(0.6, abs=0.001)
    assert other[0].phases[0].humidity.mean == pytest.approx(55.0)
    assert set(here[1].humidity) == {42.0}
    assert set(other[1].humidity) == {55.0}
    assert here[1].at[-1] < SET_AT + 6 * DAY <= other[1].at[0]
    assert here[1].unknown[-1].tolist() == [int(here[1].at[-1]), NOW]


def test_lockdown_in_a_hatcher_is_read_there(hatchery: Any) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    there = hatchery.add_probe("H1", hatcher)
    batch = hatchery.add_batch(lockdown={"machine": hatcher.uid})
    hatchery.log(span(0, 21), 45.0)
    hatchery.log(span(0, 21), 66.0, probe=there)
    figures, curves = batch_view(hatchery.journal, batch.uid, SET_AT + 20 * DAY)
    assert [phase.humidity.mean for phase in figures.phases] == pytest.approx([45.0, 66.0])
    assert [phase.machine_name for phase in figures.phases] == ["Blue one", "Hatcher"]
    assert [phase.probe_name for phase in figures.phases] == ["P1", "H1"]
    assert (figures.probe_name, figures.last_reading.probe_name) == ("H1", "H1")
    lockdown = curves.at >= SET_AT + 18 * DAY
    assert set(curves.humidity[~lockdown]) == {45.0}
    assert set(curves.humidity[lockdown]) == {66.0}
    assert np.all(np.diff(curves.at) > 0)


def test_a_hygrometer_and_a_thermometer_are_read_together(hatchery: Any) -> None:
    thermometer = hatchery.add_probe("T", hatchery.machine)
    batch = hatchery.add_batch()
    hatchery.log(span(0, 5, 1800), 45.0)
    hatchery.log(span(0, 9, 600), temperature_c=37.6, probe=thermometer)
    figures, curves = batch_view(hatchery.journal, batch.uid, NOW)
    assert figures.phases[0].humidity.mean == pytest.approx(45.0)
    assert figures.phases[0].temperature.mean == pytest.approx(37.6)
    assert figures.probe_name == "P1"
    assert curves.at.shape == curves.humidity.shape == curves.temperature_c.shape
    assert np.isfinite(curves.temperature_c).all()
    assert np.isfinite(curves.humidity).sum() == span(0, 5, 1800).size
    assert np.array_equal(curves.at[np.isfinite(curves.humidity)], span(0, 5, 1800))


def test_the_hygrometer_s_own_temperature_goes_before_another_thermometer(hatchery: Any) -> None:
    thermometer = hatchery.add_probe("T", hatchery.machine)
    batch = hatchery.add_batch()
    hatchery.log(span(0, 5), 45.0, 37.4)
    hatchery.log(span(0, 9), temperature_c=37.6, probe=thermometer)
    figures = batch_figures(hatchery.journal, batch.uid, NOW)
    assert figures.phases[0].temperature.mean == pytest.approx(37.4)


def test_a_thermometer_alone_is_better_than_nothing(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log(span(0, 9), temperature_c=37.6)
    figures = batch_figures(hatchery.journal, batch.uid, NOW)
    assert figures.probe_name == "P1"
    assert figures.phases[0].humidity is None
    assert figures.phases[0].plus_minus is None
    assert figures.phases[0].temperature.mean == pytest.approx(37.6)
    assert figures.last_reading.humidity is None


def test_readings_after_the_given_instant_are_not_looked_at(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log(span(0, 10), np.where(span(0, 10) < SET_AT + 5 * DAY, 45.0, 80.0))
    figures, curves = batch_view(hatchery.journal, batch.uid, SET_AT + 5 * DAY - 1)
    assert figures.phases[0].humidity.mean == pytest.approx(45.0)
    assert curves.at[-1] < SET_AT + 5 * DAY


def test_a_line_runs_into_a_phase_from_before_it(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.log([SET_AT - 6 * HOUR, SET_AT + 6 * HOUR, SET_AT + 18 * HOUR], [40.0, 50.0, 50.0])
    humidity = batch_figures(hatchery.journal, batch.uid, SET_AT + 18 * HOUR).phases[0].humidity
    # From 45 at setting to 50 in 6 h, then 12 h at 50.
    assert humidity.mean == pytest.approx((47.5 * 6 + 50 * 12) / 18)
    assert humidity.known_share == 1.0


def test_the_readings_of_a_batch_are_read_once_for_figures_and_curves(
    hatchery: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = hatchery.add_probe("A2", hatchery.machine)
    batch = hatchery.add_batch()
    hatchery.log(span(0, 20), 45.0)
    hatchery.log(span(0, 20), 46.0, probe=other)
    asked: list[int] = []
    plain = Readings.series

    def counted(self: Any, probe: int, start_at: int, end_at: int) -> Any:
        asked.append(probe)
        return plain(self, probe, start_at, end_at)

    monkeypatch.setattr(Readings, "series", counted)
    figures, curves = batch_view(hatchery.journal, batch.uid, SET_AT + 19 * DAY)
    assert sorted(asked) == [1, 2]
    monkeypatch.undo()
    assert figures.as_dict() == batch_figures(hatchery.journal, batch.uid, SET_AT + 19 * DAY).as_dict()
    alone = batch_curves(hatchery.journal, batch.uid, SET_AT + 19 * DAY)
    for field in dataclasses.fields(curves):
        one, two = getattr(curves, field.name), getattr(alone, field.name)
        if isinstance(one, np.ndarray):
            assert np.array_equal(one, two, equal_nan=one.dtype.kind == "f"), field.name
