"""The three rates of a batch of which only counts are known."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.pages.three_rates import RateFeet, ThreeRates
from hatchbook.desk.words.past_batches import past_fertility_foot, past_of_fertile_foot, past_of_set_foot
from hatchbook.figures.among_others import RatesAmong
from hatchbook.statistics.rates import BatchRates


class PastRates(FigureRow):
    """Fertility, hatch of fertile, hatch of set, each with its counts and its range, and what others do."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rates = ThreeRates()
        self.set_figures(self.rates.by_name)

    def show_rates(self, rates: BatchRates, among: RatesAmong | None = None) -> None:
        """Shows the rates; ``among``: None while nothing is known of the others."""
        self.rates.show_rates(rates, past_feet(rates), among)


def past_feet(rates: BatchRates) -> RateFeet:
    """What stands under the rates of a past batch."""
    return RateFeet(past_fertility_foot(rates), past_of_fertile_foot(rates), past_of_set_foot(rates))
