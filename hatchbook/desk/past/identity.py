"""What a batch of a past season was: number, season, species, where it came from and lay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCompleter, QGridLayout, QLineEdit, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.entry.day_text import DayError, parse_day
from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import species_word, word
from hatchbook.desk.words.dates import date_text
from hatchbook.desk.words.past_seasons import typed_sentence
from hatchbook.desk.words.planning import programme_title
from hatchbook.exchange.past_seasons.cells import parse_season
from hatchbook.exchange.past_seasons.labels import free_label
from hatchbook.exchange.past_seasons.refusals import Refusal
from hatchbook.figures.offered import offered_species
from hatchbook.figures.past_batches import past_label_taken
from hatchbook.journal import PastBatch
from hatchbook.trade.codes import EggSource
from hatchbook.trade.instants import season_of

_LONGEST_LABEL, _LONGEST = 24, 80


@dataclass(frozen=True)
class _Field:
    text: str
    widget: QWidget
    buddy: QWidget


class IdentityFields(QWidget):
    """The fields; the season follows the date, and the number the season, until the breeder gives another.

    Signals:
        edited: something was changed.
    """

    edited = Signal()

    def __init__(self, context: DeskContext, uid: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._uid = uid
        self._label_typed = self._season_typed = False
        journal = context.door.journal
        self._offered = {one.code: one for one in offered_species(journal)}
        self.label, self.name, self.breed = QLineEdit(), QLineEdit(), QLineEdit()
        self.season, self.set_on = QLineEdit(), QLineEdit()
        self.label.setMaxLength(_LONGEST_LABEL)
        for line in (self.name, self.breed, self.season, self.set_on):
            line.setMaxLength(_LONGEST)
        self.name.setPlaceholderText(self.tr("if it had one"))
        self.set_on.setPlaceholderText(self.tr("if it is known"))
        breeds = {line.breed for line in journal.batches.lines()}
        breeds |= {past.breed for past in journal.past_batches.all()}
        completer = QCompleter(sorted(breeds - {""}), self.breed)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.breed.setCompleter(completer)
        self.label_line, self.season_line = WithTrouble(self.label), WithTrouble(self.season)
        self.set_on_line = WithTrouble(self.set_on)
        unknown = (None, self.tr("not known"))
        self.species = ChoiceCombo("")
        self.species.set_choices((code, species_word(code)) for code in self._offered)
        self.programme = ChoiceCombo("")
        self.pen = ChoiceCombo("")
        self.pen.set_choices([unknown, *((pen.uid, pen.name) for pen in journal.pens.all())])
        self.machine = ChoiceCombo("")
        self.machine.set_choices([unknown, *((one.uid, one.name) for one in journal.machines.all())])
        self.source = Segmented(
            [(one, word(one)) for one in EggSource], name=self.tr("Where the eggs were from")
        )
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        fields = (
            _Field(self.tr("&Species"), self.species, self.species),
            _Field(self.tr("&Breed"), self.breed, self.breed),
            _Field(self.tr("Set &on"), self.set_on_line, self.set_on),
            _Field(self.tr("S&eason"), self.season_line, self.season),
            _Field(self.tr("Nu&mber"), self.label_line, self.label),
            _Field(self.tr("&Name"), self.name, self.name),
            _Field(self.tr("&Pen"), self.pen, self.pen),
            _Field(self.tr("Ma&chine"), self.machine, self.machine),
            _Field(self.tr("Eggs"), self.source, self.source),
            _Field(self.tr("Progr&amme"), self.programme, self.programme),
        )
        for at, field in enumerate(fields):
            label = Label(field.text)
            label.setBuddy(field.buddy)
            label.setContentsMargins(0, 4, 0, 0)
            if field.buddy is not self.source:
                field.buddy.setAccessibleName(field.text.replace("&", ""))
            row, column = at // 2, 2 * (at % 2)
            grid.addWidget(label, row, column, Qt.AlignmentFlag.AlignTop)
            alignment = Qt.AlignmentFlag.AlignLeft if field.buddy is self.source else Qt.AlignmentFlag(0)
            grid.addWidget(field.widget, row, column + 1, Qt.AlignmentFlag.AlignTop | alignment)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)

    def _connect(self) -> None:
        self.label.textEdited.connect(self._type_label)
        self.season.textEdited.connect(self._type_season)
        self.set_on.textEdited.connect(lambda _text: self._follow_day())
        self.species.picked.connect(self._follow_species)
        for line in (self.name, self.breed):
            line.textEdited.connect(lambda _text: self.edited.emit())
        for combo in (self.programme, self.pen, self.machine):
            combo.picked.connect(lambda _value: self.edited.emit())
        self.source.chosen.connect(lambda _source: self.edited.emit())

    # ---------------------------------------------------------------- showing

    def show_batch(self, batch: PastBatch, *, is_new: bool) -> None:
        """Shows what a batch was; of a new one season and number are only proposed."""
        self._label_typed = self._season_typed = not is_new
        if batch.species not in self._offered:
            codes = (*self._offered, batch.species)
            self.species.set_choices((code, species_word(code)) for code in codes)
        self.species.show_value(batch.species)
        self._fill_programmes(batch.species)
        self.programme.show_value(batch.programme_code)
        self.pen.show_value(batch.pen)
        self.machine.show_value(batch.machine)
        self.source.choose(batch.source)
        self.season.setText(str(batch.season))
        day = None if batch.set_on is None else date.fromisoformat(batch.set_on)
        self.set_on.setText("" if day is None else date_text(day, "d MMM yyyy"))
        self.name.setText(batch.name)
        self.breed.setText(batch.breed)
        self.label.setText(batch.label)
        for line in (self.label_line, self.season_line, self.set_on_line):
            line.tell("")
        self._propose_label()

    def _fill_programmes(self, species: object) -> None:
        offered = self._offered.get(str(species))
        programmes = () if offered is None else offered.programmes
        choices: list[tuple[object, str]] = [("", self.tr("not known"))]
        choices += [(one.code, programme_title(one)) for one in programmes]
        self.programme.set_choices(choices)
        if self.programme.value() is None:
            self.programme.show_value("")

    # ---------------------------------------------------------------- following what is typed

    def _type_label(self, text: str) -> None:
        self._label_typed = bool(text.strip())
        self._check_label()
        self.edited.emit()

    def _type_season(self, text: str) -> None:
        self._season_typed = bool(text.strip())
        self._propose_label()
        self._read_season()
        self.edited.emit()

    def _follow_day(self) -> None:
        day = self._read_day()
        if day is not None and not self._season_typed:
            self.season.setText(str(season_of(day, self._first_month)))
            self.season_line.tell("")
            self._propose_label()
        self.edited.emit()

    def _follow_species(self, species: object) -> None:
        self._fill_programmes(species)
        self.edited.emit()

    def _propose_label(self) -> None:
        season = self._read_season(quiet=True)
        if not self._label_typed and season is not None:
            self.label.setText(free_label(self._context.door.journal, season))
            self.label_line.tell("")

    @property
    def _first_month(self) -> int:
        return self._context.door.journal.settings.season_first_month

    # ---------------------------------------------------------------- reading

    def _read_season(self, *, quiet: bool = False) -> int | None:
        text, trouble, season = self.season.text(), "", None
        this_year = self._context.today().year
        try:
            found = parse_season(text, this_year)
        except Refusal as refusal:
            trouble = typed_sentence(refusal.why)
        else:
            season = found if isinstance(found, int) else None
            if season is not None and season > this_year:
                season, trouble = None, self.tr("This season has not come yet.")
        if not quiet:
            self.season_line.tell(trouble)
        return season

    def _read_day(self) -> date | None:
        text = self.set_on.text().strip()
        self.set_on_line.tell("")
        if not text:
            return None
        today = self._context.today()
        season = self._read_season(quiet=True) if self._season_typed else None
        try:
            day = parse_day(text, today if season is None else date(season, 7, 1))
        except DayError as error:
            self.set_on_line.tell(str(error))
            return None
        if day > today:
            self.set_on_line.tell(self.tr("This day has not come yet."))
            return None
        return day

    def _check_label(self) -> None:
        label = self.label.text().strip()
        taken = bool(label) and past_label_taken(self._context.door.journal, label, self._uid)
        self.label_line.tell(self.tr("Another batch has this number.") if taken else "")

    def read(self, base: PastBatch) -> PastBatch | None:
        """The batch as typed, with the eggs of ``base``; None where something cannot be, which is said."""
        season, day = self._read_season(), self._read_day()
        self._check_label()
        label = self.label.text().strip()
        if not label:
            self.label_line.tell(self.tr("Give the batch a number."))
        if season is None and not self.season_line.trouble():
            self.season_line.tell(self.tr("Enter the year of the season."))
        if season is not None and day is not None and abs(season_of(day, self._first_month) - season) > 1:
            self.season_line.tell(self.tr("The day on which it was set is not of this season."))
        if self.first_trouble() is not None or season is None:
            return None
        pen, machine = self.pen.value(), self.machine.value()
        return PastBatch(
            label=label,
            season=season,
            species=str(self.species.value()),
            eggs_set=base.eggs_set,
            name=self.name.text().strip(),
            set_on=None if day is None else day.isoformat(),
            breed=self.breed.text().strip(),
            pen=None if pen is None else str(pen),
            machine=None if machine is None else str(machine),
            programme_code=str(self.programme.value() or ""),
            source=EggSource(str(self.source.current())),
            uid=self._uid,
        )

    def first_trouble(self) -> QWidget | None:
        """The first field with which something is wrong."""
        lines: Sequence[WithTrouble] = (self.set_on_line, self.season_line, self.label_line)
        return next((line.field for line in lines if line.trouble()), None)

    def begin_another(self, uid: str) -> None:
        """The next batch of the same season: what the last one shared with it stays."""
        self._uid = uid
        self._label_typed = False
        for line in (self.name, self.set_on):
            line.clear()
        self._season_typed = True
        self._propose_label()
