"""Weighing: one number an egg, at the speed of a kitchen scale; or the tray as one; or from paper."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.egg.typed_values import kept_mass_text, mass_text
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.tray.tray_model import EGG_ROLE
from hatchbook.desk.tray.tray_view import TrayView
from hatchbook.desk.weighing.egg_pane import EggPane
from hatchbook.desk.weighing.kinds import Meaning, Scope, usual_scope
from hatchbook.desk.weighing.paper import PaperDialog
from hatchbook.desk.weighing.tray_pane import TrayPane
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.numbers import mass_in, number, unit_sign
from hatchbook.desk.words.weighing import none_to_weigh, odd_question, stored_sentence
from hatchbook.figures import batch_figures
from hatchbook.figures.to_weigh import EggToWeigh, eggs_in_machine, eggs_to_weigh
from hatchbook.journal import Batch, Change, EggMass, Weighing
from hatchbook.trade.instants import InstantError
from hatchbook.trade.scale_text import ScaleMass
from hatchbook.trade.units import Unit

_SAME_WEIGHING_S = 3 * 3600
_KINDS = frozenset({"egg_mass", "weighing", "egg", "batch", "finding", "hatching", "removal"})


class WeighDialog(FramedDialog):
    """A number and Enter for every egg, each stored at once; a scale that types like a keyboard does it as well."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        super().__init__("", parent, QSize(860, 560))
        title = self.tr("Weigh {label} {name}").format(label=batch.label, name=batch.name)
        self.setWindowTitle(title.strip())
        self._context = context
        self._batch = batch
        self._weighing = self._begun()
        self._kept_though_odd: tuple[str, str] | None = None
        self._eggs: dict[str, EggToWeigh] = {}
        self._done: dict[str, str] = {}
        self._build()
        marked = any(egg.marked for egg in context.door.journal.eggs.of_batch(batch.uid))
        self.scope.choose(usual_scope(batch.weigh_plan, any_marked=marked))
        self._use_scope()
        context.door.changed.connect(self._refresh)

    def _begun(self) -> Weighing:
        """The weighing of the last hours is gone on with."""
        now = self._context.now()
        for weighing in reversed(self._context.door.journal.weighings.of_batch(self._batch.uid)):
            if weighing.tray_mass_g is None and 0 <= now - weighing.at < _SAME_WEIGHING_S:
                return weighing
        return Weighing(self._batch.uid, now)

    # ---------------------------------------------------------------- building

    def _build(self) -> None:
        self.at = InstantEdit(self._context.zone, self._weighing.at)
        self.at.set_accessible_name(self.tr("When"))
        self.scope = Segmented(
            [
                (Scope.MARKED, self.tr("Marked eggs")),
                (Scope.EVERY_EGG, self.tr("Every egg")),
                (Scope.TRAY, self.tr("The tray as one")),
            ],
            name=self.tr("What is weighed"),
        )
        self.meaning = Segmented(
            [
                (Meaning.TODAY, self.tr("now")),
                (Meaning.SET, self.tr("when set")),
                (Meaning.LAID, self.tr("when laid")),
            ],
            name=self.tr("Weight of the egg"),
        )
        self.unit = Segmented(
            [(str(unit), unit_sign(unit)) for unit in (Unit.GRAM, Unit.OUNCE)], name=self.tr("Mass in")
        )
        self.unit.choose(self._context.settings.get(settings.MASS_UNIT))
        self.tray = TrayView()
        self.progress = Label("", ink="ink2")
        self.egg = EggPane(self._context.zone)
        self.mass = self.egg.mass
        self.whole = TrayPane()
        self.panes = QStackedWidget()
        self.panes.addWidget(self.egg)
        self.panes.addWidget(self.whole)
        self._form = QFormLayout()
        self._form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self._form.addRow(self.tr("&When"), self.at)
        self._form.addRow(self.tr("On the scale"), self.scope)
        self._form.addRow(self.tr("Its weight"), self.meaning)
        self._form.addRow(self.tr("Typed in"), self.unit)
        self._lay_out()
        self._wire()
        self._use_unit()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(self.progress)
        left.addWidget(self.tray, 1)
        right = QVBoxLayout()
        right.setSpacing(14)
        right.addLayout(self._form)
        right.addWidget(self.panes, 1)
        content = QHBoxLayout()
        content.setSpacing(16)
        content.addLayout(left, 5)
        content.addWidget(VLine())
        content.addLayout(right, 6)
        self.set_content(content)
        paper = self.buttons.addButton(self.tr("From &paper…"), self.buttons.ButtonRole.ActionRole)
        paper.setAutoDefault(False)
        paper.clicked.connect(self.open_paper)
        done = self.add_main_button(self.tr("Done"))
        done.setDefault(False)
        done.setAutoDefault(False)
        done.clicked.connect(self.accept)

    def _wire(self) -> None:
        self.tray.selectionModel().currentChanged.connect(lambda *_: self._show_egg())
        self.scope.chosen.connect(lambda _key: self._use_scope())
        self.meaning.chosen.connect(lambda _key: self._use_meaning())
        self.unit.chosen.connect(lambda _key: self._use_unit())
        self.egg.entered.connect(self.store_egg)
        self.egg.stepped.connect(self._step)
        self.whole.store_wanted.connect(self.store_tray)

    # ---------------------------------------------------------------- what is weighed

    def _use_unit(self) -> None:
        unit = Unit(str(self.unit.current()))
        self._context.settings.keep(settings.MASS_UNIT, str(unit))
        self.mass.set_unit(unit)
        self.whole.set_unit(unit)
        # What is shown as weighed already is told in this unit; what is only being typed stays.
        egg, typed = self._current(), self.mass.field.text()
        known = "" if egg is None else self._done.get(egg.figures.egg.uid, "")
        self._done = self._weighed()
        self._show_egg()
        if typed != known:
            self.mass.set_text(typed)

    def _use_scope(self) -> None:
        whole = self.scope.current() is Scope.TRAY
        self.panes.setCurrentWidget(self.whole if whole else self.egg)
        self._form.setRowVisible(self.meaning, not whole)
        self._use_meaning()

    def _use_meaning(self) -> None:
        today = self.scope.current() is Scope.TRAY or self.meaning.current() is Meaning.TODAY
        self._form.setRowVisible(self.at, today)
        self._refresh_eggs()
        self._go_on("")
        pane = self.whole if self.scope.current() is Scope.TRAY else self.egg
        pane.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---------------------------------------------------------------- eggs

    def store_egg(self) -> None:
        """Stores the mass of the chosen egg and goes on to the next; a mass that cannot be right is asked about."""
        egg = self._current()
        if egg is None or self.mass.is_empty():
            self._step(1)
            return
        found = self.mass.read()
        at = None if found is None else self._instant()
        if found is None or at is None:
            return
        meaning = self.meaning.current()
        odd = egg.odd(found.mass_g, at) if meaning is Meaning.TODAY else None
        answer = (egg.figures.egg.uid, self.mass.field.text())
        if odd is not None and self._kept_though_odd != answer:
            self._kept_though_odd = answer
            self.mass.tell(odd_question(egg, odd, self.mass.unit))
            return
        if meaning is Meaning.TODAY:
            stored = self._store(egg, found, at, odd is not None)
        else:
            stored = self._store_for_good(egg, found, Meaning(str(meaning)))
        if stored is not None:
            self.egg.told.setText(stored_sentence(egg, found.mass_g, self.mass.unit))
            self._go_on(egg.figures.egg.uid)

    def _store(self, egg: EggToWeigh, found: ScaleMass, at: int, kept: bool) -> Change | None:
        """As a weight of this sitting; its resolution is the finest that the scale has shown."""
        known = self._context.door.journal.weighings.find(self._weighing.uid)
        weighing = known or Weighing(self._batch.uid, at, uid=self._weighing.uid)
        finest = min(found.resolution_g, weighing.resolution_g or found.resolution_g)
        self._weighing = weighing = replace(weighing, resolution_g=finest)
        record = EggMass(
            weighing.uid, egg.figures.egg.uid, found.mass_g, found.typed.to_json(), kept_though_odd=kept
        )
        return self._context.door.run(lambda journal: journal.weighings.note_mass(weighing, record))

    def _store_for_good(self, egg: EggToWeigh, found: ScaleMass, meaning: Meaning) -> Change | None:
        """As the egg's weight when it was set or laid."""
        record = egg.figures.egg
        if meaning is Meaning.SET:
            changed = replace(record, set_mass_g=found.mass_g)
        else:
            changed = replace(record, laid_mass_g=found.mass_g)
        return self._context.door.run(lambda journal: journal.eggs.replace(changed))

    def _instant(self) -> int | None:
        try:
            return self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return None

    def _step(self, by: int) -> None:
        order = list(self._eggs)
        current = self._current()
        if order:
            here = order.index(current.figures.egg.uid) if current is not None else -1
            self.tray.choose(order[(here + by) % len(order)])

    def _go_on(self, after: str) -> None:
        order = list(self._eggs)
        start = order.index(after) + 1 if after in order else 0
        for uid in [*order[start:], *order[:start]]:
            if uid not in self._done:
                self.tray.choose(uid)
                return
        if order and after in order:
            self._step(1)

    def _current(self) -> EggToWeigh | None:
        egg = self.tray.currentIndex().data(EGG_ROLE)
        return None if egg is None else self._eggs.get(egg.egg.uid)

    def _refresh(self, change: Change) -> None:
        if change.kinds & _KINDS:
            chosen = self._current()
            self._refresh_eggs()
            if chosen is not None:
                self.tray.choose(chosen.figures.egg.uid)
            elif self._eggs:
                self._go_on("")

    def _refresh_eggs(self) -> None:
        journal = self._context.door.journal
        figures = batch_figures(journal, self._batch.uid, self._context.now())
        found = eggs_to_weigh(
            journal, figures, self._weighing.uid, every_egg=self.scope.current() is not Scope.MARKED
        )
        self._eggs = {egg.figures.egg.uid: egg for egg in found}
        self._done = self._weighed()
        self.tray.tray.show_view(figures)
        done = sum(uid in self._done for uid in self._eggs)
        self.progress.setVisible(bool(self._eggs) and self.scope.current() is not Scope.TRAY)
        self.progress.setText(
            self.tr("{done} of {total} weighed").format(
                done=number(done, 0), total=number(len(self._eggs), 0)
            )
        )
        self.whole.eggs.setValue(max(eggs_in_machine(figures), 1))
        self._show_egg()

    def _weighed(self) -> dict[str, str]:
        """The masses that are there already, of the kind that is entered, as they were typed."""
        unit = self.mass.unit
        if self.meaning.current() is Meaning.TODAY:
            masses = self._context.door.journal.weighings.masses_of(self._weighing.uid)
            return {one.egg: kept_mass_text(one, unit) for one in masses}
        field = "set_mass_g" if self.meaning.current() is Meaning.SET else "laid_mass_g"
        found = {uid: mass_text(getattr(egg.figures.egg, field), unit) for uid, egg in self._eggs.items()}
        return {uid: text for uid, text in found.items() if text}

    def _show_egg(self) -> None:
        if not self._eggs:
            self.egg.show_none(none_to_weigh(marked_only=self.scope.current() is Scope.MARKED))
            return
        egg = self._current()
        typed = "" if egg is None else self._done.get(egg.figures.egg.uid, "")
        self.egg.show_egg(egg, self.tray.currentIndex().data(EGG_ROLE), typed)

    # ---------------------------------------------------------------- other ways

    def store_tray(self) -> None:
        """Stores the mass of the tray with all its eggs."""
        at = self._instant()
        weighing = None if at is None else self.whole.weighing(self._batch.uid, at)
        if weighing is None or weighing.tray_mass_g is None:
            return
        if self._context.door.run(lambda journal: journal.weighings.note_weighing(weighing)) is not None:
            each = (weighing.tray_mass_g - (weighing.tare_g or 0.0)) / (weighing.eggs_on_tray or 1)
            self.whole.told.setText(
                self.tr("The tray is stored: {mass} an egg.").format(mass=mass_in(each, self.mass.unit))
            )
            self.whole.whole.set_text("")

    def open_paper(self) -> None:
        """Opens the list in which weights from paper are typed or pasted."""
        PaperDialog(self._context, self._batch, Unit(str(self.unit.current())), self).open()
