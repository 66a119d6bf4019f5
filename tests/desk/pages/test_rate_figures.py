"""The figures of a finished batch: each with its counts."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.figures import batch_figures
from hatchbook.figures.results import WeightFigures
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk


def test_the_weight_lost_says_of_how_many_eggs(desk: Desk, qtbot: QtBot) -> None:
    row = RateFigures()
    qtbot.addWidget(row)
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    row.show_figures(replace(figures, weight=WeightFigures(12.0, 0.4, 10, 18.0)))
    assert "10 egg(s)" in row.weight.figure().sentence()
    assert "10 egg(s)" in row.weight.accessibleName()
