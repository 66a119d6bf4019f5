"""The line in which a chart says what the pointer or the keyboard is at."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.theme.type_scale import TypeRole
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import ElidedLabel

ANNOUNCE_AFTER_MS = 500
"""Screen readers hear the line once it has rested this long."""


class Readout(ElidedLabel):
    """One line in a fixed place, so that it never covers data. Screen readers hear it when it rests."""

    def __init__(self, text: str = "", *, name: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, TypeRole.BODY, "ink2", parent=parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._name = name
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(ANNOUNCE_AFTER_MS)
        self._rest.timeout.connect(self._announce)
        self._say_name()

    def set_reading(self, text: str, *, pointed: bool = True) -> None:
        """Show a reading: strong while something is pointed at, quiet for how it stands now."""
        if text == self.text():
            return
        self.setText(text)
        self.set_ink("ink" if pointed else "ink2")
        self._say_name()
        if pointed:
            self._rest.start()
        else:
            self._rest.stop()

    def _say_name(self) -> None:
        self.setAccessibleName(f"{self._name}: {self.text()}" if self._name else self.text())

    def _announce(self) -> None:
        announce(self, self.text())
