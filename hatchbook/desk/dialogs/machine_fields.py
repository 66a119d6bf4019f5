"""What a machine is: its name, how its air moves, its trays, channels, and how high it stands."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QSpinBox, QWidget

from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import machine_kind_word
from hatchbook.journal import Machine
from hatchbook.trade.codes import MachineKind

_LONGEST_NAME = 60
#: A small tabletop machine, to begin with; the breeder counts the places of the own one.
_ROWS, _COLUMNS = 4, 6
_LABEL_DROP = 4
"""As high as the text of the field beside it, also when something is said below the field."""


class MachineFields(QWidget):
    """Fields for a machine, with a line below the name for what is wrong with it.

    Signals:
        edited: something was typed or chosen; the fields can be read at once.
        settled: a field was left, or a choice made: what stands there is meant.
    """

    edited = Signal()
    settled = Signal()

    def __init__(self, parent: QWidget | None = None, *, is_part: bool = False) -> None:
        """``is_part``: the fields stand among others, which have a name of their own."""
        super().__init__(parent)
        self._is_part = is_part
        self._machine: Machine | None = None
        self._fresh = Machine("", _ROWS, _COLUMNS)
        self.name = QLineEdit()
        self.name.setMaxLength(_LONGEST_NAME)
        self.name.setAccessibleName(self.tr("Name of the machine"))
        self.name_line = WithTrouble(self.name)
        self.kind = QComboBox()
        self.kind.setAccessibleName(self.tr("How its air moves"))
        for kind in MachineKind:
            self.kind.addItem(machine_kind_word(kind), kind)
        self.rows = self._spin(1, 60, self.tr("Rows of a tray"))
        self.columns = self._spin(1, 60, self.tr("Eggs in a row"))
        self.trays = self._spin(1, 20, self.tr("Trays"))
        self.places = Label("", ink="ink2")
        self.channels = self._spin(0, 20, self.tr("Water channels"))
        self.altitude = self._spin(-500, 6000, self.tr("Metres above the sea"))
        self.altitude.setSuffix(self.tr(" m"))
        self.altitude.setSingleStep(10)
        self._lay_out()
        self.name.textEdited.connect(lambda _text: self.edited.emit())
        self.name.editingFinished.connect(self.settled)
        self.kind.currentIndexChanged.connect(lambda _row: self._changed())
        self.kind.activated.connect(lambda _row: self.settled.emit())
        for spin in (self.rows, self.columns, self.trays, self.channels, self.altitude):
            spin.valueChanged.connect(lambda _value: self._changed())
            spin.editingFinished.connect(self.settled)
        self.show_machine(None)

    def _spin(self, least: int, most: int, name: str) -> QSpinBox:
        spin = QSpinBox()
        spin.setRange(least, most)
        spin.setAccessibleName(name)
        return spin

    def _lay_out(self) -> None:
        tray = QHBoxLayout()
        tray.setSpacing(6)
        tray.addWidget(self.rows)
        tray.addWidget(Label(self.tr("rows of")))
        tray.addWidget(self.columns)
        tray.addWidget(Label(self.tr("eggs, on")))
        tray.addWidget(self.trays)
        tray.addWidget(Label(self.tr("trays:")))
        tray.addWidget(self.places)
        tray.addStretch(1)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        name = self.tr("Its nam&e") if self._is_part else self.tr("Nam&e")
        rows = ((name, self.name_line, self.name), (self.tr("Its &air"), self.kind, self.kind))
        for column, (text, widget, buddy) in enumerate(rows):
            label = self._label(text, buddy)
            label.setContentsMargins(0, _LABEL_DROP, 0, 0)
            grid.addWidget(label, 0, 2 * column, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(widget, 0, 2 * column + 1, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self._label(self.tr("P&laces"), self.rows), 1, 0)
        grid.addLayout(tray, 1, 1, 1, 3)
        grid.addWidget(self._label(self.tr("Wate&r channels"), self.channels), 2, 0)
        grid.addWidget(self.channels, 2, 1)
        grid.addWidget(self._label(self.tr("Abo&ve the sea"), self.altitude), 2, 2)
        grid.addWidget(self.altitude, 2, 3)
        self.grid = grid

    def _label(self, text: str, buddy: QWidget) -> Label:
        label = Label(text)
        label.setBuddy(buddy)
        return label

    def show_machine(self, machine: Machine | None, channels: int = 2) -> None:
        """Shows a machine; None for one that is to be added."""
        self._machine = machine
        shown = machine if machine is not None else self._fresh
        blocked = self.blockSignals(True)
        self.name.setText(shown.name)
        self.kind.setCurrentIndex(self.kind.findData(shown.kind))
        self.rows.setValue(shown.tray_rows)
        self.columns.setValue(shown.tray_columns)
        self.trays.setValue(shown.trays)
        self.channels.setValue(channels)
        self.altitude.setValue(round(shown.altitude_m))
        self.name_line.tell("")
        self.blockSignals(blocked)
        self._show_places()

    def machine(self) -> Machine:
        """The machine as it stands in the fields; its name may still be missing."""
        base = self._machine if self._machine is not None else self._fresh
        altitude = float(self.altitude.value())
        if round(base.altitude_m) == self.altitude.value():
            altitude = base.altitude_m  # a fraction that is not shown is kept
        return replace(
            base,
            name=self.name.text().strip(),
            kind=MachineKind(self.kind.currentData()),
            tray_rows=self.rows.value(),
            tray_columns=self.columns.value(),
            trays=self.trays.value(),
            altitude_m=altitude,
        )

    def forget_new(self) -> None:
        """The new machine was stored; the next new one is another."""
        self._fresh = Machine("", _ROWS, _COLUMNS)

    def _changed(self) -> None:
        self._show_places()
        self.edited.emit()

    def _show_places(self) -> None:
        count = self.rows.value() * self.columns.value() * self.trays.value()
        self.places.setText(self.tr("%n place(s)", "", count))
