"""Below the story: the form of the chosen entry, or of one that is to be added."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.with_trouble import focus
from hatchbook.desk.egg.entry_forms import EntryForm, Glyph, made_forms
from hatchbook.desk.egg.entry_values import EntryValue, uid_of, value_of
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.egg_story import kind_word
from hatchbook.figures.egg_story import StoryEntry, StoryKind
from hatchbook.trade.units import Unit


class EntryPanel(QWidget):
    """Of an entry that is there every change is handed on at once; a new one is stored when it is added.

    Signals:
        changed: what an entry is to be.
        added: what is to be added.
        removal_wanted: the entry that is shown is to be taken away.
        given_up: the new entry is not to be added.
    """

    changed = Signal(object)
    added = Signal(object)
    removal_wanted = Signal()
    given_up = Signal()

    def __init__(self, context: DeskContext, glyph: Glyph, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.forms = made_forms(context, glyph)
        self._kind: StoryKind | None = None
        self._uid = ""
        self._is_new = False
        self._fixed = False
        self._may_note = True
        self.title = Label("", role="section")
        self.add_button = QPushButton(self.tr("Add it"))
        self.give_up_button = QPushButton(self.tr("Do not add"))
        self.remove_button = QPushButton(self.tr("Remove"))
        for button in (self.add_button, self.give_up_button, self.remove_button):
            button.setAutoDefault(False)
        self.add_button.clicked.connect(self._add)
        self.give_up_button.clicked.connect(self.given_up)
        self.remove_button.clicked.connect(self.removal_wanted)
        self._lay_out()
        for form in self.forms.values():
            form.changed.connect(self.changed)

    def _lay_out(self) -> None:
        self._hint = Label("", ink="ink2", wraps=True)
        self.stack = QStackedWidget()
        self.stack.addWidget(self._hint)
        for form in self.forms.values():
            self.stack.addWidget(form)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 0, 0)
        head.addWidget(self.title, 1)
        head.addWidget(self.add_button)
        head.addWidget(self.give_up_button)
        head.addWidget(self.remove_button)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        rows.addLayout(head)
        rows.addWidget(self.stack)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)

    @property
    def form(self) -> EntryForm | None:
        """The form that is shown, if one is."""
        shown = self.stack.currentWidget()
        return shown if isinstance(shown, EntryForm) else None

    @property
    def is_new(self) -> bool:
        """Whether an entry is being added."""
        return self._is_new

    def fix(self, *, fixed: bool, may_note: bool) -> None:
        """Lets nothing be changed but notes, or not even these."""
        self._fixed, self._may_note = fixed, may_note

    def set_unit(self, unit: Unit) -> None:
        """Shows masses in another unit."""
        for form in self.forms.values():
            form.set_unit(unit)

    def use_incubation(self, days: float) -> None:
        """The incubation of the egg lasts so many days."""
        for form in self.forms.values():
            form.use_incubation(days)

    # ---------------------------------------------------------------- showing

    def show_entry(self, entry: StoryEntry | None) -> None:
        """Shows an entry to be changed; the same one keeps what is typed and could not be read."""
        value = None if entry is None else value_of(entry)
        if entry is None or value is None:
            self._show_hint(entry)
            return
        another = self._is_new or (self._kind, self._uid) != (entry.kind, uid_of(value))
        self._show(entry.kind, value, is_new=False, another=another)

    def show_new(self, kind: StoryKind, value: EntryValue) -> None:
        """Shows an entry to be added, and puts the focus into it."""
        self._show(kind, value, is_new=True, another=True)
        self.enter()

    def _show(self, kind: StoryKind, value: EntryValue, *, is_new: bool, another: bool) -> None:
        self._kind, self._uid, self._is_new = kind, uid_of(value), is_new
        form = self.forms[kind]
        form.show_record(value, is_new=is_new, another=another)
        fixed = self._fixed if kind is not StoryKind.NOTED else not self._may_note
        form.fix(fixed=fixed)
        self._bring_up(form)
        word = kind_word(kind)
        self.title.setText(self.tr("New: {kind}").format(kind=word) if is_new else word)
        self.add_button.setVisible(is_new)
        self.add_button.setDefault(is_new)
        self.give_up_button.setVisible(is_new)
        self.remove_button.setVisible(not is_new)
        self.remove_button.setEnabled(not fixed)

    def _show_hint(self, entry: StoryEntry | None) -> None:
        self._kind, self._uid, self._is_new = None, "", False
        self.title.setText("" if entry is None else kind_word(entry.kind))
        self._hint.setText(
            self.tr("Laying date, masses and pen are fields of the egg, at the left.")
            if entry is not None
            else self.tr("Choose an entry to change it.")
        )
        self._bring_up(self._hint)
        for button in (self.add_button, self.give_up_button, self.remove_button):
            button.setVisible(False)

    def _bring_up(self, page: QWidget) -> None:
        """Shows a page; the panel is as high as that one alone needs."""
        for other in (self._hint, *self.forms.values()):
            shown = other is page
            policy = QSizePolicy.Policy.Preferred if shown else QSizePolicy.Policy.Ignored
            other.setSizePolicy(QSizePolicy.Policy.Preferred, policy)
        self.stack.setCurrentWidget(page)
        self.stack.updateGeometry()

    def enter(self) -> None:
        """Puts the focus into the first field."""
        if self.form is not None and self.form.first is not None:
            focus(self.form.first)

    # ---------------------------------------------------------------- storing

    def settle(self) -> bool:
        """Hands on what is typed; False where something cannot be stored, or is not added yet."""
        if self.form is None:
            return True
        if self._is_new:
            return not self.form.is_touched()
        return self.form.settle()

    def value(self) -> EntryValue | None:
        """What the form shows."""
        return None if self.form is None else self.form.record

    def _add(self) -> None:
        if self.form is not None:
            value = self.form.finished_new()
            if value is not None:
                self.added.emit(value)
