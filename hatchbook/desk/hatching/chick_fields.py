"""Ring or mark, mass and note of the chick that is noted next."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.rounds.key_cap import KeyCap
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.numbers import unit_sign
from hatchbook.journal import Hatching
from hatchbook.trade.rings import next_ring
from hatchbook.trade.units import Unit, from_stored


class ChickFields(QWidget):
    """After each chick a ring that ends in a number counts on; a mass belongs to one chick and goes.

    Signals:
        unit_chosen: the ``Unit`` of masses.
    """

    unit_chosen = Signal(object)

    def __init__(self, unit: Unit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # A mass as it is shown, and what it stands for: what nobody changes is not rounded either.
        self._shown: tuple[str, float] | None = None
        self.ring = QLineEdit()
        self.ring.setAccessibleName(self.tr("Ring or mark of the chick"))
        self.ring.setPlaceholderText(self.tr("a number at the end counts on"))
        self.mass = ValueEdit(unit, self.tr("Mass of the chick"))
        self.unit = Segmented(
            [(one, unit_sign(one)) for one in (Unit.GRAM, Unit.OUNCE)],
            name=self.tr("Unit of masses"),
            current=unit,
        )
        self.note = QLineEdit()
        self.note.setAccessibleName(self.tr("Note on the chick or egg"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(6)
        grid.setColumnStretch(2, 1)
        rows = (
            ("R", self.tr("Ring or mark"), self.ring),
            ("M", self.tr("Chick mass"), self.mass),
            ("N", self.tr("Note"), self.note),
        )
        for row, (letter, words, field) in enumerate(rows):
            grid.addWidget(KeyCap(letter), row, 0)
            grid.addWidget(Label(words, ink="ink2"), row, 1)
            grid.addWidget(field, row, 2, 1, 1 if field is self.mass else 2)
        grid.addWidget(self.unit, 1, 3)
        self.unit.chosen.connect(self._choose_unit)

    def ring_text(self) -> str:
        """What is typed as ring or mark."""
        return self.ring.text().strip()

    def note_text(self) -> str:
        """What is typed as note."""
        return self.note.text().strip()

    def is_touched(self) -> bool:
        """Whether a mass or a note waits to be stored."""
        return not self.mass.is_empty() or bool(self.note_text())

    def mass_g(self) -> float | None:
        """The mass in grams; None where none is typed, or where it is no number, which is then said below."""
        if self._shown is not None and self.mass.field.text() == self._shown[0]:
            return self._shown[1]
        typed = self.mass.typed()
        if typed is not None and typed.stored <= 0:
            self.mass.tell(self.tr("A mass is more than nothing."))
            return None
        return None if typed is None else typed.stored

    def is_bad(self) -> bool:
        """Whether a mass is typed that can not be stored."""
        return not self.mass.is_empty() and self.mass_g() is None

    def go_on(self, chicks: int) -> None:
        """So many chicks were stored: the ring counts on, mass and note go."""
        self.ring.setText(next_ring(self.ring_text(), chicks))
        self.forget_one()

    def forget_one(self) -> None:
        """Mass and note were one chick's or one egg's."""
        self._shown = None
        self.mass.set_text("")
        self.note.clear()

    def show_record(self, record: Hatching) -> None:
        """Shows what was noted of a chick, to be changed."""
        self.ring.setText(record.ring)
        self._show_mass(record.chick_mass_g)
        self.note.setText(record.note)

    def _show_mass(self, mass_g: float | None) -> None:
        text = "" if mass_g is None else f"{round(from_stored(mass_g, self.mass.unit), 3):g}"
        self.mass.set_text(text)
        self._shown = None if mass_g is None else (text, mass_g)

    def _choose_unit(self, unit: object) -> None:
        chosen = Unit(str(unit))
        mass_g = self.mass_g()
        self.mass.set_unit(chosen)
        self._show_mass(mass_g)
        self.unit_chosen.emit(chosen)
