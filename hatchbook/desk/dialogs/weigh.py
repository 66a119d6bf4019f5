"""Weighing: one number an egg, at the speed of a kitchen scale; or the tray as one."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.tray.tray_model import EGG_ROLE
from hatchbook.desk.tray.tray_view import TrayView
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.dates import weekday_date
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.numbers import mass, number, percent, unit_sign
from hatchbook.figures import batch_figures
from hatchbook.figures.to_weigh import EggToWeigh, OddMass, eggs_in_machine, eggs_to_weigh
from hatchbook.journal import Batch, Change, EggMass, Weighing
from hatchbook.trade.instants import InstantError
from hatchbook.trade.units import Typed, Unit

_SAME_WEIGHING_S = 3 * 3600


class WeighDialog(FramedDialog):
    """A number and Enter for every egg, each stored at once; a scale that types like a keyboard does it as well."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        super().__init__("", parent, QSize(760, 480))
        title = self.tr("Weigh {label} {name}").format(label=batch.label, name=batch.name)
        self.setWindowTitle(title.strip())
        self._context = context
        self._batch = batch
        self._weighing = self._begun()
        self._kept_though_odd: tuple[str, str] | None = None
        self._eggs: dict[str, EggToWeigh] = {}
        self._done: dict[str, float] = {}
        self._build()
        self._refresh_eggs()
        context.door.changed.connect(self._refresh)
        self._go_on("")
        self.mass.setFocus(Qt.FocusReason.OtherFocusReason)

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
        self.unit = Segmented(
            [(str(unit), unit_sign(unit)) for unit in (Unit.GRAM, Unit.OUNCE)], name=self.tr("Mass in")
        )
        self.unit.choose(self._context.settings.get(settings.MASS_UNIT))
        self.unit.chosen.connect(lambda _key: self._use_unit())
        self.mass = ValueEdit(Unit.GRAM, self.tr("Mass of the egg"), below=3000)
        self.mass.field.installEventFilter(self)
        self.tray = TrayView()
        self.tray.selectionModel().currentChanged.connect(lambda *_: self._show_egg())
        self.progress = Label("", ink="ink2")
        self.title = Label("", role="title")
        self.story = Label("", ink="ink2", wraps=True)
        self.told = Label("", wraps=True)
        left = QVBoxLayout()
        left.addWidget(self.progress)
        left.addWidget(self.tray, 1)
        right = QVBoxLayout()
        right.setSpacing(10)
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&When"), self.at)
        form.addRow(self.tr("Typed in"), self.unit)
        right.addLayout(form)
        right.addWidget(self.title)
        right.addWidget(self.story)
        right.addWidget(self.mass)
        right.addWidget(self.told)
        right.addStretch(1)
        right.addWidget(Label(self.tr("The tray as one"), role="section"))
        right.addLayout(self._tray_form())
        content = QHBoxLayout()
        content.setSpacing(16)
        content.addLayout(left, 5)
        content.addWidget(VLine())
        content.addLayout(right, 6)
        self.set_content(content)
        done = self.add_main_button(self.tr("Done"))
        done.setDefault(False)
        done.setAutoDefault(False)
        done.clicked.connect(self.accept)
        self._use_unit()

    def _tray_form(self) -> QFormLayout:
        self.tray_mass = ValueEdit(Unit.GRAM, self.tr("Mass of the tray with its eggs"), below=1e6)
        self.tare = ValueEdit(Unit.GRAM, self.tr("Mass of the empty tray"), below=1e6)
        self.tray_eggs = QSpinBox()
        self.tray_eggs.setRange(1, 5000)
        self.tray_eggs.setAccessibleName(self.tr("Eggs on the tray"))
        store = self.buttons.addButton(self.tr("Store the tray"), self.buttons.ButtonRole.ActionRole)
        store.setAutoDefault(False)
        store.clicked.connect(self.store_tray)
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("With &eggs"), self.tray_mass)
        form.addRow(self.tr("E&mpty"), self.tare)
        form.addRow(self.tr("E&ggs on it"), self.tray_eggs)
        return form

    def _use_unit(self) -> None:
        unit = Unit(str(self.unit.current()))
        self._context.settings.keep(settings.MASS_UNIT, str(unit))
        for field in (self.mass, self.tray_mass, self.tare):
            field.set_unit(unit)

    # ---------------------------------------------------------------- eggs

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter stores, up and down go to another egg."""
        if (
            watched is self.mass.field
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
        ):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.store_egg()
                return True
            if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
                self._step(1 if event.key() == Qt.Key.Key_Down else -1)
                return True
        return super().eventFilter(watched, event)

    def store_egg(self) -> None:
        """Stores the mass of the chosen egg and goes on to the next; a mass that cannot be right is asked about."""
        egg = self._current()
        typed = self.mass.typed()
        if egg is None or (typed is None and not self.mass.is_bad()):
            self._step(1)
            return
        if typed is None:
            return
        if typed.stored <= 0:
            self.mass.tell(self.tr("A mass is more than nothing."))
            return
        at = self._instant()
        if at is None:
            return
        odd = egg.odd(typed.stored, at)
        answer = (egg.figures.egg.uid, self.mass.field.text())
        if odd is not None and self._kept_though_odd != answer:
            self._kept_though_odd = answer
            self.mass.tell(self._odd_sentence(egg, odd))
            return
        if self._store(egg, typed, at, odd is not None) is not None:
            self._tell_stored(egg, typed)
            self._go_on(egg.figures.egg.uid)

    def _store(self, egg: EggToWeigh, typed: Typed, at: int, kept: bool) -> Change | None:
        journal = self._context.door.journal
        if journal.weighings.find(self._weighing.uid) is None:
            self._weighing = Weighing(self._batch.uid, at, uid=self._weighing.uid)
        weighing = self._weighing
        record = EggMass(weighing.uid, egg.figures.egg.uid, typed.stored, typed.to_json(), kept)
        return self._context.door.run(lambda journal: journal.weighings.note_mass(weighing, record))

    def _tell_stored(self, egg: EggToWeigh, typed: Typed) -> None:
        loss = egg.loss_percent(typed.stored)
        name = egg_title(egg.figures)
        if loss is None:
            self.told.setText(self.tr("{egg}: {mass}").format(egg=name, mass=mass(typed.stored)))
        else:
            text = self.tr("{egg}: {mass}, {loss} lost")
            self.told.setText(text.format(egg=name, mass=mass(typed.stored), loss=percent(loss)))

    def _odd_sentence(self, egg: EggToWeigh, odd: OddMass) -> str:
        last = mass(egg.last_mass_g)
        if odd is OddMass.HEAVIER:
            return self.tr("Heavier than before ({last}). Enter again keeps it.").format(last=last)
        return self.tr("Lighter than can be ({last} before). Enter again keeps it.").format(last=last)

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
        if change.kinds & {"egg_mass", "weighing", "egg", "batch"}:
            chosen = self._current()
            self._refresh_eggs()
            if chosen is not None:
                self.tray.choose(chosen.figures.egg.uid)

    def _refresh_eggs(self) -> None:
        journal = self._context.door.journal
        figures = batch_figures(journal, self._batch.uid, self._context.now())
        self._eggs = {egg.figures.egg.uid: egg for egg in eggs_to_weigh(journal, figures, self._weighing.uid)}
        masses = journal.weighings.masses_of(self._weighing.uid)
        self._done = {one.egg: one.mass_g for one in masses}
        self.tray.tray.show_view(figures)
        done = sum(uid in self._done for uid in self._eggs)
        self.progress.setText(
            self.tr("{done} of {total} weighed").format(
                done=number(done, 0), total=number(len(self._eggs), 0)
            )
        )
        self.tray_eggs.setValue(max(eggs_in_machine(figures), 1))
        self._show_egg()

    def _show_egg(self) -> None:
        egg = self._current()
        shown = self.tray.currentIndex().data(EGG_ROLE)
        self.mass.setEnabled(egg is not None)
        self.mass.set_text("")
        if egg is None:
            self.title.setText("" if shown is None else egg_title(shown))
            self.story.setText(self.tr("not to be weighed") if shown is not None else "")
            return
        self.title.setText(egg_title(egg.figures))
        uid = egg.figures.egg.uid
        if uid in self._done:
            self.mass.set_text(f"{self._done[uid]:g}" if self.mass.unit is Unit.GRAM else "")
            self.mass.field.selectAll()
        if egg.last_mass_g is None or egg.last_at is None:
            self.story.setText(self.tr("not weighed yet"))
        else:
            when = weekday_date(egg.last_at, self._context.zone)
            self.story.setText(self.tr("{mass} on {date}").format(mass=mass(egg.last_mass_g), date=when))

    # ---------------------------------------------------------------- the tray as one

    def store_tray(self) -> None:
        """Stores the mass of the tray with all its eggs."""
        whole, tare = self.tray_mass.typed(), self.tare.typed()
        if self.tray_mass.is_bad() or self.tare.is_bad():
            return
        if whole is None:
            self.tray_mass.tell(self.tr("Type the mass of the tray with its eggs."))
            return
        if tare is not None and tare.stored >= whole.stored:
            self.tare.tell(self.tr("The empty tray cannot weigh more than the full one."))
            return
        at = self._instant()
        if at is None:
            return
        weighing = Weighing(
            self._batch.uid,
            at,
            tray_mass_g=whole.stored,
            tare_g=None if tare is None else tare.stored,
            eggs_on_tray=self.tray_eggs.value(),
            entered=whole.to_json(),
        )
        if self._context.door.run(lambda journal: journal.weighings.note_weighing(weighing)) is not None:
            each = (whole.stored - (0.0 if tare is None else tare.stored)) / self.tray_eggs.value()
            self.told.setText(self.tr("The tray is stored: {mass} an egg.").format(mass=mass(each)))
            self.tray_mass.set_text("")
