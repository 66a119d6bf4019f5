"""Pointer and keys in the plot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hatchbook.desk.charts.batch_graph import BatchGraph
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.trade.codes import EventKind
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

DAY = 86_400


@pytest.fixture
def shown(pane: Callable[..., Any], figures: BatchFigures, sample: Curves) -> Any:
    made = pane()
    made.show_view(figures, sample)
    return made


@pytest.fixture
def graph(shown: Any) -> BatchGraph:
    graph: BatchGraph = shown.graph
    return graph


def place(graph: BatchGraph, day: float, row: str = "humidity") -> QPoint:
    return QPoint(round(graph.scale_of_days.px(day)), round(getattr(graph, row).plot.center().y()))


def wheel(
    graph: BatchGraph, where: QPoint, turned: int, modifier: Any = Qt.KeyboardModifier.NoModifier
) -> bool:
    event = QWheelEvent(
        QPointF(where),
        QPointF(graph.viewport().mapToGlobal(where)),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        modifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(graph.viewport(), event)
    return event.isAccepted()


def drag(graph: BatchGraph, begin: QPoint, end: QPoint) -> None:
    QTest.mousePress(graph.viewport(), Qt.MouseButton.LeftButton, pos=begin)
    QTest.mouseMove(graph.viewport(), (begin + end) / 2)
    QTest.mouseMove(graph.viewport(), end)
    QTest.mouseRelease(graph.viewport(), Qt.MouseButton.LeftButton, pos=end)


def test_the_wheel_zooms_round_the_pointer_and_never_up_and_down(graph: BatchGraph) -> None:
    before = (graph.humidity.low, graph.humidity.high)
    where = place(graph, 5.0)
    day = graph.scale_of_days.day(where.x())
    wheel(graph, where, 360)
    assert graph.scale_of_days.span < 14
    assert graph.scale_of_days.day(where.x()) == pytest.approx(day)
    assert (graph.humidity.low, graph.humidity.high) == before
    (low, high), (bottom, top) = graph.humidity.view.viewRange()
    assert (low, high) == pytest.approx((graph.scale_of_days.low, graph.scale_of_days.high))
    assert (bottom, top) == before


def test_all_curves_lie_over_the_same_days(graph: BatchGraph) -> None:
    graph.show_days(4.0, 9.0)
    assert graph.humidity.view.viewRange()[0] == graph.temperature.view.viewRange()[0] == [4.0, 9.0]


def test_dragging_pans_and_a_double_click_shows_everything(graph: BatchGraph) -> None:
    graph.show_days(4.0, 9.0)
    drag(graph, place(graph, 6.0), place(graph, 5.0))
    assert graph.scale_of_days.low == pytest.approx(5.0, abs=0.05)
    QTest.mouseDClick(graph.viewport(), Qt.MouseButton.LeftButton, pos=place(graph, 6.0))
    assert graph.scale_of_days.is_whole


def test_a_page_that_scrolls_gets_the_wheel_where_there_is_nothing_more_to_show(graph: BatchGraph) -> None:
    where = place(graph, 5.0)
    assert not wheel(graph, where, -120)
    assert wheel(graph, where, 120)
    assert wheel(graph, where, -120)


def test_shift_and_the_wheel_pan(graph: BatchGraph) -> None:
    graph.show_days(4.0, 9.0)
    wheel(graph, place(graph, 5.0), -120, Qt.KeyboardModifier.ShiftModifier)
    assert graph.scale_of_days.low == pytest.approx(4.5)


def test_pointing_at_a_reading_is_read_out_and_leaving_ends_it(
    shown: Any, graph: BatchGraph, qtbot: Any
) -> None:
    QTest.mouseMove(graph.viewport(), place(graph, 5.4))
    qtbot.waitUntil(lambda: graph.cursor_of_days.index is not None)
    assert shown.bar.readout.text().startswith("Day 5.4, 8 May 18:")
    assert "mean 50." in shown.bar.readout.text()
    QTest.mouseMove(graph.viewport(), QPoint(2, 200))
    qtbot.waitUntil(lambda: graph.cursor_of_days.at is None)
    assert shown.bar.readout.text().startswith("Now ")


def test_a_click_on_a_mark_chooses_its_event(shown: Any, graph: BatchGraph, qtbot: Any) -> None:
    power = next(event for event in graph.material.events if event.kind is EventKind.POWER_CUT)  # type: ignore[union-attr]
    graph.show_days(6.0, 7.5)
    graph.grab()
    with qtbot.waitSignal(shown.event_chosen) as chosen:
        where = QPoint(round(graph.scale_of_days.px_of(power.at)), round(graph.events.area.center().y()))
        QTest.mouseClick(graph.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert chosen.args == ["power0"]
    assert graph.events.ringed == "power0"


def test_dragging_across_a_mark_chooses_nothing(shown: Any, graph: BatchGraph, qtbot: Any) -> None:
    graph.show_days(6.0, 7.5)
    graph.grab()
    with qtbot.assertNotEmitted(shown.event_chosen):
        begin = place(graph, 6.62, "events")
        drag(graph, begin, begin + QPoint(60, 0))


def test_the_keys_walk_over_readings_days_and_events(shown: Any, graph: BatchGraph, qtbot: Any) -> None:
    shown.focus_chart()
    QTest.keyClick(graph, Qt.Key.Key_Home)
    cursor = graph.cursor_of_days
    assert cursor.index == 0
    QTest.keyClick(graph, Qt.Key.Key_Right)
    assert cursor.index == 1
    QTest.keyClick(graph, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert cursor.at == graph.material.set_at + DAY + 600  # type: ignore[union-attr]
    QTest.keyClick(graph, Qt.Key.Key_E)
    assert cursor.of_event is not None
    assert cursor.of_event.uid == "water1"
    assert "3 channel" in shown.bar.readout.text()
    with qtbot.waitSignal(shown.event_chosen) as chosen:
        QTest.keyClick(graph, Qt.Key.Key_Return)
    assert chosen.args == ["water1"]
    QTest.keyClick(graph, Qt.Key.Key_E, Qt.KeyboardModifier.ShiftModifier)
    assert cursor.of_event.uid == "water0"
    QTest.keyClick(graph, Qt.Key.Key_End)
    assert cursor.index == graph.material.curves.at.size - 1  # type: ignore[union-attr]


def test_keys_zoom_and_what_they_point_at_stays_in_view(shown: Any, graph: BatchGraph) -> None:
    shown.focus_chart()
    QTest.keyClick(graph, Qt.Key.Key_Home)
    for _ in range(14):
        QTest.keyClick(graph, Qt.Key.Key_Plus)
    assert graph.scale_of_days.span < 2
    QTest.keyClick(graph, Qt.Key.Key_End)
    assert graph.scale_of_days.sees(graph.scale_of_days.day_of(graph.cursor_of_days.at or 0))
    QTest.keyClick(graph, Qt.Key.Key_Minus)
    assert graph.scale_of_days.span > 1.2


def test_escape_leaves_for_the_bar(shown: Any, graph: BatchGraph) -> None:
    shown.focus_chart()
    QTest.keyClick(graph, Qt.Key.Key_Home)
    QTest.keyClick(graph, Qt.Key.Key_Escape)
    assert graph.cursor_of_days.at is None
    assert not graph.hasFocus()


def test_other_keys_are_left_to_the_window(graph: BatchGraph, window: Any) -> None:
    heard: list[int] = []
    window.keyPressEvent = lambda event: heard.append(event.key())
    graph.setFocus()
    QTest.keyClick(graph, Qt.Key.Key_F1)
    assert heard == [Qt.Key.Key_F1]


def test_tips_tell_gaps_events_duties_and_excursions(graph: BatchGraph) -> None:
    graph.grab()
    assert "without readings, not counted" in graph.humidity.tip(QPointF(place(graph, 2.85)))
    assert graph.humidity.tip(QPointF(place(graph, 5.0))) == ""
    assert "Down to 31.5" in graph.temperature.tip(QPointF(place(graph, 6.68, "temperature")))
    lane = QPointF(graph.scale_of_days.px(4.0), graph.phases.area.top() + 10)
    assert graph.phases.tip(lane).startswith("Weigh, due Thu 7 May")
    rail = QPointF(graph.scale_of_days.px(19.0), graph.phases.area.bottom() - 5)
    assert graph.phases.tip(rail) == "Lockdown"
    mark = QPointF(graph.scale_of_days.px(1.98), graph.events.area.center().y())
    told = "Tue 5 May 08:31: 3 channel(s) filled; no sure change of humidity in 2 h: −1 % (−4 to +1)"
    assert graph.events.tip(mark) == told


def test_an_overdue_duty_says_so(pane: Callable[..., Any], figures: BatchFigures, sample: Curves) -> None:
    from dataclasses import replace

    duties = tuple(replace(duty, done_at=None) for duty in sample.duties)
    made = pane()
    made.show_view(figures, replace(sample, duties=duties))
    made.grab()
    lane = QPointF(made.graph.scale_of_days.px(4.0), made.graph.phases.area.top() + 10)
    assert made.graph.phases.tip(lane) == "Weigh, was due Thu 7 May 09:00, not done"


def test_a_low_chart_folds_the_temperature(
    pane: Callable[..., Any], figures: BatchFigures, sample: Curves
) -> None:
    made = pane(640, 340)
    made.show_view(figures, sample)
    assert not made.graph.temperature.is_shown
    assert made.graph.humidity.plot.height() > 100
    made.graph.cursor_of_days.point_at(sample.start_at + 5 * DAY)
    assert "°C" in made.bar.readout.text()
