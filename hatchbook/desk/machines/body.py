"""How the panes of the Machines page lie: in a roomy window side by side, in a narrow one below each other."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QWidget

from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.widgets.rules import HLine, VLine

_LEFT, _LEFT_NARROW, _NARROW = 320, 264, 960
_LEFT_LINES = 14.0
"""The advice is at least so many lines' heights wide, so that larger text has its room."""
_CARE_LINES = 22.0
"""With less than so many lines' heights beside the history, what came of a check could not be read to its end."""
_HISTORY_PART, _CARE_PART = 3, 4


class MachineBody(QScrollArea):
    """Advice and guide above, history and care below; scrolls where it is higher than the window."""

    def __init__(self, advice: QWidget, guide: QWidget, history: QWidget, care: QWidget) -> None:
        super().__init__()
        self._advice, self._history, self._care = advice, history, care
        self.is_stacked: bool | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Advice, guide, batches and care of the machine"))
        content = QWidget()
        content.setObjectName("sheet")
        self._grid = QGridLayout(content)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(0)
        self._between, self._above = VLine(), HLine()
        self._grid.addWidget(advice, 0, 0)
        self._grid.addWidget(VLine(), 0, 1)
        self._grid.addWidget(guide, 0, 2, 1, 3)
        self._grid.addWidget(HLine(), 1, 0, 1, 5)
        self._grid.setColumnStretch(2, _HISTORY_PART)
        self._grid.setColumnStretch(4, _CARE_PART)
        self._grid.setRowStretch(2, 1)
        self.setWidget(content)
        self._arrange()

    def _arrange(self) -> None:
        line = self.fontMetrics().height()
        left = max(_LEFT_NARROW if self.width() < _NARROW else _LEFT, round(_LEFT_LINES * line))
        self._advice.setFixedWidth(left)
        beside = (self.width() - left) * _CARE_PART / (_HISTORY_PART + _CARE_PART)
        stacked = beside < _CARE_LINES * line
        if stacked != self.is_stacked:
            self.is_stacked = stacked
            self._lay_lower()

    def _lay_lower(self) -> None:
        grid = self._grid
        for part in (self._history, self._between, self._above, self._care):
            grid.removeWidget(part)
        self._between.setVisible(not self.is_stacked)
        self._above.setVisible(bool(self.is_stacked))
        if self.is_stacked:
            grid.addWidget(self._history, 2, 0, 1, 5)
            grid.addWidget(self._above, 3, 0, 1, 5)
            grid.addWidget(self._care, 4, 0, 1, 5)
        else:
            grid.addWidget(self._history, 2, 0, 1, 3)
            grid.addWidget(self._between, 2, 3)
            grid.addWidget(self._care, 2, 4)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the left column gives way, and the care goes below the history."""
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        """Larger text takes more room."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self.is_stacked is not None:
            self._arrange()
