"""The charts of single batches: pointing, keys, opening, what is said in their place."""

from __future__ import annotations

import pytest
from hatchbook.desk.charts.point_material import material_of
from hatchbook.desk.painting.group_shapes import SHAPES, GroupShape, shape_path
from hatchbook.desk.seasons.charts_pane import ChartsPane
from hatchbook.figures.comparison_results import GroupName, Place, Question
from hatchbook.figures.comparison_rows import Grouping
from PySide6.QtCore import QPoint, QPointF, Qt
from pytestqt.qtbot import QtBot
from tests.desk.seasons.made_up import PENS, POINTS, figures, point


@pytest.fixture
def pane(qtbot: QtBot) -> ChartsPane:
    pane = ChartsPane()
    qtbot.addWidget(pane)
    pane.resize(900, 260)
    pane.show_figures(figures())
    pane.show()
    return pane


def centre(pane: ChartsPane, number: int) -> QPoint:
    """Where a point of the funnel lies."""
    plot = pane.funnel.plot()
    material = pane.points.material
    assert material is not None
    x = pane.funnel.x_of(number, material.points[number], plot)
    return QPointF(x, pane.funnel.y_of(material.points[number].share, plot)).toPoint()


def test_pointing_at_a_batch_tells_of_it_in_the_read_out(pane: ChartsPane, qtbot: QtBot) -> None:
    assert pane.readout.text().startswith("4 batch(es); 19 of 20")
    qtbot.mouseMove(pane.funnel, centre(pane, 1))
    assert pane.points.at == 1
    assert pane.readout.text().startswith("24-02 Brook hens, Brook, Dairy: 9 of 22 fertile eggs hatched")
    qtbot.mouseMove(pane.funnel, QPoint(3, 3))
    assert pane.points.at is None
    assert pane.readout.text().startswith("4 batch(es)")


def test_a_click_chooses_and_a_double_click_opens(pane: ChartsPane, qtbot: QtBot) -> None:
    chosen: list[str] = []
    opened: list[str] = []
    pane.batch_chosen.connect(chosen.append)
    pane.batch_opened.connect(opened.append)
    qtbot.mouseClick(pane.funnel, Qt.MouseButton.LeftButton, pos=centre(pane, 0))
    assert (chosen, opened) == (["u1"], [])
    qtbot.mouseDClick(pane.funnel, Qt.MouseButton.LeftButton, pos=centre(pane, 0))
    assert opened == ["u1"]
    qtbot.mouseClick(pane.funnel, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))
    assert set(chosen) == {"u1"}


def test_arrows_go_through_the_batches_and_enter_opens(pane: ChartsPane, qtbot: QtBot) -> None:
    opened: list[str] = []
    pane.batch_opened.connect(opened.append)
    pane.order.setFocus()
    seen = []
    for _ in range(5):
        qtbot.keyClick(pane.order, Qt.Key.Key_Right)
        assert pane.points.point is not None
        assert pane.order.accessibleDescription() == pane.readout.text()
        assert pane.points.point.label in pane.order.accessibleDescription()
        seen.append(pane.points.point.label)
    assert seen == ["24-01", "24-02", "24-03", "24-04", "24-04"]
    qtbot.keyClick(pane.order, Qt.Key.Key_Return)
    assert opened == []  # known by its counts alone: there is no journal of it
    qtbot.keyClick(pane.order, Qt.Key.Key_Home)
    qtbot.keyClick(pane.order, Qt.Key.Key_Return)
    assert opened == ["u1"]
    qtbot.keyClick(pane.order, Qt.Key.Key_Escape)
    assert pane.points.at is None
    qtbot.keyClick(pane.order, Qt.Key.Key_End)
    assert pane.points.at == 3


def test_space_chooses_the_batch_that_the_keys_stand_at(pane: ChartsPane, qtbot: QtBot) -> None:
    chosen: list[str] = []
    pane.batch_chosen.connect(chosen.append)
    qtbot.keyClick(pane.funnel, Qt.Key.Key_Home)
    qtbot.keyClick(pane.funnel, Qt.Key.Key_Space)
    assert chosen == ["u1"]  # the smallest


def test_the_batch_of_the_window_is_ringed(pane: ChartsPane) -> None:
    before = pane.funnel.grab().toImage()
    pane.choose("u1")
    assert pane.funnel.grab().toImage() != before
    pane.choose(None)
    assert pane.funnel.grab().toImage() == before


def test_a_filter_leaves_its_batches_with_the_same_shapes_and_scale(pane: ChartsPane) -> None:
    whole = pane.points.material
    assert whole is not None
    pane.show_figures(figures(), [POINTS[1]])
    left = pane.points.material
    assert left is not None
    assert [one.uid for one in left.points] == ["u2"]
    assert left.shapes == whole.shapes
    assert (left.low, left.high) == (whole.low, whole.high)
    pane.show_figures(figures(), [])
    assert not pane.funnel.grab().isNull()
    assert not pane.order.grab().isNull()


def test_the_pointer_stays_at_its_batch_with_other_figures(pane: ChartsPane) -> None:
    pane.points.point_at(2)
    pane.show_figures(figures())
    assert pane.points.point == POINTS[2]
    pane.show_figures(figures(), [POINTS[0]])
    assert pane.points.point is None


def test_with_too_few_batches_a_sentence_stands_in_place_of_the_charts(pane: ChartsPane) -> None:
    pane.show_figures(figures(points=(), limits=None, batches=1))
    assert not pane.has_charts
    assert pane.too_few.text().startswith("3 finished batches are needed")
    pane.show_figures(figures())
    assert pane.has_charts


def test_more_batches_than_fit_are_gone_through_by_keys(pane: ChartsPane, qtbot: QtBot) -> None:
    many = tuple(point(number, PENS[number % 3], 0.5 + number % 40 / 100) for number in range(1, 401))
    pane.show_figures(figures(points=many))
    material = pane.points.material
    assert material is not None
    shown = pane.order.shown(material)
    assert shown.stop == 400  # the newest
    assert len(shown) < 400
    qtbot.keyClick(pane.order, Qt.Key.Key_Home)
    assert pane.order.shown(material).start == 0
    qtbot.keyClick(pane.order, Qt.Key.Key_End)
    assert pane.order.shown(material).stop == 400
    assert not pane.order.grab().isNull()


def test_more_groups_than_shapes_share_the_dot() -> None:
    groups = [GroupName(Grouping.PEN, str(number), f"Pen {number:02}") for number in range(12)]
    points = tuple(point(at + 1, group, 0.7) for at, group in enumerate(groups))
    material = material_of(figures(points=points))
    assert material is not None
    shapes = [material.shape(one) for one in points]
    assert sorted(shapes[: len(SHAPES)], key=str) == sorted(SHAPES, key=str)
    assert set(shapes[len(SHAPES) :]) == {GroupShape.DOT}


def test_where_groups_are_times_every_point_is_a_circle() -> None:
    points = tuple(point(number, PENS[0], 0.7, Place.INSIDE) for number in range(1, 4))
    bare = tuple(type(one)(**{**vars(one), "group": None}) for one in points)
    asked = Question("hen", groupings=(Grouping.SEASON,))
    material = material_of(figures(points=bare, question=asked))
    assert material is not None
    assert {material.shape(one) for one in bare} == {GroupShape.CIRCLE}


@pytest.mark.parametrize("shape", list(GroupShape))
def test_a_shape_lies_round_its_centre(shape: GroupShape) -> None:
    bounds = shape_path(shape, QPointF(50, 50), 10).boundingRect()
    assert bounds.contains(QPointF(50, 50))
    assert bounds.width() < 16
    assert bounds.height() < 16
