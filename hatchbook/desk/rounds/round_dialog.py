"""The common frame of a round over the eggs: tray, one key a verdict, every verdict stored at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

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


@dataclass(frozen=True)
class Verdict:
    """One thing that can be said of an egg: its code, the letter that says it, its word and its glyph."""

    code: StrEnum
    letter: str
    word: str
    fate: Fate


class EggRoundDialog(FramedDialog):
    """Arrows go from egg to egg, a letter gives the verdict of the chosen eggs, and the next egg follows.

    Subclasses say how a verdict is stored (``store``), how often each was given (``counts``) and which eggs are
    passed over when the next one is looked for (``is_passed``).
    """

    def __init__(
        self, context: DeskContext, batch: Batch, title: str, parent: QWidget | None, at: int
    ) -> None:
        super().__init__(title, parent, _SIZE)
        self.context = context
        self.batch = batch
        self._keys: dict[StrEnum, VerdictKey] = {}
        self._verdicts: tuple[Verdict, ...] = ()
        self.figures: BatchFigures = batch_figures(context.door.journal, batch.uid, context.now())
        self.at = InstantEdit(context.zone, at)
        self.at.set_accessible_name(self.tr("When"))
        self.tray = TrayView()
        self.title = Label("", role="title")
        self.story = Label("", ink="ink2", wraps=True)
        self.progress = Label("", ink="ink2")
        self.above_keys = QVBoxLayout()
        self.above_keys.setSpacing(8)
        self._grid = QGridLayout()
        self._grid.setSpacing(6)
        self.below_keys = QVBoxLayout()
        self.below_keys.setSpacing(6)
        self._lay_out()
        self.tray.installEventFilter(self)
        self.tray.selectionModel().currentChanged.connect(lambda *_: self._show_egg())
        self.tray.eggs_chosen.connect(lambda _eggs: self._show_egg())
        context.door.changed.connect(self._refresh)
        self.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
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
        right.addLayout(self._grid)
        right.addLayout(self.below_keys)
        content = QHBoxLayout()
        content.setSpacing(16)
        content.addLayout(left, 5)
        content.addWidget(VLine())
        content.addLayout(right, 6)
        self.set_content(content)
        done = self.add_main_button(self.tr("Done"))
        done.setAutoDefault(False)
        done.setDefault(False)
        done.clicked.connect(self.accept)
        back = self.add_leave_button(self.tr("Take back the last one"))
        self.buttons.rejected.disconnect(self.reject)
        back.clicked.connect(self.take_back)

    # ---------------------------------------------------------------- for subclasses

    def set_verdicts(self, verdicts: Sequence[Verdict]) -> None:
        """Offers other verdicts."""
        self._verdicts = tuple(verdicts)
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self._keys = {}
        for position, verdict in enumerate(self._verdicts):
            key = VerdictKey(verdict.letter, verdict.word, verdict.fate)
            key.clicked.connect(lambda _checked=False, verdict=verdict: self.give(verdict))
            self._grid.addWidget(key, position // _COLUMNS, position % _COLUMNS)
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

    # ---------------------------------------------------------------- the round

    def give(self, verdict: Verdict) -> None:
        """Gives the chosen eggs a verdict, stores it, and goes on to the next egg."""
        eggs = self.tray.chosen() or [egg for egg in [self._current()] if egg is not None]
        if not eggs:
            self.tell(self.tr("Choose an egg on the tray first."), "warn")
            return
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(str(error))
            return
        self.tell("")
        last = eggs[-1].egg.uid
        if self.store(verdict, eggs, at) is not None:
            self.go_on(last)

    def take_back(self) -> None:
        """Takes back what was stored last."""
        self.context.door.undo()
        self.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def go_on(self, after: str) -> None:
        """Puts the cursor on the next egg in the order of the tray that is not passed over."""
        eggs = self._in_order()
        position = next((at for at, egg in enumerate(eggs) if egg.egg.uid == after), -1)
        for egg in [*eggs[position + 1 :], *eggs[: position + 1]]:
            if not self.is_passed(egg):
                self.tray.choose(egg.egg.uid)
                return
        self.tray.choose(after)

    def refresh(self) -> None:
        """Reads the figures anew and shows them; the cursor stays."""
        chosen = self._current()
        self.figures = batch_figures(self.context.door.journal, self.batch.uid, self.context.now())
        self.tray.tray.show_view(self.figures)
        if chosen is not None:
            self.tray.choose(chosen.egg.uid)
        elif self.figures.eggs:
            self.go_on("")
        counts = self.counts()
        for code, key in self._keys.items():
            key.set_count(counts.get(code, 0))
        self.progress.setText(self.progress_text())
        self._show_egg()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Letters on the tray are verdicts; Backspace takes back."""
        if watched is self.tray and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            letter = event.text().upper()
            plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier)
            for verdict in self._verdicts:
                if plain and letter == verdict.letter:
                    self.give(verdict)
                    return True
            if event.key() == Qt.Key.Key_Backspace:
                self.take_back()
                return True
        return super().eventFilter(watched, event)

    def _in_order(self) -> list[EggFigures]:
        model = self.tray.tray
        places = [
            model.index(row, column).data(EGG_ROLE)
            for row in range(model.rowCount())
            for column in range(model.columnCount())
        ]
        return [egg for egg in places if egg is not None]

    def _current(self) -> EggFigures | None:
        egg: EggFigures | None = self.tray.currentIndex().data(EGG_ROLE)
        return egg

    def _show_egg(self) -> None:
        chosen = self.tray.chosen()
        egg = self._current()
        if len(chosen) > 1:
            self.title.setText(self.tr("%n egg(s) chosen", "", len(chosen)))
            self.story.setText("")
        elif egg is not None:
            self.title.setText(egg_title(egg))
            self.story.setText(story_sentence(egg))
        else:
            self.title.setText(self.tr("No egg chosen"))
            self.story.setText("")

    def _refresh(self, change: Change) -> None:
        if change.kinds & {"egg", "finding", "candling", "hatching", "break_out", "removal", "batch"}:
            if self.context.door.journal.batches.find(self.batch.uid) is None:
                self.reject()
                return
            self.refresh()
