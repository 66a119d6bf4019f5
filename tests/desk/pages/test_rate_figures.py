"""The figures of a finished batch: each with its counts."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.pages.hatch_bars import HatchBars
from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.desk.widgets.key_figure import FootRole
from hatchbook.figures import batch_figures
from hatchbook.figures.among_others import RateAmong
from hatchbook.figures.results import BatchFigures, WeightFigures
from hatchbook.figures.weight_results import Estimate
from hatchbook.journal import Hatching
from hatchbook.statistics.comparison import BatchChance
from hatchbook.statistics.rates import batch_rates
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import HatchMark
from pytestqt.qtbot import QtBot
from tests.desk.charts.weights import forecast
from tests.desk.conftest import DAY, NOW, SET_AT, Desk


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
    doubtful = replace(given, at_target=Estimate(10.8, 10.2, 11.4))
    row.show_figures(replace(figures, forecast=doubtful))
    assert (row.weight.foot(), row.weight.foot_role) == (
        "11–13 % wanted; not surely outside",
        FootRole.NORMAL,
    )
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


def usual(hits: int, trials: int, low: float, high: float) -> RateAmong:
    return RateAmong(hits, trials, 9, BatchChance(low, high, 2 * min(low, high)))


def test_what_the_others_do_stands_under_the_rates_as_soon_as_it_is_known(desk: Desk, qtbot: QtBot) -> None:
    row, _figures = closed(desk, qtbot)
    assert "others" not in row.rates.of_set.foot()
    row.show_among({RateKind.HATCH_OF_SET: usual(75, 100, 0.02, 0.99)})
    assert row.rates.of_set.foot() == "others 75\u00a0%; low, 1 in 50 by chance"
    assert row.rates.of_set.accessibleName().endswith("others 75\u00a0%; low, 1 in 50 by chance")
    assert row.rates.of_set.toolTip().startswith(
        "Other batches of the species: 75\u00a0%, 75 of 100 eggs in 9 batch"
    )
    row.show_among({RateKind.HATCH_OF_SET: usual(40, 100, 0.95, 0.08)})
    assert row.rates.of_set.foot() == "others 40\u00a0%; high, 1 in 12 by chance"
    row.show_among({RateKind.HATCH_OF_SET: usual(58, 100, 0.5, 0.6)})
    assert row.rates.of_set.foot() == "others 58\u00a0%; none helped out"


def test_a_change_of_the_batch_forgets_the_odds_of_the_rates_it_had(desk: Desk, qtbot: QtBot) -> None:
    row, figures = closed(desk, qtbot)
    row.show_among({RateKind.HATCH_OF_SET: usual(75, 100, 0.02, 0.99)})
    row.show_figures(figures)
    assert row.rates.of_set.foot().startswith("others 75\u00a0%")
    row.show_figures(replace(figures, rates=batch_rates([egg.outcome for egg in figures.eggs[:3]])))
    assert "others" not in row.rates.of_set.foot()


def test_the_hatch_shows_when_the_chicks_came(desk: Desk, qtbot: QtBot) -> None:
    row, _figures = closed(desk, qtbot)
    assert row.hatch.findChildren(HatchBars)


def closed(desk: Desk, qtbot: QtBot) -> tuple[RateFigures, BatchFigures]:
    """Seven of twelve eggs hatched."""
    chicks = [Hatching(desk.eggs[n].uid, SET_AT + 21 * DAY + n, HatchMark.HATCHED) for n in range(7)]
    desk.journal.hatchings.note(desk.batch.uid, chicks)
    desk.journal.batches.close(desk.journal.batches.get(desk.batch.uid), SET_AT + 23 * DAY)
    row = RateFigures()
    qtbot.addWidget(row)
    figures = batch_figures(desk.journal, desk.batch.uid, SET_AT + 24 * DAY)
    row.show_figures(figures)
    return row, figures
