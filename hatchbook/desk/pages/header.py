"""The title of a batch with its facts and the actions that it is there for."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.words.batches import batch_facts
from hatchbook.figures.results import BatchFigures

#: As drawn; larger text takes more.
_HEIGHT = 64


class BatchHeader(QWidget):
    """Name and number, buttons, and one line of facts; what does not fit is in its tooltip."""

    def __init__(self, actions: Actions, names: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumHeight(_HEIGHT)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._name = ElidedLabel("", role="title")
        self._label = Label("", role="section", ink="ink2", bold=False)
        self._facts = ElidedLabel("", ink="ink2")
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 8, 12, 6)
        rows.setSpacing(2)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self._name)
        top.addWidget(self._label)
        top.addStretch(1)
        for name in names:
            button = FlatButton(actions[name])
            top.addWidget(button)
        rows.addLayout(top)
        rows.addWidget(self._facts)

    def show_figures(self, figures: BatchFigures, zone: ZoneInfo, more: Sequence[str] = ()) -> None:
        """Shows another batch; ``more``: sentences that go behind its facts."""
        facts = "  ".join([batch_facts(figures, zone), *(f"{sentence}." for sentence in more)])
        self.show_texts(figures.batch.label, figures.batch.name, facts)

    def show_texts(self, label: str, name: str, facts: str) -> None:
        """Shows number and name, which may be empty, and the line of facts."""
        self._name.setText(name or label)
        self._label.setText(label if name else "")
        self._facts.setText(facts)
        self.setAccessibleName(f"{label} {name}. {facts}")
