"""The weight row: where curves, corridor and forecast lie, what it says, and when it is not there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.readout_words import description, pointed_text
from hatchbook.desk.charts.weight_labels import point_sentence, weight_labels
from hatchbook.figures.results import BatchFigures, Curves
from PySide6.QtCore import QPointF
from tests.desk.charts.weights import DAY_S, forecast

ZONE = ZoneInfo("Europe/Lisbon")


@pytest.fixture
def shown(pane: Callable[..., Any], figures: BatchFigures, sample: Curves) -> Callable[..., Any]:
    """A chart that shows the sample batch with a forecast."""

    def show(**how: Any) -> Any:
        made = pane()
        made.resize(820, 560)
        made.show_view(replace(figures, forecast=forecast(sample.start_at, **how)), sample)
        return made.graph

    return show


def texts(graph: Any) -> list[str]:
    return [label.texts[0] for label in weight_labels(graph.weight, graph.material, graph.weight.inks)]


def test_more_loss_lies_lower_and_the_scale_begins_below_the_name(shown: Callable[..., Any]) -> None:
    row = shown().weight
    assert row.y_px(12.0) > row.y_px(11.0) > row.y_px(0.0) > row.plot.top() + 15
    assert row.y_px(15.0) < row.plot.bottom()


def test_the_row_takes_part_of_the_height_and_gives_way_in_a_low_chart(shown: Callable[..., Any]) -> None:
    graph = shown()
    assert graph.weight.is_shown
    assert graph.weight.area.height() == pytest.approx(graph.humidity.area.height(), abs=1)
    graph.resize(820, 250)
    assert not graph.weight.is_shown


def test_there_is_no_row_without_a_corridor_and_without_a_weighing(
    pane: Callable[..., Any], figures: BatchFigures, sample: Curves
) -> None:
    made = pane()
    made.resize(820, 560)
    batch = replace(sample.batch, loss_low_percent=None, loss_high_percent=None, loss_day=None)
    made.show_view(figures, replace(sample, batch=batch))
    assert not made.graph.weight.is_shown
    batch = replace(batch, loss_low_percent=11.0, loss_high_percent=13.0, loss_day=18.0)
    made.show_view(figures, replace(sample, batch=batch))
    assert made.graph.weight.is_shown
    assert texts(made.graph) == ["corridor 11–13 %", "not weighed yet"]


def test_labels_say_how_it_stands_and_where_it_is_heading(shown: Callable[..., Any]) -> None:
    assert texts(shown(held=True)) == [
        "7.0\u00a0% on day 11",
        "heading for 11.5 ±\u00a00.6 % on day 18",
        "if 41\u00a0% is held",
        "corridor 11–13 %",
        "thin: 12 egg(s); thick: their mean",
    ]


def test_without_weighings_it_says_what_the_forecast_rests_on(shown: Callable[..., Any]) -> None:
    labels = texts(shown(weighed=False))
    assert "not weighed yet: by what is known of the species alone" in labels
    assert not any("on day 11" in text for text in labels)


def test_an_egg_that_lost_far_more_widens_the_scale(sample: Curves) -> None:
    given = forecast(sample.start_at)
    egg = replace(given.eggs[0], points=((11.0, 22.0),))
    material = BatchMaterial(sample, replace(given, eggs=(egg,)))
    assert material.loss_range[1] == 22.5
    assert BatchMaterial(sample, given).loss_range[1] == 15.5


def test_the_read_out_tells_the_loss_until_now_and_ahead(sample: Curves) -> None:
    material = BatchMaterial(sample, forecast(sample.start_at))
    at = sample.start_at + 5 * DAY_S
    assert pointed_text(material, at, None, None, ZONE).endswith("3.2\u00a0% lost")
    ahead = sample.start_at + 15 * DAY_S
    assert pointed_text(material, ahead, None, None, ZONE).endswith("9.6\u00a0% lost")
    assert "lost" not in pointed_text(BatchMaterial(sample), at, None, None, ZONE)


def test_a_weighing_under_the_pointer_says_its_mean_and_range(
    shown: Callable[..., Any], sample: Curves
) -> None:
    row = shown().weight
    point = forecast(sample.start_at).weighings[1]
    assert point_sentence(point, ZONE) == "Sun 10 May, day 7: 4.5 ±\u00a00.2 % lost, mean of 12 egg(s)"
    assert row.tip(QPointF(row.scale.px(7.0), row.y_px(point.mean))) == point_sentence(point, ZONE)
    assert row.tip(QPointF(row.scale.px(9.0), row.y_px(1.0))) == ""


def test_who_cannot_see_the_row_hears_it(sample: Curves) -> None:
    said = description(BatchMaterial(sample, forecast(sample.start_at)))
    assert "Weight lost by day 11.2: 7.0 ±\u00a00.3 %." in said
    assert said.endswith("Heading for 11.5 ±\u00a00.6 % on day 18; the corridor is 11–13 %.")


def test_where_the_aims_part_the_chart_holds_what_the_weight_asks_for(
    pane: Callable[..., Any], figures: BatchFigures, sample: Curves
) -> None:
    given = forecast(sample.start_at)
    assert given.advice is not None
    apart = replace(given, advice=replace(given.advice, humidity=36.0, disagree=True))
    material = BatchMaterial(sample, apart)
    assert material.held is not None
    assert (material.held.humidity, material.held.until_day, material.held.by_weight) == (36.0, 18.0, True)
    agreeing = BatchMaterial(sample, given)
    hold = sample.phases[0].hold
    assert hold is not None
    assert agreeing.held is not None
    assert (agreeing.held.humidity, agreeing.held.by_weight) == (hold.to_hold, False)
    assert agreeing.path_held is given.path_held
    ahead = sample.start_at + 14 * DAY_S
    assert "hold 36.0" in pointed_text(material, ahead, None, None, ZONE)
