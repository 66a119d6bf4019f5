"""The list of eggs with their weights from paper: typed, pasted, and looked at before anything is stored."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from PySide6.QtCore import QObject

from hatchbook.desk.dialogs.cells import CellModel, Column
from hatchbook.desk.egg.typed_values import HEAVIEST_G
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.numbers import NONE_SIGN, percent
from hatchbook.desk.words.typing import number_sentence
from hatchbook.desk.words.weighing import last_weight, odd_sentence
from hatchbook.figures.to_weigh import EggToWeigh, OddMass
from hatchbook.trade.scale_text import ScaleMass, read_scale
from hatchbook.trade.units import NumberError, Unit

EGG, LAST, WEIGHT, LOST, REMARK = range(5)


@dataclass(frozen=True)
class PaperMass:
    """A weight that was typed for an egg; ``odd``: why it is asked about."""

    egg: EggToWeigh
    found: ScaleMass
    odd: OddMass | None


class PaperModel(CellModel):
    """A row an egg, of which the weight can be typed; the loss and what is odd follow it."""

    def __init__(self, zone: ZoneInfo, unit: Unit, at: int, parent: QObject | None = None) -> None:
        self._zone, self._unit, self._at = zone, unit, at
        self._eggs: tuple[EggToWeigh, ...] = ()
        super().__init__(
            [
                Column(self.tr("Egg"), width=90, editable=False),
                Column(self.tr("Weighed last"), width=170, editable=False),
                Column(self.tr("Weight"), self.tr("Type or paste weights; empty is not weighed"), 90, True),
                Column(self.tr("Lost"), width=70, number=True, editable=False),
                Column("", width=200, editable=False),
            ],
            parent=parent,
        )

    def show_eggs(self, eggs: Sequence[EggToWeigh]) -> None:
        """Shows these eggs, none of them weighed yet."""
        self._eggs = tuple(eggs)
        self.set_texts(
            [
                [egg_title(egg.figures), last_weight(egg, self._zone, self._unit), "", "", ""]
                for egg in self._eggs
            ]
        )

    def set_meaning(self, unit: Unit, at: int) -> None:
        """Means another unit or instant from now on: what is odd may change by it."""
        self._unit, self._at = unit, at
        for row in range(len(self._eggs)):
            self.changed(row, WEIGHT)
        self._look_again()

    def paste(self, row: int, text: str) -> int:
        """Puts a pasted column into the weights from a row on; of several columns the last number counts.

        Returns how many lines found no egg any more.
        """
        lines = [line for line in text.splitlines() if line.strip()]
        for position, line in enumerate(lines):
            if row + position < len(self._eggs):
                value = line.split("\t")[-1].strip()
                self.setData(self.index(row + position, WEIGHT), value)
        return max(0, row + len(lines) - len(self._eggs))

    def trouble_of(self, row: int, column: int) -> str:
        """What is wrong with a weight."""
        if column != WEIGHT or not self.texts()[row][WEIGHT]:
            return ""
        try:
            found = read_scale(self.texts()[row][WEIGHT], self._unit, below=HEAVIEST_G)
        except NumberError as error:
            return number_sentence(error)
        return "" if found.mass_g > 0 else self.tr("A mass is more than nothing.")

    def changed(self, row: int, column: int) -> None:
        """The loss and the remark follow the weight."""
        if column != WEIGHT:
            return
        typed = self._mass_of(row)
        lost, remark = "", self.trouble_of(row, WEIGHT)
        if typed is not None:
            loss = typed.egg.loss_percent(typed.found.mass_g)
            lost = NONE_SIGN if loss is None else percent(loss)
            remark = "" if typed.odd is None else odd_sentence(typed.egg, typed.odd, self._unit)
        self._rows[row][LOST], self._rows[row][REMARK] = lost, remark

    def _mass_of(self, row: int) -> PaperMass | None:
        text = self.texts()[row][WEIGHT]
        if not text or self.trouble_of(row, WEIGHT):
            return None
        found = read_scale(text, self._unit, below=HEAVIEST_G)
        egg = self._eggs[row]
        return PaperMass(egg, found, egg.odd(found.mass_g, self._at))

    def masses(self) -> list[PaperMass]:
        """The weights that are typed and can be read."""
        found = (self._mass_of(row) for row in range(len(self._eggs)))
        return [mass for mass in found if mass is not None]
