"""How the panes of the Machines page lie: in a roomy window side by side, in a narrow one below each other."""

from __future__ import annotations

from enum import Enum, auto

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
_GUIDE_LINES = 24.0
"""With less beside the advice a cell of the guide could not hold its range."""
_HISTORY_PART, _CARE_PART = 3, 4
_WIDEST = 16_777_215


class Way(Enum):
    """How the panes lie."""

    SIDE_BY_SIDE = auto()
    CARE_BELOW = auto()
    ONE_COLUMN = auto()


class MachineBody(QScrollArea):
    """Advice and guide above, history and care below; scrolls where it is higher than the window."""

    def __init__(self, advice: QWidget, guide: QWidget, history: QWidget, care: QWidget) -> None:
        super().__init__()
        self._advice, self._guide, self._history, self._care = advice, guide, history, care
        self.way: Way | None = None
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
        self._grid.setColumnStretch(2, _HISTORY_PART)
        self._grid.setColumnStretch(4, _CARE_PART)
        self._upright = VLine(), VLine()
        self._level = HLine(), HLine(), HLine()
        self.setWidget(content)
        self._arrange()

    def _arrange(self) -> None:
        line = self.fontMetrics().height()
        left = max(_LEFT_NARROW if self.width() < _NARROW else _LEFT, round(_LEFT_LINES * line))
        beside = (self.width() - left) * _CARE_PART / (_HISTORY_PART + _CARE_PART)
        if self.width() - left < _GUIDE_LINES * line:
            way = Way.ONE_COLUMN
        else:
            way = Way.CARE_BELOW if beside < _CARE_LINES * line else Way.SIDE_BY_SIDE
        if way is Way.ONE_COLUMN:
            self._advice.setMinimumWidth(0)
            self._advice.setMaximumWidth(_WIDEST)
        else:
            self._advice.setFixedWidth(left)
        if way is not self.way:
            self.way = way
            self._lay_out(way)

    def _lay_out(self, way: Way) -> None:
        grid, (above, low, lower) = self._grid, self._level
        parts = (self._advice, self._guide, self._history, self._care)
        for part in (*parts, *self._upright, *self._level):
            grid.removeWidget(part)
        first, second = self._upright
        first.setVisible(way is not Way.ONE_COLUMN)
        second.setVisible(way is Way.SIDE_BY_SIDE)
        above.setVisible(way is Way.ONE_COLUMN)
        lower.setVisible(way is not Way.SIDE_BY_SIDE)
        if way is Way.ONE_COLUMN:
            grid.addWidget(self._advice, 0, 0, 1, 5)
            grid.addWidget(above, 1, 0, 1, 5)
            grid.addWidget(self._guide, 2, 0, 1, 5)
        else:
            grid.addWidget(self._advice, 0, 0)
            grid.addWidget(first, 0, 1)
            grid.addWidget(self._guide, 0, 2, 1, 3)
        grid.addWidget(low, 3, 0, 1, 5)
        if way is Way.SIDE_BY_SIDE:
            grid.addWidget(self._history, 4, 0, 1, 3)
            grid.addWidget(second, 4, 3)
            grid.addWidget(self._care, 4, 4)
        else:
            grid.addWidget(self._history, 4, 0, 1, 5)
            grid.addWidget(lower, 5, 0, 1, 5)
            grid.addWidget(self._care, 6, 0, 1, 5)
        grid.setRowStretch(4, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the left column gives way, and the care goes below the history."""
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        """Larger text takes more room."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self.way is not None:
            self._arrange()
