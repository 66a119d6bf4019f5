"""The head of the Machines page: which machine, what it holds, how far its hygrometer can be trusted."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.journal import Machine

_HEIGHT = 64
_SEGMENT_AIR, _AIR, _AROUND = 26, 10, 60
_SEGMENTS = 4
"""Machines are laid side by side up to so many, where there is room for that; else they go into a list."""


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
        self._chosen = ""
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
        self._top.setSpacing(_AIR)
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
        before = self._chosen
        self._chosen = chosen
        if known != self._machines:
            self._machines = known
            self._make_switch()
        elif before != chosen:
            self._fit_switch()
        self.name.setText(dict(known).get(chosen, ""))
        self._choose()

    def _choose(self) -> None:
        if isinstance(self.switch, Segmented):
            self.switch.choose(self._chosen)
        elif self.switch is not None:
            blocked = self.switch.blockSignals(True)
            self.switch.setCurrentIndex(self.switch.findData(self._chosen))
            self.switch.blockSignals(blocked)

    def _side_by_side(self) -> bool:
        """Whether there is room to lay the machines side by side, each with its name in full."""
        if len(self._machines) > _SEGMENTS:
            return False
        wide = sum(self.fontMetrics().horizontalAdvance(name) + _SEGMENT_AIR for _uid, name in self._machines)
        title = QFontMetricsF(role_font(TypeRole.TITLE)).horizontalAdvance(dict(self._machines)[self._chosen])
        taken = sum(button.sizeHint().width() + _AIR for button in (self.check, self.setting, self.care))
        return wide + title + taken + _AROUND <= self.width()

    def _make_switch(self) -> None:
        if self.switch is not None:
            self._top.removeWidget(self.switch)
            self.switch.hide()
            self.switch.deleteLater()
            self.switch = None
        if len(self._machines) < 2:
            return
        if self._side_by_side():
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

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In another width the switch may be another one."""
        super().resizeEvent(event)
        self._fit_switch()

    def _fit_switch(self) -> None:
        if self.switch is not None and isinstance(self.switch, Segmented) is not self._side_by_side():
            self._make_switch()
            self._choose()

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
