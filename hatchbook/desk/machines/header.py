"""The head of the Machines page: which machine, what it holds, how far its hygrometer can be trusted."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.journal import Machine

_HEIGHT = 64
_SEGMENTS, _LETTERS = 4, 44
"""Machines are laid side by side up to so many and so many letters; more of them go into a list."""


class MachineHeader(QWidget):
    """Name, switch, facts and the things one logs.

    Signals:
        machine_chosen: the uid of another machine.
        check_wanted, setting_wanted, care_wanted: the breeder wants to log one.
    """

    machine_chosen = Signal(str)
    check_wanted = Signal()
    setting_wanted = Signal()
    care_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMinimumHeight(_HEIGHT)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.name = ElidedLabel("", role="title")
        self.busy = Label("", "caption", "ink2")
        self.facts = ElidedLabel("", ink="ink2")
        self.switch: Segmented | QComboBox | None = None
        self._machines: tuple[tuple[str, str], ...] = ()
        self.check = FlatButton(self.tr("Log check…"), icon_name="check")
        self.setting = FlatButton(self.tr("Log setting…"), icon_name="vent")
        self.care = FlatButton(self.tr("Add care…"), icon_name="settings")
        self.check.clicked.connect(self.check_wanted)
        self.setting.clicked.connect(self.setting_wanted)
        self.care.clicked.connect(self.care_wanted)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 8, 12, 6)
        rows.setSpacing(2)
        self._top = QHBoxLayout()
        self._top.setSpacing(10)
        self._top.addWidget(self.name)
        self._top.addWidget(self.busy, 0, Qt.AlignmentFlag.AlignVCenter)
        self._top.addStretch(1)
        for button in (self.check, self.setting, self.care):
            self._top.addWidget(button)
        rows.addLayout(self._top)
        rows.addWidget(self.facts)

    def show_machines(self, machines: Sequence[Machine], chosen: str) -> None:
        """Offers the machines, and names the chosen one."""
        known = tuple((one.uid, one.name) for one in machines)
        if known != self._machines:
            self._machines = known
            self._make_switch()
        self.name.setText(dict(known).get(chosen, ""))
        if isinstance(self.switch, Segmented):
            self.switch.choose(chosen)
        elif self.switch is not None:
            blocked = self.switch.blockSignals(True)
            self.switch.setCurrentIndex(self.switch.findData(chosen))
            self.switch.blockSignals(blocked)

    def _make_switch(self) -> None:
        if self.switch is not None:
            self._top.removeWidget(self.switch)
            self.switch.hide()
            self.switch.deleteLater()
            self.switch = None
        if len(self._machines) < 2:
            return
        letters = sum(len(name) for _uid, name in self._machines)
        if len(self._machines) <= _SEGMENTS and letters <= _LETTERS:
            row = Segmented(self._machines, name=self.tr("Machine"))
            row.chosen.connect(lambda uid: self.machine_chosen.emit(str(uid)))
            self.switch = row
        else:
            choice = QComboBox()
            choice.setAccessibleName(self.tr("Machine"))
            for uid, name in self._machines:
                choice.addItem(name, uid)
            choice.currentIndexChanged.connect(
                lambda row: self.machine_chosen.emit(str(choice.itemData(row)))
            )
            self.switch = choice
        self._top.insertWidget(1, self.switch)

    def show_facts(self, text: str) -> None:
        """One line of facts; what does not fit is in its tooltip."""
        self.facts.setText(text)
        self.setAccessibleName(f"{self.name.text()}. {text}")

    def show_busy(self, *, busy: bool) -> None:
        """Says that numbers are being reckoned."""
        self.busy.setText(self.tr("reckoning…") if busy else "")

    def allow(self, *, writing: bool, checking: bool) -> None:
        """Which of the things can be logged."""
        self.check.setEnabled(writing and checking)
        self.check.setToolTip("" if checking else self.tr("No probe hangs in this machine"))
        self.setting.setEnabled(writing)
        self.care.setEnabled(writing)
