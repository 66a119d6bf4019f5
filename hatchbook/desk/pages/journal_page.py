"""The page of a batch that is planned or runs."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.batch_page import BatchPage
from hatchbook.desk.pages.key_figures import KeyFigures
from hatchbook.desk.pages.setting_link import SettingLink
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.temperature import running_sentences
from hatchbook.desk.words.weights import advice_sentence
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.figures.temperature import temperature_figures

_HEADER_ACTIONS = ("candle", "weigh", "add_reading", "log_event", "add_note")


class JournalPage(BatchPage):
    """Four figures, a sentence where the two aims part, and the chart as the main part."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        self.figures = KeyFigures()
        super().__init__(context, actions, _HEADER_ACTIONS, self.figures)
        self.advice = InlineNote("")
        self.advice.setVisible(False)
        main = QWidget()
        rows = QVBoxLayout(main)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        self._advice_row = QWidget()
        around = QVBoxLayout(self._advice_row)
        around.setContentsMargins(14, 8, 14, 0)
        around.addWidget(self.advice)
        rows.addWidget(self._advice_row)
        rows.addWidget(self.chart, 1)
        self._advice_row.setVisible(False)
        self.set_main_part(main)
        self.setting = SettingLink(context, self)
        self.setting.found.connect(self.figures.show_setting)
        self.figures.hold.foot_activated.connect(actions["page_machines"].trigger)

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch; the setting that gives what to hold follows when it is reckoned."""
        super().show_view(figures, curves)
        self.setting.ask(figures)

    def more_facts(self, figures: BatchFigures, curves: Curves) -> list[str]:
        """Power cuts that nobody logged, and whether the hatch is to be expected earlier or later."""
        return running_sentences(temperature_figures(figures, curves, self._context.zone))

    def show_main_part(self, figures: BatchFigures, curves: Curves) -> None:  # noqa: ARG002
        """Says by which aim to go, where humidity band and weight ask for different things."""
        advice = None if figures.forecast is None else figures.forecast.advice
        sentence = "" if advice is None else advice_sentence(advice)
        if sentence:
            self.advice.set_note(sentence, "info")
        self.advice.setVisible(bool(sentence))
        self._advice_row.setVisible(bool(sentence))
