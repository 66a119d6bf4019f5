"""A candling from paper, in the light: one key an egg, or a whole list at once."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.rounds.round_dialog import EggRoundDialog, Verdict
from hatchbook.desk.rounds.wide_round import RIGHT_HAND
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.candling import verdict_hint, verdict_title
from hatchbook.desk.words.numbers import number
from hatchbook.desk.words.typing import egg_list_sentence
from hatchbook.exchange.typed_eggs import EggList, EggListError
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Candling, Change
from hatchbook.trade.candling import STILL_CANDLED, look_on
from hatchbook.trade.codes import Fate, FindingCode
from hatchbook.trade.instants import InstantError, day_number

#: The most frequent answer lies under the index finger of the right hand.
_KEYS: tuple[tuple[FindingCode, str, Fate], ...] = (
    (FindingCode.EARLY_DEAD, "U", Fate.EARLY_DEAD),
    (FindingCode.DEAD, "I", Fate.LATE_DEAD),
    (FindingCode.CRACKED, "O", Fate.CRACKED),
    (FindingCode.ROTTEN, "P", Fate.ROTTEN),
    (FindingCode.ALIVE, "J", Fate.ALIVE),
    (FindingCode.CLEAR, "K", Fate.CLEAR),
    (FindingCode.UNSURE, "L", Fate.UNSURE),
)


class CandlingDialog(EggRoundDialog):
    """A new candling, the one of the last hours gone on with, or an earlier one changed."""

    key_places = RIGHT_HAND

    def __init__(
        self, context: DeskContext, batch: Batch, parent: QWidget | None, *, candling: Candling | None = None
    ) -> None:
        self._known: dict[str, FindingCode] = {}
        begun = context.door.journal.candlings.going_on(batch.uid, context.now())
        self._candling = candling or begun or Candling(batch.uid, context.now())
        title = QCoreApplication.translate("Rounds", "Candling of {label} {name}, from paper").format(
            label=batch.label, name=batch.name
        )
        super().__init__(context, batch, title, parent, self._candling.at)
        self._read()
        self._add_observer()
        self._add_list()
        self.below_keys.addWidget(
            Label(
                self.tr("Rotten eggs can burst: bag them first. Wash your hands afterwards."),
                "caption",
                "ink2",
                wraps=True,
            )
        )
        look = look_on(max(day_number(self._candling.at, batch.set_at), 0.0), batch.incubation_days)
        self.set_verdicts(
            [
                Verdict(code, letter, verdict_title(code), fate, verdict_hint(code, look))
                for code, letter, fate in _KEYS
            ]
        )
        self.go_on("")

    def _add_observer(self) -> None:
        known = self._candling.by_whom or self.context.settings.get(settings.OBSERVER)
        self.observer = QLineEdit(known)
        self.observer.setAccessibleName(self.tr("Who candled"))
        self.observer.editingFinished.connect(self._name_observer)
        row = QHBoxLayout()
        row.addWidget(Label(self.tr("Who candled"), ink="ink2"))
        row.addWidget(self.observer, 1)
        self.above_keys.addLayout(row)

    def _add_list(self) -> None:
        self.eggs_typed = QLineEdit()
        self.eggs_typed.setPlaceholderText(self.tr("3, 7, C2, 10–14"))
        self.eggs_typed.setAccessibleName(self.tr("Eggs, by number or place"))
        self.eggs_typed.setClearButtonEnabled(True)
        self.eggs_typed.returnPressed.connect(self.choose_typed)
        self.eggs_typed.textChanged.connect(lambda _text: self._name_rest())
        self.list = WithTrouble(self.eggs_typed)
        row = QHBoxLayout()
        row.addWidget(Label(self.tr("Eggs"), ink="ink2"))
        row.addWidget(self.list, 1)
        choose = QPushButton(self.tr("&Choose them"))
        choose.setAutoDefault(False)
        choose.clicked.connect(self.choose_typed)
        row.addWidget(choose)
        self.below_keys.addLayout(row)
        self.rest = QPushButton()
        self.rest.setAutoDefault(False)
        self.rest.clicked.connect(self._rest_alive)
        self.below_keys.addWidget(self.rest)
        self._name_rest()

    def _name_rest(self) -> None:
        self.list.tell("")
        typed = bool(self.eggs_typed.text().strip())
        self.rest.setText(
            self.tr("&All are alive but these") if typed else self.tr("&All eggs without a finding are alive")
        )

    # ---------------------------------------------------------------- lists

    def choose_typed(self) -> None:
        """Chooses the eggs that were typed, so that one key gives them their verdict."""
        uids = self._typed()
        if uids:
            self.choose_all(uids)
            self.tray.setFocus()

    def _typed(self) -> tuple[str, ...]:
        """The uids of the eggs that were typed; none, and what is wrong told, where they are not right."""
        try:
            uids = EggList(egg.egg for egg in self.figures.eggs).read(self.eggs_typed.text())
        except EggListError as error:
            self.list.tell(egg_list_sentence(error))
            return ()
        self.list.tell("")
        return uids

    def _rest_alive(self) -> None:
        """Calls all alive that have no finding, but those that were typed; these are then chosen."""
        but: tuple[str, ...] = ()
        if self.eggs_typed.text().strip() and not (but := self._typed()):
            return
        eggs = [egg for egg in self.figures.eggs if not self.is_passed(egg) and egg.egg.uid not in but]
        alive = next(verdict for verdict in self.verdicts if verdict.code is FindingCode.ALIVE)
        try:
            at = self.instant()
        except InstantError as error:
            self.tell(str(error))
            return
        if objection := self.objection(alive, eggs, at):
            self.tell(objection)
            return
        if eggs and self._note({egg.egg.uid: FindingCode.ALIVE for egg in eggs}, at) is None:
            return
        if but:
            self.choose_all(but)
            self.tray.setFocus()
            told = self.tr("%n egg(s) alive. Now press what the chosen ones were.", "", len(eggs))
            self.tell(told, "info")

    # ---------------------------------------------------------------- the candling

    def _name_observer(self) -> None:
        name = self.observer.text().strip()
        self.context.settings.keep(settings.OBSERVER, name)
        stored = self.context.door.journal.candlings.find(self._candling.uid)
        if stored is not None and stored.by_whom != name:
            named = replace(stored, by_whom=name)
            self.context.door.run(lambda journal: journal.candlings.replace(named))

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
            by_whom = self.observer.text().strip()
            self._candling = candling = Candling(candling.batch, at, by_whom=by_whom, uid=candling.uid)
        return self.context.door.run(lambda journal: journal.candlings.note_findings(candling, codes, at))

    def counts(self) -> dict[StrEnum, int]:
        """How often each was seen in this candling."""
        return {code: sum(seen is code for seen in self._known.values()) for code in FindingCode}

    def is_passed(self, egg: EggFigures) -> bool:
        """Eggs with a finding of this candling, and those that were out before it."""
        return egg.egg.uid in self._known or egg.outcome.fate not in STILL_CANDLED

    def progress_text(self) -> str:
        """14 of 32 done."""
        eggs = self.figures.eggs
        total = sum(egg.egg.uid in self._known or egg.outcome.fate in STILL_CANDLED for egg in eggs)
        done = len(self._known)
        return self.tr("{done} of {total} done").format(done=number(done, 0), total=number(total, 0))
