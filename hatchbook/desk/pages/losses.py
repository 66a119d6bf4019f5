"""Losses of the fertile eggs by stage, each with its counts and its range, and what the rates leave out."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.pictures import EggGlyph
from hatchbook.desk.words.rates import (
    closing_sentence,
    left_out_sentences,
    loss_lines,
    no_losses_sentence,
)
from hatchbook.statistics.rates import BatchRates

_GLYPH = 20


class Losses(QWidget):
    """A row a stage: glyph, word, count of fertile, rate with its range; below, whether it all adds up."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._content: QWidget | None = None

    def show_rates(self, rates: BatchRates) -> None:
        """Shows the losses of another batch."""
        if self._content is not None:
            self._column.removeWidget(self._content)
            self._content.hide()
            self._content.deleteLater()
        self._content = QWidget()
        self._column.addWidget(self._content)
        rows = QVBoxLayout(self._content)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(1, 1)
        lines = loss_lines(rates)
        right = Qt.AlignmentFlag.AlignRight
        for row, (fate, word, count, rate) in enumerate(lines):
            grid.addWidget(EggGlyph(fate, _GLYPH, word), row, 0)
            grid.addWidget(Label(word), row, 1)
            grid.addWidget(Label(count, ink="ink2"), row, 2, right)
            grid.addWidget(Label(rate), row, 3, right)
        if not lines:
            grid.addWidget(Label(no_losses_sentence(rates), ink="ink2"), 0, 0, 1, 4)
        rows.addLayout(grid)
        for sentence in (closing_sentence(rates), *left_out_sentences(rates)):
            rows.addWidget(Label(sentence, "caption", "ink2", wraps=True))
        spoken = "; ".join(f"{word} {count}, {rate}" for _, word, count, rate in lines)
        self.setAccessibleName(self.tr("Losses of the fertile eggs: {losses}").format(losses=spoken))
