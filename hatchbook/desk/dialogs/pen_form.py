"""A pen: its name, what is bred in it, the letter on its eggs, and its birds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.bird_rows import NAME, BirdRows
from hatchbook.desk.dialogs.edit_table import EditTable, stretch_column
from hatchbook.desk.dialogs.pen_outcome import PenOutcome
from hatchbook.desk.dialogs.record_form import RecordForm, labelled
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.entry.day_text import DayError, day_text, parse_day
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.holding import use_line, used_sentence
from hatchbook.figures.offered import offered_species
from hatchbook.journal import Pen, PenMember

_LONGEST_NAME, _LONGEST_LETTER = 60, 8


class PenForm(RecordForm):
    """The form of a pen."""

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.name = self._line(_LONGEST_NAME, self.tr("Name of the pen"))
        self.name_line = WithTrouble(self.name)
        self.species = QComboBox()
        self.species.setAccessibleName(self.tr("Species"))
        self.breed = self._line(_LONGEST_NAME, self.tr("Breed"))
        self.letter = self._line(_LONGEST_LETTER, self.tr("Letter on the shells"))
        self.since = self._line(20, self.tr("Since"))
        self.since_line = WithTrouble(self.since)
        self.until = self._line(20, self.tr("Until"))
        self.until_line = WithTrouble(self.until)
        self.remark = self._line(2000, self.tr("Note"))
        self.birds = BirdRows(context.today)
        self.bird_table = EditTable(self.birds, self.tr("Birds of the pen"), rows_shown=8)
        stretch_column(self.bird_table, NAME)
        self.bird_line = Label("", role="caption", ink="bad", wraps=True)
        self.bird_title = Label(self.tr("&Birds"), role="section")
        self.bird_title.setBuddy(self.bird_table)
        self.outcome = PenOutcome(context)
        self.add_button.setText(self.tr("Add pen"))
        self._lay_out()
        self.name.textEdited.connect(lambda _text: self._check_name())
        for field in (self.name, self.breed, self.letter, self.since, self.until, self.remark):
            field.editingFinished.connect(self._store)
        self.species.activated.connect(lambda _row: self._store())
        self.birds.edited.connect(self._show_bird_trouble)
        self.birds.bird_typed.connect(self._store_bird)
        self.birds.removal_wanted.connect(self._remove_bird)

    def _line(self, longest: int, name: str) -> QLineEdit:
        line = QLineEdit()
        line.setMaxLength(longest)
        line.setAccessibleName(name)
        return line

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        fields: tuple[tuple[str, QWidget, QWidget], ...] = (
            (self.tr("Nam&e"), self.name_line, self.name),
            (self.tr("&Species"), self.species, self.species),
            (self.tr("B&reed"), self.breed, self.breed),
            (self.tr("&Letter on the shells"), self.letter, self.letter),
            (self.tr("Sin&ce"), self.since_line, self.since),
            (self.tr("&Until"), self.until_line, self.until),
        )
        for at, (text, widget, buddy) in enumerate(fields):
            row, column = at // 2, 2 * (at % 2)
            grid.addWidget(labelled(text, buddy), row, column)
            grid.addWidget(widget, row, column + 1)
        grid.addWidget(labelled(self.tr("N&ote"), self.remark), 3, 0)
        grid.addWidget(self.remark, 3, 1, 1, 3)
        head = QHBoxLayout()
        head.addWidget(self.bird_title)
        head.addStretch(1)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(grid)
        rows.addLayout(head)
        rows.addWidget(self.bird_table)
        rows.addWidget(self.bird_line)
        rows.addWidget(self.outcome)
        self.frame(rows)

    # ---------------------------------------------------------------- showing

    def show_record(self, uid: str | None) -> None:
        """Shows a pen as it is stored; None for a new one."""
        super().show_record(uid)
        journal = self.context.door.journal
        pen = None if uid is None else journal.pens.find(uid)
        shown = pen if pen is not None else Pen("")
        self._fill_species(shown.species)
        self.name.setText(shown.name)
        self.breed.setText(shown.breed)
        self.letter.setText(shown.letter)
        self.since.setText(self._shown(shown.from_on))
        self.until.setText(self._shown(shown.until_on))
        self.remark.setText(shown.note)
        for line in (self.name_line, self.since_line, self.until_line):
            line.tell("")
        for widget in (self.bird_title, self.bird_table):
            widget.setVisible(pen is not None)
        self.bird_line.setVisible(False)
        self.birds.show_birds(shown.uid, [] if pen is None else journal.pens.members(pen.uid))
        self.outcome.show_pen(None if pen is None else pen.uid)
        self.title.setText(self.tr("New pen") if pen is None else pen.name)
        if pen is None:
            self.state.setText(self.tr("Its birds can be entered once it is added."))
            return
        ended = pen.until_on is not None
        self.retire_button.setText(self.tr("Take into use again") if ended else self.tr("Retire"))
        used = use_line(journal.uses.of_pen(pen.uid))
        self.state.setText(
            self.tr("Used by {what}.").format(what=used) if used else self.tr("No eggs from it yet.")
        )

    def _fill_species(self, code: str) -> None:
        self.species.clear()
        self.species.addItem(self.tr("not said"), "")
        for one in offered_species(self.context.door.journal):
            self.species.addItem(species_word(one.code), one.code)
        if self.species.findData(code) < 0:
            self.species.addItem(species_word(code), code)
        self.species.setCurrentIndex(self.species.findData(code))

    def _shown(self, day: str | None) -> str:
        return "" if day is None else day_text(date.fromisoformat(day), self.context.today())

    def focus_first(self) -> None:
        """Puts the focus to the name."""
        focus(self.name)

    # ---------------------------------------------------------------- storing

    def _check_name(self, *, asks: bool = False) -> bool:
        name = self.name.text().strip()
        others = self.context.door.journal.pens.all()
        if not name:
            trouble = self.tr("Give the pen a name.") if asks or self.uid is not None else ""
        elif any(one.name.casefold() == name.casefold() and one.uid != self.uid for one in others):
            trouble = self.tr("There is a pen of that name already.")
        else:
            trouble = ""
        self.name_line.tell(trouble)
        return bool(name) and not trouble

    def _made(self, base: Pen) -> Pen | None:
        """The pen as it was typed; None where something cannot be, which is then said."""
        days: list[date | None] = []
        for line, field in ((self.since_line, self.since), (self.until_line, self.until)):
            line.tell("")
            text = field.text().strip()
            try:
                days.append(parse_day(text, self.context.today()) if text else None)
            except DayError as error:
                line.tell(str(error))
                return None
        since, until = days
        if since is not None and until is not None and until < since:
            self.until_line.tell(self.tr("It cannot end before it began."))
            return None
        return replace(
            base,
            name=self.name.text().strip(),
            species=str(self.species.currentData()),
            breed=self.breed.text().strip(),
            letter=self.letter.text().strip(),
            from_on=None if since is None else since.isoformat(),
            until_on=None if until is None else until.isoformat(),
            note=self.remark.text().strip(),
        )

    def _store(self) -> None:
        pen = self.context.door.journal.pens.find(self.uid or "")
        if pen is None or not self._check_name():
            return
        changed = self._made(pen)
        if changed is None or changed == pen:
            return
        if self.run(lambda journal: journal.pens.replace(changed)) is not None:
            self.show_record(changed.uid)

    def add(self) -> None:
        """Adds the pen."""
        if not self._check_name(asks=True):
            focus(self.name)
            return
        pen = self._made(Pen(""))
        if pen is not None and self.run(lambda journal: journal.pens.add(pen)) is not None:
            self.record_added.emit(pen.uid)

    # ---------------------------------------------------------------- birds

    def _show_bird_trouble(self) -> None:
        found = self.birds.first_trouble()
        self.bird_line.setText(found[2] if found is not None else "")
        self.bird_line.setVisible(found is not None)

    def _store_bird(self, bird: PenMember) -> None:
        known = any(one.uid == bird.uid for one in self.context.door.journal.pens.members(bird.pen))
        self.run(
            lambda journal: journal.pens.replace_member(bird) if known else journal.pens.add_member(bird)
        )

    def _remove_bird(self, bird: PenMember) -> None:
        uses = self.context.door.journal.uses.of_bird(bird.uid)
        if uses.any:
            self.tell(
                self.tr(
                    "{bird} is the dam of eggs in %n batch(es); say until when it was in the pen instead.",
                    "",
                    uses.batches,
                ).format(bird=bird.name)
            )
            return
        self.context.door.run(lambda journal: journal.pens.remove_member(bird))

    # ---------------------------------------------------------------- in and out of use

    def retire(self) -> None:
        """Ends the pen today, or takes it into use again; its eggs stay."""
        pen = self.context.door.journal.pens.find(self.uid or "")
        if pen is not None:
            changed = replace(pen, until_on=self.today() if pen.until_on is None else None)
            self.run(lambda journal: journal.pens.replace(changed))
            self.show_record(pen.uid)

    def delete(self) -> None:
        """Deletes the pen if no eggs came from it."""
        journal = self.context.door.journal
        pen = journal.pens.find(self.uid or "")
        if pen is None:
            return
        uses = journal.uses.of_pen(pen.uid)
        if uses.any:
            self.tell(used_sentence(uses), link="" if pen.until_on else self.tr("Retire it"))
            return
        self.context.door.run(lambda journal: journal.pens.remove(pen))
