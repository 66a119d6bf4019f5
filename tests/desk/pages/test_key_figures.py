"""The figures of a running batch: the weight with its forecast, and what to hold by which aim."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.pages.journal_page import JournalPage
from hatchbook.desk.pages.key_figures import KeyFigures
from hatchbook.desk.widgets.key_figure import FootRole
from hatchbook.figures import BatchFigures, batch_curves, batch_figures
from hatchbook.figures.weight_results import AdviceBasis, Estimate, HoldAdvice, WeightForecast
from PySide6.QtWidgets import QMainWindow
from pytestqt.qtbot import QtBot
from tests.desk.charts.weights import forecast
from tests.desk.conftest import Desk

APART = HoldAdvice(
    AdviceBasis.WEIGHT, 36.0, 33.0, 39.0, 42.1, Estimate(36.0, 33.0, 39.0), (31.0, 41.0), True, True, 18.0
)


@pytest.fixture
def row(qtbot: QtBot) -> KeyFigures:
    made = KeyFigures()
    qtbot.addWidget(made)
    return made


@pytest.fixture
def figures(desk: Desk) -> BatchFigures:
    return batch_figures(desk.door.journal, desk.batch.uid, desk.context.now())


def with_forecast(figures: BatchFigures, **more: object) -> BatchFigures:
    given: WeightForecast = replace(forecast(figures.batch.set_at), **more)  # type: ignore[arg-type]
    return replace(figures, forecast=given)


def test_the_weight_shows_what_is_lost_and_where_it_is_heading(
    row: KeyFigures, figures: BatchFigures
) -> None:
    row.show_figures(with_forecast(figures))
    assert row.weight.figure().value == "7.0"
    assert row.weight.foot() == "heading for 11.5 ±\u00a00.6 % on day 18"


def test_without_a_forecast_the_weight_says_when_to_weigh(row: KeyFigures, figures: BatchFigures) -> None:
    row.show_figures(replace(figures, forecast=None, next_weighing_day=14.0))
    assert not row.weight.figure().value.strip("–")
    assert row.weight.foot() == "not weighed yet; next on day 14"


def test_what_to_hold_is_the_bands_while_the_aims_agree(row: KeyFigures, figures: BatchFigures) -> None:
    row.show_figures(with_forecast(figures))
    assert row.hold.caption() == "Hold from now on"
    hold = figures.phase.hold
    assert hold is not None
    assert row.hold.figure().value == f"{hold.to_hold:.1f}"


def test_where_the_aims_part_the_weight_decides(row: KeyFigures, figures: BatchFigures) -> None:
    row.show_figures(with_forecast(figures, advice=APART))
    assert row.hold.caption() == "Hold from now on, by the weight"
    assert row.hold.figure().value == "36.0"
    assert row.hold.foot() == "the band alone would ask for 42\u00a0%"


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> Iterator[JournalPage]:
    holder = QMainWindow()
    qtbot.addWidget(holder)
    made = JournalPage(desk.context, Actions(holder))
    holder.setCentralWidget(made)
    holder.show()
    yield made
    holder.close()


def test_the_page_says_in_one_sentence_by_which_aim_to_go(
    page: JournalPage, desk: Desk, figures: BatchFigures
) -> None:
    curves = batch_curves(desk.door.journal, desk.batch.uid, desk.context.now())
    page.show_view(with_forecast(figures, advice=APART), curves)
    assert not page.advice.isHidden()
    assert "Go by the weight: hold 36" in page.advice.text()
    page.show_view(with_forecast(figures), curves)
    assert page.advice.isHidden()


def test_the_setting_that_gives_it_stands_under_what_to_hold_and_leads_to_the_machines(
    row: KeyFigures, figures: BatchFigures, qtbot: QtBot
) -> None:
    row.show_figures(figures)
    before = row.hold.foot()
    row.show_setting("2 channels, vent 1/2: 41 ± 2 %")
    assert row.hold.foot_role is FootRole.LINK
    assert row.hold.foot() == "2 channels, vent 1/2: 41 ± 2 %"
    assert row.hold.toolTip() == before
    row.show_figures(figures)
    assert (row.hold.foot(), row.hold.toolTip()) == (before, "")


def test_a_warning_under_what_to_hold_is_not_covered_by_a_setting(
    row: KeyFigures, figures: BatchFigures
) -> None:
    beyond = replace(APART, humidity=0.0, reachable=False)
    row.show_figures(with_forecast(figures, advice=beyond))
    before = row.hold.foot()
    row.show_setting("0 channels, open: 20 ± 2 %")
    assert row.hold.foot() == before
    row.hold.set_missing("no readings")
    row.show_setting("0 channels, open: 20 ± 2 %")
    assert row.hold.foot() == "no readings"
