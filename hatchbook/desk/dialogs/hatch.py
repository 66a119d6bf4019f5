"""Hatch and break-out: pips and chicks by time, what the opened eggs showed, eggs taken out."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QCheckBox, QGridLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.rounds.round_dialog import EggRoundDialog, Verdict
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import (
    break_out_word,
    hatch_mark_word,
    malposition_word,
    removal_word,
    sign_word,
)
from hatchbook.desk.words.numbers import number
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, BreakOut, Change, Journal, Removal
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, Fate, HatchMark, Malposition, RemovalReason

_HATCH: tuple[tuple[HatchMark, str, Fate], ...] = (
    (HatchMark.HELPED, "U", Fate.HELPED),
    (HatchMark.DIED_IN_PIP, "I", Fate.PIPPED_DEAD),
    (HatchMark.CULLED, "O", Fate.CULLED),
    (HatchMark.EXTERNAL_PIP, "J", Fate.EXTERNAL_PIP),
    (HatchMark.HATCHED, "K", Fate.HATCHED),
    (HatchMark.INTERNAL_PIP, "L", Fate.INTERNAL_PIP),
    (HatchMark.WEAK, "P", Fate.HATCHED),
)
_OPENED: tuple[tuple[BreakOutResult, str, Fate], ...] = (
    (BreakOutResult.INFERTILE, "U", Fate.INFERTILE),
    (BreakOutResult.PIPPED_DEAD, "I", Fate.PIPPED_DEAD),
    (BreakOutResult.ROTTEN, "O", Fate.ROTTEN),
    (BreakOutResult.LATE_DEAD, "J", Fate.LATE_DEAD),
    (BreakOutResult.MID_DEAD, "K", Fate.MID_DEAD),
    (BreakOutResult.EARLY_DEAD, "L", Fate.EARLY_DEAD),
    (BreakOutResult.UNKNOWN, "P", Fate.UNKNOWN),
)
_TAKEN_OUT: tuple[tuple[RemovalReason, str, Fate], ...] = (
    (RemovalReason.TAKEN_OUT_ALIVE, "J", Fate.TAKEN_OUT),
    (RemovalReason.BROKEN, "K", Fate.CRACKED),
)
_OUT = frozenset({Fate.HATCHED, Fate.HELPED, Fate.CULLED, Fate.PIPPED_DEAD, Fate.TAKEN_OUT})


class HatchDialog(EggRoundDialog):
    """One round, three subjects: the hatch, the opened eggs, eggs taken out."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = QCoreApplication.translate("Rounds", "Hatch and break-out of {label} {name}").format(
            label=batch.label, name=batch.name
        )
        super().__init__(context, batch, title, parent, context.now())
        self.subject = Segmented(
            [
                ("hatch", self.tr("Hatch")),
                ("opened", self.tr("Opened eggs")),
                ("out", self.tr("Taken out")),
            ],
            name=self.tr("What is entered"),
        )
        self.above_keys.addWidget(self.subject)
        self._signs = _Ticks([(sign, sign_word(sign)) for sign in BreakOutSign])
        self._positions = _Ticks([(code, malposition_word(code)) for code in Malposition])
        self._caution = Label("", "caption", "ink2", wraps=True)
        for widget in (self._signs, self._positions, self._caution):
            self.below_keys.addWidget(widget)
        self.subject.chosen.connect(lambda _key: self._show_subject())
        self._show_subject()

    def choose_subject(self, key: str) -> None:
        """Enters ``hatch``, ``opened`` or ``out``."""
        self.subject.choose(key)
        self._show_subject()

    def _show_subject(self) -> None:
        subject = self.subject.current()
        self._signs.setVisible(subject == "opened")
        self._positions.setVisible(subject == "opened")
        table: tuple[tuple[StrEnum, str, Fate], ...]
        word: Callable[[StrEnum], str]
        if subject == "hatch":
            table, word = _HATCH, lambda code: hatch_mark_word(HatchMark(code))
            self._caution.setText(self.tr("Sick chicks: ask a veterinarian. Wash your hands afterwards."))
        elif subject == "opened":
            table, word = _OPENED, lambda code: break_out_word(BreakOutResult(code))
            self._caution.setText(
                self.tr(
                    "Tick what else is seen, then give the verdict. Late embryos may feel pain: ask a veterinarian."
                )
            )
        else:
            table, word = _TAKEN_OUT, lambda code: removal_word(RemovalReason(code))
            self._caution.setText(self.tr("Eggs taken out are left out of the rates of fertile, and named."))
        self.set_verdicts([Verdict(code, letter, word(code), fate) for code, letter, fate in table])
        self.go_on("")

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores a mark, an opened egg or a removal."""
        door = self.context.door
        uids = [egg.egg.uid for egg in eggs]
        batch = self.batch.uid
        if isinstance(verdict.code, HatchMark):
            mark = verdict.code
            return door.run(lambda journal: journal.hatchings.note_marks(batch, uids, mark, at))
        if isinstance(verdict.code, BreakOutResult):
            result = verdict.code
            change = door.run(lambda journal: self._open(journal, uids, result, at))
            self._signs.clear()
            self._positions.clear()
            return change
        reason = RemovalReason(verdict.code)
        return door.run(
            lambda journal: journal.removals.note(batch, [Removal(uid, at, reason) for uid in uids])
        )

    def _open(self, journal: Journal, uids: list[str], result: BreakOutResult, at: int) -> Change:
        signs = [BreakOutSign(code) for code in self._signs.ticked()]
        positions = [Malposition(code) for code in self._positions.ticked()]
        records = [BreakOut(uid, at, result) for uid in uids]
        return journal.break_outs.keep_all(self.batch.uid, records, malpositions=positions, signs=signs)

    def counts(self) -> dict[StrEnum, int]:
        """How often each was entered so far."""
        journal, batch = self.context.door.journal, self.batch.uid
        counts: dict[StrEnum, int] = {}
        codes: list[StrEnum] = [record.mark for record in journal.hatchings.of_batch(batch)]
        codes += [record.result for record in journal.break_outs.of_batch(batch)]
        codes += [record.reason for record in journal.removals.of_batch(batch)]
        for code in codes:
            counts[code] = counts.get(code, 0) + 1
        return counts

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs that are out, and for the opening those that were opened."""
        if egg.outcome.fate in _OUT:
            return True
        return self.subject.current() == "opened" and egg.outcome.opened

    def progress_text(self) -> str:
        """24 of 36 out, 5 opened."""
        chicks = sum(self.figures.counts.get(fate, 0) for fate in (Fate.HATCHED, Fate.HELPED, Fate.CULLED))
        opened = sum(egg.outcome.opened for egg in self.figures.eggs)
        return self.tr("{chicks} of {total} hatched, {opened} opened").format(
            chicks=number(chicks, 0), total=number(len(self.figures.eggs), 0), opened=number(opened, 0)
        )


class _Ticks(QWidget):
    """Check boxes in columns, by code."""

    def __init__(self, codes: list[tuple[StrEnum, str]]) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        self._boxes: dict[StrEnum, QCheckBox] = {}
        for position, (code, word) in enumerate(codes):
            box = QCheckBox(word)
            grid.addWidget(box, position // 2, position % 2)
            self._boxes[code] = box

    def ticked(self) -> list[StrEnum]:
        """The codes that are ticked."""
        return [code for code, box in self._boxes.items() if box.isChecked()]

    def clear(self) -> None:
        """Takes all ticks away."""
        for box in self._boxes.values():
            box.setChecked(False)
