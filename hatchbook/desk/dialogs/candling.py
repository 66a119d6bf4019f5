"""Candling: what was seen in each egg, by one key an egg; also entered afterwards from paper."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QPushButton, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.rounds.round_dialog import EggRoundDialog, Verdict
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import finding_word
from hatchbook.desk.words.numbers import number
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Candling, Change
from hatchbook.trade.codes import Fate, FindingCode

#: The most frequent answer lies under the index finger of the right hand.
_KEYS: tuple[tuple[FindingCode, str, Fate], ...] = (
    (FindingCode.EARLY_DEAD, "U", Fate.EARLY_DEAD),
    (FindingCode.DEAD, "I", Fate.DEAD),
    (FindingCode.CRACKED, "O", Fate.CRACKED),
    (FindingCode.ALIVE, "J", Fate.ALIVE),
    (FindingCode.CLEAR, "K", Fate.CLEAR),
    (FindingCode.UNSURE, "L", Fate.UNSURE),
    (FindingCode.ROTTEN, "P", Fate.ROTTEN),
)
#: A candling that was begun so short a time ago is gone on with.
_SAME_CANDLING_S = 3 * 3600


class CandlingDialog(EggRoundDialog):
    """A new candling, the one of the last hours gone on with, or an earlier one changed."""

    def __init__(
        self, context: DeskContext, batch: Batch, parent: QWidget | None, *, candling: Candling | None = None
    ) -> None:
        self._known: dict[str, FindingCode] = {}
        self._candling = candling if candling is not None else self._begun(context, batch)
        title = QCoreApplication.translate("Rounds", "Candle {label} {name}").format(
            label=batch.label, name=batch.name
        )
        super().__init__(context, batch, title, parent, self._candling.at)
        self._read()
        self.rest = QPushButton(self.tr("All eggs without a finding are &alive"))
        self.rest.setAutoDefault(False)
        self.rest.clicked.connect(self._rest_alive)
        self.below_keys.addWidget(self.rest)
        self.below_keys.addWidget(
            Label(
                self.tr("Rotten eggs can burst: bag them. Wash your hands afterwards."),
                "caption",
                "ink2",
                wraps=True,
            )
        )
        self.set_verdicts([Verdict(code, letter, finding_word(code), fate) for code, letter, fate in _KEYS])
        self.go_on("")

    @staticmethod
    def _begun(context: DeskContext, batch: Batch) -> Candling:
        now = context.now()
        for candling in reversed(context.door.journal.candlings.of_batch(batch.uid)):
            if 0 <= now - candling.at < _SAME_CANDLING_S:
                return candling
        return Candling(batch.uid, now)

    def _read(self) -> None:
        findings = self.context.door.journal.candlings.findings_of(self._candling.uid)
        self._known = {finding.egg: finding.code for finding in findings}

    def refresh(self) -> None:
        """Reads the findings of this candling anew."""
        self._read()
        super().refresh()

    def store(self, verdict: Verdict, eggs: list[EggFigures], at: int) -> Change | None:
        """Stores what was seen, at once."""
        code = FindingCode(verdict.code)
        return self._note({egg.egg.uid: code for egg in eggs}, at)

    def _note(self, codes: dict[str, FindingCode], at: int) -> Change | None:
        candling = self._candling
        stored = self.context.door.journal.candlings.find(candling.uid)
        if stored is None:
            self._candling = candling = Candling(candling.batch, at, uid=candling.uid)
        return self.context.door.run(lambda journal: journal.candlings.note_findings(candling, codes, at))

    def counts(self) -> dict[StrEnum, int]:
        """How often each was seen in this candling."""
        return {code: sum(seen is code for seen in self._known.values()) for code in FindingCode}

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs with a finding of this candling, and those that were out before it."""
        return egg.egg.uid in self._known or egg.outcome.fate not in _TO_CANDLE

    def progress_text(self) -> str:
        """14 of 32 done."""
        total = sum(egg.egg.uid in self._known or egg.outcome.fate in _TO_CANDLE for egg in self.figures.eggs)
        done = len(self._known)
        return self.tr("{done} of {total} done").format(done=number(done, 0), total=number(total, 0))

    def _rest_alive(self) -> None:
        rest = {egg.egg.uid: FindingCode.ALIVE for egg in self.figures.eggs if not self.is_passed(egg)}
        if rest:
            self._note(rest, self._candling.at)


_TO_CANDLE = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE})
