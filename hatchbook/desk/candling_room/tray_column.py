"""The left part of the room: which tray it is, the tray, and what its signs mean."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.candling_room.sitting import Sitting
from hatchbook.desk.candling_room.tray_view import RoomTray
from hatchbook.desk.widgets.labels import Label

_GAP = 8
#: What lies in the middle of the room a little above its middle looks to be in the middle.
ABOVE = 0.3


class TrayColumn(QWidget):
    """Keeps title, tray and legend together, and the eggs as large as there is room."""

    def __init__(self, sitting: Sitting, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Label("", "candle_body", "ink2", parent=self)
        self.tray = RoomTray(sitting, self)
        self.legend = Label(
            self.tr("Full lines: candled now. Dim: still to do. Dots: out before."),
            ink="ink2",
            wraps=True,
            parent=self,
        )
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.tray.eggs.modelReset.connect(self._lay)

    def name_tray(self) -> None:
        """Says which tray is shown, where there are several."""
        trays, tray = self.tray.eggs.trays, self.tray.eggs.tray
        text = ""
        if not tray:
            text = self.tr("Eggs without a place")
        elif trays > 1:
            text = self.tr("Tray {number}").format(number=tray)
        if text != self.title.text():
            self.title.setText(text)
            self._lay()

    def minimumSizeHint(self) -> QSize:
        """A tray whose eggs can still be told apart."""
        return QSize(240, 240)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Everything moves along."""
        super().resizeEvent(event)
        self._lay()

    def _lay(self) -> None:
        width = self.width()
        head = self.title.sizeHint().height() + _GAP if self.title.text() else 0
        foot = self.legend.heightForWidth(width) + _GAP
        size = self.tray.fit(width, self.height() - head - foot)
        top = round(max(self.height() - head - foot - size.height(), 0) * ABOVE)
        self.title.setGeometry(QRect(0, top, width, head))
        self.tray.setGeometry(QRect(0, top + head, width, size.height()))
        self.legend.setGeometry(QRect(0, top + head + size.height() + _GAP, width, foot - _GAP))
