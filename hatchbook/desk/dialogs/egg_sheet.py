"""An egg's whole story on one sheet; every part of it can be changed where it stands."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.note_stack import NoteStack
from hatchbook.desk.egg.egg_fields import EggFields
from hatchbook.desk.egg.egg_head import EggHead
from hatchbook.desk.egg.entry_panel import EntryPanel
from hatchbook.desk.egg.entry_values import (
    ADDED_KINDS,
    ONLY_ONCE,
    EntryValue,
    add_value,
    keep_value,
    new_value,
    remove_value,
    uid_of,
    value_of,
)
from hatchbook.desk.egg.glyphs import code_icon
from hatchbook.desk.egg.story_table import StoryTable
from hatchbook.desk.theme.type_scale import TypeRole
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.notes import NoteKind
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.words.egg_story import contradiction_sentence, kind_word
from hatchbook.desk.words.eggs import title_of
from hatchbook.desk.words.history import change_sentence
from hatchbook.figures.egg_story import EggStory, StoryEntry, StoryKind, story_of_egg
from hatchbook.figures.results import BatchState, EggFigures
from hatchbook.journal import Change, Egg
from hatchbook.journal.eggs import Place
from hatchbook.trade.units import Unit

_SIZE = QSize(960, 640)
_FIELDS_WIDTH = 380
#: The kinds of record whose change concerns an egg's sheet.
_KINDS = frozenset(
    {
        "egg",
        "batch",
        "machine",
        "pen",
        "pen_member",
        "candling",
        "finding",
        "weighing",
        "egg_mass",
        "hatching",
        "break_out",
        "break_out_mark",
        "removal",
        "event",
    }
)


class EggSheet(FramedDialog):
    """Fields at the left, the story at the right, the form of the chosen entry below it.

    What is changed is stored when its field is left; Alt+arrows or PgUp and PgDn go to the neighbours.

    Signals:
        egg_shown: the uid of the egg that is shown now.
    """

    egg_shown = Signal(str)

    def __init__(self, context: DeskContext, egg: EggFigures | str, parent: QWidget | None) -> None:
        super().__init__("", parent, _SIZE)
        self._context = context
        self._warned = False
        self._story: EggStory | None = None
        self.head = EggHead()
        self.notes = NoteStack()
        self.fields = EggFields(context)
        self.table = StoryTable(context.zone)
        self.panel = EntryPanel(context, lambda code: code_icon(code, self))
        self.add = QPushButton(self.tr("&Add"))
        self.stored = ElidedLabel("", ink="ink2")
        self.take_back = LinkButton(self.tr("Take back"), TypeRole.BODY)
        self._lay_out()
        self._connect()
        self.show_egg(egg if isinstance(egg, str) else egg.egg.uid)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---------------------------------------------------------------- building

    def _lay_out(self) -> None:
        story_head = QHBoxLayout()
        story_head.addWidget(Label(self.tr("Story"), role="section"), 1)
        story_head.addWidget(self.add)
        self.add.setAutoDefault(False)
        left = QVBoxLayout()
        left.addWidget(self.fields)
        left.addStretch(1)
        self.fields.setFixedWidth(_FIELDS_WIDTH)
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addLayout(story_head)
        right.addWidget(self.table, 1)
        right.addWidget(self.panel)
        columns = QHBoxLayout()
        columns.setSpacing(16)
        columns.addLayout(left)
        columns.addWidget(VLine())
        columns.addLayout(right, 1)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addWidget(self.head)
        rows.addWidget(self.notes)
        rows.addWidget(HLine())
        rows.addLayout(columns, 1)
        self.set_content(rows)
        self.add_leave_button(self.tr("Close"))
        self.share_foot(self.stored, self.take_back)
        self.take_back.setVisible(False)

    def _connect(self) -> None:
        self.head.step_wanted.connect(self.step)
        self.fields.changed.connect(self._keep_egg)
        self.fields.moved.connect(self._move)
        self.fields.unit_chosen.connect(lambda _unit: self._show(another=False))
        self.table.entry_chosen.connect(self._show_entry)
        self.table.opening_wanted.connect(self.panel.enter)
        self.table.removal_wanted.connect(self._remove)
        self.panel.changed.connect(self._keep_entry)
        self.panel.added.connect(self._add_entry)
        self.panel.removal_wanted.connect(self._remove)
        self.panel.given_up.connect(lambda: self._show_entry(self.table.current_entry()))
        self.take_back.clicked.connect(self._undo)
        menu = QMenu(self)
        for kind in ADDED_KINDS:
            action = menu.addAction(kind_word(kind))
            action.setData(kind)
            action.triggered.connect(lambda _checked=False, kind=kind: self.begin(kind))
        menu.aboutToShow.connect(self._offer)
        self.add.setMenu(menu)
        for keys, run in (
            (("Alt+Left", "PgUp"), lambda: self.step(-1)),
            (("Alt+Right", "PgDown"), lambda: self.step(1)),
            (("Ctrl+Z",), self._undo),
            (("Ctrl+Shift+Z",), lambda: self._context.door.redo()),
        ):
            for key in keys:
                QShortcut(QKeySequence(key), self).activated.connect(run)
        self._context.door.changed.connect(self._refresh)

    # ---------------------------------------------------------------- showing

    @property
    def story(self) -> EggStory:
        """The egg that is shown."""
        assert self._story is not None
        return self._story

    def show_egg(self, uid: str) -> None:
        """Shows another egg."""
        self._read(uid)
        self._show(another=True)
        self.table.choose_row(len(self.story.entries) - 1)
        self.egg_shown.emit(uid)

    def _read(self, uid: str) -> None:
        self._story = story_of_egg(self._context.door.journal, uid, self._context.now())

    def _show(self, *, another: bool) -> None:
        story = self.story
        unit = Unit(self._context.settings.get(settings.MASS_UNIT))
        chosen = self.table.current_entry()
        self.setWindowTitle(title_of(story.egg, story.trays))
        self.head.show_story(story)
        self._show_notes()
        fixed = bool(self._fixed_because())
        self.panel.fix(fixed=fixed, may_note=not self._context.door.journal.read_only)
        self.panel.set_unit(unit)
        self.panel.use_incubation(story.batch.incubation_days)
        self.fields.show_story(story, another=another)
        self.fields.fix(fixed=fixed)
        blocked = self.table.blockSignals(True)
        self.table.story.show_story(story, unit)
        if not another:
            self.table.choose_row(self._row_of(chosen))
        self.table.blockSignals(blocked)
        if not another and not self.panel.is_new:
            self.panel.show_entry(self.table.current_entry())

    def _row_of(self, chosen: StoryEntry | None) -> int:
        """The row of an entry as it is now; the last one where it is gone."""
        entries = self.story.entries
        value = None if chosen is None else value_of(chosen)
        for row, entry in enumerate(entries):
            present = value_of(entry)
            if value is not None and present is not None and uid_of(present) == uid_of(value):
                return row
            if chosen is not None and value is None and entry.kind is chosen.kind:
                return row
        return len(entries) - 1

    def _fixed_because(self) -> str:
        if self._context.door.journal.read_only:
            return self.tr("This journal is opened for reading only.")
        if self.story.state is BatchState.CLOSED:
            return self.tr(
                "Batch {label} is closed: reopen it to change this egg. Notes can still be added."
            ).format(label=self.story.batch.label)
        return ""

    def _show_notes(self) -> None:
        reason = self._fixed_because()
        notes = [(reason, NoteKind.INFO)] if reason else []
        notes += [
            (contradiction_sentence(clash, self.story.batch.set_at), NoteKind.WARN)
            for clash in self.story.outcome.contradictions
        ]
        self.notes.show_notes(notes)

    def _show_entry(self, entry: StoryEntry | None) -> None:
        if not self._leave():
            return
        self.panel.show_entry(entry)

    def _refresh(self, change: Change) -> None:
        if not change.kinds & _KINDS:
            return
        journal = self._context.door.journal
        if journal.eggs.find(self.story.egg.uid) is None:
            super().reject()
            return
        self.stored.setText(change_sentence(change, self._context.zone))
        self.take_back.setVisible(change.direction != "undone")
        self._read(self.story.egg.uid)
        self._show(another=False)

    # ---------------------------------------------------------------- from egg to egg

    def step(self, by: int) -> None:
        """Shows the egg before or after."""
        if not self._leave():
            return
        uid = self.story.previous if by < 0 else self.story.following
        if uid is not None:
            self.panel.show_entry(None)
            self.show_egg(uid)

    def _leave(self) -> bool:
        """Whether nothing that is typed would be lost; where it would, that is said once."""
        good = self.fields.settle()
        good = self.panel.settle() and good
        if good or self._warned:
            self._warned = False
            self.tell("")
            return True
        self._warned = True
        text = (
            self.tr("The new entry is not added yet. Add it, or go on once more to leave it.")
            if self.panel.is_new and self.fields.settle()
            else self.tr("Something typed here could not be stored. Mend it, or go on once more to leave it.")
        )
        self.tell(text, NoteKind.WARN)
        return False

    def reject(self) -> None:
        """Closes the sheet; what is typed is stored first."""
        if self._leave():
            super().reject()

    # ---------------------------------------------------------------- storing

    def _keep_egg(self, egg: Egg) -> None:
        self._ran(self._context.door.run(lambda journal: journal.eggs.replace(egg)))

    def _move(self, place: Place | None) -> None:
        egg = self.story.egg
        self._ran(self._context.door.run(lambda journal: journal.eggs.move_many(egg.batch, {egg.uid: place})))

    def _keep_entry(self, value: EntryValue) -> None:
        self._ran(self._context.door.run(lambda journal: keep_value(journal, value)))

    def _remove(self) -> None:
        value = self.panel.value()
        if value is None or self.panel.is_new or not self.panel.remove_button.isEnabled():
            return
        self._ran(self._context.door.run(lambda journal: remove_value(journal, value)))

    def _ran(self, change: Change | None) -> None:
        self._warned = False
        self.tell("" if change is not None else self.tr("This was not stored; what you typed is still here."))

    def _undo(self) -> None:
        self._context.door.undo()

    # ---------------------------------------------------------------- adding

    def _offer(self) -> None:
        """Offers what can be added now."""
        present = {entry.kind for entry in self.story.entries}
        fixed = bool(self._fixed_because())
        planned = self.story.state is BatchState.PLANNED
        for action in self.add.menu().actions():
            kind = action.data()
            noting = kind is StoryKind.NOTED
            once = kind in ONLY_ONCE and kind in present
            free = not fixed if not noting else not self._context.door.journal.read_only
            action.setEnabled(free and not once and (noting or not planned))

    def begin(self, kind: StoryKind) -> None:
        """Begins an entry to be added."""
        if not self._leave():
            return
        observer = self._context.settings.get(settings.OBSERVER)
        self.panel.show_new(kind, new_value(kind, self.story, self._context.now(), observer))

    def _add_entry(self, value: EntryValue) -> None:
        story = self.story
        known = {uid_of(present) for entry in story.entries if (present := value_of(entry)) is not None}
        change = self._context.door.run(lambda journal: add_value(journal, story, value))
        self._ran(change)
        if change is None:
            return
        self.panel.show_entry(None)
        entries = self.story.entries
        new = (
            row for row, entry in enumerate(entries) if (one := value_of(entry)) and uid_of(one) not in known
        )
        self.table.choose_row(next(new, len(entries) - 1))
        self._show_entry(self.table.current_entry())
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
