"""The chart as a picture and as a file."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hatchbook.figures.results import BatchFigures, Curves
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog

DAY = 86_400


@pytest.fixture
def shown(pane: Callable[..., Any], figures: BatchFigures, sample: Curves) -> Any:
    made = pane()
    made.show_view(figures, sample)
    return made


def test_the_picture_has_twice_the_pixels_and_a_head(shown: Any, tmp_path: Path) -> None:
    path = tmp_path / "chart.png"
    shown.keeping.save_picture_as(str(path))
    image = QImage(str(path))
    assert image.width() == 2 * shown.graph.width()
    assert image.height() > 2 * shown.graph.height()
    assert not shown.note.isVisible()
    # The chart on the screen has its own pens again.
    assert shown.graph._inks.ratio == shown.graph.devicePixelRatioF()


def test_a_picture_that_cannot_be_saved_is_told_in_place(shown: Any, tmp_path: Path) -> None:
    shown.keeping.save_picture_as(str(tmp_path / "none" / "chart.png"))
    assert shown.note.isVisible()
    assert "could not be saved" in shown.note.text()


def test_the_picture_goes_to_the_clipboard(shown: Any) -> None:
    shown.keeping.copy_picture()
    assert QGuiApplication.clipboard().pixmap().width() == 2 * shown.graph.width()


def test_the_readings_in_view_are_written(shown: Any, sample: Curves, tmp_path: Path, qtbot: Any) -> None:
    path = tmp_path / "readings.csv"
    shown.graph.show_days(5.0, 6.0)
    shown.keeping.export_readings_as(str(path))
    qtbot.waitUntil(path.exists)
    with path.open(newline="") as file:
        rows = list(csv.reader(file))[1:]
    first, last = sample.start_at + 5 * DAY, sample.start_at + 6 * DAY
    assert len(rows) == ((sample.at >= first) & (sample.at <= last)).sum()
    assert rows[0][0] == "2026-05-08T09:00:00+01:00"


def test_a_file_that_cannot_be_written_is_told_in_place(shown: Any, tmp_path: Path, qtbot: Any) -> None:
    shown.keeping.export_readings_as(str(tmp_path / "none" / "readings.csv"))
    qtbot.waitUntil(shown.note.isVisible)
    assert "No such file or directory" in shown.note.text()


@pytest.mark.parametrize(("ask", "suffix"), [("save_picture", "png"), ("export_readings", "csv")])
def test_it_asks_where_to_with_the_batch_as_name(shown: Any, ask: str, suffix: str, qtbot: Any) -> None:
    getattr(shown.keeping, ask)()
    dialog = shown.window().findChild(QFileDialog)
    assert dialog.isVisible()
    assert dialog.selectedFiles()[0].endswith(f"26-05.{suffix}")
    dialog.reject()
    qtbot.waitUntil(lambda: shown.window().findChild(QFileDialog) is None)
