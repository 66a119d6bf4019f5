"""Hatch day: pips and chicks by time, one key a mark; how the hatch goes stands in the middle."""

from __future__ import annotations

from collections import Counter
from enum import StrEnum
from typing import ClassVar

from PySide6.QtCore import QCoreApplication, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.hatching.chick_fields import ChickFields
from hatchbook.desk.hatching.egg_marks import EARLIER, LATER
from hatchbook.desk.hatching.hatch_pane import HatchPane
from hatchbook.desk.hatching.mark_time import MarkTime
from hatchbook.desk.hatching.marks_pane import MarksPane
from hatchbook.desk.rounds.round_dialog import Verdict
from hatchbook.desk.rounds.wide_round import WideRound
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import hatch_mark_word, in_sentence
from hatchbook.desk.words.dates import batch_day, date_time
from hatchbook.desk.words.hatching import due_sentence
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import mass, number
from hatchbook.figures.hatch_curve import HatchCurve, hatch_curve
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Change, Hatching
from hatchbook.trade.codes import Fate, HatchMark
from hatchbook.trade.fates import CAME_OUT, PENDING
from hatchbook.trade.rings import rings_from
from hatchbook.trade.units import Unit

_KEYS: tuple[tuple[HatchMark, str, Fate], ...] = (
    (HatchMark.HELPED, "U", Fate.HELPED),
    (HatchMark.DIED_IN_PIP, "I", Fate.PIPPED_DEAD),
    (HatchMark.CULLED, "O", Fate.CULLED),
    (HatchMark.WEAK, "P", Fate.HATCHED),
    (HatchMark.EXTERNAL_PIP, "J", Fate.EXTERNAL_PIP),
    (HatchMark.HATCHED, "K", Fate.HATCHED),
    (HatchMark.INTERNAL_PIP, "L", Fate.INTERNAL_PIP),
)
_CHICK = frozenset({HatchMark.HATCHED, HatchMark.HELPED, HatchMark.WEAK, HatchMark.CULLED})
_MOST_DIGITS = 4


class HatchDayDialog(WideRound):
    """A digit chooses so many of the eggs that are to hatch next; the time moves by quarter hours."""

    own_steps: ClassVar[frozenset[str]] = frozenset(
        {"hatching_noted", "hatching_changed", "hatching_removed"}
    )

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = QCoreApplication.translate("Rounds", "Hatch day of {label} {name}").format(
            label=batch.label, name=batch.name
        )
        self.curve: HatchCurve | None = None
        self._records: dict[str, list[Hatching]] = {}
        self._count = ""
        super().__init__(context, batch, title, parent, context.now())
        self.heading.setText(self.tr("Hatch day"))
        self.set_verdicts(
            [Verdict(code, letter, hatch_mark_word(code), fate) for code, letter, fate in _KEYS]
        )
        self.go_on("")

    # ---------------------------------------------------------------- parts

    def fill(self) -> None:
        """Tray and marks of the egg; time and hatch curve; keys and what belongs to a chick."""
        zone = self.context.zone
        self.fields = ChickFields(Unit(self.context.settings.get(settings.MASS_UNIT)))
        self.marks = MarksPane(self.context, self.batch, self.fields)
        self.left.addWidget(self.tray, 100)
        self.left.addWidget(self.marks, 1)
        self.time = MarkTime(zone, self.at, self.context.now)
        self.pane = HatchPane(zone)
        self.centre.addWidget(self.time)
        self.centre.addWidget(self.pane, 1)
        self.right.addWidget(self.title)
        self.right.addWidget(self.story)
        self.right.addSpacing(4)
        self.right.addLayout(self.key_grid, 3)
        self.right.addSpacing(4)
        self.right.addWidget(self.fields)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.marks.keep)
        self.right.addLayout(row)
        self.right.addStretch(1)
        caution = self.tr(
            "Sick or weak chicks: ask a veterinarian. Never shut the vent: hatching chicks need air. "
            "Wash your hands afterwards."
        )
        self.right.addWidget(Label(caution, "caption", "ink2", wraps=True))
        self.add_field("R", self.fields.ring)
        self.add_field("M", self.fields.mass)
        self.add_field("N", self.fields.note)
        self.add_field("W", self.at)
        self.fields.unit_chosen.connect(
            lambda unit: self.context.settings.keep(settings.MASS_UNIT, str(unit))
        )
        self.pane.waiting.egg_wanted.connect(self._go_to)
        self.time.minute_passed.connect(self._show_course)
        self.marks.told.connect(self.tell)
        self.marks.changing.connect(lambda: self.enter_field(self.fields.ring))
        self.marks.left.connect(self.back_to_tray)

    def hints_text(self) -> str:
        """The keys, those of hatch day first."""
        return self.tr(
            "− + a quarter of an hour, 0 now, W type the time · 3 K three chicks · Space as last time · "
            "Enter skip · Backspace take back · Esc leave"
        )

    # ---------------------------------------------------------------- the round

    def take_figures(self) -> None:
        """Curve and records of the new figures."""
        journal = self.context.door.journal
        self.curve = hatch_curve(journal, self.figures)
        self._records = {}
        for record in journal.hatchings.of_batch(self.batch.uid):
            self._records.setdefault(record.egg, []).append(record)

    def refresh(self) -> None:
        """Shows how the hatch goes, too."""
        super().refresh()
        self._show_course()

    def _show_course(self) -> None:
        now = self.context.now()
        if self.curve is not None:
            self.pane.show_curve(self.curve, self.figures, now)
        due = due_sentence(self.figures.hatch_due_at, now, self.context.zone)
        self.facts.setText(
            self.tr("{batch}, {day}, {due}").format(
                batch=f"{self.batch.label} {self.batch.name}".strip(),
                day=batch_day(self.figures.day),
                due=due,
            )
        )

    def instant(self) -> int:
        """Now, or the quarter hour that was chosen."""
        return self.time.instant()

    def counts(self) -> dict[StrEnum, int]:
        """How many eggs have each mark."""
        return dict(Counter(record.mark for records in self._records.values() for record in records))

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs that nothing more is expected of."""
        return egg.outcome.fate not in PENDING

    def progress_text(self) -> str:
        """12 hatched, 3 pipped, 9 to come."""
        counts = self.figures.counts
        hatched = sum(counts.get(fate, 0) for fate in CAME_OUT)
        pipped = sum(counts.get(fate, 0) for fate in (Fate.INTERNAL_PIP, Fate.EXTERNAL_PIP))
        to_come = sum(counts.get(fate, 0) for fate in PENDING) - pipped
        return self.tr("{hatched} hatched, {pipped} pipped, {to_come} to come").format(
            hatched=number(hatched, 0), pipped=number(pipped, 0), to_come=number(to_come, 0)
        )

    def objection(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """A mass that is none, or of several chicks; a count of pips."""
        if self.marks.is_changing:
            return self.tr("A mark is being changed: keep the change first, or leave it with Esc.")
        if self._count and verdict.code not in _CHICK:
            return self.tr("A count is for chicks. Choose the eggs that pipped on the tray.")
        if verdict.code in _CHICK:
            if self.fields.is_bad():
                return self.tr("Mend the mass of the chick, or take it away.")
            if len(eggs) > 1 and not self.fields.mass.is_empty():
                return self.tr("A mass is one chick's: choose one egg, or take the mass away.")
        return super().objection(verdict, eggs, at)

    def doubt(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> str:
        """A mark that is there already, a chick heavier than its egg was, a ring that another chick wears."""
        mark = HatchMark(verdict.code)
        known = [
            record for egg in eggs for record in self._records.get(egg.egg.uid, ()) if record.mark is mark
        ]
        if len(known) == len(eggs):
            return self.tr("{egg} is noted as {mark} at {time} already; its time would change.").format(
                egg=self.name_of(eggs[0]),
                mark=in_sentence(verdict.word),
                time=date_time(known[0].at, self.context.zone),
            )
        if mark in _CHICK:
            mass_g, set_mass_g = self.fields.mass_g(), eggs[0].egg.set_mass_g
            if mass_g is not None and set_mass_g is not None and mass_g >= set_mass_g:
                return self.tr(
                    "A chick of {chick} would be heavier than its egg was when set, {egg}."
                ).format(chick=mass(mass_g), egg=mass(set_mass_g))
            return self._ring_doubt(eggs)
        return super().doubt(verdict, eggs, at)

    def _ring_doubt(self, eggs: list[EggFigures]) -> str:
        first = self.fields.ring_text()
        rings = set(rings_from(first, len(eggs)))
        if not first[-1:].isdecimal():
            return ""  # a mark that does not count is shared by many
        own = {egg.egg.uid for egg in eggs}
        for egg in self.figures.eggs:
            for record in self._records.get(egg.egg.uid, ()):
                if record.ring in rings and egg.egg.uid not in own:
                    return self.tr("The chick of {egg} wears ring {ring} already.").format(
                        egg=self.name_of(egg), ring=record.ring
                    )
        return ""

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores a mark; eggs that have it already keep theirs, unless all of them have."""
        mark = HatchMark(verdict.code)
        new = [egg for egg in eggs if all(one.mark is not mark for one in self._records.get(egg.egg.uid, ()))]
        uids = [egg.egg.uid for egg in new or eggs]
        chick = mark in _CHICK
        rings = rings_from(self.fields.ring_text() if chick else "", len(uids))
        mass_g = self.fields.mass_g() if chick else None
        records = [
            Hatching(uid, at, mark, mass_g, ring, self.fields.note_text())
            for uid, ring in zip(uids, rings, strict=True)
        ]
        change = self.context.door.run(lambda journal: journal.hatchings.note(self.batch.uid, records))
        if change is not None:
            self._count = ""
            if chick:
                self.fields.go_on(len(uids))
            else:
                self.fields.note.clear()
            self.tell_contradictions(uids)
        return change

    # ---------------------------------------------------------------- keys

    def handle_key(self, event: QKeyEvent) -> bool:
        """Quarter hours, now, and a count, besides the keys of every round."""
        text = event.text()
        if text and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if text and text in EARLIER + LATER:
            self.time.shift(-1 if text in EARLIER else 1)
            return True
        if text == "0" and not self._count:
            self.time.to_now()
            return True
        if text.isdecimal() and text.isascii() and len(self._count) < _MOST_DIGITS:
            self._choose_count(self._count + text)
            return True
        if self._count and event.key() == Qt.Key.Key_Backspace:
            self._choose_count(self._count[:-1])
            return True
        if self._count and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._jump(int(self._count))
            return True
        if self._count and event.key() == Qt.Key.Key_Escape:
            self._choose_count("")
            return True
        if event.key() in _MOVES:
            self._count = ""
        return super().handle_key(event)

    def field_key(self, entry: QObject, event: QKeyEvent) -> bool:
        """Enter keeps a change; Esc leaves it."""
        if self.marks.is_changing and isinstance(entry, QLineEdit):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.marks.keep_change()
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.marks.leave_change()
                return True
        return super().field_key(entry, event)

    def _choose_count(self, count: str) -> None:
        self._count = count
        queue = self.curve.queue if self.curve is not None else ()
        wanted = int(count) if count else 0
        if wanted and queue:
            self.choose_all([egg.egg.uid for egg in queue[:wanted]])
        elif queue:
            self.tray.choose(queue[0].egg.uid)
        if wanted > len(queue):
            self.tell(
                self.tr("Only %n egg(s) may still hatch. Enter goes to egg {number}.", "", len(queue)).format(
                    number=count
                ),
                "warn",
            )
        else:
            self.tell("")
        self.show_egg()

    def _jump(self, egg_number: int) -> None:
        self._count = ""
        found = next((egg for egg in self.figures.eggs if egg.egg.number == egg_number), None)
        if found is None:
            self.tell(self.tr("There is no egg {number} in this batch.").format(number=egg_number), "warn")
        else:
            self.tell("")
            self.tray.choose(found.egg.uid)

    def _go_to(self, uid: str) -> None:
        self.tray.choose(uid)
        self.back_to_tray()

    # ---------------------------------------------------------------- the egg and its marks

    def show_egg(self) -> None:
        """Its marks, too; for a count, which eggs are taken for the chicks."""
        super().show_egg()
        chosen = self.tray.chosen()
        if self._count and len(chosen) == int(self._count) > 0:
            self.title.setText(self.tr("%n chick(s)", "", len(chosen)))
            names = listed([self.name_of(egg) for egg in chosen])
            self.story.setText(
                self.tr("Taken for {eggs}: pipped longest first, then by number.").format(eggs=names)
            )
        egg = self.current()
        egg = egg if len(chosen) <= 1 else None
        name = "" if egg is None else self.name_of(egg)
        self.marks.show_marks(name, self._records.get(egg.egg.uid, []) if egg is not None else [])


_MOVES = frozenset({Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down})
