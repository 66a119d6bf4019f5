"""What the chart draws of a batch, and what stands at an instant of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hatchbook.desk.charts.material import BatchMaterial, bare_curves
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.journal import Event
from hatchbook.trade.codes import DutyKind, EventKind

DAY = 86_400


@pytest.fixture
def material(sample: Curves) -> BatchMaterial:
    return BatchMaterial(sample)


def day(material: BatchMaterial, number: float) -> int:
    return material.set_at + round(number * DAY)


def test_the_dead_battery_is_the_only_gap(material: BatchMaterial) -> None:
    (gap,) = material.gaps
    assert (gap.start_at - material.set_at) / DAY == pytest.approx(2.62, abs=0.01)
    assert (gap.end_at - material.set_at) / DAY == pytest.approx(3.08, abs=0.01)
    assert material.gap_at(day(material, 2.8)) == gap
    assert material.gap_at(day(material, 3.2)) is None


def test_lines_break_at_the_gap_and_the_mean_passes_over_it(material: BatchMaterial) -> None:
    assert np.isnan(material.humidity.values).sum() == 1
    assert np.isnan(material.temperature.values).sum() == 1
    assert not np.isnan(material.mean.values).any()


def test_turnings_and_short_lid_openings_have_no_mark(material: BatchMaterial) -> None:
    kinds = [event.kind for event in material.events]
    assert EventKind.TURNED not in kinds
    assert [event.uid for event in material.events if event.kind is EventKind.LID] == ["lid1", "lid2"]
    assert DutyKind.TURN not in {duty.kind for duty in material.duties}


def test_a_lid_without_an_end_keeps_its_mark(sample: Curves) -> None:
    lid = Event(sample.start_at + DAY, EventKind.LID, batch=sample.batch.uid)
    assert lid in BatchMaterial(replace(sample, events=(lid,))).events


def test_the_power_cut_is_the_worst_excursion(material: BatchMaterial, sample: Curves) -> None:
    worst = max(material.excursions, key=material.severity)
    assert worst.extreme == np.nanmin(sample.temperature_c)
    assert not worst.above
    assert 1.5 * 3600 < worst.seconds < 3 * 3600


def test_the_temperature_line_stays_in_its_strip(material: BatchMaterial) -> None:
    low, high = material.temperature_range
    assert np.nanmin(material.temperature.values) > low
    assert np.nanmax(material.temperature.values) < high


def test_the_mean_at_a_reading_is_that_of_the_phase(material: BatchMaterial, sample: Curves) -> None:
    phase = sample.phases[0]
    assert phase.humidity is not None
    assert material.mean_at(int(sample.at[-1])) == pytest.approx(phase.humidity.mean, abs=0.1)
    assert np.isnan(material.mean_at(material.set_at - 1))


def test_the_nearest_reading_is_found_on_either_side(material: BatchMaterial, sample: Curves) -> None:
    assert material.nearest(material.set_at - DAY) == 0
    assert material.nearest(material.set_at + 299) == 0
    assert material.nearest(material.set_at + 301) == 1
    assert material.nearest(material.now + DAY) == sample.at.size - 1


def test_the_whole_batch_reaches_to_its_last_day(material: BatchMaterial) -> None:
    assert -0.3 < material.first_day < 0
    assert 21 < material.last_day < 21.3


def test_a_batch_without_readings_has_its_phases(figures: BatchFigures) -> None:
    material = BatchMaterial(bare_curves(figures))
    assert not material.has_readings
    assert material.phases == figures.phases
    assert material.nearest(material.now) is None
    assert material.excursions == ()
    assert material.mean.days.size == 0


def test_without_any_reading_no_plate_lies_over_the_bands(figures: BatchFigures, sample: Curves) -> None:
    silent = np.array([[sample.start_at, sample.now]])
    nothing = BatchMaterial(replace(bare_curves(figures), unknown=silent))
    assert nothing.gaps == ()
    assert len(BatchMaterial(sample).gaps) == 1


def test_thermometer_and_hygrometer_apart_break_each_by_its_own_silence(sample: Curves) -> None:
    # A thermometer read twice a day among humidity read every ten minutes: its nights are no gaps.
    warmth = np.full(sample.at.size, np.nan)
    warmth[::72] = 37.7
    material = BatchMaterial(replace(sample, temperature_c=warmth))
    assert not np.isnan(material.temperature.values).any() or np.isnan(material.temperature.values).sum() <= 1
    assert np.isnan(material.humidity.values).sum() == 1
