"""The foot of the dialog: the sum, or how far slow work is."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QSizePolicy, QWidget

from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import Label

_STEPS = 1000
_BAR_WIDTH = 220


class ImportFoot(QWidget):
    """A sentence; while work goes on for long, what it is and a bar."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sum = Label("", ink="ink2", wraps=True)
        self.busy = Label("", ink="ink2")
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setRange(0, _STEPS)
        self.bar.setFixedWidth(_BAR_WIDTH)
        self.sum.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        row.addWidget(self.sum, 1)
        row.addWidget(self.busy)
        row.addWidget(self.bar)
        row.addStretch(0)
        self.show_rest()

    def show_sum(self, text: str, account: str = "") -> None:
        """The sum, which screen readers say, and what became of every line as tooltip."""
        if text != self.sum.text():
            announce(self.sum, text)
        self.sum.setText(text)
        self.sum.setToolTip(account)
        self.sum.setAccessibleDescription(account)

    def show_work(self, text: str, *, measured: bool = True) -> None:
        """What is going on, and whether it is known how far it is."""
        self.busy.setText(text)
        self.bar.setAccessibleName(text)
        self.bar.setRange(0, _STEPS if measured else 0)
        self._show(busy=True)

    def show_rest(self) -> None:
        """Nothing is going on for long."""
        self._show(busy=False)

    def show_progress(self, share: float) -> None:
        """How much is done, 0 to 1."""
        self.bar.setValue(round(share * _STEPS))

    def _show(self, *, busy: bool) -> None:
        self.sum.setVisible(not busy)
        self.busy.setVisible(busy)
        self.bar.setVisible(busy)
