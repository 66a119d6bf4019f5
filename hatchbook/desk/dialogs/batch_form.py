"""What a batch is, where it lies and when it is set: the upper part of the form of a new batch."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QCompleter, QGridLayout, QLineEdit, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.machine_fields import MachineFields
from hatchbook.desk.dialogs.timing_fields import TimingFields
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.sheet import Sheet
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.planning import programme_title
from hatchbook.figures.offered import OfferedSpecies
from hatchbook.figures.planning import label_taken
from hatchbook.journal import Machine
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.programme import Programme, for_still_air

_LONGEST_LABEL, _LONGEST_NAME = 24, 80
_LABEL_DROP = 4
"""A label stands as high as the text of the field beside it, also when something is said below the field."""


class BatchForm(QWidget):
    """Species and programme, number, name and breed, machine, setting.

    Signals:
        edited: something was changed.
        programme_chosen: another programme is to be followed.
        air_changed: the chosen machine is of another kind; by how much warmer its eggs are aimed at, °C.
    """

    edited = Signal()
    programme_chosen = Signal()
    air_changed = Signal(float)

    def __init__(self, context: DeskContext, offered: Sequence[OfferedSpecies], uid: str) -> None:
        super().__init__()
        self._context = context
        self._offered = list(offered)
        self._uid = uid
        self._asks = False
        self.label_typed = False
        """Whether the breeder has given a number of the own choice."""
        self.species = QComboBox()
        for one in self._offered:
            self.species.addItem(species_word(one.code), one.code)
        self.programme = QComboBox()
        self.label = QLineEdit()
        self.label.setMaxLength(_LONGEST_LABEL)
        self.label_line = WithTrouble(self.label)
        self.name = QLineEdit()
        self.name.setMaxLength(_LONGEST_NAME)
        self.name.setPlaceholderText(self.tr("if it is to have one"))
        self.breed = QLineEdit()
        self.breed.setMaxLength(_LONGEST_NAME)
        breeds = {line.breed for line in context.door.journal.batches.lines() if line.breed}
        completer = QCompleter(sorted(breeds), self.breed)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.breed.setCompleter(completer)
        self.machine = QComboBox()
        self.machine_fields = MachineFields(is_part=True)
        self.probe = QLineEdit()
        self.probe.setMaxLength(_LONGEST_NAME)
        self.probe.setPlaceholderText(self.tr("if one hangs in it"))
        self.probe_line = WithTrouble(self.probe)
        self.timing = TimingFields(context.zone, context.now() // 300 * 300, self)
        self.kept = Label("", ink="ink2", wraps=True)
        self._fill_machines()
        self._lay_out()
        self._fill_programmes()
        self._show_machine_fields()
        self._connect()

    # ---------------------------------------------------------------- building

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        top = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
        fields: tuple[tuple[str, QWidget, QWidget], ...] = (
            (self.tr("&Species"), self.species, self.species),
            (self.tr("&Programme"), self.programme, self.programme),
            (self.tr("Nu&mber"), self.label_line, self.label),
            (self.tr("&Name"), self.name, self.name),
            (self.tr("&Breed"), self.breed, self.breed),
            (self.tr("Ma&chine"), self.machine, self.machine),
        )
        for at, (text, widget, buddy) in enumerate(fields):
            label = Label(text)
            label.setBuddy(buddy)
            buddy.setAccessibleName(text.replace("&", ""))
            row, column = at // 2, 2 * (at % 2)
            _beside_field(label)
            grid.addWidget(label, row, column, top)
            grid.addWidget(widget, row, column + 1, Qt.AlignmentFlag.AlignTop)
        self.new_machine = self._new_machine_panel()
        grid.addWidget(self.new_machine, 3, 0, 1, 4)
        timing = self.timing
        _beside_field(timing.title)
        plan_from = Label(self.tr("Plan &from"))
        plan_from.setBuddy(timing.way)
        _beside_field(plan_from)
        grid.addWidget(timing.title, 4, 0, top)
        grid.addWidget(timing.field, 4, 1)
        grid.addWidget(plan_from, 4, 2, top)
        grid.addWidget(timing.way, 4, 3, top)
        grid.addWidget(timing.other_title, 5, 0, top)
        grid.addWidget(timing.other, 5, 1, top)
        grid.addWidget(Label(self.tr("Eggs kept"), ink="ink2"), 5, 2, top)
        grid.addWidget(self.kept, 5, 3, Qt.AlignmentFlag.AlignTop)

    def _new_machine_panel(self) -> QWidget:
        panel = Sheet()
        self.machine_fields.setParent(panel)
        rows = self.machine_fields.grid
        label = Label(self.tr("H&ygrometer"))
        label.setBuddy(self.probe)
        self.probe.setAccessibleName(self.tr("Name of the hygrometer or logger in it"))
        at = rows.rowCount()
        rows.addWidget(label, at, 0)
        rows.addWidget(self.probe_line, at, 1, 1, 3)
        whole = QGridLayout(panel)
        whole.setContentsMargins(10, 8, 10, 8)
        whole.addWidget(self.machine_fields, 0, 0)
        return panel

    def _connect(self) -> None:
        self.species.currentIndexChanged.connect(lambda _row: self._species_chosen())
        self.programme.currentIndexChanged.connect(lambda _row: self._programme_picked())
        self.label.textEdited.connect(self._label_edited)
        for field in (self.name, self.breed, self.probe):
            field.textEdited.connect(lambda _text: self._edited())
        self.machine.currentIndexChanged.connect(lambda _row: self._machine_chosen())
        self.machine_fields.edited.connect(self._machine_edited)
        self.timing.edited.connect(self._edited)
        self._kind = self.machine_kind

    # ---------------------------------------------------------------- species and programme

    def show_species(self, code: str, programme: Programme | None = None) -> None:
        """Chooses a species and a programme; one that is not offered is offered from now on, as it was set."""
        if all(one.code != code for one in self._offered):
            self._offered.append(OfferedSpecies(code, ()))
            self.species.addItem(species_word(code), code)
        blocked = self.blockSignals(True)
        self.species.setCurrentIndex(self.species.findData(code))
        self._fill_programmes(programme)
        self.blockSignals(blocked)
        self._kind = self.machine_kind

    def _fill_programmes(self, own: Programme | None = None) -> None:
        offered = next(one for one in self._offered if one.code == self.species.currentData())
        blocked = self.programme.blockSignals(True)
        self.programme.clear()
        if own is not None:
            self.programme.addItem(self.tr("{programme} as set").format(programme=own.title), own)
        for programme in offered.programmes:
            self.programme.addItem(programme_title(programme), programme)
        for title in offered.unreadable:
            self.programme.addItem(self.tr("{programme}: cannot be read").format(programme=title), None)
            item = self.programme.model().index(self.programme.count() - 1, 0)
            self.programme.model().setData(item, 0, Qt.ItemDataRole.UserRole - 1)  # not to be chosen
        self.programme.setCurrentIndex(0)
        self.programme.blockSignals(blocked)

    @property
    def base_programme(self) -> Programme:
        """The chosen programme, with its temperatures for the kind of machine that is chosen."""
        programme: Programme = self.programme.currentData()
        return for_still_air(programme) if self.machine_kind is MachineKind.STILL_AIR else programme

    def _species_chosen(self) -> None:
        self._fill_programmes()
        self._programme_picked()

    def _programme_picked(self) -> None:
        self._kind = self.machine_kind
        self.programme_chosen.emit()

    # ---------------------------------------------------------------- the machine

    def _fill_machines(self) -> None:
        blocked = self.machine.blockSignals(True)
        self.machine.clear()
        for machine in self._context.door.journal.machines.all():
            if machine.retired_on is None:
                self.machine.addItem(machine.name, machine)
        self.machine.addItem(self.tr("New machine…"), None)
        self.machine.blockSignals(blocked)

    def show_machine(self, uid: str) -> None:
        """Chooses a machine; a retired one is offered too when a batch lies in it."""
        for row in range(self.machine.count()):
            machine: Machine | None = self.machine.itemData(row)
            if machine is not None and machine.uid == uid:
                self.machine.setCurrentIndex(row)
                return
        found = self._context.door.journal.machines.find(uid)
        if found is not None:
            self.machine.insertItem(0, found.name, found)
            self.machine.setCurrentIndex(0)

    @property
    def machine_is_new(self) -> bool:
        """Whether a machine is added."""
        return self.machine.currentData() is None

    @property
    def chosen_machine(self) -> Machine:
        """The machine, stored or to be added; the name of a new one may still be missing."""
        stored: Machine | None = self.machine.currentData()
        return self.machine_fields.machine() if stored is None else stored

    @property
    def machine_kind(self) -> MachineKind:
        """How the air moves in the chosen machine."""
        return self.chosen_machine.kind

    def _machine_chosen(self) -> None:
        self._show_machine_fields()
        self._machine_edited()

    def _show_machine_fields(self) -> None:
        self.new_machine.setVisible(self.machine_is_new)

    def _machine_edited(self) -> None:
        """Still air is kept warmer than forced air."""
        kind = self.machine_kind
        if kind is not self._kind:
            self._kind = kind
            programme: Programme = self.programme.currentData()
            if programme.machine_kind is MachineKind.FORCED_AIR:
                rise = programme.still_air_rise_c
                self.air_changed.emit(rise if kind is MachineKind.STILL_AIR else -rise)
        self._edited()

    # ---------------------------------------------------------------- what is missing or taken

    def _label_edited(self, text: str) -> None:
        self.label_typed = bool(text.strip())
        self._edited()

    def _edited(self) -> None:
        self.show_troubles()
        self.edited.emit()

    def suggest_label(self, label: str) -> None:
        """A number that is free, unless the breeder has given one."""
        if not self.label_typed and not self.label.hasFocus():
            self.label.setText(label)

    def ask(self) -> None:
        """Says from now on what is missing, too."""
        self._asks = True
        self.show_troubles()

    def show_troubles(self) -> None:
        """Says in its place what is taken, and once asked what is missing."""
        journal = self._context.door.journal
        label, name, probe = (
            self.label.text().strip(),
            self.machine_fields.name.text().strip(),
            self.probe.text(),
        )
        if not label:
            self.label_line.tell(self.tr("Give the batch a number.") if self._asks else "")
        elif label_taken(journal, label, self._uid):
            self.label_line.tell(self.tr("Another batch is number {label}.").format(label=label))
        else:
            self.label_line.tell("")
        names = {machine.name.casefold() for machine in journal.machines.all()}
        if self.machine_is_new and name.casefold() in names:
            trouble = self.tr("There is a machine of that name already.")
        elif self.machine_is_new and not name and self._asks:
            trouble = self.tr("Give the machine a name.")
        else:
            trouble = ""
        self.machine_fields.name_line.tell(trouble)
        known = {one.name.casefold() for one in journal.probes.all()}
        taken = self.machine_is_new and probe.strip().casefold() in known and bool(probe.strip())
        self.probe_line.tell(self.tr("There is a probe of that name already.") if taken else "")

    def first_gap(self) -> bool:
        """Puts the focus to the first field with something wrong; False where there is none."""
        for line, field in (
            (self.label_line, self.label),
            (self.machine_fields.name_line, self.machine_fields.name),
            (self.probe_line, self.probe),
            (self.timing.field, self.timing.at.field),
        ):
            if line.trouble():
                focus(field)
                return True
        return False

    # ---------------------------------------------------------------- keeping what was typed

    def state(self) -> dict[str, object]:
        """What was typed and chosen."""
        machine = self.chosen_machine
        programme: Programme = self.programme.currentData()
        return {
            "species": self.species.currentData(),
            "programme": programme.code,
            "label": self.label.text() if self.label_typed else "",
            "name": self.name.text(),
            "breed": self.breed.text(),
            "machine": "" if self.machine_is_new else machine.uid,
            "new_machine": machine if self.machine_is_new else None,
            "channels": self.machine_fields.channels.value(),
            "probe": self.probe.text(),
            "timing": self.timing.state(),
        }

    def restore(self, state: dict[str, object]) -> None:
        """Shows again what was typed and chosen."""
        if any(one.code == state["species"] and one.programmes for one in self._offered):
            self.show_species(str(state["species"]))
        for row in range(self.programme.count()):
            programme: Programme | None = self.programme.itemData(row)
            if programme is not None and programme.code == state["programme"]:
                self.programme.setCurrentIndex(row)
        if state["label"]:
            self.label.setText(str(state["label"]))
            self.label_typed = True
        self.name.setText(str(state["name"]))
        self.breed.setText(str(state["breed"]))
        if state["machine"]:
            self.show_machine(str(state["machine"]))
        else:
            self.machine.setCurrentIndex(self.machine.count() - 1)
            new: Machine = state["new_machine"]  # type: ignore[assignment]
            self.machine_fields.show_machine(new, int(str(state["channels"])))
        self.probe.setText(str(state["probe"]))
        self.timing.restore(state["timing"])  # type: ignore[arg-type]


def _beside_field(label: Label) -> None:
    label.setContentsMargins(0, _LABEL_DROP, 0, 0)
