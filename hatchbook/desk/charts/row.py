"""The rows of a chart: layers painted straight onto its pixels, and between two of them what pyqtgraph plots."""

from __future__ import annotations

from collections.abc import Callable

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsItem, QGraphicsScene, QStyleOptionGraphicsItem, QWidget

from hatchbook.desk.charts.curve import Curve
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.scale import DayScale

BACK, CURVES, FRONT, POINTER = 0.0, 10.0, 20.0, 100.0
"""Depths of what is below the curves, of them, above them, and of what follows the pointer."""


class Layer(QGraphicsItem):
    """A part of the scene that paints itself in the pixels of the view."""

    def __init__(self, draw: Callable[[QPainter], None], depth: float) -> None:
        super().__init__()
        self._draw = draw
        self._area = QRectF()
        self.setZValue(depth)

    def cover(self, area: QRectF) -> None:
        """Paints this area from now on."""
        if area != self._area:
            self.prepareGeometryChange()
            self._area = QRectF(area)

    def boundingRect(self) -> QRectF:
        """The area it paints."""
        return self._area

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paints, with a painter whose pixels are those of the view."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw(painter)


class Row:
    """One row of a chart.

    ``height``: in pixels; None for a row that shares what is left. ``area`` reaches over the axis at its left,
    ``plot`` only over the days.
    """

    height: float | None = None

    def __init__(self, scale: DayScale) -> None:
        self.scale = scale
        self.area = QRectF()
        self.plot = QRectF()
        self.inks: Inks | None = None
        self._back = Layer(self._paint_back, BACK)

    def add_to(self, scene: QGraphicsScene) -> None:
        """Puts the row's items into a scene."""
        scene.addItem(self._back)

    def place(self, area: QRectF) -> None:
        """Lays the row out; an empty area hides it. The scale knows where the days begin and end."""
        self.area = area
        self.plot = QRectF(self.scale.left, area.top(), self.scale.right - self.scale.left, area.height())
        self._back.cover(area)
        self._back.setVisible(self.is_shown)

    def wanted_height(self, inks: Inks) -> float | None:  # noqa: ARG002
        """How high the row is to be with these fonts; None for a share of what is left."""
        return self.height

    @property
    def is_shown(self) -> bool:
        """Whether the row has a place."""
        return self.area.height() > 0

    def dress(self, inks: Inks) -> None:
        """Takes other colours, fonts and pens."""
        self.inks = inks
        self.repaint()

    def rescale(self) -> None:
        """Other days are in view, or other things are to be drawn."""
        self.repaint()

    def repaint(self) -> None:
        """Paints again."""
        self._back.update()

    def tip(self, point: QPointF) -> str:  # noqa: ARG002
        """What there is to say of a point; "" for nothing."""
        return ""

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints what lies below the curves."""

    def _paint_back(self, painter: QPainter) -> None:
        if self.inks is not None and self.is_shown:
            self.draw_back(painter, self.inks)


class CurveRow(Row):
    """A row with a value axis and plotted curves, between a layer below and a layer above them."""

    def __init__(self, scale: DayScale) -> None:
        super().__init__(scale)
        self.low, self.high = 0.0, 1.0
        self.view = pg.ViewBox(enableMenu=False, enableMouse=False, defaultPadding=0)
        self.view.disableAutoRange()
        self.view.setZValue(CURVES)
        self._front = Layer(self._paint_front, FRONT)
        self._curves: list[Curve] = []

    def add_to(self, scene: QGraphicsScene) -> None:
        """Puts the row's items into a scene."""
        super().add_to(scene)
        scene.addItem(self.view)
        scene.addItem(self._front)
        for curve in self._curves:
            curve.add_to(self.view)

    def new_curve(self, role: str, width: float, depth: float, *, few_corners: bool = False) -> Curve:
        """A curve of this row; call it before the row is put into a scene."""
        curve = Curve(role, width, depth, few_corners=few_corners)
        self._curves.append(curve)
        return curve

    def set_range(self, low: float, high: float) -> None:
        """The values at the bottom and the top of the row."""
        self.low, self.high = low, high
        self.view.setYRange(low, high, padding=0)

    def place(self, area: QRectF) -> None:
        """Lays the row out."""
        super().place(area)
        self._front.cover(area)
        for item in (self.view, self._front):
            item.setVisible(self.is_shown)
        if self.is_shown:
            self.view.setGeometry(self.plot)

    def dress(self, inks: Inks) -> None:
        """Takes other colours, fonts and pens."""
        super().dress(inks)
        for curve in self._curves:
            curve.dress(inks)

    def rescale(self) -> None:
        """Other days are in view."""
        if self.is_shown:
            for curve in self._curves:
                curve.rescale(self.scale)
            self.view.setXRange(self.scale.low, self.scale.high, padding=0)
        super().rescale()

    def repaint(self) -> None:
        """Paints again."""
        super().repaint()
        self._front.update()

    def y_px(self, value: float) -> float:
        """The pixel of a value."""
        share = (value - self.low) / (self.high - self.low)
        return self.plot.bottom() - share * self.plot.height()

    def draw_front(self, painter: QPainter, inks: Inks) -> None:
        """Paints what lies above the curves."""

    def _paint_front(self, painter: QPainter) -> None:
        if self.inks is not None and self.is_shown:
            self.draw_front(painter, self.inks)
