"""The three rates of a batch of which only counts are known."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.pages.rate_figures import show_rate
from hatchbook.desk.widgets.key_figure import KeyFigure
from hatchbook.desk.words.past_batches import past_fertility_foot, past_of_fertile_foot, past_of_set_foot
from hatchbook.statistics.rates import BatchRates


class PastRates(FigureRow):
    """Fertility, hatch of fertile, hatch of set, each with its counts and its range."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fertile = KeyFigure(self.tr("Fertile, of set"))
        self.of_fertile = KeyFigure(self.tr("Hatched, of fertile"))
        self.of_set = KeyFigure(self.tr("Hatched, of set"))
        self.set_figures({"fertility": self.fertile, "of_fertile": self.of_fertile, "of_set": self.of_set})

    def show_rates(self, rates: BatchRates | None) -> None:
        """Shows the rates; None where the counts cannot be."""
        if rates is None:
            for figure in (self.fertile, self.of_fertile, self.of_set):
                figure.set_missing("")
            return
        show_rate(self.fertile, rates.fertility, past_fertility_foot(rates))
        show_rate(self.of_fertile, rates.hatch_of_fertile, past_of_fertile_foot(rates))
        show_rate(self.of_set, rates.hatch_of_set, past_of_set_foot(rates))
