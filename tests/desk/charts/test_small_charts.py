"""The phases of a finished batch, and the preview of a file's readings."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from hatchbook.desk.charts.phases_chart import PhasesChart
from hatchbook.desk.charts.preview_chart import ReadingsPreview
from hatchbook.figures.results import Curves
from PySide6.QtCore import QPointF
from PySide6.QtWidgets import QMainWindow

DAY = 86_400
ZONE = ZoneInfo("Europe/Lisbon")


def test_the_phases_chart_says_what_it_shows(window: QMainWindow, sample: Curves) -> None:
    chart = PhasesChart()
    window.setCentralWidget(chart)
    window.resize(330, 165)
    window.show()
    chart.show_view(sample, ZONE, [(sample.start_at + 6 * DAY, "from day 6: vent left at 1/4")])
    chart.grab()
    said = chart.accessibleDescription()
    assert "mean humidity 47.8" in said
    assert said.endswith("from day 6: vent left at 1/4")


def test_the_excess_over_the_band_is_tinted(window: QMainWindow, sample: Curves) -> None:
    chart = PhasesChart()
    window.setCentralWidget(chart)
    window.resize(400, 240)
    window.show()
    chart.show_view(sample, ZONE)
    image = chart.grab().toImage()
    # Day 1 lies over the band of 40–50 %, day 9.5 in it.
    over = image.pixelColor(round(chart.scale_of_days.px(1.2)), round(chart.row.y_px(50.6)))
    page = image.pixelColor(round(chart.scale_of_days.px(9.5)), round(chart.row.y_px(50.6)))
    assert over != page
    assert over.red() > over.blue()


def test_without_a_batch_the_phases_chart_is_empty(window: QMainWindow) -> None:
    chart = PhasesChart()
    window.setCentralWidget(chart)
    window.show()
    chart.show_view(None, ZONE)
    chart.grab()
    assert chart.accessibleDescription() == ""


def preview(window: QMainWindow) -> ReadingsPreview:
    chart = ReadingsPreview()
    window.setCentralWidget(chart)
    window.resize(404, 176)
    window.show()
    return chart


def test_the_preview_finds_gaps_and_shows_every_reading(window: QMainWindow, sample: Curves) -> None:
    chart = preview(window)
    chart.show_readings(sample.at, sample.temperature_c, sample.humidity, ZONE)
    (gap,) = chart.gaps
    assert gap.end_at - gap.start_at > 10 * 3600
    assert chart.humidity.low <= np.nanmin(sample.humidity)
    assert chart.temperature.low <= np.nanmin(sample.temperature_c)
    assert "1 gap(s), the longest of 11" in chart.accessibleDescription()
    middle = QPointF(
        chart.scale_of_days.px_of((gap.start_at + gap.end_at) / 2), chart.humidity.plot.center().y()
    )
    assert "without readings" in chart.humidity.tip(middle)
    chart.grab()


def test_gaps_that_were_found_already_are_taken(window: QMainWindow, sample: Curves) -> None:
    chart = preview(window)
    silence: Any = SimpleNamespace(start_s=int(sample.at[5]), end_s=int(sample.at[9]))
    chart.show_readings(sample.at, sample.temperature_c, sample.humidity, ZONE, [silence])
    assert [(gap.start_at, gap.end_at) for gap in chart.gaps] == [(sample.at[5], sample.at[9])]


def test_a_file_without_one_quantity_or_without_readings_is_no_trouble(
    window: QMainWindow, sample: Curves
) -> None:
    chart = preview(window)
    chart.show_readings(sample.at[:9], np.full(9, np.nan), sample.humidity[:9], ZONE)
    chart.grab()
    chart.show_readings(sample.at[:1], sample.temperature_c[:1], sample.humidity[:1], ZONE)
    chart.grab()
    chart.show_readings(sample.at[:0], sample.temperature_c[:0], sample.humidity[:0], ZONE)
    chart.grab()
    assert chart.accessibleDescription() == "There are no readings."
