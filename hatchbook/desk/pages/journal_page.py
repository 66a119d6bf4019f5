"""The page of a batch that is planned or runs."""

from __future__ import annotations

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.batch_page import BatchPage
from hatchbook.desk.pages.key_figures import KeyFigures

_HEADER_ACTIONS = ("candle", "weigh", "add_reading", "log_event", "add_note")


class JournalPage(BatchPage):
    """Four figures, and the chart as the main part."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        self.figures = KeyFigures()
        super().__init__(context, actions, _HEADER_ACTIONS, self.figures)
        self.set_main_part(self.chart)
