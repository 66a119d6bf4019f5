"""The chart pane as a whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.charts.event_key import KeyForm
from hatchbook.desk.charts.humidity_labels import humidity_labels
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Room, place_labels
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.theme.theme import SchemeChoice, current_theme
from hatchbook.desk.words.numbers import percent
from hatchbook.figures.results import BatchFigures, BatchState, Curves
from hatchbook.statistics.averages import HoldReach
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

DAY = 86_400
Make = Callable[..., Any]


@pytest.fixture
def no_readings(sample: Curves) -> Curves:
    empty = np.empty(0)
    phases = tuple(replace(phase, humidity=None, temperature=None, hold=None) for phase in sample.phases)
    return replace(
        sample,
        at=empty.astype(np.int64),
        humidity=empty,
        temperature_c=empty,
        running_at=empty.astype(np.int64),
        running_mean=empty,
        unknown=np.empty((0, 2), np.int64),
        phases=phases,
    )


@pytest.fixture
def dark() -> Iterator[None]:
    current_theme().choose(SchemeChoice.DARK)
    yield
    current_theme().choose(SchemeChoice.SYSTEM)


def test_without_readings_it_says_how_to_get_some(
    pane: Make, figures: BatchFigures, no_readings: Curves
) -> None:
    made = pane()
    made.show_view(replace(figures, phases=no_readings.phases, last_reading=None), no_readings)
    assert made.graph.humidity.said == "No readings yet. Import (Ctrl+I) or log one (Ctrl+R)."
    made.grab()
    assert made.bar.readout.text() == ""


def test_a_planned_batch_needs_its_figures_only(pane: Make, figures: BatchFigures) -> None:
    planned = replace(
        figures, state=BatchState.PLANNED, now=figures.batch.set_at - 4 * DAY, last_reading=None
    )
    made = pane()
    made.show_view(planned, None)
    assert made.graph.material.phases == planned.phases
    assert made.graph.humidity.said.startswith("Not set yet.")
    made.grab()


def test_a_closed_batch_without_readings_asks_for_none(pane: Make, figures: BatchFigures) -> None:
    made = pane()
    made.show_view(replace(figures, state=BatchState.CLOSED), None)
    assert made.graph.humidity.said == "No readings were kept of this batch."


def test_no_batch_leaves_an_empty_chart(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.show_view(None, None)
    assert made.graph.material is None
    made.grab()
    QTest.keyClick(made.graph, Qt.Key.Key_Right)
    made.graph.show_instant(0)
    assert made.graph.cursor_of_days.at is None


def test_it_speaks_its_name_and_the_verdicts(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    assert made.graph.accessibleName() == "Chart: humidity, temperature and weight by day"
    said = made.graph.accessibleDescription()
    assert "mean humidity 47.8" in said
    assert "Lockdown: band 60–70 %, aim 65 %." in said
    assert made.bar.readout.accessibleName().startswith("Chart read-out: Now ")


@pytest.mark.parametrize(("key", "days"), [("week", 7.0), ("48h", 2.0)])
def test_a_week_and_two_days_have_now_in_view(
    pane: Make, figures: BatchFigures, sample: Curves, key: str, days: float
) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.show_scale(key)
    scale = made.graph.scale_of_days
    assert scale.span == pytest.approx(days)
    assert scale.sees(scale.day_of(sample.now))
    made.show_scale("batch")
    assert scale.is_whole


def test_a_week_keeps_what_is_pointed_at(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.show_instant(sample.start_at + 4 * DAY)
    made.show_scale("48h")
    assert made.graph.scale_of_days.low == pytest.approx(3.0, abs=0.01)


def test_the_bar_names_the_scale_nearest_to_what_the_wheel_made(
    pane: Make, figures: BatchFigures, sample: Curves
) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.graph.zoom(0.3, 5.0)
    assert made.bar.days.current() == "week"
    made.graph.zoom(0.3, 5.0)
    assert made.bar.days.current() == "48h"
    made.graph.show_all()
    assert made.bar.days.current() == "batch"


def test_new_readings_leave_the_days_in_view(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.graph.show_days(4.0, 6.0)
    made.show_view(figures, replace(sample, events=()))
    assert (made.graph.scale_of_days.low, made.graph.scale_of_days.high) == pytest.approx((4.0, 6.0))
    other = replace(sample, batch=replace(sample.batch, uid="another"))
    made.show_view(figures, other)
    assert made.graph.scale_of_days.is_whole


def test_an_instant_is_brought_into_view_and_its_event_ringed(
    pane: Make, figures: BatchFigures, sample: Curves
) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.graph.show_days(0.0, 2.0)
    power = next(event for event in sample.events if event.uid == "power0")
    made.show_instant(power.at)
    assert made.graph.scale_of_days.sees(made.graph.scale_of_days.day_of(power.at))
    assert made.graph.events.ringed == "power0"
    assert "Power off" in made.bar.readout.text()
    made.show_instant(power.at + 3 * DAY)
    assert made.graph.events.ringed is None


def test_the_key_gives_way_in_a_narrow_pane(
    pane: Make, figures: BatchFigures, sample: Curves, window: Any
) -> None:
    made = pane(1300, 600)
    made.show_view(figures, sample)
    assert made.bar.key.form is KeyForm.FULL
    window.resize(600, 450)
    assert made.bar.key.form is KeyForm.SHORT
    made.graph.cursor_of_days.point_at(sample.start_at + 5 * DAY)
    assert made.bar.key.form is KeyForm.HIDDEN
    assert made.bar.readout.text().startswith("Day 5.0")
    made.graph.cursor_of_days.point_at(None)
    assert made.bar.key.form is KeyForm.SHORT


def test_the_key_explains_the_marks_that_occur(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    name = made.bar.key.accessibleName()
    for word in ("water added", "vent moved", "lid open >10 min", "power cut", "note", "no readings"):
        assert word in name
    assert "turned" not in name


def test_another_scheme_dresses_it_anew(
    pane: Make, figures: BatchFigures, sample: Curves, dark: None
) -> None:
    made = pane()
    made.show_view(figures, sample)
    assert made.graph.backgroundBrush().color() == QColor("#1D2221")
    current_theme().choose(SchemeChoice.LIGHT)
    assert made.graph.backgroundBrush().color() == QColor("#FBFBF8")
    image = made.graph.grab().toImage()
    assert image.pixelColor(image.width() - 4, 4) == QColor("#FBFBF8")


def test_the_menu_offers_what_there_is(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    menu = made.menu()
    shown = {action.text(): action.isEnabled() for action in menu.actions() if action.text()}
    assert not shown["Export readings…"]
    menu.deleteLater()
    made.show_view(figures, sample)
    menu = made.menu()
    shown = {action.text(): action.isEnabled() for action in menu.actions() if action.text()}
    assert list(shown) == [
        "Batch", "Week", "48 h", "Chart as &table…", "Save picture…", "Copy picture", "Export readings…",
    ]  # fmt: skip
    assert all(shown.values())
    next(action for action in menu.actions() if action.text() == "Week").trigger()
    assert made.graph.scale_of_days.span == pytest.approx(7.0)
    assert made.bar.days.current() == "week"
    menu.deleteLater()


def test_the_future_is_read_out_as_band_and_hold(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, sample)
    made.graph.cursor_of_days.point_at(sample.start_at + 14 * DAY)
    text = made.bar.readout.text()
    assert text.startswith("Day 14.0, 17 May 09:00: band 40–50 %, aim 45 %, hold 40.")
    made.graph.cursor_of_days.point_at(sample.start_at + round(2.85 * DAY))
    assert "no readings for 11\u00a0h" in made.bar.readout.text()


def test_the_chart_holds_what_the_key_figure_says_also_where_the_machine_never_held_it(
    pane: Make, figures: BatchFigures, sample: Curves
) -> None:
    first = sample.phases[0]
    assert first.hold is not None
    never = replace(first.hold, reach=HoldReach.DRIER_THAN_EVER, nearest=52.0, ends_on=49.0)
    phases = (replace(first, hold=never), *sample.phases[1:])
    made = pane()
    made.show_view(replace(figures, phases=phases), replace(sample, phases=phases))
    made.graph.cursor_of_days.point_at(sample.start_at + 14 * DAY)
    said = f"hold {percent(first.hold.to_hold)}"
    assert made.bar.readout.text().endswith(said)
    material = BatchMaterial(replace(sample, phases=phases))
    row = made.graph.humidity
    room = Room(row.plot.adjusted(1, 0, -1, 0))
    path = [QPointF(row.scale.px_of(sample.now), row.y_px(first.hold.to_hold))]
    labels = humidity_labels(row, material, path, room, Inks(current_theme().scheme, 1.0))
    assert said in {label.texts[0] for label in labels}


def test_what_to_hold_is_named_also_where_it_lies_above_the_plot(
    pane: Make, figures: BatchFigures, sample: Curves
) -> None:
    first = sample.phases[0]
    assert first.hold is not None
    beyond = replace(first.hold, to_hold=96.0, aim=96.0, reachable_high=98.0)
    phases = (replace(first, hold=beyond), *sample.phases[1:])
    made = pane()
    made.show_view(replace(figures, phases=phases), replace(sample, phases=phases))
    row = made.graph.humidity
    assert row.y_px(96.0) < row.plot.top()
    inks = Inks(current_theme().scheme, 1.0)
    room = Room(row.plot.adjusted(1, 0, -1, 0))
    path = [QPointF(row.scale.px_of(sample.now), row.y_px(45.0))]
    labels = humidity_labels(row, BatchMaterial(replace(sample, phases=phases)), path, room, inks)
    assert f"hold {percent(96.0)}" in {one.text for one in place_labels(labels, room, inks)}


def test_an_old_last_reading_is_not_called_now(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(replace(figures, now=figures.now + 2 * DAY), sample)
    assert made.bar.readout.text().startswith("Last read Thu 14 May 14:00:")


def test_readings_of_one_quantity_alone_are_drawn(pane: Make, figures: BatchFigures, sample: Curves) -> None:
    made = pane()
    made.show_view(figures, replace(sample, temperature_c=np.full(sample.at.size, np.nan)))
    made.grab()
    made.graph.cursor_of_days.point_at(sample.start_at + 5 * DAY)
    assert "°C" not in made.bar.readout.text()
