"""The form of a batch as a whole: what is typed, read into a draft with its plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.batch_form import BatchForm
from hatchbook.desk.dialogs.note_stack import NoteStack
from hatchbook.desk.dialogs.pen_rows import PenRowsModel, PenTable
from hatchbook.desk.dialogs.programme_sources import ProgrammeSourcesDialog
from hatchbook.desk.dialogs.targets_form import TargetsForm
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import NoteKind
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import word
from hatchbook.desk.words.planning import (
    changed_sentence,
    kept_sentence,
    note_sentence,
    places_sentence,
)
from hatchbook.figures.offered import likely_species, offered_species
from hatchbook.figures.plan_records import has_its_phases, programme_of, rows_of
from hatchbook.figures.planning import BatchDraft, DraftPlan, NoteCode, next_label, plan_draft
from hatchbook.journal import Batch
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import EggSource, WeighPlan
from hatchbook.trade.instants import InstantError, to_local
from hatchbook.trade.phases import ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programme_changes import changes_of
from hatchbook.trade.programmes import programme_named
from hatchbook.trade.sources import About
from hatchbook.trade.units import Unit


class BatchEntry(QWidget):
    """All fields of a batch.

    Signals:
        edited: something was changed; ``read`` gives what follows.
    """

    edited = Signal()

    def __init__(self, context: DeskContext, batch: Batch | None, copy_of: Batch | None) -> None:
        super().__init__()
        self._context = context
        self._batch = batch
        self._uid = batch.uid if batch is not None else new_uid()
        self._error: ProgrammeError | None = None
        self._restored = False
        self._has_its_phases = True
        journal = context.door.journal
        self.form = BatchForm(context, offered_species(journal), self._uid)
        self.notes = NoteStack()
        self.pens = PenRowsModel(journal.pens.all(), self._set_on)
        self.pen_table = PenTable(self.pens)
        self.pen_line = Label("", role="caption", ink="bad", wraps=True)
        self.pen_line.setVisible(False)
        self.places = Label("", ink="ink2")
        self.source = Segmented(
            [(one, word(one)) for one in EggSource], name=self.tr("Where the eggs are from")
        )
        self.egg_notes = NoteStack()
        fahrenheit = context.settings.get(settings.TEMPERATURE_UNIT) == "F"
        self.targets = TargetsForm(Unit.FAHRENHEIT if fahrenheit else Unit.CELSIUS)
        self._lay_out()
        self._fill(batch, copy_of)
        self.form.edited.connect(self._changed)
        self.form.programme_chosen.connect(self._follow_programme)
        self.form.air_changed.connect(self._follow_air)
        self.pens.edited.connect(self._changed)
        self.source.chosen.connect(lambda _source: self._changed())
        self.targets.edited.connect(self._changed)
        self.targets.sources.clicked.connect(self._show_sources)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        title = Label(self.tr("E&ggs"), role="section")
        title.setBuddy(self.pen_table)
        head.addWidget(title)
        head.addSpacing(12)
        head.addWidget(self.source)
        head.addStretch(1)
        head.addWidget(self.places)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 10, 0)
        rows.setSpacing(8)
        rows.addWidget(self.form)
        rows.addWidget(self.notes)
        rows.addSpacing(2)
        rows.addLayout(head)
        rows.addWidget(self.pen_table)
        rows.addWidget(self.pen_line)
        rows.addWidget(self.egg_notes)
        rows.addSpacing(2)
        rows.addWidget(self.targets)
        rows.addStretch(1)

    # ---------------------------------------------------------------- filling

    def _fill(self, batch: Batch | None, copy_of: Batch | None) -> None:
        journal = self._context.door.journal
        model = batch if batch is not None else copy_of
        if model is None:
            self.form.show_species(likely_species(journal))
            newest = journal.batches.lines()
            machine = journal.machines.find(newest[0].machine) if newest else None
            if machine is not None and machine.retired_on is None:
                self.form.show_machine(machine.uid)
            self.targets.show_weighing(WeighPlan.MARKED)
            self.targets.show_programme(self.form.base_programme)
            self.pens.set_texts([[""] * 4])
        else:
            programme = programme_of(journal, model)
            self._has_its_phases = has_its_phases(journal, model, programme)
            self.form.show_machine(model.machine)
            self.form.show_species(model.species, programme)
            self.form.name.setText(model.name)
            self.form.breed.setText(model.breed)
            rows = rows_of(journal, model.uid)
            marked = sum(egg.marked for row in rows for egg in row.known)
            self.targets.show_weighing(model.weigh_plan, marked or None)
            self.targets.show_programme(programme)
            self.source.choose(model.source)
            if batch is not None:
                self.form.label.setText(batch.label)
                self.form.label_typed = True
                self.form.timing.show_setting(batch.set_at)
                self.targets.note.setText(batch.note)
                self.pens.show_rows(rows, journal.uses.eggs_with_records(batch.uid))
            else:
                # The same pens, with eggs that are yet to be counted.
                self.pens.show_rows([replace(row, laid_on=None, known=(), eggs=0) for row in rows])
        self.form.timing.show_programme(self.form.base_programme)
        self._suggest_label()

    def _suggest_label(self) -> None:
        self.form.suggest_label(next_label(self._context.door.journal, self._set_on()))

    def _set_on(self) -> date:
        """The date of setting, by which laying dates are completed and checked."""
        try:
            at = self.form.timing.set_at()
        except InstantError:
            at = self._context.now()
        return to_local(at, self._context.zone).date()

    def _follow_programme(self) -> None:
        """Another programme is followed from now on, in everything."""
        self.targets.show_programme(self.form.base_programme)
        self._changed()

    def _follow_air(self, rise_c: float) -> None:
        """Another kind of machine is warmer or cooler; other changes of the breeder's stay."""
        self.targets.phases.warm_by(rise_c)
        self._changed()

    def _changed(self) -> None:
        self.form.timing.show_programme(self._programme() or self.form.base_programme)
        self._suggest_label()
        self.pens.refresh()
        self.edited.emit()

    def _show_sources(self) -> None:
        ProgrammeSourcesDialog(self.form.base_programme, self).open()

    # ---------------------------------------------------------------- reading

    def _programme(self) -> Programme | None:
        """The programme with the breeder's changes; None while something in it cannot be read."""
        try:
            programme = self.targets.programme(self._base())
        except ProgrammeError as error:
            self._error = error
            self.targets.show_troubles(error)
            return None
        self._error = None
        self.targets.show_troubles()
        return programme

    def _base(self) -> Programme:
        """The chosen programme; a copy that was set without weighing gets the days of its own one back."""
        base = self.form.base_programme
        if not base.weigh_days and (own := programme_named(base.code)) is not None:
            return replace(base, weigh_days=tuple(d for d in own.weigh_days if d <= base.incubation_days))
        return base

    def read(self) -> tuple[BatchDraft, DraftPlan] | None:
        """What was typed with what follows from it, notes shown; None while it cannot be planned."""
        programme = self._programme()
        if programme is None:
            return None
        try:
            set_at = self.form.timing.set_at()
        except InstantError:
            return None
        form = self.form
        draft = BatchDraft(
            programme=programme,
            set_at=set_at,
            label=form.label.text().strip(),
            name=form.name.text().strip(),
            breed=form.breed.text().strip(),
            machine=form.chosen_machine,
            machine_is_new=form.machine_is_new,
            channels=form.machine_fields.channels.value(),
            probe_name=form.probe.text().strip(),
            rows=self.pens.rows(),
            source=EggSource(str(self.source.current())),
            weigh_plan=self.targets.weigh_plan,
            marked=self.targets.marked.value(),
            note=self.targets.note.text().strip(),
            batch=self._batch,
            uid=self._uid,
        )
        plan = plan_draft(self._context.door.journal, draft, self._context.now())
        self._show_what_follows(draft, plan)
        return draft, plan

    def _show_what_follows(self, draft: BatchDraft, plan: DraftPlan) -> None:
        zone = self._context.zone
        name = draft.machine.name if draft.machine is not None and draft.machine.name else self.tr("machine")
        said = [
            (note.code, note_sentence(note, name, zone), _KINDS.get(note.code, NoteKind.WARN))
            for note in plan.notes
        ]
        about_eggs = (NoteCode.EGGS_OLD, NoteCode.MACHINE_FULL)
        above = [(text, kind) for code, text, kind in said if code not in about_eggs]
        if self._restored:
            above.insert(0, (self.tr("What you typed before is here again."), NoteKind.INFO))
        if self._batch is not None and self._batch.set_at <= self._context.now():
            above.insert(0, (self._running_sentence(), NoteKind.INFO))
        if not self._has_its_phases:
            lent = self.tr("Its phases cannot be shown as they are stored; these are the programme's own.")
            above.insert(0, (lent, NoteKind.BAD))
        self.notes.show_notes(above)
        self.egg_notes.show_notes([(text, kind) for code, text, kind in said if code in about_eggs])
        self.form.kept.setText(kept_sentence(plan.kept_days))
        if plan.room is not None:
            self.places.setText(places_sentence(draft.eggs, plan.room.free, plan.room.places))
        self._show_pen_trouble()
        changed = sorted(changes_of(self._base(), draft.programme), key=tuple(About).index)
        if draft.weigh_plan is WeighPlan.NONE:
            changed = [about for about in changed if about is not About.WEIGHING]
        self.targets.changed_line.setText(changed_sentence(changed, self.form.base_programme.title))

    def _running_sentence(self) -> str:
        return self.tr(
            "The eggs are in. Other targets hold for the whole phase, also for its days that have gone; "
            "another time of setting moves every day of the batch."
        )

    def _show_pen_trouble(self) -> None:
        found = self.pens.first_trouble()
        self.pen_line.setText(found[2] if found is not None else "")
        self.pen_line.setVisible(found is not None)

    # ---------------------------------------------------------------- gaps

    def ask(self) -> None:
        """Says from now on what is missing, too."""
        self.form.ask()
        if not self.pens.texts():
            self.pens.set_texts([[""] * 4])
        self.pens.ask()
        self._show_pen_trouble()

    def first_gap(self) -> bool:
        """Puts the focus to the first field with something wrong or missing; False where there is none."""
        if self.form.first_gap():
            return True
        found = self.pens.first_trouble()
        if found is not None:
            self.pen_table.edit_cell(found[0], found[1])
            return True
        if self._error is not None:
            self.targets.first_gap(self._error)
            return True
        return False

    # ---------------------------------------------------------------- keeping what was typed

    def tell_restored(self) -> None:
        """Says that what was typed before is here again."""
        self._restored = True

    def state(self) -> dict[str, object]:
        """What was typed and chosen."""
        return {
            "form": self.form.state(),
            "pens": self.pens.texts(),
            "source": str(self.source.current()),
            "targets": self.targets.state(),
        }

    def restore(self, state: dict[str, object]) -> None:
        """Shows again what was typed and chosen."""
        self.form.restore(state["form"])  # type: ignore[arg-type]
        self.targets.show_programme(self.form.base_programme)
        self.targets.restore(state["targets"])  # type: ignore[arg-type]
        self.pens.set_texts(state["pens"])  # type: ignore[arg-type]
        self.source.choose(EggSource(str(state["source"])))
        self.form.timing.show_programme(self._programme() or self.form.base_programme)
        self._suggest_label()


_KINDS = {NoteCode.SET_LONG_AGO: NoteKind.INFO}
