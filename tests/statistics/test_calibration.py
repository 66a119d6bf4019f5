"""Corrections from dated checks: sessions, offsets and lines, what they change and what they leave uncertain."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hatchbook.statistics.calibration import (
    HANDLING,
    REFERENCE,
    SESSION_S,
    CheckPoint,
    CorrectionKind,
    apply_corrections,
    correction_at,
    corrections,
    resolution_of,
)
from hatchbook.trade.codes import Quantity

DAY = 86_400
HUMIDITY, TEMPERATURE = Quantity.HUMIDITY, Quantity.TEMPERATURE


def salt(at: int, shown: float, known: float = 75.3) -> CheckPoint:
    return CheckPoint(at, known, shown, 0.2)


def test_one_point_takes_off_what_it_showed_too_much() -> None:
    (one,) = corrections(HUMIDITY, [salt(100, 76.8)])
    assert (one.kind, one.from_at, one.until_at) == (CorrectionKind.OFFSET, 100, None)
    assert one.gain == 1.0
    assert one.offset == pytest.approx(-1.5)
    assert one.corrected(46.5) == pytest.approx(45.0)


def test_two_points_give_the_line_that_numpy_fits() -> None:
    points = [salt(0, 77.0), salt(DAY, 31.0, 32.8)]
    (one,) = corrections(HUMIDITY, points)
    gain, offset = np.polyfit([77.0, 31.0], [75.3, 32.8], 1)
    assert one.kind is CorrectionKind.LINE
    assert (one.gain, one.offset) == (pytest.approx(gain), pytest.approx(offset))
    assert one.corrected(77.0) == pytest.approx(75.3)
    assert one.corrected(31.0) == pytest.approx(32.8)


def test_three_points_give_the_line_of_least_squares() -> None:
    known, shown = [32.8, 57.6, 75.3], [31.5, 57.9, 76.9]
    (one,) = corrections(HUMIDITY, [salt(0, s, k) for k, s in zip(known, shown, strict=True)])
    gain, offset = np.polyfit(shown, known, 1)
    assert (one.gain, one.offset) == (pytest.approx(gain), pytest.approx(offset))


def test_points_close_together_give_an_offset_and_no_slope() -> None:
    (one,) = corrections(HUMIDITY, [salt(0, 77.3), salt(0, 84.7, 84.2)])
    assert one.kind is CorrectionKind.OFFSET
    assert one.offset == pytest.approx(-1.25)


def test_a_session_lasts_three_days() -> None:
    within = corrections(HUMIDITY, [salt(0, 77.0), salt(SESSION_S, 31.0, 32.8)])
    beyond = corrections(HUMIDITY, [salt(0, 77.0), salt(SESSION_S + 1, 31.0, 32.8)])
    assert [one.kind for one in within] == [CorrectionKind.LINE]
    assert [one.kind for one in beyond] == [CorrectionKind.OFFSET, CorrectionKind.OFFSET]


def test_a_point_checked_again_begins_anew_as_after_an_adjustment() -> None:
    before, after = corrections(HUMIDITY, [salt(0, 79.3), salt(600, 75.3)])
    assert (before.offset, before.until_at) == (pytest.approx(-4.0), 600)
    assert (after.offset, after.from_at) == (0.0, 600)


def test_the_order_in_which_checks_are_given_does_not_matter() -> None:
    points = [salt(0, 77.0), salt(DAY, 31.0, 32.8), salt(40 * DAY, 76.0)]
    assert corrections(HUMIDITY, points) == corrections(HUMIDITY, points[::-1])


def test_interchanged_salts_correct_nothing_and_the_correction_before_stays() -> None:
    wrong = [salt(10 * DAY, 33.0), salt(10 * DAY, 75.0, 32.8)]
    (alone,) = corrections(HUMIDITY, wrong)
    assert (alone.kind, alone.changes) == (CorrectionKind.REFUSED, False)
    _, later = corrections(HUMIDITY, [salt(0, 76.3), *wrong])
    assert later.kind is CorrectionKind.REFUSED
    assert later.corrected(50.0) == pytest.approx(49.0)
    assert later.residual(50.0) == math.inf


def test_a_probe_that_showed_the_same_at_two_points_is_refused_without_a_warning() -> None:
    (one,) = corrections(HUMIDITY, [salt(0, 50.0), salt(0, 50.0, 32.8)])
    assert one.kind is CorrectionKind.REFUSED


def test_a_correction_holds_from_its_check_until_the_next() -> None:
    of_probe = corrections(HUMIDITY, [salt(100, 76.3), salt(100 + 10 * DAY, 73.3)])
    at = np.array([99, 100, 100 + 10 * DAY - 1, 100 + 10 * DAY])
    assert apply_corrections(of_probe, at, np.full(4, 50.0)) == pytest.approx([50.0, 49.0, 49.0, 52.0])
    assert correction_at(of_probe, 99) is None
    assert correction_at(of_probe, 100) is of_probe[0]
    assert correction_at(of_probe, 100 + 10 * DAY) is of_probe[1]


def test_what_is_not_changed_is_not_copied() -> None:
    at, values = np.array([0, 10]), np.array([50.0, 51.0])
    assert apply_corrections((), at, values) is values
    assert apply_corrections(corrections(HUMIDITY, [salt(11, 76.0)]), at, values) is values
    assert apply_corrections(corrections(HUMIDITY, [salt(0, 75.3)]), at, values) is values
    assert apply_corrections(corrections(HUMIDITY, [salt(0, 76.3)]), at, values) is not values
    assert values.tolist() == [50.0, 51.0]


def test_a_value_not_measured_stays_unknown_and_a_humidity_stays_possible() -> None:
    of_probe = corrections(HUMIDITY, [salt(0, 72.3)])
    corrected = apply_corrections(of_probe, np.array([0, 1, 2]), np.array([np.nan, 99.0, 50.0]))
    assert np.isnan(corrected[0])
    assert corrected[1:].tolist() == [100.0, 53.0]
    (cold,) = corrections(TEMPERATURE, [CheckPoint(0, 0.0, 1.0, 0.2)])
    assert cold.corrected(0.5) == -0.5


def test_one_salt_leaves_more_uncertain_the_further_away() -> None:
    (one,) = corrections(HUMIDITY, [salt(0, 76.0)])
    here = math.hypot(0.2, HANDLING[HUMIDITY])
    assert one.residual(75.3) == pytest.approx(here)
    assert one.residual(45.3) == pytest.approx(math.hypot(here, 0.05 * 30.0))


def test_two_salts_leave_less_uncertain_between_them_than_one() -> None:
    (one,) = corrections(HUMIDITY, [salt(0, 76.0)])
    (two,) = corrections(HUMIDITY, [salt(0, 76.0), salt(0, 33.0, 32.8)])
    each = math.hypot(0.2, HANDLING[HUMIDITY])
    assert two.residual(75.3) == pytest.approx(each)
    assert two.residual((75.3 + 32.8) / 2) == pytest.approx(each / math.sqrt(2))
    assert two.residual(95.0) > each
    assert two.residual(45.0) < one.residual(45.0)


def test_a_coarse_probe_and_an_ordinary_reference_leave_more_uncertain() -> None:
    (one,) = corrections(HUMIDITY, [salt(0, 76.0)])
    assert one.residual(75.3, 1.0) == pytest.approx(math.sqrt(0.2**2 + 1.0 + 1.0 / 3.0))
    (reference,) = corrections(HUMIDITY, [CheckPoint(0, 75.3, 76.0, REFERENCE[HUMIDITY])])
    assert reference.residual(75.3) > 2.0


def test_the_residual_covers_what_a_two_salt_check_leaves() -> None:
    """A thousand probes, each with an offset and a slope of its own, checked as carefully as is assumed."""
    rng = np.random.default_rng(3)
    inside = 0
    for _ in range(1000):
        gain, offset = rng.normal(1.0, 0.03), rng.normal(0.0, 3.0)
        known = np.array([32.8, 75.3])
        # Half-widths are two standard deviations.
        truth = known + rng.normal(0.0, 0.1, 2) + rng.normal(0.0, HANDLING[HUMIDITY] / 2, 2)
        shown = np.round(gain * truth + offset)
        (one,) = corrections(HUMIDITY, [salt(0, s, k) for s, k in zip(shown, known, strict=True)])
        inside += abs(one.corrected(gain * 45.0 + offset) - 45.0) <= one.residual(45.0, 1.0)
    assert 0.93 <= inside / 1000 <= 0.98


@pytest.mark.parametrize("step", [1.0, 0.5, 0.1, 0.01])
def test_the_step_of_a_probe_is_found_in_its_readings(step: float) -> None:
    values = np.round(np.random.default_rng(1).normal(47.3, 2.0, 500) / step) * step
    values[::7] = np.nan
    assert resolution_of(values) == step


def test_the_step_of_a_probe_that_hardly_moved_is_not_known() -> None:
    assert resolution_of(np.full(50, 45.0)) == 0.0
    assert resolution_of(np.array([])) == 0.0
    assert resolution_of(np.random.default_rng(1).normal(47.3, 2.0, 500)) == 0.0


def reference(at: int, shown: float, known: float) -> CheckPoint:
    return CheckPoint(at, known, shown, REFERENCE[TEMPERATURE])


def test_a_thermometer_checked_again_two_degrees_off_is_checked_anew() -> None:
    """Within 2 °C it is one point; a point three degrees further is another one of the same session."""
    anew = corrections(TEMPERATURE, [reference(0, 37.9, 37.5), reference(600, 39.1, 39.0)])
    assert [one.offset for one in anew] == [pytest.approx(-0.4), pytest.approx(-0.1)]
    (both,) = corrections(TEMPERATURE, [reference(0, 37.9, 37.5), reference(600, 40.7, 40.5)])
    assert (both.kind, both.offset) == (CorrectionKind.OFFSET, pytest.approx(-0.3))


def test_a_thermometer_has_a_line_from_points_ten_degrees_apart() -> None:
    (near,) = corrections(TEMPERATURE, [reference(0, 37.9, 37.5), reference(600, 30.2, 30.0)])
    (far,) = corrections(TEMPERATURE, [reference(0, 37.9, 37.5), reference(600, 20.1, 20.0)])
    assert (near.kind, far.kind) == (CorrectionKind.OFFSET, CorrectionKind.LINE)
    assert far.corrected(37.9) == pytest.approx(37.5)


def test_a_checked_thermometer_is_right_within_a_quarter_of_a_degree() -> None:
    """A good thermometer off by 0.2 °C and a careful hand by 0.1 °C."""
    (one,) = corrections(TEMPERATURE, [reference(0, 37.9, 37.5)])
    assert one.residual(37.5) == pytest.approx(math.hypot(0.2, 0.1))
