"""One small form for each kind of entry in an egg's story."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QGridLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.egg.record_fields import RecordFields, top_label
from hatchbook.desk.egg.typed_values import TypedError, kept_mass_text, mass_text, typed_mass
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import word
from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.numbers import unit_sign
from hatchbook.figures.egg_story import StoryKind
from hatchbook.trade.codes import FindingCode, HatchMark, RemovalReason
from hatchbook.trade.units import Typed, Unit

Glyph = Callable[[StrEnum], QIcon | None]
"""The picture of what a code makes of an egg."""

_MASS_WIDTH = 84


class EntryForm(RecordFields):
    """A grid of named fields; what a form of its own has are its rows."""

    def __init__(self, context: DeskContext, glyph: Glyph, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self.glyph = glyph
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(10)
        self.grid.setVerticalSpacing(7)
        self.grid.setColumnStretch(1, 1)
        self.unit = Unit.GRAM
        self.first: QWidget | None = None
        self._signs: list[Label] = []
        self.build()

    def build(self) -> None:
        """Makes the rows."""
        raise NotImplementedError

    def set_unit(self, unit: Unit) -> None:
        """Shows masses in another unit."""
        self.unit = unit
        for sign in self._signs:
            sign.setText(unit_sign(unit))

    def use_incubation(self, days: float) -> None:
        """The incubation lasts so many days."""

    def add_row(self, text: str, field: QWidget) -> Label:
        """A field with its name."""
        at = self.grid.rowCount()
        label = top_label(text)
        if self.first is None:
            self.first = field
        self.grid.addWidget(label, at, 0)
        self.grid.addWidget(field, at, 1)
        return label

    # ---------------------------------------------------------------- rows that several have

    def add_code(self, text: str, codes: type[StrEnum], field: str) -> None:
        """What was seen, from a closed set."""
        choices = [(code, word(code), self.glyph(code)) for code in codes]
        self.add_row(
            text,
            self.choice(
                text,
                choices,
                lambda record: getattr(record, field),
                lambda record, code: replace(record, **{field: codes(code)}),
            ),
        )

    def add_instant(self, text: str) -> None:
        """When it was."""
        edit = InstantEdit(self.context.zone, 0)
        edit.set_accessible_name(text)
        self.add_row(
            text, self.instant(edit, lambda record: record.at, lambda record, at: replace(record, at=at))
        )

    def add_note(self, text: str) -> None:
        """What else is to be said."""
        self.add_row(
            text,
            self.line(text, lambda record: record.note, lambda record, typed: replace(record, note=typed)),
        )

    def mass_sign(self) -> Label:
        """The sign of the unit in which masses are shown."""
        sign = Label(unit_sign(self.unit), ink="ink2")
        self._signs.append(sign)
        return sign


class FindingForm(EntryForm):
    """What was seen at a candling."""

    def build(self) -> None:
        """Finding, instant, note."""
        self.add_code(self.tr("Seen"), FindingCode, "code")
        self.add_instant(self.tr("When"))
        self.add_note(self.tr("Note"))


class RemovalForm(EntryForm):
    """Why an egg left the batch."""

    def build(self) -> None:
        """Reason, instant, note."""
        self.add_code(self.tr("Why"), RemovalReason, "reason")
        self.add_instant(self.tr("When"))
        self.add_note(self.tr("Note"))


class NoteForm(EntryForm):
    """A note on the egg."""

    def build(self) -> None:
        """Text and instant."""
        text = self.tr("Note")
        self.add_row(text, self.line(text, lambda event: event.text, _noted))
        self.add_instant(self.tr("When"))


def _noted(event: object, text: str) -> object:
    if not text:
        raise TypedError(QCoreApplication.translate("EggValues", "Write the note first."))
    return replace(event, text=text)  # type: ignore[type-var]


class HatchForm(EntryForm):
    """What was seen of the egg while it hatched, and its chick."""

    def build(self) -> None:
        """Mark, instant, chick."""
        self.add_code(self.tr("Seen"), HatchMark, "mark")
        self.add_instant(self.tr("When"))
        text = self.tr("Chick mass")
        chick = self.line(
            text,
            lambda record: mass_text(record.chick_mass_g, self.unit),
            lambda record, typed: replace(record, chick_mass_g=_grams(typed_mass(typed, self.unit))),
            longest=16,
            width=_MASS_WIDTH,
            after=self.mass_sign(),
        )
        self.add_row(text, chick)
        text = self.tr("Ring or mark")
        self.add_row(
            text,
            self.line(text, lambda record: record.ring, lambda record, typed: replace(record, ring=typed)),
        )
        self.add_note(self.tr("Note"))


def _grams(typed: Typed | None) -> float | None:
    return None if typed is None else typed.stored


class WeighingForm(EntryForm):
    """The mass of the egg; when it was weighed can be said of a new one only, others belong to the whole round."""

    def build(self) -> None:
        """Mass and instant."""
        text = self.tr("Mass")
        self.add_row(
            text,
            self.line(text, self._shown, self._typed, longest=16, width=_MASS_WIDTH, after=self.mass_sign()),
        )
        text = self.tr("When")
        edit = InstantEdit(self.context.zone, 0)
        edit.set_accessible_name(text)
        field = self.instant(edit, lambda value: value.at, lambda value, at: replace(value, at=at))
        self._when = (self.add_row(text, field), field)
        self._round = Label("", role="caption", ink="ink2", wraps=True)
        self.grid.addWidget(self._round, self.grid.rowCount(), 0, 1, 2)

    def show_record(self, record: object, *, is_new: bool = False, another: bool = True) -> None:
        """Shows a weighing."""
        super().show_record(record, is_new=is_new, another=another)
        for widget in self._when:
            widget.setVisible(is_new)
        self._round.setVisible(not is_new)
        at = date_time_of_year(record.at, self.context.zone)  # type: ignore[attr-defined]
        self._round.setText(self.tr("Weighed in the round of {when}.").format(when=at))

    def _shown(self, value: object) -> str:
        mass = value.mass  # type: ignore[attr-defined]
        return kept_mass_text(mass, self.unit) if mass.mass_g else ""

    def _typed(self, value: object, text: str) -> object:
        typed = typed_mass(text, self.unit)
        if typed is None:
            raise TypedError(self.tr("Type the mass; a weighing that was none is removed below."))
        mass = replace(value.mass, mass_g=typed.stored, entered=typed.to_json())  # type: ignore[attr-defined]
        return replace(value, mass=mass)  # type: ignore[type-var]


def made_forms(context: DeskContext, glyph: Glyph) -> dict[StoryKind, EntryForm]:
    """A form for each kind of entry that can be changed."""
    from hatchbook.desk.egg.opening_form import OpeningForm

    return {
        StoryKind.WEIGHED: WeighingForm(context, glyph),
        StoryKind.CANDLED: FindingForm(context, glyph),
        StoryKind.HATCH: HatchForm(context, glyph),
        StoryKind.OPENED: OpeningForm(context, glyph),
        StoryKind.TAKEN_OUT: RemovalForm(context, glyph),
        StoryKind.NOTED: NoteForm(context, glyph),
    }
