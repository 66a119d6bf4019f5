"""The common frame of a round over the eggs: tray, one key a verdict, every verdict stored at once."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from PySide6.QtCore import QEvent, QItemSelectionModel, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.rounds.verdict_key import VerdictKey
from hatchbook.desk.tray.tray_model import EGG_ROLE
from hatchbook.desk.tray.tray_view import TrayView
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.words.eggs import egg_title, story_sentence
from hatchbook.figures import batch_figures
from hatchbook.figures.results import BatchFigures, EggFigures
from hatchbook.journal import Batch, Change
from hatchbook.trade.codes import Fate
from hatchbook.trade.instants import InstantError

_SIZE = QSize(820, 560)
_COLUMNS = 3
_KINDS = frozenset({"egg", "finding", "candling", "hatching", "break_out", "removal", "batch"})


@dataclass(frozen=True)
class Verdict:
    """One thing that can be said of an egg: its code, the letter that says it, its word, glyph and hint."""

    code: StrEnum
    letter: str
    word: str
    fate: Fate
    hint: str = ""


class EggRoundDialog(FramedDialog):
    """Arrows go from egg to egg, a letter gives the verdict of the chosen eggs, and the next egg follows.

    Subclasses say how a verdict is stored (``store``), how often each was given (``counts``) and which eggs are
    passed over when the next one is looked for (``is_passed``); ``objection`` and ``doubt`` may hold one up.
    """

    #: The steps that Backspace takes back; no others, so that nobody undoes what another screen did.
    own_steps: ClassVar[frozenset[str]] = frozenset({"findings_noted", "candling_added", "candling_changed"})
    #: Where the key of a letter stands, row and column; three to a row where this says nothing.
    key_places: ClassVar[Mapping[str, tuple[int, int]]] = {}

    def __init__(
        self,
        context: DeskContext,
        batch: Batch,
        title: str,
        parent: QWidget | None,
        at: int,
        size: QSize = _SIZE,
    ) -> None:
        super().__init__(title, parent, size)
        self.context = context
        self.batch = batch
        self._keys: dict[StrEnum, VerdictKey] = {}
        self._verdicts: tuple[Verdict, ...] = ()
        self._given: Verdict | None = None
        self._asked: Hashable = None
        self.figures: BatchFigures = batch_figures(context.door.journal, batch.uid, context.now())
        self.at = InstantEdit(context.zone, at)
        self.at.set_accessible_name(self.tr("When"))
        self.tray = TrayView()
        self.title = Label("", role="title")
        self.story = Label("", ink="ink2", wraps=True)
        self.progress = Label("", ink="ink2")
        self.above_keys = QVBoxLayout()
        self.above_keys.setSpacing(8)
        self.key_grid = QGridLayout()
        self.key_grid.setSpacing(6)
        self.below_keys = QVBoxLayout()
        self.below_keys.setSpacing(6)
        self.lay_out()
        self._add_buttons()
        self.listen(self.tray)
        self.tray.selectionModel().currentChanged.connect(lambda *_: self.show_egg())
        self.tray.eggs_chosen.connect(lambda _eggs: self.show_egg())
        context.door.changed.connect(self._refresh)
        self.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def lay_out(self) -> None:
        """Tray left, the rest right; a subclass may lay its parts out otherwise."""
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(self.progress)
        left.addWidget(self.tray, 1)
        right = QVBoxLayout()
        right.setSpacing(8)
        when = QHBoxLayout()
        when.addWidget(Label(self.tr("When"), ink="ink2"))
        when.addWidget(self.at, 1)
        right.addLayout(when)
        right.addLayout(self.above_keys)
        right.addWidget(self.title)
        right.addWidget(self.story)
        right.addStretch(1)
        right.addLayout(self.key_grid)
        right.addLayout(self.below_keys)
        content = QHBoxLayout()
        content.setSpacing(16)
        content.addLayout(left, 5)
        content.addWidget(VLine())
        content.addLayout(right, 6)
        self.set_content(content)

    def _add_buttons(self) -> None:
        done = self.add_main_button(self.tr("Done"))
        done.setAutoDefault(False)
        done.setDefault(False)
        done.clicked.connect(self.accept)
        back = self.add_leave_button(self.tr("Take back the last one"))
        self.buttons.rejected.disconnect(self.reject)
        back.clicked.connect(self.take_back)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self, self.take_back)
        QShortcut(QKeySequence("Ctrl+Shift+Z"), self, self.do_again)

    # ---------------------------------------------------------------- for subclasses

    def set_verdicts(self, verdicts: Sequence[Verdict]) -> None:
        """Offers other verdicts."""
        self._verdicts = tuple(verdicts)
        while (item := self.key_grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self._keys = {}
        for position, verdict in enumerate(self._verdicts):
            key = VerdictKey(verdict.letter, verdict.word, verdict.fate, hint=verdict.hint)
            key.clicked.connect(lambda _checked=False, verdict=verdict: self.give(verdict))
            place = self.key_places.get(verdict.letter, divmod(position, _COLUMNS))
            self.key_grid.addWidget(key, *place)
            self._keys[verdict.code] = key
        self.refresh()

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores a verdict of eggs; None where the journal refused."""
        raise NotImplementedError

    def counts(self) -> dict[StrEnum, int]:
        """How often each verdict was given."""
        raise NotImplementedError

    def is_passed(self, egg: EggFigures) -> bool:
        """Whether the round passes over an egg: it has its verdict, or is out."""
        raise NotImplementedError

    def progress_text(self) -> str:
        """How far the round is."""
        raise NotImplementedError

    def take_figures(self) -> None:
        """New figures are there: what is derived from them is made here, before anything is shown."""

    def instant(self) -> int:
        """The instant that verdicts are given for, UTC seconds. Raises InstantError where it is none."""
        return self.at.instant()

    def objection(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """What speaks against storing a verdict, as a sentence; empty where nothing does."""
        del verdict, eggs
        if at > self.context.now() + 60:
            return self.tr("That time is still to come.")
        if at < self.batch.set_at:
            return self.tr("The batch was not set yet at that time.")
        return ""

    def doubt(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """What makes a verdict doubtful, as a sentence; giving the same verdict again stores it all the same."""
        del verdict, eggs, at
        return ""

    def handle_key(self, event: QKeyEvent) -> bool:
        """Acts on a key that is no text; False where it means nothing here."""
        plain = event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        ) == (Qt.KeyboardModifier.NoModifier)
        letter = event.text().upper()
        for verdict in self._verdicts:
            if plain and letter == verdict.letter:
                self.give(verdict)
                return True
        if event.key() == Qt.Key.Key_Backspace:
            self.take_back()
            return True
        return False

    def listen(self, *widgets: QWidget) -> None:
        """Keys typed on these widgets are verdicts, too."""
        for widget in widgets:
            widget.installEventFilter(self)

    def current(self) -> EggFigures | None:
        """The egg that the cursor is on."""
        egg: EggFigures | None = self.tray.currentIndex().data(EGG_ROLE)
        return egg

    def chosen(self) -> list[EggFigures]:
        """The chosen eggs; the one under the cursor where none is."""
        return self.tray.chosen() or [egg for egg in [self.current()] if egg is not None]

    def choose_all(self, uids: Sequence[str]) -> None:
        """Chooses several eggs at once, the cursor on the first of them."""
        indexes = [self.tray.tray.index_of(uid) for uid in uids]
        model = self.tray.selectionModel()
        model.setCurrentIndex(indexes[0], QItemSelectionModel.SelectionFlag.ClearAndSelect)
        for index in indexes[1:]:
            model.select(index, QItemSelectionModel.SelectionFlag.Select)

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """What can be said."""
        return self._verdicts

    def key_of(self, code: StrEnum) -> VerdictKey:
        """The key of a verdict."""
        return self._keys[code]

    # ---------------------------------------------------------------- the round

    def give(self, verdict: Verdict) -> None:
        """Gives the chosen eggs a verdict, stores it, and goes on to the next egg."""
        eggs = self.chosen()
        if not eggs:
            self.tell(self.tr("Choose an egg on the tray first."), "warn")
            return
        try:
            at = self.instant()
        except InstantError as error:
            self.tell(str(error))
            return
        if objection := self.objection(verdict, eggs, at):
            self.tell(objection)
            return
        question = (verdict.code, tuple(egg.egg.uid for egg in eggs), at // 900)
        if self._asked != question and (doubt := self.doubt(verdict, eggs, at)):
            self._asked = question
            sentence = self.tr("{doubt} Press {letter} again to store it all the same.")
            self.tell(sentence.format(doubt=doubt, letter=verdict.letter), "warn")
            return
        self._asked = None
        self.tell("")
        last = eggs[-1].egg.uid
        if self.store(verdict, eggs, at) is not None:
            self._given = verdict
            self._keys[verdict.code].light_up()
            self.go_on(last)

    def give_again(self) -> None:
        """Gives the verdict that was given last."""
        if self._given is not None and self._given in self._verdicts:
            self.give(self._given)

    def take_back(self) -> None:
        """Takes back what was stored last of this batch's rounds; the cursor goes to its egg."""
        step = self.context.door.next_undo()
        if step is None or step.batch != self.batch.uid or step.code not in self.own_steps:
            self.tell(self.tr("There is nothing of these eggs left to take back here."), "info")
            return
        self._asked = None
        self.tell("")
        self.context.door.undo()
        self._go_to_number(step.details.get("number"))
        self.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def do_again(self) -> None:
        """Does the step again that was taken back last, if it was one of this batch's rounds."""
        step = self.context.door.next_redo()
        if step is not None and step.batch == self.batch.uid and step.code in self.own_steps:
            self.context.door.redo()

    def _go_to_number(self, number: object) -> None:
        found = next((egg for egg in self.figures.eggs if egg.egg.number == number), None)
        if found is not None:
            self.tray.choose(found.egg.uid)

    def go_on(self, after: str) -> None:
        """Puts the cursor on the next egg in the order of the tray that is not passed over."""
        eggs = self.in_order()
        position = next((at for at, egg in enumerate(eggs) if egg.egg.uid == after), -1)
        for egg in [*eggs[position + 1 :], *eggs[: position + 1]]:
            if not self.is_passed(egg):
                self.tray.choose(egg.egg.uid)
                return
        self.tray.choose(after)

    def refresh(self) -> None:
        """Reads the figures anew and shows them; the cursor stays."""
        chosen = self.current()
        self.figures = batch_figures(self.context.door.journal, self.batch.uid, self.context.now())
        self.take_figures()
        self.tray.tray.show_view(self.figures)
        if chosen is not None:
            self.tray.choose(chosen.egg.uid)
        elif self.figures.eggs:
            self.go_on("")
        counts = self.counts()
        for code, key in self._keys.items():
            key.set_count(counts.get(code, 0))
        self.progress.setText(self.progress_text())
        self.show_egg()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keys that the part with the focus does not want are verdicts; Esc leaves."""
        typing = isinstance(self.focusWidget(), QLineEdit | QAbstractSpinBox | QComboBox)
        if typing or not self.handle_key(event):
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keys on the tray and on what else is listened to."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and self.handle_key(event):
            return True
        return super().eventFilter(watched, event)

    def in_order(self) -> list[EggFigures]:
        """The eggs in the order of the tray."""
        model = self.tray.tray
        places = [
            model.index(row, column).data(EGG_ROLE)
            for row in range(model.rowCount())
            for column in range(model.columnCount())
        ]
        return [egg for egg in places if egg is not None]

    def show_egg(self) -> None:
        """Shows what is known of the chosen egg, or how many are chosen."""
        chosen = self.tray.chosen()
        egg = self.current()
        if len(chosen) > 1:
            self.title.setText(self.tr("%n egg(s) chosen", "", len(chosen)))
            self.story.setText("")
        elif egg is not None:
            self.title.setText(egg_title(egg, self.figures.trays))
            self.story.setText(story_sentence(egg))
        else:
            self.title.setText(self.tr("No egg chosen"))
            self.story.setText("")

    def _refresh(self, change: Change) -> None:
        if change.kinds & _KINDS:
            if self.context.door.journal.batches.find(self.batch.uid) is None:
                self.reject()
                return
            self.refresh()
