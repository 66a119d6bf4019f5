"""A plotted curve that stays quick however many readings it has."""

from __future__ import annotations

import numpy as np
import pyqtgraph as pg

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.lines import Line, coarser
from hatchbook.desk.charts.scale import DayScale

_BY = 16
_CORNERS_PER_PX = 4.0
_NOTHING = Line(np.empty(0), np.empty(0))


class Curve:
    """One curve of a row. pyqtgraph clips it to the view and draws the peaks of what shares a pixel.

    Looking for those peaks among a million readings would still take the most of a frame: views in which very
    many share a pixel are drawn from every sixteenth part of the readings, highest and lowest.
    """

    def __init__(self, role: str, width: float, depth: float, *, few_corners: bool = False) -> None:
        """`few_corners`: it is drawn as one path, so that a wide pen joins it well; only for simplified lines."""
        self._role = role
        self._width = width
        self.item = pg.PlotDataItem(connect="finite", antialias=True, autoDownsampleFactor=1.0)
        # A single antialiased path of thousands of corners takes up to seconds once its pen is wider than one
        # device pixel; its segments one by one take milliseconds.
        self.item.curve.setSegmentedLineMode("off" if few_corners else "on")
        self.item.setZValue(depth)
        self._levels: list[Line] = [_NOTHING]
        self._level = 0

    def add_to(self, view: pg.ViewBox) -> None:
        """Puts the curve into a view that is in a scene: it asks for the range in view at once."""
        view.addItem(self.item, ignoreBounds=True)
        self.item.setClipToView(True)
        self.item.setDownsampling(auto=True, method="peak")

    def dress(self, inks: Inks) -> None:
        """Takes another pen."""
        self.item.setPen(inks.curve_pen(self._role, self._width))

    def show(self, line: Line | None, scale: DayScale) -> None:
        """Shows other data."""
        self._levels = [line or _NOTHING]
        self._level = self._level_for(scale)
        self._hand_over()

    def rescale(self, scale: DayScale) -> None:
        """Other days are in view."""
        level = self._level_for(scale)
        if level != self._level:
            self._level = level
            self._hand_over()

    def _level_for(self, scale: DayScale) -> int:
        """The coarsest level that still has enough corners for every pixel in view."""
        full = self._levels[0]
        if not full.days.size:
            return 0
        share = scale.span / max(float(full.days[-1] - full.days[0]), 1e-9)
        corners = full.days.size * min(share, 1.0)
        level, wanted = 0, _CORNERS_PER_PX * (scale.right - scale.left) * min(1.0, 1 / share)
        while corners * 2 / _BY >= wanted:
            corners *= 2 / _BY
            level += 1
            if level == len(self._levels):
                self._levels.append(coarser(self._levels[-1], _BY))
        return level

    def _hand_over(self) -> None:
        line = self._levels[self._level]
        self.item.setData(line.days, line.values)
