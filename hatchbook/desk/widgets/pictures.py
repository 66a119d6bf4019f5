"""Egg glyph and outcome bar as widgets. The words for screen readers come from the caller."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.painting.outcome_bar import paint_outcome
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.trade.codes import Fate


class EggGlyph(ThemedWidget):
    """The glyph of one fate, `size` px wide."""

    def __init__(
        self, fate: Fate = Fate.SET, size: int = 18, spoken: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setFixedSize(QSize(size, size))
        self._fate = fate
        self.set_fate(fate, spoken)

    @property
    def fate(self) -> Fate:
        """The fate it shows."""
        return self._fate

    def set_fate(self, fate: Fate, spoken: str) -> None:
        """Show a fate; `spoken` is its word, for the tooltip and for screen readers."""
        self._fate = fate
        self.setAccessibleName(spoken)
        self.setToolTip(spoken)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The glyph."""
        with QPainter(self) as painter:
            paint_egg(painter, QRectF(self.rect()), self._fate, self.scheme)


class OutcomeBar(ThemedWidget):
    """How many eggs met which fate, as a bar."""

    def __init__(self, height: int = 12, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._counts: dict[Fate, int] = {}
        self.setFixedHeight(height)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_counts(self, counts: Mapping[Fate, int], spoken: str) -> None:
        """Show counts; `spoken` says them in words, for the tooltip and for screen readers."""
        self._counts = dict(counts)
        self.setAccessibleName(spoken)
        self.setToolTip(spoken)
        self.update()

    def sizeHint(self) -> QSize:
        """A usual width; it takes what it gets."""
        return QSize(180, self.height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The bar."""
        with QPainter(self) as painter:
            paint_outcome(painter, QRectF(self.rect()), self._counts, self.scheme)
