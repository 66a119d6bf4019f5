"""Beside the counts that are being typed: the rates that follow, and what became of the eggs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.pages.three_rates import ThreeRates
from hatchbook.desk.past.rates import past_feet
from hatchbook.desk.tray.tally import Tally
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.pictures import OutcomeBar
from hatchbook.desk.words.alive import rest_sentence
from hatchbook.desk.words.past_seasons import count_sentence, left_sentence
from hatchbook.figures import PastDraft

_LEAST_WIDTH = 280
_BAR_HEIGHT = 14


class LiveRates(QWidget):
    """Three rates one below the other, the bar of outcomes, the tally."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumWidth(_LEAST_WIDTH)
        self.rates = ThreeRates()
        self.bar = OutcomeBar(_BAR_HEIGHT)
        self.tally = Tally()
        self.left = Label("", "caption", "ink2", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(Label(self.tr("What follows"), role="section"))
        for figure in self.rates.by_name.values():
            # They are looked at while the counts beside them are typed.
            figure.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            figure.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(figure)
        column.addSpacing(4)
        column.addWidget(self.bar)
        column.addWidget(self.tally)
        column.addWidget(self.left)
        column.addStretch(1)

    def show_draft(self, draft: PastDraft | None) -> None:
        """Shows what follows from counts; None where one of them cannot be read."""
        rates = draft.rates if draft is not None else None
        counts = rates.counts.by_fate if rates is not None else {}
        self.bar.setVisible(rates is not None)
        self.bar.set_counts(counts, rest_sentence(counts))
        self.tally.show_counts(counts)
        if rates is None:
            self.rates.show_nothing()
            troubles = draft.troubles if draft is not None else ()
            self.left.setText(count_sentence(troubles[0]) if troubles else "")
            return
        self.rates.show_rates(rates, past_feet(rates))
        assert draft is not None
        self.left.setText(left_sentence(draft.left))
