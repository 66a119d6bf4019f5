"""Checks correct every figure from their instant on, while the journal keeps what the probe showed."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_curves, batch_figures, room_air
from hatchbook.figures.corrections import (
    UNCHECKED_PLUS_MINUS,
    correction_preview,
    correction_with,
    plus_minus_between,
    probe_corrections,
)
from hatchbook.figures.reach import machine_reach
from hatchbook.journal import ProbeCheck
from hatchbook.statistics.calibration import CorrectionKind
from hatchbook.trade.codes import CheckMethod, Quantity
from tests.figures.conftest import DAY, SET_AT

NOW = SET_AT + 8 * DAY


def salt_check(probe: Any, at: int, shown: float, salt: str = "NaCl", known: float = 75.3) -> ProbeCheck:
    return ProbeCheck(probe.uid, at, Quantity.HUMIDITY, CheckMethod.SALT, known, shown, salt, 25.0)


def filled(hatchery: Any) -> Any:
    batch = hatchery.add_batch()
    at = np.arange(SET_AT, NOW + 1, 600)
    hatchery.log(at, np.full(at.size, 47.0), np.full(at.size, 37.8))
    return batch


def test_the_mean_and_what_to_hold_follow_from_corrected_readings(hatchery: Any) -> None:
    batch = filled(hatchery)
    hatchery.journal.probes.add_check(salt_check(hatchery.probe, SET_AT - DAY, 77.3))
    figures = batch_figures(hatchery.journal, batch.uid, NOW)
    phase = figures.phases[0]
    assert phase.humidity.mean == pytest.approx(45.0)
    assert phase.hold.aim == pytest.approx(45.0)
    assert figures.last_reading.humidity == pytest.approx(45.0)
    # The temperature has a check of its own, or none.
    assert figures.last_reading.temperature_c == 37.8


def test_a_check_between_changes_only_what_comes_after_it(hatchery: Any) -> None:
    batch = filled(hatchery)
    checked_at = SET_AT + 4 * DAY
    hatchery.journal.probes.add_check(salt_check(hatchery.probe, checked_at, 77.3))
    curves = batch_curves(hatchery.journal, batch.uid, NOW)
    before = curves.at < checked_at
    assert (curves.humidity[before] == 47.0).all()
    assert curves.humidity[~before] == pytest.approx(45.0)
    assert curves.corrected
    assert (curves.shown_humidity == 47.0).all()
    assert curves.shown_temperature_c is None


def test_the_journal_keeps_what_the_probe_showed(hatchery: Any) -> None:
    filled(hatchery)
    hatchery.journal.probes.add_check(salt_check(hatchery.probe, SET_AT - DAY, 77.3))
    series = hatchery.journal.readings.series(hatchery.probe.number, SET_AT, NOW)
    assert (series.humidity == 47.0).all()


def test_a_check_taken_back_leaves_no_trace(hatchery: Any) -> None:
    batch = filled(hatchery)
    plain = batch_figures(hatchery.journal, batch.uid, NOW).as_dict()
    hatchery.journal.probes.add_check(salt_check(hatchery.probe, SET_AT - DAY, 77.3))
    assert batch_figures(hatchery.journal, batch.uid, NOW).as_dict() != plain
    hatchery.journal.undo()
    assert batch_figures(hatchery.journal, batch.uid, NOW).as_dict() == plain
    assert not batch_curves(hatchery.journal, batch.uid, NOW).corrected


def test_a_thermometer_is_corrected_beside_a_reference(hatchery: Any) -> None:
    batch = filled(hatchery)
    check = ProbeCheck(hatchery.probe.uid, SET_AT, Quantity.TEMPERATURE, CheckMethod.REFERENCE, 37.5, 37.8)
    hatchery.journal.probes.add_check(check)
    phase = batch_figures(hatchery.journal, batch.uid, NOW).phases[0]
    assert phase.temperature.mean == pytest.approx(37.5)
    assert phase.humidity.mean == pytest.approx(47.0)


def test_what_the_machine_ever_held_and_the_room_are_corrected_too(hatchery: Any) -> None:
    filled(hatchery)
    room = hatchery.add_probe("Wall", None)
    hatchery.log([NOW - 60], [52.0], [20.0], probe=room, name="room.csv")
    for probe in (hatchery.probe, room):
        hatchery.journal.probes.add_check(salt_check(probe, SET_AT - DAY, 77.3))
    reach = machine_reach(hatchery.journal, hatchery.machine.uid, NOW)
    assert (reach.low, reach.high) == (pytest.approx(45.0), pytest.approx(45.0))
    assert room_air(hatchery.journal, NOW).humidity == pytest.approx(50.0)


def test_what_a_new_check_would_do_is_known_before_it_is_stored(hatchery: Any) -> None:
    first = salt_check(hatchery.probe, SET_AT, 77.3)
    alone = correction_with(hatchery.journal, [first])
    assert (alone.kind, alone.offset) == (CorrectionKind.OFFSET, pytest.approx(-2.0))
    assert hatchery.journal.probes.checks(hatchery.probe.uid) == []
    hatchery.journal.probes.add_check(first)
    second = salt_check(hatchery.probe, SET_AT + DAY, 33.8, "MgCl2", 32.8)
    both = correction_with(hatchery.journal, [second])
    assert both.kind is CorrectionKind.LINE
    hatchery.journal.probes.add_check(second)
    assert probe_corrections(hatchery.journal, hatchery.probe).humidity == (both,)
    assert [point.uncertainty for point in both.points] == [0.2, 0.2]
    now = correction_preview(hatchery.journal, [second], without=second.uid)
    # It is said how right the probe is about the middle of what machines hold.
    assert (now.value, now.plus_minus) == (45.0, pytest.approx(both.residual(45.0)))


# ---------------------------------------------------------------- plus and minus


def halves(hatchery: Any, *checks: ProbeCheck, accuracy: float | None = None, now: int = NOW) -> float:
    for check in checks:
        hatchery.journal.probes.add_check(check)
    of_probe = probe_corrections(hatchery.journal, hatchery.probe).humidity
    return plus_minus_between(of_probe, accuracy, SET_AT, SET_AT + 4 * DAY, 45.0, 0.0, now)


def test_without_a_check_the_probes_own_accuracy_counts(hatchery: Any) -> None:
    assert halves(hatchery) == UNCHECKED_PLUS_MINUS
    assert halves(hatchery, accuracy=3.0) == 3.0


def test_two_salts_halve_what_one_leaves(hatchery: Any) -> None:
    one = halves(hatchery, salt_check(hatchery.probe, SET_AT - DAY, 76.0), accuracy=3.0)
    two = halves(hatchery, salt_check(hatchery.probe, SET_AT - DAY, 33.0, "MgCl2", 32.8), accuracy=3.0)
    assert one == pytest.approx(1.8, abs=0.1)
    assert two == pytest.approx(0.8, abs=0.1)


def test_a_check_tells_for_half_a_year_while_its_correction_stays(hatchery: Any) -> None:
    old = salt_check(hatchery.probe, SET_AT - 200 * DAY, 77.3)
    assert halves(hatchery, old, accuracy=3.0) == 3.0
    assert probe_corrections(hatchery.journal, hatchery.probe).humidity[0].until_at is None


def test_what_a_first_check_finds_off_makes_the_time_before_it_less_sure(hatchery: Any) -> None:
    right = halves(hatchery, salt_check(hatchery.probe, SET_AT + 6 * DAY, 75.3))
    assert right == pytest.approx(1.8, abs=0.1)
    # Not known yet at that instant.
    assert halves(hatchery, now=SET_AT + 5 * DAY) == UNCHECKED_PLUS_MINUS
    hatchery.journal.undo()
    off = halves(hatchery, salt_check(hatchery.probe, SET_AT + 6 * DAY, 79.3))
    assert off == pytest.approx(right + 4.0)


def test_parts_of_a_stretch_count_by_their_time(hatchery: Any) -> None:
    check = salt_check(hatchery.probe, SET_AT + 3 * DAY, 77.3)
    residual = correction_with(hatchery.journal, [check]).residual(45.0)
    assert halves(hatchery, check) == pytest.approx(0.75 * (residual + 2.0) + 0.25 * residual)


def test_a_refused_session_leaves_the_probes_own_accuracy(hatchery: Any) -> None:
    wrong = [
        salt_check(hatchery.probe, SET_AT - DAY, 33.0),
        salt_check(hatchery.probe, SET_AT - DAY, 75.0, "MgCl2", 32.8),
    ]
    assert halves(hatchery, *wrong, accuracy=2.5) == 2.5


def test_a_check_without_a_salt_of_the_table_is_trusted_less(hatchery: Any) -> None:
    own = ProbeCheck(hatchery.probe.uid, SET_AT, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.0, "x", 25.0)
    assert correction_with(hatchery.journal, [own]).points[0].uncertainty == 0.5
