"""Logging how a machine is set: how many channels hold water, how far the vent is open; both as one step."""

from __future__ import annotations

from math import isclose

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QCheckBox, QFormLayout, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import CLOCK_PLAY_S, InstantEdit
from hatchbook.desk.entry.vent_edit import VentEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.guide import setting_text
from hatchbook.journal import Machine
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import InstantError

_MOST_CHANNELS = 12
_MOST_ML = 20_000


class MachineSettingDialog(FramedDialog):
    """Begins with the setting as it stands, or with one that was chosen; Enter logs what differs."""

    def __init__(
        self,
        context: DeskContext,
        machine: Machine,
        parent: QWidget | None,
        *,
        channels: int | None = None,
        vent: float | None = None,
        in_lockdown: bool = False,
    ) -> None:
        super().__init__(self.tr("Set {machine}").format(machine=machine.name), parent, QSize(500, 0))
        self._context = context
        self._machine = machine
        self._in_lockdown = in_lockdown
        journal, now = context.door.journal, context.now()
        water = journal.events.last_before(machine.uid, EventKind.WATER, now + 1)
        moved = journal.events.last_before(machine.uid, EventKind.VENT, now + 1)
        self._channels = None if water is None else water.channels_filled
        self._vent = None if moved is None else moved.vent
        self._build()
        self.channels.setValue(channels if channels is not None else self._channels or 0)
        known = vent if vent is not None else self._vent
        self.vent.show_opening(0.5 if known is None else known)
        self.channels.valueChanged.connect(self._look)
        self.vent.currentTextChanged.connect(self._look)
        self.topped_up.toggled.connect(self._look)
        self._look()
        self.channels.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.at = InstantEdit(self._context.zone, self._context.now())
        self.at.set_accessible_name(self.tr("When"))
        self.channels = QSpinBox()
        count = len(self._context.door.journal.machines.channels(self._machine.uid))
        self.channels.setRange(0, count if count else _MOST_CHANNELS)
        self.topped_up = QCheckBox(self.tr("They were &filled up just now"))
        self.amount = QSpinBox()
        self.amount.setRange(0, _MOST_ML)
        self.amount.setSingleStep(50)
        self.amount.setSuffix(self.tr(" ml"))
        self.amount.setSpecialValueText(self.tr("not measured"))
        self.vent = VentEdit()
        self.text = QLineEdit()
        self.text.setMaxLength(2000)
        self.before = Label("", ink="ink2", wraps=True)
        self.warning = Label("", ink="warn", wraps=True)
        form = self.form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&When"), self.at)
        form.addRow(self.tr("&Channels with water from now on"), self.channels)
        form.addRow("", self.topped_up)
        form.addRow(self.tr("Water &added"), self.amount)
        form.addRow(self.tr("Vent from now &on"), self.vent)
        form.addRow(self.tr("&Note"), self.text)
        rows = QVBoxLayout()
        rows.setSpacing(12)
        rows.addWidget(self.before)
        rows.addLayout(form)
        rows.addWidget(self.warning)
        rows.addStretch(1)
        self.set_content(rows)
        self.save: QPushButton = self.add_main_button(self.tr("Log setting"))
        self.save.clicked.connect(self._store)
        self.add_leave_button(self.tr("Cancel"))
        if self._channels is not None and self._vent is not None:
            stands = self.tr("Until now: {setting}.")
            self.before.setText(stands.format(setting=setting_text((self._channels, self._vent))))
        else:
            self.before.setText(self.tr("How it stood until now was not noted in full."))

    def _look(self) -> None:
        """What fits the fields as they are."""
        self.tell("")
        filled = self.channels.value() > 0
        same = self.channels.value() == self._channels
        self.form.setRowVisible(self.topped_up, filled and same)
        self.form.setRowVisible(self.amount, filled and (not same or self.topped_up.isChecked()))
        shut = self._in_lockdown and self.vent.opening() == 0.0
        self.warning.setText(
            self.tr("A batch is in lockdown here: hatching chicks need air, never shut the vent.")
            if shut
            else ""
        )
        self.warning.setVisible(shut)

    # ---------------------------------------------------------------- storing

    def _store(self) -> None:
        self.tell("")
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return
        if at > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("That time is still to come. Log what has happened."))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        opening = self.vent.opening()
        if opening is None:
            self.tell(self.vent.trouble())
            self.vent.setFocus()
            return
        count = self.channels.value()
        topped_up = self.topped_up.isChecked() and count > 0
        channels = count if count != self._channels or topped_up else None
        water_ml = float(self.amount.value()) if channels and self.amount.value() else None
        vent = opening if self._vent is None or not isclose(opening, self._vent, abs_tol=1e-6) else None
        if channels is None and vent is None:
            self.tell(
                self.tr("Nothing differs from how it stands. Change the water or the vent first."), "warn"
            )
            return
        uid, text = self._machine.uid, self.text.text().strip()
        change = self._context.door.run(
            lambda journal: journal.events.log_setting(
                uid, at, channels=channels, water_ml=water_ml, vent=vent, text=text
            )
        )
        if change is not None:
            self.accept()
        else:
            self.tell(self.tr("The setting was not stored; what you typed is still here."))
