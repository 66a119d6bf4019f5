"""The figures of a finished batch: each with its counts."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.desk.widgets.key_figure import FootRole
from hatchbook.figures import batch_figures
from hatchbook.figures.results import WeightFigures
from hatchbook.figures.weight_results import Estimate
from pytestqt.qtbot import QtBot
from tests.desk.charts.weights import forecast
from tests.desk.conftest import NOW, Desk


def test_the_weight_lost_says_of_how_many_eggs(desk: Desk, qtbot: QtBot) -> None:
    row = RateFigures()
    qtbot.addWidget(row)
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    row.show_figures(replace(figures, forecast=None, weight=WeightFigures(12.0, 0.4, 10, 18.0)))
    assert "10 egg(s)" in row.weight.figure().sentence()
    assert "10 egg(s)" in row.weight.accessibleName()


def test_the_weight_lost_is_that_by_the_day_of_the_target(desk: Desk, qtbot: QtBot) -> None:
    row = RateFigures()
    qtbot.addWidget(row)
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    given = replace(forecast(figures.batch.set_at), at_target=Estimate(9.3, 9.0, 9.6), path_ahead=None)
    row.show_figures(replace(figures, forecast=given))
    assert row.weight.caption() == "Weight lost by day 18"
    assert row.weight.figure().value == "9.3"
    assert row.weight.foot() == "too little: 11–13 % wanted"
    assert row.weight.foot_role is FootRole.BAD
    fitting = replace(given, at_target=Estimate(11.3, 11.0, 11.6))
    row.show_figures(replace(figures, forecast=fitting))
    assert (row.weight.foot(), row.weight.foot_role) == ("11–13 % wanted", FootRole.NORMAL)


def test_what_the_species_alone_would_have_lost_is_no_figure_of_a_batch_that_is_over(
    desk: Desk, qtbot: QtBot
) -> None:
    row = RateFigures()
    qtbot.addWidget(row)
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    row.show_figures(replace(figures, weight=None, forecast=forecast(figures.batch.set_at, weighed=False)))
    assert row.weight.foot() == "not weighed"
