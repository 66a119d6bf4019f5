"""What the chart tells of the probe: values that a check corrects, and hours in which it stood still."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hatchbook.desk.charts.humidity_labels import humidity_labels
from hatchbook.desk.charts.labels import Room
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.statistics.same_value import SameValue
from PySide6.QtCore import QPointF

DAY = 86_400


@pytest.fixture
def corrected(sample: Curves) -> Curves:
    return replace(sample, shown_humidity=sample.humidity + 1.5)


@pytest.fixture
def frozen(sample: Curves) -> Curves:
    begin = sample.start_at + 5 * DAY
    return replace(sample, still=(SameValue(begin, begin + 9 * 3600, 46.5, 37.6),))


def shown(pane: Callable[..., Any], figures: BatchFigures, curves: Curves) -> Any:
    made = pane()
    made.show_view(figures, curves)
    made.grab()
    return made


def test_the_readout_tells_what_the_probe_showed(
    pane: Callable[..., Any], figures: BatchFigures, corrected: Curves, sample: Curves
) -> None:
    made = shown(pane, figures, corrected)
    made.graph.cursor_of_days.point_at(sample.start_at + 5 * DAY)
    assert "(the probe showed " in made.bar.readout.text()
    made.show_view(figures, sample)
    made.graph.cursor_of_days.point_at(sample.start_at + 6 * DAY)
    assert "showed" not in made.bar.readout.text()


def test_exported_readings_are_as_the_probe_showed_them(
    pane: Callable[..., Any],
    figures: BatchFigures,
    corrected: Curves,
    tmp_path: Path,
    qtbot: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = shown(pane, figures, corrected)
    path = tmp_path / "readings.csv"
    told: list[str] = []
    monkeypatch.setattr(made.keeping, "confirm", told.append)
    made.keeping.export_readings_as(str(path))
    qtbot.waitUntil(lambda: bool(told) and told[-1].endswith("as the probe showed them"))
    with path.open(newline="") as file:
        first = next(iter(list(csv.reader(file))[1:]))
    assert float(first[2]) == pytest.approx(corrected.humidity[0] + 1.5, abs=0.01)


def test_a_probe_that_stood_still_has_a_plate_with_its_hours(
    pane: Callable[..., Any], figures: BatchFigures, frozen: Curves
) -> None:
    made = shown(pane, figures, frozen)
    row = made.graph.humidity
    labels = humidity_labels(row, made.graph.material, [], Room(row.plot, []), made.graph._inks)
    texts = [label.texts[0].replace("\u00a0", " ") for label in labels]
    assert "same value for 9 h" in texts
    made.graph.cursor_of_days.point_at(frozen.still[0].start_at + 3600)
    assert "same value for 9 h" in made.bar.readout.text().replace("\u00a0", " ")


def test_its_tip_asks_whether_the_probe_is_frozen(
    pane: Callable[..., Any], figures: BatchFigures, frozen: Curves
) -> None:
    made = shown(pane, figures, frozen)
    row = made.graph.humidity
    inside = QPointF(made.graph.scale_of_days.px(5.2), row.plot.center().y())
    assert row.tip(inside).startswith("The same value for 9\u00a0h: is the probe frozen, or cut off?")
    outside = QPointF(made.graph.scale_of_days.px(6.2), row.plot.center().y())
    assert row.tip(outside) == ""


def test_a_plate_out_of_view_has_no_label(
    pane: Callable[..., Any], figures: BatchFigures, frozen: Curves
) -> None:
    made = shown(pane, figures, frozen)
    made.graph.show_days(7.0, 9.0)
    made.grab()
    row = made.graph.humidity
    labels = humidity_labels(row, made.graph.material, [], Room(row.plot, []), made.graph._inks)
    assert not any("same value" in label.texts[0] for label in labels)
