"""What was seen in an egg besides its stage: the fields for its age, its signs, how it lay, and a note."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QLineEdit

from hatchbook.desk.opening.day_field import DayField
from hatchbook.desk.opening.key_ticks import KeyTicks
from hatchbook.desk.words.codes import malposition_word, sign_word
from hatchbook.desk.words.embryo import whose_signs
from hatchbook.figures.openings import KnownBefore, OpeningEgg, OpeningState
from hatchbook.journal import Batch, BreakOut
from hatchbook.trade.codes import BreakOutSign, Malposition
from hatchbook.trade.embryo import load_embryo_stages

_SIGN_KEYS = {
    BreakOutSign.WET: "W",
    BreakOutSign.DRY_AND_STUCK: "D",
    BreakOutSign.MALFORMED: "M",
    BreakOutSign.BAD_SMELL: "B",
    BreakOutSign.SMALL_AIR_CELL: "S",
    BreakOutSign.LARGE_AIR_CELL: "G",
    BreakOutSign.YOLK_OUTSIDE: "Y",
}


@dataclass(frozen=True)
class Seen:
    """What stands in the fields; ``codes`` are those of signs and malpositions."""

    day: float | None = None
    codes: frozenset[str] = frozenset()
    note: str = ""


class SeenFields(QObject):
    """Makes the fields, which their dialog lays out, and reads and fills them together.

    Signals:
        changed: the breeder ticked something, or left a field that he had typed into.
    """

    changed = Signal()

    def __init__(self, batch: Batch, parent: QObject) -> None:
        super().__init__(parent)
        stages = load_embryo_stages()
        self.day = DayField(
            stages.days_for(batch.incubation_days),
            whose_signs(batch.species, batch.incubation_days, stages.incubation_days),
        )
        self.signs = KeyTicks([(sign, _SIGN_KEYS[sign], sign_word(sign)) for sign in BreakOutSign], 2)
        positions = [(code, str(key), malposition_word(code)) for key, code in enumerate(Malposition, 1)]
        self.positions = KeyTicks(positions, 1)
        self.note = QLineEdit()
        self.note.setAccessibleName(self.tr("Note on the egg"))
        self.signs.changed.connect(self.changed)
        self.positions.changed.connect(self.changed)
        self.day.day_left.connect(self.changed)
        self.note.editingFinished.connect(self.changed)

    def seen(self) -> Seen:
        """What stands in the fields."""
        codes: list[StrEnum] = [*self.signs.ticked(), *self.positions.ticked()]
        return Seen(self.day.day(), frozenset(str(code) for code in codes), self.note.text().strip())

    def show_seen(self, seen: Seen, one: OpeningEgg, latest_day: float) -> None:
        """Fills the fields; the days that the candlings leave open stand out."""
        known = one.known is not KnownBefore.NOTHING and one.state is not OpeningState.GONE
        self.day.show_day(seen.day, (one.from_day, one.until_day) if known else None, latest_day)
        self.signs.show_ticked(seen.codes)
        self.positions.show_ticked(seen.codes)
        self.note.setText(seen.note)

    def toggle(self, key: str) -> bool:
        """Ticks or unticks by a key; False where it is no key of these."""
        return self.signs.toggle(key) or self.positions.toggle(key)


def seen_of(record: BreakOut, codes: Collection[str]) -> Seen:
    """What was stored of an opened egg, with the codes of its signs and malpositions."""
    return Seen(record.dead_day, frozenset(codes), record.note)


def signs_in(seen: Seen) -> tuple[BreakOutSign, ...]:
    """The signs among the codes."""
    return tuple(sign for sign in BreakOutSign if sign in seen.codes)


def positions_in(seen: Seen) -> tuple[Malposition, ...]:
    """The malpositions among the codes."""
    return tuple(position for position in Malposition if position in seen.codes)
