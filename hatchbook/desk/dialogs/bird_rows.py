"""The birds of a pen as they are typed, a row each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from PySide6.QtCore import QCoreApplication, QObject, Signal

from hatchbook.desk.dialogs.cells import CellModel, Column
from hatchbook.desk.entry.day_text import DayError, day_text, parse_day
from hatchbook.journal import PenMember
from hatchbook.journal.table import new_uid

NAME, SEX, BREED, RING, SINCE, UNTIL = range(6)
MALE, FEMALE = "male", "female"


def _tr(text: str) -> str:
    return QCoreApplication.translate("BirdRows", text)


class BirdRows(CellModel):
    """Cocks and hens. A row that can be stored is told as soon as one of its cells is left.

    Signals:
        bird_typed: a ``PenMember`` as it stands in its row, new or changed.
        removal_wanted: the ``PenMember`` that is to go.
    """

    bird_typed = Signal(object)
    removal_wanted = Signal(object)

    def __init__(self, today: Callable[[], date], parent: QObject | None = None) -> None:
        super().__init__(
            (
                Column(_tr("Bird"), _tr("Its name"), 130),
                Column(_tr("Sex"), "", 84),
                Column(_tr("Breed"), "", 110),
                Column(_tr("Ring"), "", 80),
                Column(_tr("Since"), _tr("In the pen since"), 84),
                Column(_tr("Until"), _tr("Left the pen"), 84),
            ),
            ghost=_tr("Add a bird…"),
            parent=parent,
        )
        self._today = today
        self._pen = ""
        self._birds: list[PenMember | None] = []
        self._uids: list[str] = []
        self.edited.connect(self._tell_birds)

    def show_birds(self, pen: str, birds: Sequence[PenMember]) -> None:
        """Shows the birds of a pen."""
        self._pen = pen
        self._birds = list(birds)
        self._uids = [bird.uid for bird in birds]
        self.set_texts([self._texts_of(bird) for bird in birds])

    def bird_at(self, row: int) -> PenMember | None:
        """The stored bird of a row."""
        return self._birds[row] if 0 <= row < len(self._birds) else None

    def choices_of(self, column: int) -> Sequence[str] | None:
        """Male or female."""
        return (_tr("male"), _tr("female")) if column == SEX else None

    def added(self, row: int) -> None:
        """The first bird of a pen is likely the cock."""
        self._birds.append(None)
        self._uids.append(new_uid())
        has_male = any(_sex(texts[SEX]) == MALE for texts in self._rows[:row])
        self._rows[row][SEX] = _tr("female") if has_male else _tr("male")

    def changed(self, row: int, column: int) -> None:
        """Dates are written out."""
        text = self._rows[row][column]
        if column in (SINCE, UNTIL) and (day := _day(text, self._today())) is not None:
            self._rows[row][column] = day_text(day, self._today())

    def trouble_of(self, row: int, column: int) -> str:
        """What is missing or cannot be read."""
        text = self._rows[row][column]
        if column == NAME and not text:
            return _tr("Give the bird a name.")
        if column == SEX and _sex(text) is None:
            return _tr("Male or female?")
        if column in (SINCE, UNTIL) and text:
            try:
                day = parse_day(text, self._today())
            except DayError as error:
                return str(error)
            since = _day(self._rows[row][SINCE], self._today())
            if column == UNTIL and since is not None and day < since:
                return _tr("It cannot leave before it came.")
        return ""

    def remove_row(self, row: int) -> bool:
        """A stored bird is asked to go, and the journal has the last word; one that is not goes at once."""
        bird = self.bird_at(row)
        if bird is not None:
            self.removal_wanted.emit(bird)
            return False
        if row < len(self._birds):
            del self._birds[row], self._uids[row]
        return super().remove_row(row)

    def _tell_birds(self) -> None:
        for row in range(len(self._rows)):
            if any(self.trouble_of(row, column) for column in range(len(self.columns))):
                continue
            bird = self._made(row)
            if bird != self._birds[row]:
                self._birds[row] = bird
                self.bird_typed.emit(bird)

    def _made(self, row: int) -> PenMember:
        texts, old, today = self._rows[row], self._birds[row], self._today()

        def stored(column: int) -> str | None:
            day = _day(texts[column], today)
            return None if day is None else day.isoformat()

        return PenMember(
            pen=self._pen,
            name=texts[NAME],
            sex=_sex(texts[SEX]) or FEMALE,
            breed=texts[BREED],
            ring=texts[RING],
            from_on=stored(SINCE),
            until_on=stored(UNTIL),
            note="" if old is None else old.note,
            uid=self._uids[row],
        )

    def _texts_of(self, bird: PenMember) -> tuple[str, ...]:
        today = self._today()

        def shown(day: str | None) -> str:
            return "" if day is None else day_text(date.fromisoformat(day), today)

        sex = _tr("male") if bird.sex == MALE else _tr("female")
        return bird.name, sex, bird.breed, bird.ring, shown(bird.from_on), shown(bird.until_on)


def _sex(text: str) -> str | None:
    """The sex that a text means: the word itself or its beginning, in the breeder's language; cock and hen."""
    wanted = text.strip().casefold()
    if not wanted:
        return None
    words = {MALE: (_tr("male"), _tr("cock")), FEMALE: (_tr("female"), _tr("hen"))}
    found = {sex for sex, names in words.items() if any(name.casefold().startswith(wanted) for name in names)}
    return found.pop() if len(found) == 1 else None


def _day(text: str, near: date) -> date | None:
    try:
        return parse_day(text, near) if text else None
    except DayError:
        return None
