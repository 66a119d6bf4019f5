"""A row of key figures parted by rules, each reached by Tab and explained by Enter."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from hatchbook.desk.widgets.key_figure import KeyFigure
from hatchbook.desk.widgets.rules import VLine
from hatchbook.figures.results import BatchFigures


class FigureRow(QWidget):
    """Equal columns; the page under it says which.

    Signals:
        explained: the name of the figure that the breeder wants explained.
    """

    explained = Signal(str)

    def set_figures(self, figures: Mapping[str, KeyFigure]) -> None:
        """Lays out the figures, by their names."""
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for position, (name, figure) in enumerate(figures.items()):
            if position:
                row.addWidget(VLine())
            row.addWidget(figure, 1)
            figure.activated.connect(lambda name=name: self.explained.emit(name))

    def show_figures(self, figures: BatchFigures) -> None:
        """Shows the figures of a batch."""
        raise NotImplementedError
