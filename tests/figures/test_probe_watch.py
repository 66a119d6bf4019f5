"""The probes of a machine watched: corrections, the same value for hours, differences."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_curves
from hatchbook.figures.probe_watch import probe_watch
from hatchbook.journal import ProbeCheck
from hatchbook.trade.codes import CheckMethod, Quantity
from tests.figures.conftest import DAY, HOUR, SET_AT

NOW = SET_AT + 14 * DAY


def lively(seed: int, offset: float = 0.0, drift: float = 0.0) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """A fortnight, a reading every ten minutes, in one air that all seeds share."""
    at = np.arange(SET_AT, NOW + 1, 600)
    air = 45.0 + 2.0 * np.sin((at - SET_AT) / 40_000.0)
    rng = np.random.default_rng(seed)
    shown = air + offset + drift * (at - SET_AT) / (14 * DAY) + rng.normal(0.0, 0.3, at.size)
    return at, np.round(shown, 1), np.round(37.6 + rng.normal(0.0, 0.1, at.size), 1)


def test_a_lone_healthy_probe_has_nothing_to_look_after(hatchery: Any, as_json: Any) -> None:
    hatchery.log(*lively(1))
    watch = probe_watch(hatchery.journal, hatchery.machine.uid, NOW)
    (flags,) = watch.probes
    assert (flags.name, flags.last_at, flags.stuck, flags.difference) == ("P1", NOW, (), None)
    assert (flags.correction, flags.plus_minus, flags.plus_minus_c) == (None, 5.0, 0.5)
    assert not flags.flagged
    assert as_json(watch)["probes"][0]["flagged"] is False


def test_the_correction_of_now_is_told_with_what_it_leaves(hatchery: Any) -> None:
    hatchery.log(*lively(1))
    for at, shown in ((SET_AT - DAY, 77.3), (SET_AT + 5 * DAY, 78.3), (NOW + DAY, 70.0)):
        check = ProbeCheck(
            hatchery.probe.uid, at, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, shown, "NaCl", 25.0
        )
        hatchery.journal.probes.add_check(check)
    (flags,) = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert flags.correction.offset == pytest.approx(-3.0)
    assert flags.plus_minus == pytest.approx(2.0, abs=0.2)
    assert flags.temperature_correction is None


def test_the_same_value_for_nine_hours_is_told_and_whether_it_goes_on(hatchery: Any) -> None:
    at, humidity, temperature = lively(1)
    humidity[-55:], temperature[-55:] = 45.3, 37.4
    hatchery.log(at, humidity, temperature)
    (flags,) = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert flags.stuck_now is not None
    assert flags.stuck_now.seconds == 9 * HOUR
    assert flags.flagged
    hatchery.log([NOW + 600], [46.0], [37.6], name="more.csv")
    (flags,) = probe_watch(hatchery.journal, hatchery.machine.uid, NOW + 600).probes
    assert len(flags.stuck) == 1
    assert flags.stuck_now is None


def test_a_probe_that_drifts_from_the_others_is_flagged(hatchery: Any) -> None:
    second, third = (hatchery.add_probe(name, hatchery.machine) for name in ("P2", "P3"))
    hatchery.log(*lively(1))
    hatchery.log(*lively(2, drift=5.0), probe=second, name="two.csv")
    hatchery.log(*lively(3), probe=third, name="three.csv")
    flags = {one.name: one for one in probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes}
    assert {name: one.drifting for name, one in flags.items()} == {"P1": False, "P2": True, "P3": False}
    assert flags["P2"].difference.change == pytest.approx(4.6, abs=0.5)


def test_a_check_in_between_is_no_drift(hatchery: Any) -> None:
    second = hatchery.add_probe("P2", hatchery.machine)
    hatchery.log(*lively(1))
    hatchery.log(*lively(2, offset=4.0), probe=second, name="two.csv")
    check = ProbeCheck(
        second.uid, SET_AT + 7 * DAY, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 79.3, "NaCl", 25.0
    )
    hatchery.journal.probes.add_check(check)
    first, other = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert other.difference.difference == pytest.approx(0.0, abs=0.2)
    assert not other.drifting
    assert not first.flagged


def test_a_probe_far_from_the_other_is_apart_by_what_both_may_be_off(hatchery: Any) -> None:
    second = hatchery.add_probe("P2", hatchery.machine)
    hatchery.log(*lively(1))
    hatchery.log(*lively(2, offset=9.0), probe=second, name="two.csv")
    first, other = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert (first.apart, other.apart) == (True, True)


def test_a_difference_within_what_both_may_be_off_is_no_flag(hatchery: Any) -> None:
    second = hatchery.add_probe("P2", hatchery.machine)
    hatchery.log(*lively(1))
    hatchery.log(*lively(2, offset=4.0), probe=second, name="two.csv")
    first, _ = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert not first.apart
    for probe in (hatchery.probe, second):
        check = ProbeCheck(probe.uid, NOW, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 75.3, "NaCl", 25.0)
        hatchery.journal.probes.add_check(check)
    # Both checked and right: four per cent between them are too much now.
    first, _ = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert first.apart


def test_only_what_a_probe_showed_where_it_hangs_now_is_looked_at(hatchery: Any) -> None:
    hatchery.log(*lively(1))
    hatchery.journal.probes.move(hatchery.probe, machine=None, at=NOW - DAY)
    assert probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes == ()
    (flags,) = probe_watch(hatchery.journal, None, NOW).probes
    assert flags.name == "P1"


def test_a_probe_without_readings_is_listed_and_not_judged(hatchery: Any) -> None:
    (flags,) = probe_watch(hatchery.journal, hatchery.machine.uid, NOW).probes
    assert (flags.last_at, flags.stuck, flags.stuck_now, flags.flagged) == (None, (), None, False)


def test_the_curves_of_a_batch_know_where_its_probe_stood_still(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    at, humidity, temperature = lively(1)
    humidity[700:755], temperature[700:755] = 45.3, 37.4
    hatchery.log(at, humidity, temperature)
    (still,) = batch_curves(hatchery.journal, batch.uid, NOW).still
    assert (still.start_at, still.seconds, still.humidity) == (at[700], 9 * HOUR, 45.3)
