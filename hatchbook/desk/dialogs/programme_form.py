"""A programme of the breeder's own: its name, species and targets, stored as soon as they go together."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.phase_rows import PhaseRowsModel, PhaseTable
from hatchbook.desk.dialogs.programme_sources import ProgrammeSourcesDialog
from hatchbook.desk.dialogs.record_form import RecordForm, labelled
from hatchbook.desk.dialogs.typed_targets import typed_days, typed_loss, typing_sentence
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus, show_edge
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import NoteKind
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.programmes import day_text, days_text, used_sentence, value_text
from hatchbook.figures.own_programmes import kept_programme, known_species, record_of, title_taken, uses_of
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.phases import PhaseTargets, ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programme_changes import (
    loss_target,
    named_anew,
    split_phase,
    with_changes,
    without_phase,
)
from hatchbook.trade.sources import About
from hatchbook.trade.units import Unit

Phases = tuple[PhaseTargets, ...]

_LONGEST_TITLE, _LONGEST_SPECIES, _LONGEST_DAYS = 60, 40, 200
_SHORT = 56


class ProgrammeForm(RecordForm):
    """The form of one own programme.

    Signals:
        copy_wanted: the breeder wants another one like this; the ``Programme``, as object.
    """

    copy_wanted = Signal(object)

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        fahrenheit = context.settings.get(settings.TEMPERATURE_UNIT) == "F"
        self._unit = "F" if fahrenheit else "C"
        self._base: Programme | None = None
        self.name = self._line(_LONGEST_TITLE, self.tr("Name of the programme"))
        self.name_line = WithTrouble(self.name)
        self.species = QComboBox()
        self.species.setEditable(True)
        self.species.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.species.setAccessibleName(self.tr("Species"))
        self.species_line = WithTrouble(self.species)
        self.phases = PhaseRowsModel(Unit.FAHRENHEIT if fahrenheit else Unit.CELSIUS)
        self.phase_table = PhaseTable(self.phases)
        self.phase_line = self._trouble_line()
        self.air = Label("", role="caption", ink="ink2", wraps=True)
        self.split = LinkButton(self.tr("Part the phase in two"))
        self.join = LinkButton(self.tr("Take the phase away"))
        self.sources = LinkButton(self.tr("Where this comes from"))
        self.loss_low = self._line(12, self.tr("Least weight lost, %"))
        self.loss_high = self._line(12, self.tr("Most weight lost, %"))
        self.loss_day = self._line(12, self.tr("Day by which the weight is lost"))
        self.loss_line = self._trouble_line()
        self.candle = self._line(_LONGEST_DAYS, self.tr("Candle on days"))
        self.candle_line = WithTrouble(self.candle)
        self.weigh = self._line(_LONGEST_DAYS, self.tr("Weigh on days"))
        self.weigh_line = WithTrouble(self.weigh)
        self.add_button.setText(self.tr("&Copy"))
        self._lay_out()
        self._connect()

    def _line(self, longest: int, name: str) -> QLineEdit:
        line = QLineEdit()
        line.setMaxLength(longest)
        line.setAccessibleName(name)
        return line

    def _trouble_line(self) -> Label:
        line = Label("", role="caption", ink="bad", wraps=True)
        line.setVisible(False)
        return line

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        grid.addWidget(labelled(self.tr("Na&me"), self.name), 0, 0)
        grid.addWidget(self.name_line, 0, 1)
        grid.addWidget(labelled(self.tr("&Species"), self.species), 0, 2)
        grid.addWidget(self.species_line, 0, 3)
        head = QHBoxLayout()
        title = Label(self.tr("P&hases"), role="section")
        title.setBuddy(self.phase_table)
        head.addWidget(title)
        head.addStretch(1)
        head.addWidget(self.sources)
        below = QHBoxLayout()
        below.setSpacing(12)
        below.addWidget(self.split)
        below.addWidget(self.join)
        below.addStretch(1)
        loss = QHBoxLayout()
        loss.setSpacing(6)
        for field in (self.loss_low, self.loss_high, self.loss_day):
            field.setMaximumWidth(_SHORT)
        loss.addWidget(self.loss_low)
        loss.addWidget(Label(self.tr("to")))
        loss.addWidget(self.loss_high)
        loss.addWidget(Label(self.tr("% by day")))
        loss.addWidget(self.loss_day)
        loss.addStretch(1)
        targets = QGridLayout()
        targets.setHorizontalSpacing(10)
        targets.setVerticalSpacing(8)
        targets.setColumnStretch(1, 1)
        targets.addWidget(labelled(self.tr("&Weight lost"), self.loss_low), 0, 0)
        targets.addLayout(loss, 0, 1)
        targets.addWidget(self.loss_line, 1, 1)
        targets.addWidget(labelled(self.tr("C&andle on days"), self.candle), 2, 0)
        targets.addWidget(self.candle_line, 2, 1)
        targets.addWidget(labelled(self.tr("Weigh &on days"), self.weigh), 3, 0)
        targets.addWidget(self.weigh_line, 3, 1)
        rows = QVBoxLayout()
        rows.setSpacing(8)
        rows.addLayout(grid)
        rows.addSpacing(4)
        rows.addLayout(head)
        rows.addWidget(self.phase_table)
        rows.addLayout(below)
        rows.addWidget(self.phase_line)
        rows.addWidget(self.air)
        rows.addSpacing(4)
        rows.addLayout(targets)
        self.frame(rows)

    def _fields(self) -> tuple[QWidget, ...]:
        lines = (self.name, self.loss_low, self.loss_high, self.loss_day, self.candle, self.weigh)
        return (*lines, self.species, self.phase_table, self.split, self.join, self.sources, self.add_button)

    def _connect(self) -> None:
        for line in (self.name, self.loss_low, self.loss_high, self.loss_day, self.candle, self.weigh):
            line.textEdited.connect(lambda _text: self._read())
            line.editingFinished.connect(self.store)
        entry = self.species.lineEdit()
        if entry is not None:
            entry.setMaxLength(_LONGEST_SPECIES)
            entry.editingFinished.connect(self.store)
        self.species.activated.connect(lambda _row: self.store())
        self.phases.edited.connect(self.store)
        self.split.clicked.connect(self._split)
        self.join.clicked.connect(self._take_away)
        self.sources.clicked.connect(self._show_sources)
        self.phase_table.selectionModel().currentChanged.connect(lambda _new, _old: self._offer())
        self.phases.modelReset.connect(self._offer)

    # ---------------------------------------------------------------- showing

    def show_record(self, uid: str | None) -> None:
        """Shows a programme as it is stored."""
        super().show_record(uid)
        journal = self.context.door.journal
        kept = None if uid is None else kept_programme(journal, uid)
        programme = None if kept is None else kept.programme
        self._base = programme
        self.retire_button.setVisible(False)
        self.add_button.setVisible(True)
        writable = not journal.read_only
        for widget in self._fields():
            widget.setEnabled(programme is not None and writable)
        self.delete_button.setEnabled(writable)
        self.title.setText("" if kept is None else kept.record.title)
        self.state.setText("" if kept is None else used_sentence(uses_of(journal, kept.record)))
        self._fill_species("" if kept is None else kept.record.species)
        if programme is None:
            self.phases.show_phases(())
            if kept is not None:
                self.tell(self.tr("This programme cannot be read; it can only be deleted."), NoteKind.BAD)
            return
        self.name.setText(programme.title)
        self.phases.show_phases(programme.phases)
        self.air.setText(self._air_sentence(programme))
        loss = loss_target(programme)
        shown = [] if loss is None else [loss.low_percent, loss.high_percent, loss.day]
        for field, text in zip(
            (self.loss_low, self.loss_high, self.loss_day),
            map(day_text, shown) if shown else ("",) * 3,
            strict=True,
        ):
            field.setText(text)
        self.candle.setText(days_text(programme.candle_days))
        self.weigh.setText(days_text(programme.weigh_days))
        self._show_troubles(None)

    def _air_sentence(self, programme: Programme) -> str:
        """For which air the temperatures are, and how far they may stray."""
        if programme.machine_kind is MachineKind.STILL_AIR:
            return self.tr("Temperatures for still air, at the height of the eggs' tops.")
        rise = value_text(programme, About.STILL_AIR, self._unit)
        return self.tr("Temperatures for forced air, each with its band. In still air: {rise}.").format(
            rise=rise
        )

    def _fill_species(self, code: str) -> None:
        blocked = self.species.blockSignals(True)
        self.species.clear()
        for one in known_species(self.context.door.journal):
            self.species.addItem(species_word(one), one)
        self.species.setCurrentIndex(self.species.findData(code))
        self.species.setEditText(species_word(code) if code else "")
        self.species.blockSignals(blocked)

    def focus_first(self) -> None:
        """Puts the focus to the name."""
        focus(self.name)
        self.name.selectAll()

    # ---------------------------------------------------------------- reading

    def _species_typed(self) -> str:
        """The code of the species: a known one by its word, else what was typed."""
        text = self.species.currentText().strip()
        for row in range(self.species.count()):
            if self.species.itemText(row).casefold() == text.casefold():
                return str(self.species.itemData(row))
        return text

    def _read(self) -> Programme | None:
        """What was entered; None where it does not go together yet, which is said in its place."""
        base = self._base
        if base is None or self.uid is None:
            return None
        title, species = self.name.text().strip(), self._species_typed()
        taken = title_taken(self.context.door.journal, title, self.uid)
        self.name_line.tell(
            self.tr("Give the programme a name.")
            if not title
            else self.tr("There is a programme of that name already.")
            if taken
            else ""
        )
        self.species_line.tell("" if species else self.tr("Say for which species it is."))
        try:
            programme = with_changes(
                base,
                phases=self.phases.phases(),
                candle_days=typed_days(self.candle.text(), "candle_days"),
                weigh_days=typed_days(self.weigh.text(), "weigh_days"),
                loss=typed_loss(self.loss_low.text(), self.loss_high.text(), self.loss_day.text()),
            )
        except ProgrammeError as error:
            self._show_troubles(error)
            return None
        self._show_troubles(None)
        return named_anew(programme, title, species) if title and species and not taken else None

    def _show_troubles(self, error: ProgrammeError | None) -> None:
        said = "" if error is None else typing_sentence(error)
        field = "" if error is None else error.field.split("[")[0]
        self.candle_line.tell(said if field == "candle_days" else "")
        self.weigh_line.tell(said if field == "weigh_days" else "")
        in_loss = said if field in ("loss_percent", "loss_day") else ""
        cell = self.phases.first_trouble()
        elsewhere = field in ("candle_days", "weigh_days", "loss_percent", "loss_day")
        in_phases = cell[2] if cell is not None else "" if elsewhere else said
        for field_of_loss in (self.loss_low, self.loss_high, self.loss_day):
            show_edge(field_of_loss, bad=bool(in_loss))
        for line, text in ((self.loss_line, in_loss), (self.phase_line, in_phases)):
            line.setText(text)
            line.setVisible(bool(text))

    # ---------------------------------------------------------------- storing

    def store(self) -> None:
        """Stores what was changed, as soon as it goes together; until then it is kept in the fields."""
        programme = self._read()
        if self._base is None or self.uid is None or self.context.door.journal.read_only:
            return
        if programme is None:
            self.tell(self.tr("Not stored until it goes together; what you typed stays here."))
            return
        own = self.context.door.journal.programmes.find(self.uid)
        changed = None if own is None else record_of(own, programme)
        if changed is None or changed == own:
            self.tell("")
            return
        if self.run(lambda journal: journal.programmes.replace(changed)) is not None:
            self.title.setText(changed.title)

    def _split(self) -> None:
        row = max(self.phase_table.currentIndex().row(), 0)
        self._change_phases(lambda phases: split_phase(phases, row))

    def _take_away(self) -> None:
        row = max(self.phase_table.currentIndex().row(), 0)
        self._change_phases(lambda phases: without_phase(phases, row) or phases)

    def _change_phases(self, change: Callable[[Phases], Phases]) -> None:
        try:
            phases = change(self.phases.phases())
        except ProgrammeError as error:
            self._show_troubles(error)
            return
        self.phases.show_phases(phases)
        self.store()

    def _offer(self) -> None:
        """What can be done with the phase that the keyboard is at."""
        row = max(self.phase_table.currentIndex().row(), 0)
        try:
            phases = self.phases.phases()
        except ProgrammeError:
            phases = ()
        writable = not self.context.door.journal.read_only
        self.split.setEnabled(writable and bool(phases))
        self.join.setEnabled(writable and row < len(phases) and without_phase(phases, row) is not None)

    def _show_sources(self) -> None:
        programme = self._read() or self._base
        if programme is not None:
            ProgrammeSourcesDialog(programme, self).open()

    def add(self) -> None:
        """Asks for another programme like this one."""
        programme = self._read() or self._base
        if programme is not None:
            self.copy_wanted.emit(programme)

    def retire(self) -> None:
        """A programme is not retired; it can be deleted, since no batch needs it."""

    def delete(self) -> None:
        """Deletes the programme; batches keep what they were set with, and undo brings it back."""
        own = self.context.door.journal.programmes.find(self.uid or "")
        if own is not None:
            self.context.door.run(lambda journal: journal.programmes.remove(own))
