"""The view that holds the rows of a chart: lays them out, dresses them, makes a picture of them."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize
from PySide6.QtGui import QHelpEvent, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.theme import LOOK_EVENTS, current_theme, scheme_of
from hatchbook.desk.theme.tokens import tokens

_LEFT, _RIGHT, _BOTTOM = 2.0, 14.0, 2.0
_AXIS_AIR = 12.0


class Canvas(pg.GraphicsView):
    """Rows below each other over one time scale. pyqtgraph's own mouse, menus and buttons stay out of it."""

    def __init__(self, scale: DayScale, rows: Sequence[Row]) -> None:
        self._rows: tuple[Row, ...] = ()
        super().__init__()
        self.scale_of_days = scale
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(120, 60)
        self._rows = tuple(rows)
        for row in self._rows:
            row.add_to(self.scene())
        current_theme().scheme_changed.connect(self.restyle)
        self.restyle()

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows from top to bottom."""
        return self._rows

    def sizeHint(self) -> QSize:
        """What pyqtgraph asks for, 640 × 480, is too much in a narrow column."""
        return QSize(320, 200)

    # ---------------------------------------------------------------- layout

    def folded(self, height: float) -> frozenset[Row]:  # noqa: ARG002
        """The rows that give way in a chart of this height."""
        return frozenset()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Lays the rows out anew."""
        super().resizeEvent(event)
        self.lay_out()

    def lay_out(self) -> None:
        """Gives each row its place; rows without a height of their own share what the others leave."""
        if not self._rows:
            return
        width, height = float(self.width()), float(self.height())
        numbers = self._inks.width(self._inks.small, "100")
        axis = max(float(tokens().sizes.left_axis), numbers + _AXIS_AIR)
        self.scale_of_days.lay(_LEFT + axis, width - _RIGHT)
        folded = self.folded(height)
        heights = {row: 0.0 if row in folded else row.wanted_height(self._inks) for row in self._rows}
        fixed = sum(wanted for wanted in heights.values() if wanted is not None)
        sharing = sum(wanted is None for wanted in heights.values())
        share = max(0.0, height - _BOTTOM - fixed) / max(sharing, 1)
        top = 0.0
        for row, wanted in heights.items():
            tall = round(share) if wanted is None else wanted
            row.place(QRectF(0, top, width, tall))
            top += tall
        self.rescale()

    def rescale(self) -> None:
        """Other days are in view, or other things are to be drawn."""
        for row in self._rows:
            row.rescale()

    # ---------------------------------------------------------------- dress

    def restyle(self) -> None:
        """Takes colours and fonts anew."""
        self._dress(self.devicePixelRatioF())
        self.lay_out()

    def _dress(self, ratio: float) -> None:
        self._inks = Inks(scheme_of(self), ratio)
        self.setBackground(self._inks.colour("page"))
        for row in self._rows:
            row.dress(self._inks)

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of scheme or font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self._rows:
            self.restyle()

    def event(self, event: QEvent) -> bool:
        """Notices that the window went to a screen with other pixels: pens of curves count device pixels."""
        handled: bool = super().event(event)
        if event.type() == QEvent.Type.DevicePixelRatioChange and self._rows:
            self.restyle()
        return handled

    def picture(self, ratio: float = 2.0) -> QPixmap:
        """The chart as it stands, with `ratio` pixels of the picture to one on the screen."""
        size = self.size()
        pixmap = QPixmap(size * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(self._inks.colour("page"))
        self._dress(ratio)
        try:
            with QPainter(pixmap) as painter:
                self.render(painter, QRectF(0, 0, size.width(), size.height()), self.viewport().rect())
        finally:
            self._dress(self.devicePixelRatioF())
        return pixmap

    # ---------------------------------------------------------------- tips

    def row_at(self, point: QPointF) -> Row | None:
        """The row under a point of the view."""
        return next((row for row in self._rows if row.is_shown and row.area.contains(point)), None)

    def viewportEvent(self, event: QEvent) -> bool:
        """Shows what the row has to say of the point."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            point = QPointF(event.pos())
            row = self.row_at(point)
            text = row.tip(point) if row is not None else ""
            if text:
                QToolTip.showText(event.globalPos(), text, self.viewport())
            else:
                QToolTip.hideText()
            return True
        handled: bool = super().viewportEvent(event)
        return handled
