"""Opening unhatched eggs: what the candlings know of each, then its stage by one key, its age and its signs."""

from __future__ import annotations

from collections import Counter
from enum import StrEnum
from typing import ClassVar

from PySide6.QtCore import QCoreApplication, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.opening.looks_row import LooksRow
from hatchbook.desk.opening.opening_tray import OpeningTrayDelegate
from hatchbook.desk.opening.seen_fields import Seen, SeenFields, positions_in, seen_of, signs_in
from hatchbook.desk.rounds.key_cap import KeyCap
from hatchbook.desk.rounds.round_dialog import Verdict
from hatchbook.desk.rounds.wide_round import WideRound
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.codes import break_out_word, in_sentence
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.numbers import number
from hatchbook.desk.words.openings import (
    known_sentence,
    left_sentence,
    opened_sentence,
    progress_sentence,
    result_hint,
    with_and,
)
from hatchbook.figures.openings import OpeningEgg, Openings, OpeningState, openings
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, BreakOut, Change
from hatchbook.trade.codes import BreakOutResult, Fate

_KEYS: tuple[tuple[BreakOutResult, str, Fate], ...] = (
    (BreakOutResult.INFERTILE, "U", Fate.INFERTILE),
    (BreakOutResult.PIPPED_DEAD, "I", Fate.PIPPED_DEAD),
    (BreakOutResult.ROTTEN, "O", Fate.ROTTEN),
    (BreakOutResult.UNKNOWN, "P", Fate.UNKNOWN),
    (BreakOutResult.LATE_DEAD, "J", Fate.LATE_DEAD),
    (BreakOutResult.MID_DEAD, "K", Fate.MID_DEAD),
    (BreakOutResult.EARLY_DEAD, "L", Fate.EARLY_DEAD),
)


class OpenUnhatchedDialog(WideRound):
    """What is ticked or typed of an egg that is opened already is stored at once; of others with their verdict."""

    own_steps: ClassVar[frozenset[str]] = frozenset({"break_out_noted", "break_out_removed"})

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = QCoreApplication.translate("Rounds", "Open unhatched eggs of {label} {name}").format(
            label=batch.label, name=batch.name
        )
        self.openings: Openings | None = None
        self._by_uid: dict[str, OpeningEgg] = {}
        self._records: dict[str, BreakOut] = {}
        self._drafts: dict[str, Seen] = {}
        self._shown: str | None = None
        self._warned = False
        super().__init__(context, batch, title, parent, context.now())
        self.heading.setText(self.tr("Opening unhatched eggs"))
        self.set_verdicts(
            [
                Verdict(code, letter, break_out_word(code), fate, result_hint(code))
                for code, letter, fate in _KEYS
            ]
        )
        self.go_on("")

    # ---------------------------------------------------------------- parts

    def fill(self) -> None:
        """Tray; what is known and seen of the egg; keys, who opens, cautions."""
        self.fields = SeenFields(self.batch, self)
        self.delegate = OpeningTrayDelegate(self.tray.itemDelegate(), self.tray)
        self.tray.setItemDelegate(self.delegate)
        self.remaining = Label("", wraps=True)
        legend = self.tr(
            "Shells: still to open. Full ink: opened. Pale: hatched, taken out, or may still hatch."
        )
        self.left.addWidget(self.tray, 100)
        self.left.addWidget(Label(legend, "caption", "ink2", wraps=True))
        self.left.addSpacing(4)
        self.left.addWidget(self.remaining)
        self.left.addStretch(1)
        self.left.addLayout(self._entry_grid())
        self._fill_centre()
        self._fill_right()
        self.add_field("A", self.fields.day)
        self.add_field("N", self.fields.note)
        self.add_field("T", self.at)
        self.add_field("E", self.by_whom)
        self.listen(self.fields.day.signs)
        self.fields.changed.connect(self._store_change)
        self.by_whom.editingFinished.connect(
            lambda: self.context.settings.keep(settings.OBSERVER, self.by_whom.text().strip())
        )

    def _fill_centre(self) -> None:
        self.looks = LooksRow()
        self.found = Label("", bold=True, wraps=True)
        self.centre.addWidget(self.title)
        self.centre.addWidget(self.story)
        self.centre.addWidget(self.looks)
        self.centre.addWidget(self.found)
        self.centre.addWidget(self.fields.day, 1)
        self.centre.addWidget(Label(self.tr("Also seen"), role="section"))
        self.centre.addWidget(self.fields.signs)

    def _entry_grid(self) -> QGridLayout:
        self.by_whom = QLineEdit(self.context.settings.get(settings.OBSERVER))
        self.by_whom.setAccessibleName(self.tr("Who opens the eggs"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(6)
        rows = (
            ("N", self.tr("Note"), self.fields.note),
            ("E", self.tr("Opened by"), self.by_whom),
            ("T", self.tr("When"), self.at),
        )
        for row, (letter, words, field) in enumerate(rows):
            grid.addWidget(KeyCap(letter), row, 0)
            grid.addWidget(Label(words, ink="ink2"), row, 1)
            grid.addWidget(field, row, 2)
        grid.setColumnStretch(2, 1)
        return grid

    def _fill_right(self) -> None:
        self.right.addLayout(self.key_grid, 3)
        self.right.addWidget(Label(self.tr("How it lay"), role="section"))
        self.right.addWidget(self.fields.positions)
        self.right.addStretch(1)
        self.pain = InlineNote(
            self.tr("Late embryos may feel pain. This program gives no method: ask a veterinarian."), "warn"
        )
        self.right.addWidget(self.pain)
        caution = self.tr(
            "Rotten eggs can burst: bag them first, protect your eyes. Wash your hands afterwards."
        )
        self.right.addWidget(Label(caution, "caption", "ink2", wraps=True))

    def hints_text(self) -> str:
        """The keys, those of the opening first."""
        return self.tr(
            "A age, Enter in it gives its stage · Del not opened · Space as last time · Enter skip · "
            "Backspace take back · Esc leave"
        )

    # ---------------------------------------------------------------- the round

    def take_figures(self) -> None:
        """How the eggs stand for opening, and what was found so far."""
        self.openings = openings(self.figures)
        self._by_uid = self.openings.by_uid()
        self._records = {
            one.egg: one for one in self.context.door.journal.break_outs.of_batch(self.batch.uid)
        }
        self.delegate.states = {uid: one.state for uid, one in self._by_uid.items()}

    def refresh(self) -> None:
        """What was opened may have changed: the egg is shown anew."""
        self._keep_draft()
        self._shown = None
        super().refresh()
        if self.openings is not None:
            self.remaining.setText(left_sentence(self.openings))
            self.pain.setVisible(self.openings.may_feel_pain)
        name = f"{self.batch.label} {self.batch.name}".strip()
        self.facts.setText(f"{name}, {batch_day(self.figures.day)}")

    def counts(self) -> dict[StrEnum, int]:
        """How often each result was found."""
        return dict(Counter(record.result for record in self._records.values()))

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs that are opened, gone, or may still hatch."""
        return self._by_uid[egg.egg.uid].state is not OpeningState.TO_OPEN

    def progress_text(self) -> str:
        """8 of 13 opened."""
        return progress_sentence(self.openings) if self.openings is not None else ""

    def objection(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """A day that is none."""
        if self.fields.day.is_bad():
            return self.tr("Mend the day, or take it away.")
        return super().objection(verdict, eggs, at)

    def doubt(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """Eggs that are gone or may still hatch; a stage that does not fit its day, or what the candlings saw."""
        for egg in eggs:
            one = self._by_uid[egg.egg.uid]
            if one.state in (OpeningState.GONE, OpeningState.NOT_YET):
                return self.tr("{egg}, {known}.").format(egg=self.name_of(egg), known=known_sentence(one))
        result, day = BreakOutResult(verdict.code), self.fields.day.day()
        if day is not None and self.openings is not None and not self.openings.day_fits(result, day):
            return self._day_misfit(result, day, self.openings.stage_of(day))
        certain = result not in (BreakOutResult.ROTTEN, BreakOutResult.UNKNOWN)
        for egg in eggs:
            one = self._by_uid[egg.egg.uid]
            if certain and egg.egg.uid not in self._records and result not in one.fitting:
                return self.tr("{egg}, {known}: “{result}” does not fit that.").format(
                    egg=self.name_of(egg), known=known_sentence(one), result=in_sentence(verdict.word)
                )
        return super().doubt(verdict, eggs, at)

    def _day_misfit(self, result: BreakOutResult, day: float, right: BreakOutResult) -> str:
        if result is BreakOutResult.INFERTILE:
            return self.tr("An infertile egg has no day of death: the day would be left out.")
        return self.tr("Day {day} belongs to “{right}”, not to “{given}”.").format(
            day=number(day, 0 if day == int(day) else 1),
            right=in_sentence(break_out_word(right)),
            given=in_sentence(break_out_word(result)),
        )

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores what the opened eggs showed, alike for all of them."""
        uids = [egg.egg.uid for egg in eggs]
        change = self._keep(BreakOutResult(verdict.code), uids, at, self.by_whom.text().strip())
        if change is not None:
            for uid in uids:
                self._drafts.pop(uid, None)
            self.tell_contradictions(uids)
        return change

    def _keep(self, result: BreakOutResult, uids: list[str], at: int, by_whom: str) -> Change | None:
        seen = self.fields.seen()
        day = None if result is BreakOutResult.INFERTILE else seen.day
        records = [BreakOut(uid, at, result, by_whom, day, seen.note) for uid in uids]
        return self.context.door.run(
            lambda journal: journal.break_outs.keep_all(
                self.batch.uid, records, malpositions=positions_in(seen), signs=signs_in(seen)
            )
        )

    # ---------------------------------------------------------------- the egg

    def show_egg(self) -> None:
        """What is known of the egg, and what was seen in it; what waits for a verdict is kept for it."""
        super().show_egg()
        chosen, egg = self.tray.chosen(), self.current()
        if egg is None or len(chosen) > 1:
            self.looks.show_egg(None)
            self._expect(frozenset())
            return
        one = self._by_uid[egg.egg.uid]
        self.story.setText(known_sentence(one))
        self.looks.show_egg(one)
        record = self._records.get(egg.egg.uid)
        self.found.setText("" if record is None else opened_sentence(record))
        self.found.setVisible(record is not None)
        self._expect(one.fitting if one.state is OpeningState.TO_OPEN else frozenset())
        if egg.egg.uid != self._shown:
            self._keep_draft()
            self._shown = egg.egg.uid
            seen = self._drafts.get(self._shown, Seen()) if record is None else self._stored(record)
            self.fields.show_seen(seen, one, max(self.batch.incubation_days, self.figures.day))

    def _expect(self, fitting: frozenset[BreakOutResult]) -> None:
        """Marks the keys that agree with the candlings, where these tell anything."""
        tells = len(fitting) < len(_KEYS) - 2
        for code, _letter, _fate in _KEYS:
            self.key_of(code).set_expected(tells and code in fitting)

    def _stored(self, record: BreakOut) -> Seen:
        marks = self.context.door.journal.break_outs.marks(record.uid)
        return seen_of(record, [mark.code for mark in marks])

    def _keep_draft(self) -> None:
        """Keeps what was ticked and typed of an egg that has no verdict yet."""
        if self._shown is None or self._shown in self._records:
            return
        seen = self.fields.seen()
        if seen == Seen():
            self._drafts.pop(self._shown, None)
        else:
            self._drafts[self._shown] = seen

    def _store_change(self) -> None:
        """Stores at once what was changed of an egg that is opened already."""
        record = self._records.get(self._shown) if self._shown is not None else None
        if record is None or self.fields.day.is_bad() or len(self.tray.chosen()) > 1:
            return
        seen = self.fields.seen()
        if seen == self._stored(record):
            return
        self._keep(record.result, [record.egg], record.at, record.by_whom)
        if seen.day is not None and self.openings is not None:
            fits = self.openings.day_fits(record.result, seen.day)
            right = self.openings.stage_of(seen.day)
            self.tell("" if fits else self._day_misfit(record.result, seen.day, right), "warn")

    def _close_again(self) -> None:
        """What was stored of the chosen eggs goes: they are not opened after all."""
        records = [self._records[egg.egg.uid] for egg in self.chosen() if egg.egg.uid in self._records]
        if not records:
            self.tell(self.tr("None of the chosen eggs is opened."), "info")
            return
        self.tell("")
        for record in records:
            self._remove(record)

    def _remove(self, record: BreakOut) -> None:
        self.context.door.run(lambda journal: journal.break_outs.remove_with_marks(record))

    # ---------------------------------------------------------------- keys and leaving

    def handle_key(self, event: QKeyEvent) -> bool:
        """Ticks and Del, besides the keys of every round."""
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        key = event.text().upper()
        if plain and key and self.fields.toggle(key):
            return True
        if plain and event.key() == Qt.Key.Key_Delete:
            self._close_again()
            return True
        return super().handle_key(event)

    def field_key(self, entry: QObject, event: QKeyEvent) -> bool:
        """Enter in the age gives its stage."""
        if entry is self.fields.day.field and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            day = self.fields.day.day()
            if self.fields.day.is_bad():
                return True
            if day is not None and self.openings is not None:
                stage = self.openings.stage_of(day)
                self.give(next(verdict for verdict in self.verdicts if verdict.code is stage))
        return super().field_key(entry, event)

    def accept(self) -> None:
        """Leaves, unless something seen waits for a verdict."""
        if self._may_leave():
            super().accept()

    def reject(self) -> None:
        """Leaves, unless something seen waits for a verdict."""
        if self._may_leave():
            super().reject()

    def _may_leave(self) -> bool:
        """Says once which eggs have signs but no verdict; leaving again drops those."""
        self._keep_draft()
        waiting = [egg for egg in self.figures.eggs if egg.egg.uid in self._drafts]
        if not waiting or self._warned or self.context.door.journal.batches.find(self.batch.uid) is None:
            return True
        self._warned = True
        self.tell(
            self.tr("{eggs}: seen, but without a verdict, so not stored. Leave again to drop it.").format(
                eggs=with_and([self.name_of(egg) for egg in waiting])
            ),
            "warn",
        )
        return False
