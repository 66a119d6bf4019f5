"""What an egg is: number and place, where it comes from, its shell, its measures and masses."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.egg.record_fields import RecordFields, fill, top_label
from hatchbook.desk.egg.typed_values import (
    mass_text,
    typed_day,
    typed_egg_number,
    typed_grams,
    typed_length,
)
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.dates import date_text
from hatchbook.desk.words.egg_story import age_sentence, estimate_sentence, lost_sentence
from hatchbook.desk.words.eggs import parse_place, place_name
from hatchbook.desk.words.numbers import typed_text, unit_sign
from hatchbook.figures.egg_story import EggStory
from hatchbook.journal import Egg
from hatchbook.trade.instants import to_local
from hatchbook.trade.units import Unit

_SHORT = 64


class EggFields(RecordFields):
    """The fields of the egg itself.

    Signals:
        moved: the place (tray, row, column) the egg is to lie in, or None.
        unit_chosen: the ``Unit`` of masses.
    """

    moved = Signal(object)
    unit_chosen = Signal(object)

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._story: EggStory | None = None
        self._taken: frozenset[int] = frozenset()
        self.unit = Unit(context.settings.get(settings.MASS_UNIT))
        self._unit_signs = [Label("", ink="ink2"), Label("", ink="ink2")]
        self._make_lines()
        self.pen = self.choice(
            self.tr("Pen"),
            [],
            lambda egg: egg.pen,
            lambda egg, pen: egg if pen == egg.pen else replace(egg, pen=pen, dam=None),
        )
        self.dam = self.choice(
            self.tr("Dam"), [], lambda egg: egg.dam, lambda egg, dam: replace(egg, dam=dam)
        )
        self.marked = self.tick(
            self.tr("&weighed when only marked eggs are"),
            lambda egg: egg.marked,
            lambda egg, marked: replace(egg, marked=marked),
        )
        self.units = Segmented(
            [(one, unit_sign(one)) for one in (Unit.GRAM, Unit.OUNCE)],
            name=self.tr("Unit of masses"),
            current=self.unit,
        )
        self.units.chosen.connect(self._choose_unit)
        self.age = Label("", role="caption", ink="ink2")
        self.estimate = Label("", role="caption", ink="ink2", wraps=True)
        self.lost = Label("", role="caption", ink="ink2", wraps=True)
        self._lay_out()

    def _make_lines(self) -> None:
        self.number = self.line(
            self.tr("Number"),
            lambda egg: str(egg.number),
            lambda egg, text: replace(egg, number=typed_egg_number(text, self._taken)),
            longest=6,
            width=_SHORT,
        )
        self.place = self.line(
            self.tr("Place"),
            self._shown_place,
            self._placed,
            longest=12,
            width=_SHORT,
            before=_second(self.tr("p&lace")),
        )
        self.laid = self.line(
            self.tr("Laid on"),
            self._shown_day,
            self._laid,
            longest=30,
            example=self.tr("12 May, or the day alone"),
        )
        self.mark = self.line(
            self.tr("Written on the shell"),
            lambda egg: egg.mark,
            lambda egg, text: replace(egg, mark=text),
            longest=60,
            example=self.tr("what is written on it"),
        )
        self.shell = self.line(
            self.tr("The shell"),
            lambda egg: egg.shell_note,
            lambda egg, text: replace(egg, shell_note=text),
            example=self.tr("thin, rough, pointed …"),
        )
        self.length = self.line(
            self.tr("Length"),
            lambda egg: typed_text(egg.length_mm, 2),
            lambda egg, text: replace(egg, length_mm=typed_length(text)),
            longest=12,
            width=_SHORT,
            after=Label("mm", ink="ink2"),
        )
        self.breadth = self.line(
            self.tr("Breadth"),
            lambda egg: typed_text(egg.breadth_mm, 2),
            lambda egg, text: replace(egg, breadth_mm=typed_length(text)),
            longest=12,
            width=_SHORT,
            before=_second(self.tr("&breadth")),
            after=Label("mm", ink="ink2"),
        )
        self.laid_mass = self.line(
            self.tr("Mass when laid"),
            lambda egg: mass_text(egg.laid_mass_g, self.unit),
            lambda egg, text: replace(egg, laid_mass_g=typed_grams(text, self.unit)),
            longest=16,
            width=_SHORT,
            after=self._unit_signs[0],
        )
        self.set_mass = self.line(
            self.tr("Mass when set"),
            lambda egg: mass_text(egg.set_mass_g, self.unit),
            lambda egg, text: replace(egg, set_mass_g=typed_grams(text, self.unit)),
            longest=16,
            width=_SHORT,
            before=_second(self.tr("se&t")),
            after=self._unit_signs[1],
        )
        self.remark = self.line(
            self.tr("Remark"), lambda egg: egg.remark, lambda egg, text: replace(egg, remark=text)
        )

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(7)
        grid.setColumnStretch(1, 1)
        rows: list[tuple[str, QWidget, QWidget | None]] = [
            (self.tr("&Number"), self.number, self.place),
            (self.tr("P&en"), self.pen, None),
            (self.tr("Da&m"), self.dam, None),
            (self.tr("La&id on"), self.laid, self.age),
            (self.tr("&Shell mark"), self.mark, None),
            (self.tr("S&hell"), self.shell, None),
            (self.tr("Len&gth"), self.length, self.breadth),
            ("", self.estimate, None),
            (self.tr("Mass lai&d"), self.laid_mass, self.set_mass),
            ("", self.lost, self.units),
            ("", self.marked, None),
            (self.tr("&Remark"), self.remark, None),
        ]
        for at, (text, field, beside) in enumerate(rows):
            if text:
                label = top_label(text)
                label.setBuddy(_innermost(field))
                grid.addWidget(label, at, 0)
            grid.addWidget(field, at, 1, 1, 1 if beside is not None else 2, Qt.AlignmentFlag.AlignTop)
            if beside is not None:
                middle = beside is self.age
                side = Qt.AlignmentFlag.AlignVCenter if middle else Qt.AlignmentFlag.AlignTop
                grid.addWidget(beside, at, 2, side)
        self._name_units()

    # ---------------------------------------------------------------- showing

    def show_story(self, story: EggStory, *, another: bool) -> None:
        """Shows an egg; see ``show_record``."""
        self._story = story
        journal = self._context.door.journal
        eggs = journal.eggs.of_batch(story.batch.uid)
        self._taken = frozenset(egg.number for egg in eggs if egg.uid != story.egg.uid)
        unknown = self.tr("not known")
        fill(
            self.pen,
            [(None, unknown, None), *((pen.uid, pen.name, None) for pen in journal.pens.all())],
        )
        nobody = unknown if story.egg.pen is not None else self.tr("choose the pen first")
        fill(self.dam, [(None, nobody, None), *((bird.uid, bird.name, None) for bird in story.birds)])
        self.show_record(story.egg, another=another)
        self.age.setText(age_sentence(story.age_days))
        self.estimate.setText(estimate_sentence(story.estimated_mass_g, self.unit))
        self.estimate.setVisible(story.estimated_mass_g is not None)
        lost = lost_sentence(story)
        masses = story.egg.laid_mass_g, story.egg.set_mass_g
        if masses[0] is not None and masses[1] is not None and masses[1] > masses[0]:
            lost = self.tr("heavier when set than when laid: check both")
        self.lost.setText(lost)

    def fix(self, *, fixed: bool) -> None:
        """Lets nothing be changed, or everything; the unit can always be chosen."""
        super().fix(fixed=fixed)
        has_pen = self._story is not None and self._story.egg.pen is not None
        self.dam.setEnabled(not fixed and has_pen)

    def _choose_unit(self, unit: object) -> None:
        self.settle()
        self.unit = Unit(str(unit))
        self._context.settings.keep(settings.MASS_UNIT, str(self.unit))
        self._name_units()
        self.unit_chosen.emit(self.unit)

    def _name_units(self) -> None:
        for label in self._unit_signs:
            label.setText(unit_sign(self.unit))

    # ---------------------------------------------------------------- reading

    def _shown_place(self, egg: Egg) -> str:
        if egg.place is None or self._story is None:
            return ""
        tray, row, column = egg.place
        return place_name(row, column, tray, self._story.trays)

    def _placed(self, egg: Egg, text: str) -> Egg:
        """The place is no value like the others: another egg may lie there."""
        story = self._story
        assert story is not None
        place = parse_place(text, story.trays, story.tray_rows, story.tray_columns) if text else None
        if place != egg.place:
            self.moved.emit(place)
        moved: Egg = self.record  # as the move has left it
        return moved

    def _shown_day(self, egg: Egg) -> str:
        return (
            "" if egg.laid_on is None else date_text(date.fromisoformat(egg.laid_on), self.tr("d MMM yyyy"))
        )

    def _laid(self, egg: Egg, text: str) -> Egg:
        story = self._story
        assert story is not None
        set_on = to_local(story.batch.set_at, self._context.zone).date()
        return replace(egg, laid_on=typed_day(text, set_on, set_on))


def _second(text: str) -> Label:
    """The name of the second field in a row; all are equally wide."""
    label = Label(text)
    label.setMinimumWidth(label.fontMetrics().horizontalAdvance("breadth__"))
    return label


def _innermost(field: QWidget) -> QWidget:
    """The part of a field that takes the focus."""
    proxy = field.focusProxy()
    return field if proxy is None else _innermost(proxy)
