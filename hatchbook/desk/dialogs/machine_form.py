"""A machine: what it is, its channels, whether it is in use."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QCoreApplication, QLocale, QObject, Qt
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.cells import CellModel, Column, Index
from hatchbook.desk.dialogs.edit_table import EditTable, stretch_column
from hatchbook.desk.dialogs.machine_fields import MachineFields
from hatchbook.desk.dialogs.record_form import RecordForm, labelled
from hatchbook.desk.dialogs.with_trouble import focus
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.holding import use_line, used_sentence
from hatchbook.desk.words.typing import number_sentence
from hatchbook.journal import Channel
from hatchbook.trade.units import NumberError, parse_number

NAME, AREA, VOLUME = range(3)


def _tr(text: str) -> str:
    return QCoreApplication.translate("ChannelRows", text)


class ChannelRows(CellModel):
    """The channels of a machine: name, open surface, what it holds; the last two where they are known."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(
            (
                Column(_tr("Channel"), _tr("How it is called, where that is not by its number"), 200),
                Column(_tr("Open surface cm²"), _tr("Where it was measured"), 130, number=True),
                Column(_tr("Holds ml"), _tr("Where it was measured"), 110, number=True),
            ),
            parent=parent,
        )
        self._channels: list[Channel] = []

    def show_channels(self, channels: list[Channel]) -> None:
        """Shows the channels of a machine."""
        self._channels = list(channels)
        self.set_texts([(one.name, _plain(one.area_cm2), _plain(one.volume_ml)) for one in channels])

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A channel without a name goes by its number."""
        text = super().data(index, role)
        if role == Qt.ItemDataRole.DisplayRole and index.column() == NAME and not text:
            return _tr("channel {number}").format(number=index.row() + 1)
        return text

    def changed_channel(self, row: int) -> Channel | None:
        """The channel of a row as it was typed; None where it cannot be, or is as it was."""
        if any(self.trouble_of(row, column) for column in (AREA, VOLUME)):
            return None
        old, texts = self._channels[row], self._rows[row]
        new = replace(old, name=texts[NAME], area_cm2=_value(texts[AREA]), volume_ml=_value(texts[VOLUME]))
        if new == old:
            return None
        self._channels[row] = new
        return new

    def trouble_of(self, row: int, column: int) -> str:
        """What is no measure."""
        if column == NAME or not self._rows[row][column]:
            return ""
        try:
            value = parse_number(self._rows[row][column])
        except NumberError as error:
            return number_sentence(error)
        return "" if value > 0 else _tr("A measure is more than nothing.")


class MachineForm(RecordForm):
    """The form of a machine."""

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.fields = MachineFields()
        self.channels = ChannelRows()
        self.channel_table = EditTable(self.channels, self.tr("Water channels"), rows_shown=6)
        stretch_column(self.channel_table, NAME)
        self.channel_line = Label("", role="caption", ink="bad", wraps=True)
        self.remark = QLineEdit()
        self.remark.setMaxLength(2000)
        self.remark.setAccessibleName(self.tr("Note"))
        self.add_button.setText(self.tr("Add machine"))
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addWidget(self.fields)
        at = self.fields.grid.rowCount()
        self.fields.grid.addWidget(labelled(self.tr("No&te"), self.remark), at, 0)
        self.fields.grid.addWidget(self.remark, at, 1, 1, 3)
        rows.addWidget(self.channel_table)
        rows.addWidget(self.channel_line)
        self.frame(rows)
        self.fields.settled.connect(self._store)
        self.fields.edited.connect(lambda: self._check_name())
        self.remark.editingFinished.connect(self._store)
        self.channels.edited.connect(self._store_channels)

    def show_record(self, uid: str | None) -> None:
        """Shows a machine as it is stored; None for a new one."""
        super().show_record(uid)
        journal = self.context.door.journal
        machine = None if uid is None else journal.machines.find(uid)
        channels = [] if machine is None else journal.machines.channels(machine.uid)
        self.fields.show_machine(machine, 2 if machine is None else len(channels))
        self.channels.show_channels(channels)
        self.channel_table.setVisible(bool(channels))
        self.channel_line.setVisible(False)
        self.remark.setText("" if machine is None else machine.note)
        self.title.setText(self.tr("New machine") if machine is None else machine.name)
        if machine is None:
            self.state.setText(self.tr("It is stored when you add it."))
            return
        retired = machine.retired_on is not None
        self.retire_button.setText(self.tr("Take into use again") if retired else self.tr("Retire"))
        used = use_line(journal.uses.of_machine(machine.uid))
        lines = [self.tr("Retired on {date}.").format(date=machine.retired_on)] if retired else []
        lines.append(
            self.tr("Used by {what}.").format(what=used) if used else self.tr("Nothing was set in it yet.")
        )
        self.state.setText(" ".join(lines))

    def focus_first(self) -> None:
        """Puts the focus to the name."""
        focus(self.fields.name)

    # ---------------------------------------------------------------- storing

    def _check_name(self, *, asks: bool = False) -> bool:
        """Whether the name can be stored; what is wrong with it is said."""
        name = self.fields.name.text().strip()
        others = self.context.door.journal.machines.all()
        if not name:
            trouble = self.tr("Give the machine a name.") if asks or self.uid is not None else ""
        elif any(one.name.casefold() == name.casefold() and one.uid != self.uid for one in others):
            trouble = self.tr("There is a machine of that name already.")
        else:
            trouble = ""
        self.fields.name_line.tell(trouble)
        return bool(name) and not trouble

    def _store(self) -> None:
        """Stores what was changed in a machine that is there."""
        if self.uid is None or not self._check_name():
            return
        journal = self.context.door.journal
        machine = replace(self.fields.machine(), note=self.remark.text().strip())
        wanted, present = self.fields.channels.value(), len(journal.machines.channels(self.uid))
        known = journal.machines.find(self.uid)
        if machine == known and wanted == present:
            return
        lost = journal.uses.left_without_place(
            machine.uid, machine.trays, machine.tray_rows, machine.tray_columns
        )
        if lost.eggs:
            self.fields.show_machine(known, present)
            self.tell(
                self.tr(
                    "%n egg(s) lie or lay on places that would go; nothing was changed. "
                    "Other trays make another machine: add it as a new one.",
                    "",
                    lost.eggs,
                )
            )
            return
        if self.run(lambda journal: journal.machines.keep(machine, wanted)) is not None:
            self.title.setText(machine.name)
            if wanted != present:
                self.channels.show_channels(journal.machines.channels(machine.uid))
                self.channel_table.setVisible(wanted > 0)

    def _store_channels(self) -> None:
        found = self.channels.first_trouble()
        self.channel_line.setText(found[2] if found is not None else "")
        self.channel_line.setVisible(found is not None)
        for row in range(self.channels.rowCount()):
            channel = self.channels.changed_channel(row)
            if channel is not None:
                self._store_channel(channel)

    def _store_channel(self, channel: Channel) -> None:
        self.run(lambda journal: journal.machines.replace_channel(channel))

    def add(self) -> None:
        """Adds the machine."""
        if not self._check_name(asks=True):
            focus(self.fields.name)
            return
        machine = replace(self.fields.machine(), note=self.remark.text().strip())
        channels = self.fields.channels.value()
        if self.run(lambda journal: journal.machines.keep(machine, channels)) is not None:
            self.fields.forget_new()
            self.record_added.emit(machine.uid)

    def retire(self) -> None:
        """Takes the machine out of use, or into use again; its batches stay."""
        machine = self.context.door.journal.machines.find(self.uid or "")
        if machine is not None:
            on = self.today() if machine.retired_on is None else None
            changed = replace(machine, retired_on=on)
            self.run(lambda journal: journal.machines.replace(changed))
            self.show_record(machine.uid)

    def delete(self) -> None:
        """Deletes the machine if nothing was set or hung in it."""
        journal = self.context.door.journal
        machine = journal.machines.find(self.uid or "")
        if machine is None:
            return
        uses = journal.uses.of_machine(machine.uid)
        if uses.any:
            self.tell(used_sentence(uses), link="" if machine.retired_on else self.tr("Retire it"))
            return
        self.context.door.run(lambda journal: journal.machines.remove(machine))


def _plain(value: float | None) -> str:
    return "" if value is None else QLocale().toString(value, "g", 6)


def _value(text: str) -> float | None:
    return parse_number(text) if text else None
