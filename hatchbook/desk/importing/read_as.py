"""How the file is read: every guess shown, each in a box in which it can be changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from zoneinfo import ZoneInfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk.clock import system_zone
from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.importing.offset_spin import OffsetSpin
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words import file_layout as words
from hatchbook.exchange.logger_file import (
    DateForm,
    DateOrder,
    DecimalSign,
    Encoding,
    Guess,
    HourClock,
    Layout,
    LayoutField,
    LayoutHints,
    RepeatedHour,
    Separator,
    TemperatureUnit,
    TimeMeaning,
)

_LAST_LINE = 9_999
_GAP = 8


class ReadAs(QWidget):
    """The boxes; the less usual ones come with ``More``.

    Signals:
        hinted: what the breeder chose, as a dict of the fields of ``LayoutHints``.
    """

    hinted = Signal(object)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self._winter_minutes = 0
        self._build_boxes()
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(_GAP)
        self.more = FlatButton(self.tr("More"))
        self.more.setCheckable(True)
        self.more.setToolTip(self.tr("Letters, first lines, clock and the repeated hour"))
        self._add_line(
            (self.tr("Columns parted by"), self.separator),
            (self.tr("Decimals"), self.decimal),
            (self.tr("Dates"), self.dates),
        )
        self._add_line(
            (self.tr("Times"), self.times),
            ("", self.offset),
            (self.tr("Temperature in"), self.unit),
            ("", self.more),
        )
        self._further = [
            self._add_line(
                (self.tr("Letters"), self.encoding),
                (self.tr("Column names in line"), self.header_line),
                (self.tr("Readings from line"), self.data_line),
            ),
            self._add_line((self.tr("Clock"), self.clock), (self.tr("Hour shown twice"), self.repeated)),
        ]
        self.more.toggled.connect(self._show_further)
        self._show_further(False)
        self.offset.hide()
        self.setEnabled(False)

    def _build_boxes(self) -> None:
        self.separator = self._combo(
            self.tr("Columns parted by"),
            ((sign, words.separator_word(sign)) for sign in Separator),
            lambda sign: {"separator": sign, "columns": None, "decimal": None},
        )
        self.decimal = self._combo(
            self.tr("Decimals"),
            ((sign, words.decimal_word(sign)) for sign in DecimalSign),
            lambda sign: {"decimal": sign},
        )
        dates = [(DateForm.CALENDAR, order) for order in DateOrder]
        dates += [(form, None) for form in DateForm if form is not DateForm.CALENDAR]  # type: ignore[misc]
        self.dates = self._combo(
            self.tr("Dates"),
            ((date, words.date_word(date[0], date[1] or DateOrder.YEAR_MONTH_DAY)) for date in dates),
            lambda date: {"date_form": date[0], **({"date_order": date[1]} if date[1] else {})},
        )
        system = system_zone()
        self.times = self._combo(
            self.tr("Times"),
            ((meaning, words.time_word(meaning, self._zone, system)) for meaning in TimeMeaning),
            lambda meaning: {"time_meaning": meaning, "offset_minutes": self._winter_minutes},
        )
        self.unit = self._combo(
            self.tr("Temperature in"),
            ((unit, words.unit_word(unit)) for unit in TemperatureUnit),
            lambda unit: {"temperature_unit": unit},
        )
        self.encoding = self._combo(
            self.tr("Letters"),
            ((encoding, words.encoding_word(encoding)) for encoding in Encoding),
            lambda encoding: {"encoding": encoding},
        )
        self.clock = self._combo(
            self.tr("Clock"),
            ((clock, words.clock_word(clock)) for clock in HourClock),
            lambda clock: {"hour_clock": clock},
        )
        self.repeated = self._combo(
            self.tr("Hour shown twice"),
            ((repeated, words.repeated_word(repeated)) for repeated in RepeatedHour),
            lambda repeated: {"repeated_hour": repeated},
        )
        self.offset = OffsetSpin()
        self.offset.valueChanged.connect(lambda minutes: self.hinted.emit({"offset_minutes": minutes}))
        self.header_line = self._line_spin(self.tr("Column names in line"), 0, "header_line")
        self.header_line.setSpecialValueText(self.tr("none"))
        self.data_line = self._line_spin(self.tr("Readings from line"), 1, "data_line")

    def _combo(
        self, name: str, choices: Iterable[tuple[object, str]], hints: Callable[..., dict[str, object]]
    ) -> ChoiceCombo:
        combo = ChoiceCombo(name)
        combo.set_choices(choices)
        combo.picked.connect(lambda value: self.hinted.emit(hints(value)))
        return combo

    def _line_spin(self, name: str, least: int, field: str) -> QSpinBox:
        spin = QSpinBox()
        spin.setAccessibleName(name)
        spin.setRange(least, _LAST_LINE)
        spin.setKeyboardTracking(False)
        # Other lines of names may name other columns.
        spin.valueChanged.connect(lambda line: self.hinted.emit({field: line, "columns": None}))
        return spin

    def _add_line(self, *boxes: tuple[str, QWidget]) -> QWidget:
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(_GAP)
        for text, box in boxes:
            if text:
                label = Label(text, ink="ink2")
                label.setBuddy(box)
                row.addWidget(label)
            row.addWidget(box)
            if text and box is not self.times:
                row.addSpacing(_GAP)
        row.addStretch(1)
        self._lines.addWidget(line)
        return line

    def _show_further(self, shown: bool) -> None:
        for line in self._further:
            line.setVisible(shown)

    # ---------------------------------------------------------------- showing

    def show_layout(self, layout: Layout, guesses: Iterable[Guess] = (), at: int | None = None) -> None:
        """Shows how a file was read, and what each guess rests on; ``at``: an instant of it, UTC seconds."""
        if at is not None:
            self._winter_minutes = words.winter_offset_minutes(at, self._zone)
        order = layout.date_order if layout.date_form is DateForm.CALENDAR else None
        self.separator.show_value(layout.separator)
        self.decimal.show_value(layout.decimal)
        self.dates.show_value((layout.date_form, order))
        self.times.show_value(layout.time_meaning)
        self.unit.show_value(layout.temperature_unit)
        self.encoding.show_value(layout.encoding)
        self.clock.show_value(layout.hour_clock)
        self.repeated.show_value(layout.repeated_hour)
        self.offset.setVisible(layout.time_meaning is TimeMeaning.FIXED_OFFSET)
        spins: tuple[tuple[QSpinBox, int], ...] = (
            (self.offset, layout.offset_minutes),
            (self.header_line, layout.header_line),
            (self.data_line, layout.data_line),
        )
        for spin, value in spins:
            before = spin.blockSignals(True)
            spin.setValue(value)
            spin.blockSignals(before)
        basis = {guess.field: words.basis_sentence(guess.basis) for guess in guesses}
        dated = LayoutField.DATE_ORDER if order is not None else LayoutField.DATE_FORM
        for combo, field in (
            (self.separator, LayoutField.SEPARATOR),
            (self.decimal, LayoutField.DECIMAL),
            (self.dates, dated),
            (self.times, LayoutField.TIME_MEANING),
            (self.unit, LayoutField.TEMPERATURE_UNIT),
            (self.encoding, LayoutField.ENCODING),
            (self.clock, LayoutField.HOUR_CLOCK),
            (self.repeated, LayoutField.REPEATED_HOUR),
        ):
            combo.explain(basis.get(field, ""))
        self.setEnabled(True)


def with_hints(hints: LayoutHints, chosen: dict[str, object]) -> LayoutHints:
    """The hints with what was chosen last."""
    return replace(hints, **chosen)  # type: ignore[arg-type]
