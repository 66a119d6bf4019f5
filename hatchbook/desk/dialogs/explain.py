"""How a key figure is reckoned, with the numbers it rests on."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.explanations import explanation
from hatchbook.figures.results import BatchFigures


class ExplanationDialog(FramedDialog):
    """A title and a few sentences; for reading only."""

    def __init__(self, title: str, sentences: Sequence[str], parent: QWidget | None) -> None:
        super().__init__(title, parent, QSize(480, 0))
        rows = QVBoxLayout()
        rows.setSpacing(8)
        rows.addWidget(Label(title, role="section"))
        for sentence in sentences:
            rows.addWidget(Label(sentence, wraps=True))
        rows.addStretch(1)
        self.set_content(rows)
        self.setAccessibleDescription(" ".join(sentences))
        self.add_leave_button(self.tr("Close"))


class ExplainDialog(ExplanationDialog):
    """How a key figure of a batch is reckoned, by its name."""

    def __init__(self, name: str, figures: BatchFigures, parent: QWidget | None) -> None:
        super().__init__(*explanation(name, figures), parent)
