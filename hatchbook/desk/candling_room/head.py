"""The upper edge of the candling room: which candling it is, the lid, the light, how far it has come."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.candling_room.progress_cells import ProgressCells
from hatchbook.desk.theme.tokens import CANDLING_LEVELS
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label


class RoomHead(QWidget):
    """Two lines: title, facts, lid and light; below them the progress.

    Signals:
        light_wanted: +1 for more light of the screen, −1 for less.
    """

    light_wanted = Signal(int)

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Label(title, "candle_verdict")
        self.facts = ElidedLabel("", "candle_body", "ink2")
        self.lid = Label("", "candle_body", "ink2")
        self.light = Label("", "candle_body", "ink2")
        self.cells = ProgressCells()
        self.progress = Label("", "candle_body")
        self._lid_warns = False
        self._dimmer, self._brighter = FlatButton("−"), FlatButton("+")
        for button, name, step in (
            (self._dimmer, self.tr("Less light"), -1),
            (self._brighter, self.tr("More light"), 1),
        ):
            button.setAccessibleName(name)
            button.setToolTip(name)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _checked=False, step=step: self.light_wanted.emit(step))
        self._lay_out()

    def _lay_out(self) -> None:
        upper = QHBoxLayout()
        upper.setSpacing(16)
        upper.addWidget(self.title)
        upper.addWidget(self.facts, 1)
        upper.addWidget(self.lid)
        upper.addWidget(self.light)
        buttons = QHBoxLayout()
        buttons.setSpacing(0)
        buttons.addWidget(self._dimmer)
        buttons.addWidget(self._brighter)
        upper.addLayout(buttons)
        lower = QHBoxLayout()
        lower.setSpacing(16)
        lower.addWidget(self.cells, 1)
        lower.addWidget(self.progress)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        rows.addLayout(upper)
        rows.addLayout(lower)

    def show_light(self, level: int) -> None:
        """The light level, from 1."""
        text = self.tr("Screen light {level} of {most}")
        self.light.setText(text.format(level=level, most=len(CANDLING_LEVELS)))
        self._dimmer.setEnabled(level > 1)
        self._brighter.setEnabled(level < len(CANDLING_LEVELS))

    def show_facts(self, text: str) -> None:
        """Which batch, when, who."""
        if text != self.facts.text():
            self.facts.setText(text)

    def show_lid(self, text: str, *, warns: bool) -> None:
        """How long the lid is open; ``warns``: for longer than is good."""
        if text != self.lid.text():
            self.lid.setText(text)
        if warns != self._lid_warns:
            self._lid_warns = warns
            self.lid.set_ink("warn" if warns else "ink2")

    def show_progress(self, done: list[bool], current: int, text: str) -> None:
        """Which eggs are done, which is before the lamp, and the words for it."""
        self.cells.show_progress(done, current, text)
        if text != self.progress.text():
            self.progress.setText(text)
