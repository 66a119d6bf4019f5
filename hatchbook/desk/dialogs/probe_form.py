"""A probe: its name and accuracy, where it hangs since when, its checks."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.check_rows import CheckRows
from hatchbook.desk.dialogs.edit_table import EditTable, stretch_column
from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog
from hatchbook.desk.dialogs.record_form import RecordForm, labelled
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import NoteKind
from hatchbook.desk.words.corrections import state_sentence
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.holding import place_name, stay_line, use_line, used_sentence
from hatchbook.desk.words.numbers import number
from hatchbook.figures.corrections import correction_now
from hatchbook.journal import Probe, ProbeCheck
from hatchbook.trade.codes import Quantity
from hatchbook.trade.instants import InstantError
from hatchbook.trade.units import Unit

_LONGEST_NAME = 60
_FAHRENHEIT_STEP = 5.0 / 9.0


class ProbeForm(RecordForm):
    """The form of a probe."""

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.name = QLineEdit()
        self.name.setMaxLength(_LONGEST_NAME)
        self.name.setAccessibleName(self.tr("Name of the probe"))
        self.name_line = WithTrouble(self.name)
        self.humidity = ValueEdit(Unit.PERCENT, self.tr("Humidity right to, plus or minus"))
        self.temperature = ValueEdit(Unit.CELSIUS, self.tr("Temperature right to, plus or minus"))
        self.remark = QLineEdit()
        self.remark.setMaxLength(2000)
        self.remark.setAccessibleName(self.tr("Note"))
        self.place = QComboBox()
        self.place.setAccessibleName(self.tr("Where it hangs from then on"))
        self.at = InstantEdit(context.zone, context.now())
        self.at.set_accessible_name(self.tr("From when on"))
        self.move_button = QPushButton(self.tr("Hang it there"))
        self.stays = Label("", ink="ink2", wraps=True)
        self.corrected = Label("", wraps=True)
        self.checks = CheckRows(context.zone)
        self.check_table = EditTable(self.checks, self.tr("Checks of the probe"), rows_shown=4)
        stretch_column(self.check_table, 1)
        self.check_button = QPushButton(self.tr("Note a check…"))
        self.remove_check_button = QPushButton(self.tr("Remove the check"))
        for button in (self.move_button, self.check_button, self.remove_check_button):
            button.setAutoDefault(False)
        self.add_button.setText(self.tr("Add probe"))
        self._lay_out()
        self.name.textEdited.connect(lambda _text: self._check_name())
        for field in (self.name, self.humidity.field, self.temperature.field, self.remark):
            field.editingFinished.connect(self._store)
        self.move_button.clicked.connect(self._move)
        self.check_button.clicked.connect(self._note_check)
        self.remove_check_button.clicked.connect(self._remove_chosen_check)
        self.checks.removal_wanted.connect(self._remove_check)

    def _lay_out(self) -> None:
        accuracy = QHBoxLayout()
        accuracy.setSpacing(6)
        accuracy.addWidget(Label("±"))
        accuracy.addWidget(self.humidity)
        accuracy.addWidget(Label("±"))
        accuracy.addWidget(self.temperature)
        accuracy.addStretch(1)
        hang = QHBoxLayout()
        hang.setSpacing(8)
        hang.addWidget(self.place, 1)
        hang.addWidget(Label(self.tr("from")))
        hang.addWidget(self.at, 1)
        hang.addWidget(self.move_button)
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        grid.addWidget(labelled(self.tr("Nam&e"), self.name), 0, 0)
        grid.addWidget(self.name_line, 0, 1)
        grid.addWidget(labelled(self.tr("&Accuracy"), self.humidity.field), 1, 0)
        grid.addLayout(accuracy, 1, 1)
        grid.addWidget(labelled(self.tr("N&ote"), self.remark), 2, 0)
        grid.addWidget(self.remark, 2, 1)
        grid.addWidget(labelled(self.tr("&Hangs in"), self.place), 3, 0)
        grid.addLayout(hang, 3, 1)
        grid.addWidget(self.stays, 4, 1)
        self.check_head = QWidget()
        head = QHBoxLayout(self.check_head)
        head.setContentsMargins(0, 0, 0, 0)
        title = Label(self.tr("&Checks"), role="section")
        title.setBuddy(self.check_table)
        head.addWidget(title)
        head.addStretch(1)
        head.addWidget(self.check_button)
        head.addWidget(self.remove_check_button)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(grid)
        rows.addWidget(self.check_head)
        rows.addWidget(self.corrected)
        rows.addWidget(self.check_table)
        self.frame(rows)

    # ---------------------------------------------------------------- showing

    def show_record(self, uid: str | None) -> None:
        """Shows a probe as it is stored; None for a new one."""
        super().show_record(uid)
        journal = self.context.door.journal
        probe = None if uid is None else journal.probes.find(uid)
        self.name.setText("" if probe is None else probe.name)
        self.name_line.tell("")
        self.humidity.set_text("" if probe is None else _plain(probe.accuracy_humidity))
        self.temperature.set_text("" if probe is None else _plain(probe.accuracy_temperature_c))
        self.remark.setText("" if probe is None else probe.note)
        self._fill_places(probe)
        self.at.set_instant(self.context.now())
        for widget in (self.move_button, self.stays, self.check_head, self.corrected, self.check_table):
            widget.setVisible(probe is not None)
        self.title.setText(self.tr("New probe") if probe is None else probe.name)
        if probe is None:
            self.state.setText(
                self.tr("A thermometer, a hygrometer or a logger. It is stored when you add it.")
            )
            return
        self._show_stays(probe)
        self._show_corrections(probe)
        checks = journal.probes.checks(probe.uid)
        self.checks.show_checks(checks)
        self.check_table.setVisible(bool(checks))
        self.remove_check_button.setVisible(bool(checks))
        retired = probe.retired_on is not None
        self.retire_button.setText(self.tr("Take into use again") if retired else self.tr("Retire"))
        used = use_line(journal.uses.of_probe(probe.uid))
        lines = [self.tr("Retired on {date}.").format(date=probe.retired_on)] if retired else []
        lines.append(self.tr("Used by {what}.").format(what=used) if used else self.tr("No readings yet."))
        self.state.setText(" ".join(lines))

    def _fill_places(self, probe: Probe | None) -> None:
        journal = self.context.door.journal
        now = self.context.now()
        hangs = journal.probes.machine_of(probe.uid, now) if probe is not None else None
        self.place.clear()
        self.place.addItem(self.tr("the room"), None)
        for machine in journal.machines.all():
            if machine.retired_on is None or machine.uid == hangs:
                self.place.addItem(machine.name, machine.uid)
        if probe is None and self.place.count() > 1:
            self.place.setCurrentIndex(1)
        else:
            self.place.setCurrentIndex(max(self.place.findData(hangs), 0))

    def _show_stays(self, probe: Probe) -> None:
        journal = self.context.door.journal
        names = {machine.uid: machine.name for machine in journal.machines.all()}
        stays = journal.probes.placements(probe.uid)
        lines = [
            stay_line(stay, names.get(stay.machine or "", ""), self.context.zone) for stay in reversed(stays)
        ]
        self.stays.setText("\n".join(lines[:4]) if lines else self.tr("It is not noted where it hangs."))

    def _show_corrections(self, probe: Probe) -> None:
        """What its checks correct now: a line for the humidity, one for the temperature where that was checked."""
        journal, now, zone = self.context.door.journal, self.context.now(), self.context.zone
        humidity, temperature = (correction_now(journal, probe, one, now) for one in Quantity)
        lines = []
        if temperature.correction is None or humidity.correction is not None:
            lines.append(state_sentence(humidity, zone))
        if temperature.correction is not None:
            lines.append(state_sentence(temperature, zone))
        self.corrected.setText("\n".join(lines))

    def focus_first(self) -> None:
        """Puts the focus to the name."""
        focus(self.name)

    # ---------------------------------------------------------------- storing

    def _check_name(self, *, asks: bool = False) -> bool:
        name = self.name.text().strip()
        others = self.context.door.journal.probes.all()
        if not name:
            trouble = self.tr("Give the probe a name.") if asks or self.uid is not None else ""
        elif any(one.name.casefold() == name.casefold() and one.uid != self.uid for one in others):
            trouble = self.tr("There is a probe of that name already.")
        else:
            trouble = ""
        self.name_line.tell(trouble)
        return bool(name) and not trouble

    def _accuracies(self) -> tuple[float | None, float | None] | None:
        """Both half-widths, % and °C; None where something cannot be, which is then said."""
        values: list[float | None] = []
        for field in (self.humidity, self.temperature):
            typed = field.typed()
            if typed is None and not field.is_empty():
                return None
            value = None if typed is None else typed.value
            if typed is not None and typed.unit is Unit.FAHRENHEIT:
                value = typed.value * _FAHRENHEIT_STEP  # a difference, not a temperature
            if value is not None and not value > 0:
                field.tell(self.tr("More than nothing, or empty."))
                return None
            values.append(value)
        return values[0], values[1]

    def _store(self) -> None:
        probe = self.context.door.journal.probes.find(self.uid or "")
        accuracies = self._accuracies()
        if probe is None or accuracies is None or not self._check_name():
            return
        changed = replace(
            probe,
            name=self.name.text().strip(),
            accuracy_humidity=accuracies[0],
            accuracy_temperature_c=accuracies[1],
            note=self.remark.text().strip(),
        )
        if changed != probe and self.run(lambda journal: journal.probes.replace(changed)) is not None:
            self.title.setText(changed.name)

    def add(self) -> None:
        """Adds the probe, hung where it is said."""
        accuracies = self._accuracies()
        if not self._check_name(asks=True):
            focus(self.name)
            return
        at = self._instant()
        if accuracies is None or at is None:
            return
        name, machine = self.name.text().strip(), self.place.currentData()
        change = self.run(
            lambda journal: journal.probes.add_to(
                name,
                machine=machine,
                from_at=at,
                accuracy_humidity=accuracies[0],
                accuracy_temperature_c=accuracies[1],
            )
        )
        added = self.context.door.journal.probes.by_name(name)
        if change is not None and added is not None:
            self.record_added.emit(added.uid)

    def _instant(self) -> int | None:
        try:
            return self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error), NoteKind.BAD)
            return None

    def _move(self) -> None:
        """Hangs it elsewhere from an instant on; readings before that stay with the place before."""
        probe = self.context.door.journal.probes.find(self.uid or "")
        at = self._instant()
        if probe is None or at is None:
            return
        machine: str | None = self.place.currentData()
        for stay in self.context.door.journal.probes.placements(probe.uid):
            here = stay.from_at <= at and (stay.until_at is None or at < stay.until_at)
            if here and stay.machine == machine:
                name = place_name(stay, self.place.currentText())
                self.tell(self.tr("It hangs in {place} then already.").format(place=name), NoteKind.INFO)
                return
        if self.run(lambda journal: journal.probes.move(probe, machine=machine, at=at)) is not None:
            self._show_stays(probe)

    # ---------------------------------------------------------------- checks

    def _note_check(self) -> None:
        probe = self.context.door.journal.probes.find(self.uid or "")
        if probe is not None:
            ProbeCheckDialog(self.context, probe, self).open()

    def _remove_chosen_check(self) -> None:
        check = self.checks.check_at(max(self.check_table.currentIndex().row(), 0))
        if check is not None:
            self._remove_check(check)

    def _remove_check(self, check: ProbeCheck) -> None:
        self.context.door.run(lambda journal: journal.probes.remove_check(check))
        if self.check_table.isVisible():
            self.check_table.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---------------------------------------------------------------- in and out of use

    def retire(self) -> None:
        """Takes the probe out of use, or into use again; its readings stay."""
        probe = self.context.door.journal.probes.find(self.uid or "")
        if probe is not None:
            changed = replace(probe, retired_on=self.today() if probe.retired_on is None else None)
            self.run(lambda journal: journal.probes.replace(changed))
            self.show_record(probe.uid)

    def delete(self) -> None:
        """Deletes the probe if it has no readings."""
        journal = self.context.door.journal
        probe = journal.probes.find(self.uid or "")
        if probe is None:
            return
        uses = journal.uses.of_probe(probe.uid)
        if uses.any:
            self.tell(used_sentence(uses), link="" if probe.retired_on else self.tr("Retire it"))
            return
        self.context.door.run(lambda journal: journal.probes.remove(probe))


def _plain(value: float | None) -> str:
    return "" if value is None else number(value, 2).rstrip("0").rstrip(".,")
