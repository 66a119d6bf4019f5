"""The eggs of a batch by pens: from which pen, how many, when the oldest was laid, which letter they carry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from PySide6.QtCore import QCoreApplication, QObject

from hatchbook.desk.dialogs.cells import CellModel, Column
from hatchbook.desk.dialogs.edit_table import EditTable, stretch_column
from hatchbook.desk.entry.day_text import DayError, day_text, parse_day
from hatchbook.figures.planning import PenRow
from hatchbook.journal import Egg, Pen

PEN, EGGS, LAID, LETTER = range(4)
_MOST_EGGS = 3600
"""What the largest machine that the journal knows holds on one tray."""
_LONGEST_LETTER = 8


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("PenRows", text, "", n)


class PenRowsModel(CellModel):
    """Rows of eggs as they are typed. A name that no pen has yet makes a new pen."""

    def __init__(
        self, pens: Sequence[Pen], set_on: Callable[[], date], parent: QObject | None = None
    ) -> None:
        """``set_on``: the date of setting as it stands, by which dates are completed and checked."""
        super().__init__(
            (
                Column(
                    _tr("Pen"),
                    _tr("A pen of yours, or the name of a new one; empty where it is not known"),
                    200,
                ),
                Column(_tr("Eggs"), _tr("How many eggs"), 70, number=True),
                Column(
                    _tr("Oldest laid"),
                    _tr(
                        "When the oldest egg was laid; it is kept for every egg of the row. "
                        "Give each day a row of its own to be exact."
                    ),
                    130,
                ),
                Column(_tr("Letter on the shell"), _tr("What is written on these eggs"), 130),
            ),
            ghost=_tr("Add a pen…"),
            parent=parent,
        )
        self._pens = {pen.name.casefold(): pen for pen in pens}
        self._names = [pen.name for pen in pens if pen.until_on is None]
        self._set_on = set_on
        self._known: list[tuple[Egg, ...]] = []
        self._with_records: frozenset[str] = frozenset()
        self.asks = False
        """Whether what is missing is said as well as what is wrong."""

    # ---------------------------------------------------------------- rows

    def show_rows(self, rows: Sequence[PenRow], with_records: frozenset[str] = frozenset()) -> None:
        """Shows the rows of a batch; eggs of ``with_records`` cannot be taken away."""
        near = self._set_on()
        self._known = [row.known for row in rows]
        self._with_records = with_records
        self.set_texts(
            [
                (
                    row.pen_name,
                    str(row.eggs) if row.eggs else "",
                    day_text(row.laid_on, near) if row.laid_on is not None else "",
                    row.letter,
                )
                for row in rows
            ]
        )

    def rows(self) -> tuple[PenRow, ...]:
        """What was entered; what cannot be read counts as nothing."""
        near = self._set_on()
        return tuple(
            PenRow(
                self._pen_name(texts[PEN]),
                _count(texts[EGGS]) or 0,
                _laid(texts[LAID], near),
                texts[LETTER],
                self._known_of(row),
            )
            for row, texts in enumerate(self.texts())
        )

    @property
    def eggs(self) -> int:
        """How many eggs."""
        return sum(row.eggs for row in self.rows())

    def ask(self) -> None:
        """Says from now on what is missing, too."""
        self.asks = True
        self._look_again()

    def pens_changed(self, pens: Sequence[Pen]) -> None:
        """Offers other pens."""
        self._pens = {pen.name.casefold(): pen for pen in pens}
        self._names = [pen.name for pen in pens if pen.until_on is None]

    def refresh(self) -> None:
        """The date of setting has changed: what is wrong with the dates may have, too."""
        self._look_again()

    def _pen_name(self, text: str) -> str:
        known = self._pens.get(text.casefold())
        return known.name if known is not None else text

    def _known_of(self, row: int) -> tuple[Egg, ...]:
        return self._known[row] if row < len(self._known) else ()

    def _forget(self, row: int) -> None:
        if row < len(self._known):
            del self._known[row]

    def remove_row(self, row: int) -> bool:
        """Takes a row away, unless eggs of it have records."""
        if any(egg.uid in self._with_records for egg in self._known_of(row)):
            return False
        return super().remove_row(row)

    # ---------------------------------------------------------------- what follows

    def choices_of(self, column: int) -> Sequence[str] | None:
        """The pens."""
        return self._names if column == PEN else None

    def changed(self, row: int, column: int) -> None:
        """A pen brings its letter; a date is written out."""
        texts = self._rows[row]
        if column == PEN and texts[PEN] and not texts[LETTER]:
            texts[LETTER] = self._letter_for(row, texts[PEN])
        if column == LAID and (laid := _laid(texts[LAID], self._set_on())) is not None:
            texts[LAID] = day_text(laid, self._set_on())

    def _letter_for(self, row: int, name: str) -> str:
        """The pen's own letter, or the first of its name that no other row and no other pen has."""
        known = self._pens.get(name.casefold())
        if known is not None and known.letter:
            return known.letter
        others = {texts[LETTER].upper() for at, texts in enumerate(self._rows) if at != row}
        others |= {pen.letter.upper() for pen in self._pens.values()}
        return next((sign.upper() for sign in name if sign.isalnum() and sign.upper() not in others), "")

    def trouble_of(self, row: int, column: int) -> str:
        """What cannot be read or cannot be; once asked, what is missing."""
        text = self._rows[row][column]
        if column == EGGS:
            return self._eggs_trouble(row, text)
        if column == LAID and text:
            try:
                laid = parse_day(text, self._set_on())
            except DayError as error:
                return str(error)
            if laid > self._set_on():
                return _tr("These eggs would be laid after they are set.")
        if column == LETTER and len(text) > _LONGEST_LETTER:
            return _tr("Write at most %n letter(s) on a shell.", _LONGEST_LETTER)
        return ""

    def _eggs_trouble(self, row: int, text: str) -> str:
        if not text:
            needed = self.asks and (any(self._rows[row]) or not self.eggs)
            return _tr("How many eggs?") if needed else ""
        count = _count(text)
        if count is None:
            return _tr("“{text}” is not a number of eggs.").format(text=text)
        stay = sum(egg.uid in self._with_records for egg in self._known_of(row))
        if count < stay:
            return _tr("Of %n of these eggs something is recorded: they stay.", stay)
        if count > _MOST_EGGS:
            return _tr("So many eggs lie in no machine.")
        if count == 0 and self.asks and not self.eggs:
            return _tr("A batch has at least one egg.")
        return ""


class PenTable(EditTable):
    """The table of the pens."""

    def __init__(self, model: PenRowsModel) -> None:
        super().__init__(model, _tr("Eggs by pen"), rows_shown=4)
        stretch_column(self, PEN)


def _count(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None


def _laid(text: str, near: date) -> date | None:
    try:
        return parse_day(text, near) if text else None
    except DayError:
        return None
