"""The chart as a table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.charts.day_table import ChartTableDialog, Column, DayTableModel, day_rows
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.figures.results import BatchFigures, Curves
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from tests.desk.charts.weights import forecast

ZONE = ZoneInfo("Europe/Lisbon")


@pytest.fixture
def model(sample: Curves, qapp: Any) -> DayTableModel:
    return DayTableModel(day_rows(BatchMaterial(sample)), ZONE)


def test_the_model_is_sound(model: DayTableModel, qtbot: Any) -> None:
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)


def test_a_day_has_its_means_its_known_share_and_its_events(model: DayTableModel, sample: Curves) -> None:
    assert model.rowCount() == 12
    drift = sample.phases[0].humidity
    assert drift is not None
    row = [model.text(3, column) for column in Column]
    assert row[0] == "3"
    assert row[1] == "Wed 6 May 09:00"
    assert row[3] == f"{drift.daily.mean[3]:.1f}"
    assert row[5] == "92\u00a0%"
    assert row[6] == "–"
    assert row[7] == "3 channel(s) filled; Vent 1/2"
    assert model.text(1, Column.EVENTS) == "3 channel(s) filled"
    assert model.text(4, Column.EVENTS) == "–"


def test_a_day_says_what_the_eggs_have_lost_by_its_end(sample: Curves, qapp: Any) -> None:
    model = DayTableModel(day_rows(BatchMaterial(sample, forecast(sample.start_at))), ZONE)
    assert model.text(3, Column.LOST) == f"{4 * 0.64:.1f}"


def test_cells_speak_their_column(model: DayTableModel) -> None:
    index = model.index(0, Column.HUMIDITY)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole).startswith("Mean humidity, % RH: ")


def test_the_dialog_copies_the_table_by_key_and_button(
    pane: Callable[..., Any], figures: BatchFigures, sample: Curves, qtbot: Any
) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.show_table()
    dialog = made.findChild(ChartTableDialog)
    assert dialog.windowTitle() == "Chart as table: 26-05 Orchard hens"
    QGuiApplication.clipboard().clear()
    dialog.table.setFocus()
    QTest.keyClick(dialog.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:2] == ["Day", "Begins"]
    assert len(lines) == 13
    assert {len(line.split("\t")) for line in lines} == {len(Column)}
    assert dialog.note.isVisible()
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: made.findChild(ChartTableDialog) is None)


def test_without_readings_it_says_so(
    pane: Callable[..., Any], figures: BatchFigures, sample: Curves, qtbot: Any
) -> None:
    phases = tuple(replace(phase, humidity=None, temperature=None, hold=None) for phase in sample.phases)
    made = pane()
    made.show_view(replace(figures, phases=phases), None)
    made.show_table()
    dialog = made.findChild(ChartTableDialog)
    assert "no readings yet" in dialog.note.text()
    dialog.reject()
    qtbot.waitUntil(lambda: made.findChild(ChartTableDialog) is None)


def test_without_a_batch_there_is_no_table(pane: Callable[..., Any]) -> None:
    made = pane()
    made.show_table()
    assert made.findChild(ChartTableDialog) is None
