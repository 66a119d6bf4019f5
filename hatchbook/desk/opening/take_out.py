"""Taking eggs out of the batch: alive, under a hen or for a look inside, or broken by accident."""

from __future__ import annotations

from collections import Counter
from enum import StrEnum
from typing import ClassVar

from PySide6.QtCore import QCoreApplication, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.rounds.key_cap import KeyCap
from hatchbook.desk.rounds.round_dialog import Verdict
from hatchbook.desk.rounds.wide_round import WideRound
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import in_sentence, removal_word
from hatchbook.desk.words.dates import batch_day, date_time
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Change, Removal
from hatchbook.trade.codes import Fate, RemovalReason
from hatchbook.trade.fates import CAME_OUT, PENDING

_SIZE = QSize(820, 560)
_KEYS: tuple[tuple[RemovalReason, str, Fate], ...] = (
    (RemovalReason.TAKEN_OUT_ALIVE, "J", Fate.TAKEN_OUT),
    (RemovalReason.BROKEN, "K", Fate.CRACKED),
)


class TakeOutDialog(WideRound):
    """The cursor stays: eggs are taken out one by one, not in a row. Del puts an egg back."""

    own_steps: ClassVar[frozenset[str]] = frozenset({"removals_noted", "removal_removed"})

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = QCoreApplication.translate("Rounds", "Take eggs out of {label} {name}").format(
            label=batch.label, name=batch.name
        )
        self._records: dict[str, Removal] = {}
        super().__init__(context, batch, title, parent, context.now())
        self.heading.setText(self.tr("Take eggs out"))
        self.set_verdicts([Verdict(code, letter, removal_word(code), fate) for code, letter, fate in _KEYS])
        self.resize(_SIZE)

    def lay_out_columns(self, columns: QHBoxLayout) -> None:
        """Tray and keys are all that is needed."""
        columns.addLayout(self.left, 5)
        columns.addLayout(self.right, 5)

    def fill(self) -> None:
        """Tray; the egg, its keys, note and time."""
        self.left.addWidget(self.tray, 100)
        self.left.addStretch(1)
        self.note_field = QLineEdit()
        self.note_field.setAccessibleName(self.tr("Note: where it went, how it broke"))
        self.state = Label("", bold=True, wraps=True)
        for widget in (self.title, self.story, self.state):
            self.right.addWidget(widget)
        self.right.addLayout(self.key_grid, 2)
        for letter, words, field in (
            ("N", self.tr("Note"), self.note_field),
            ("T", self.tr("When"), self.at),
        ):
            row = QHBoxLayout()
            row.setSpacing(8)
            row.addWidget(KeyCap(letter))
            label = Label(words, ink="ink2")
            label.setMinimumWidth(label.fontMetrics().horizontalAdvance("0" * 7))
            row.addWidget(label)
            row.addWidget(field, 1)
            self.right.addLayout(row)
            self.add_field(letter, field)
        self.right.addStretch(1)
        text = self.tr("Eggs taken out are left out of the rates of fertile eggs, and named there.")
        self.right.addWidget(Label(text, "caption", "ink2", wraps=True))

    def hints_text(self) -> str:
        """Few keys are needed here."""
        return self.tr("Del puts the egg back · Backspace take back · Esc leave")

    def take_figures(self) -> None:
        """What was taken out so far."""
        removals = self.context.door.journal.removals.of_batch(self.batch.uid)
        self._records = {record.egg: record for record in removals}

    def refresh(self) -> None:
        """The day of the batch, too."""
        super().refresh()
        name = f"{self.batch.label} {self.batch.name}".strip()
        self.facts.setText(f"{name}, {batch_day(self.figures.day)}")

    def counts(self) -> dict[StrEnum, int]:
        """How many eggs were taken out for each reason."""
        return dict(Counter(record.reason for record in self._records.values()))

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs that are out already."""
        return egg.egg.uid in self._records or egg.outcome.fate not in PENDING

    def progress_text(self) -> str:
        """2 eggs taken out."""
        return self.tr("%n egg(s) taken out", "", len(self._records))

    def doubt(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """Eggs that are out already; one taken out alive of which a death was seen."""
        for egg in eggs:
            if (record := self._records.get(egg.egg.uid)) is not None:
                return self.tr("{egg} is noted already: {state}.").format(
                    egg=self.name_of(egg), state=self._state(record)
                )
            if egg.outcome.fate in CAME_OUT:
                return self.tr("{egg} has hatched.").format(egg=self.name_of(egg))
        return super().doubt(verdict, eggs, at)

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores which eggs were taken out, and why."""
        reason, note = RemovalReason(verdict.code), self.note_field.text().strip()
        uids = [egg.egg.uid for egg in eggs]
        records = [Removal(uid, at, reason, note) for uid in uids]
        change = self.context.door.run(lambda journal: journal.removals.note(self.batch.uid, records))
        if change is not None:
            self.note_field.clear()
            self.tell_contradictions(uids)
        return change

    def go_on(self, after: str) -> None:
        """Stays at the egg; the first one where none is chosen yet."""
        if after:
            self.tray.choose(after)
        else:
            super().go_on(after)

    def show_egg(self) -> None:
        """Whether and when it was taken out, too."""
        super().show_egg()
        egg = self.current()
        record = self._records.get(egg.egg.uid) if egg is not None and len(self.tray.chosen()) < 2 else None
        self.state.setText("" if record is None else self._state(record))
        self.state.setVisible(record is not None)

    def _state(self, record: Removal) -> str:
        when = date_time(record.at, self.context.zone)
        text = self.tr("{reason}, {when}").format(reason=in_sentence(removal_word(record.reason)), when=when)
        return self.tr("{state}: {note}").format(state=text, note=record.note) if record.note else text

    def handle_key(self, event: QKeyEvent) -> bool:
        """Del puts eggs back."""
        if event.key() == Qt.Key.Key_Delete:
            self._put_back()
            return True
        return super().handle_key(event)

    def _put_back(self) -> None:
        records = [self._records[egg.egg.uid] for egg in self.chosen() if egg.egg.uid in self._records]
        if not records:
            self.tell(self.tr("None of the chosen eggs is taken out."), "info")
            return
        self.tell("")
        for record in records:
            self._remove(record)

    def _remove(self, record: Removal) -> None:
        self.context.door.run(lambda journal: journal.removals.remove(record))
