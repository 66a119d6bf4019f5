"""When to fill next, how much water goes in a day."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.guide import cautions
from hatchbook.desk.words.guide_water import fill_headline, fill_sentence, fill_span, water_sentence
from hatchbook.figures.guide_results import MachineGuide


class FillPane(QWidget):
    """A day with its range and what that rests on, the water of a day, what must not be forgotten.

    Signals:
        channels_wanted: the breeder wants to note what a channel holds.
    """

    channels_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.when = Label("", bold=True, wraps=True)
        self.why = Label("", ink="ink2", wraps=True)
        self.span = Label("", ink="ink2", wraps=True)
        self.water = Label("", ink="ink2", wraps=True)
        self.volumes = LinkButton(self.tr("Note what a channel holds…"))
        self.volumes.clicked.connect(self.channels_wanted)
        self.cautions = Label("", ink="ink2", wraps=True)
        left, right = QVBoxLayout(), QVBoxLayout()
        for column in (left, right):
            column.setSpacing(4)
        left.addWidget(Label(self.tr("Next fill"), role="section"))
        for part in (self.when, self.span, self.water):
            left.addWidget(part)
        for part in (self.why, self.cautions):
            right.addWidget(part)
        right.insertWidget(1, self.volumes, 0, Qt.AlignmentFlag.AlignLeft)
        columns = QHBoxLayout(self)
        columns.setContentsMargins(0, 0, 0, 0)
        columns.setSpacing(24)
        for column in (left, right):
            column.addStretch(1)
            columns.addLayout(column, 1)

    def show_guide(self, guide: MachineGuide, now: int, zone: ZoneInfo) -> None:
        """Shows what a guide says of the water."""
        fill = guide.next_fill
        self.when.setText(fill_headline(guide, now, zone))
        self.why.setText(fill_sentence(guide, zone))
        for label, text in ((self.span, fill_span(guide, zone)), (self.water, water_sentence(guide))):
            label.setText(text)
            label.setVisible(bool(text))
        self.cautions.setText(" ".join(cautions(guide)))
        self.volumes.setVisible(fill is not None and fill.channels > 0 and fill.at is None)
