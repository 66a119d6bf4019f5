"""A reading typed by hand: °C or °F, humidity read or from a wet bulb with its wick named."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QVBoxLayout, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import CLOCK_PLAY_S, InstantEdit
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import wick_word
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.typing import counts_as_sentence, reading_sentence, wet_bulb_sentence
from hatchbook.exchange.typed_reading import ReadingError, TypedReading
from hatchbook.figures.corrections import counts_as
from hatchbook.journal import Batch, Machine, Probe, Reading
from hatchbook.trade.codes import MachineKind, Quantity, Wick
from hatchbook.trade.instants import InstantError
from hatchbook.trade.units import Unit

_UNITS = {"C": Unit.CELSIUS, "F": Unit.FAHRENHEIT}
_NEW_PROBE = None
_TOLD_FROM = 0.05


class ReadingDialog(FramedDialog):
    """Adds a reading in the machine of a batch, or in any machine or the room; or changes one.

    Units and way of measuring are remembered.
    """

    def __init__(
        self,
        context: DeskContext,
        where: Batch | Machine,
        parent: QWidget | None,
        *,
        reading: Reading | None = None,
    ) -> None:
        title = self.tr("Log reading") if reading is None else self.tr("Change reading")
        super().__init__(title, parent, QSize(520, 0))
        self._context = context
        self._batch = where if isinstance(where, Batch) else None
        self._reading = reading
        self._machine = (
            context.door.journal.machines.get(where.machine) if isinstance(where, Batch) else where
        )
        self._altitude_m = self._machine.altitude_m
        self._build()
        if reading is not None:
            self._fill(reading)
        self._show_fields()
        self.temperature.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        kept = self._context.settings
        at = self._context.now() if self._reading is None else self._reading.at
        self.at = InstantEdit(self._context.zone, at)
        self.at.set_accessible_name(self.tr("When"))
        self.probe = QComboBox()
        self._fill_probes()
        self.unit = Segmented([("C", "°C"), ("F", "°F")], name=self.tr("Temperature in"))
        self.unit.choose(kept.get(settings.TEMPERATURE_UNIT))
        self.way = Segmented(
            [("rh", self.tr("Humidity read")), ("wet", self.tr("Wet bulb"))], name=self.tr("Humidity from")
        )
        self.way.choose(kept.get(settings.HUMIDITY_ENTRY))
        self.temperature = ValueEdit(Unit.CELSIUS, self.tr("Temperature"))
        self.humidity = ValueEdit(Unit.PERCENT, self.tr("Relative humidity"))
        self.wet_bulb = ValueEdit(Unit.CELSIUS, self.tr("Wet bulb temperature"))
        self.wick = QComboBox()
        for wick in Wick:
            self.wick.addItem(wick_word(wick), wick)
        still = self._machine.kind is MachineKind.STILL_AIR
        wick = Wick.STILL_AIR if still else Wick(kept.get(settings.WICK))
        self.wick.setCurrentIndex(self.wick.findData(wick))
        self.means = Label("", ink="ink2", wraps=True)
        self.form = QFormLayout()
        self.form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.form.addRow(self.tr("W&hen"), self.at)
        self.form.addRow(self.tr("&Probe"), self.probe)
        self.form.addRow(self.tr("Typed in"), self.unit)
        self.form.addRow(self.tr("&Temperature"), self.temperature)
        self.form.addRow(self.tr("Humidity from"), self.way)
        self.form.addRow(self.tr("Hu&midity"), self.humidity)
        self.form.addRow(self.tr("Wet &bulb"), self.wet_bulb)
        self.form.addRow(self.tr("Wic&k"), self.wick)
        rows = QVBoxLayout()
        rows.addLayout(self.form)
        rows.addWidget(self.means)
        rows.addStretch(1)
        self.set_content(rows)
        self.save = self.add_main_button(
            self.tr("Log reading") if self._reading is None else self.tr("Keep the change")
        )
        self.save.clicked.connect(self._store)
        if self._reading is not None:
            self.add_leave_button(self.tr("Delete this reading")).clicked.connect(self._delete)
        self.add_leave_button(self.tr("Cancel"))
        self.unit.chosen.connect(lambda _key: self._show_fields())
        self.way.chosen.connect(lambda _key: self._show_fields())
        for field in (self.temperature, self.wet_bulb, self.humidity):
            field.edited.connect(self._preview)
        for box in (self.wick, self.probe):
            box.currentIndexChanged.connect(lambda _row: self._preview())
        self.at.edited.connect(self._preview)

    def _fill_probes(self) -> None:
        journal = self._context.door.journal
        if self._reading is not None:
            probes = [probe for probe in journal.probes.all() if probe.number == self._reading.probe]
        else:
            probes = journal.probes.present_in(self._machine.uid, self._context.now())
        for probe in probes:
            self.probe.addItem(probe.name, probe)
        if not probes:
            self.probe.addItem(
                self.tr("Hygrometer in {machine}").format(machine=self._machine.name), _NEW_PROBE
            )
        if self._batch is None and self._reading is None:
            for probe in journal.probes.present_in(None, self._context.now()):
                self.probe.addItem(self.tr("{probe}, in the room").format(probe=probe.name), probe)
        self.probe.setEnabled(self.probe.count() > 1)

    def _show_fields(self) -> None:
        wet = self.way.current() == "wet"
        self.form.setRowVisible(self.humidity, not wet)
        self.form.setRowVisible(self.wet_bulb, wet)
        self.form.setRowVisible(self.wick, wet)
        unit = _UNITS[str(self.unit.current())]
        self.temperature.set_unit(unit)
        self.wet_bulb.set_unit(unit)
        self._preview()

    def _fill(self, reading: Reading) -> None:
        """What was typed comes back as typed; what a logger wrote comes back in °C and %."""
        if reading.entered is not None:
            typed = TypedReading.from_json(reading.entered)
            self.way.choose("wet" if typed.wet_bulb is not None else "rh")
            for field, value in (
                (self.temperature, typed.temperature),
                (self.humidity, typed.humidity),
                (self.wet_bulb, typed.wet_bulb),
            ):
                if value is not None:
                    field.set_text(value.text)
                    if value.unit in _UNITS.values():
                        self.unit.choose("F" if value.unit is Unit.FAHRENHEIT else "C")
            self.wick.setCurrentIndex(self.wick.findData(typed.wick))
            return
        self.unit.choose("C")
        self.way.choose("rh")
        if reading.temperature_c is not None:
            self.temperature.set_text(f"{reading.temperature_c:g}")
        if reading.humidity is not None:
            self.humidity.set_text(f"{reading.humidity:g}")

    def _typed(self) -> TypedReading | None:
        wet = self.way.current() == "wet"
        fields = [self.temperature, self.wet_bulb if wet else self.humidity]
        values = [field.typed() for field in fields]
        if any(field.is_bad() for field in fields):
            return None
        return TypedReading(
            temperature=values[0],
            humidity=None if wet else values[1],
            wet_bulb=values[1] if wet else None,
            wick=Wick(self.wick.currentData()),
        )

    def _preview(self) -> None:
        """Says what a wet bulb means, and by what; and as what a humidity counts that a check corrects."""
        self.tell("")
        self.means.setText(self._meaning())
        self.grow_to_content()

    def _meaning(self) -> str:
        wet = self.way.current() == "wet"
        if (self.wet_bulb if wet else self.humidity).is_empty() or (wet and self.temperature.is_empty()):
            return ""
        typed = self._typed()
        if typed is None:
            return ""
        try:
            humidity = typed.humidity_percent(self._altitude_m)
            meaning = typed.wet_bulb_meaning(self._altitude_m)
        except ReadingError as error:
            return reading_sentence(error) if wet else ""
        sentences = [] if meaning is None else [wet_bulb_sentence(meaning)]
        counts = self._counts(humidity)
        if humidity is not None and counts is not None and abs(counts - humidity) >= _TOLD_FROM:
            sentences.append(counts_as_sentence(humidity, counts))
        return " ".join(sentences)

    def _counts(self, humidity: float | None) -> float | None:
        """As what a humidity counts by the checks of the probe; None where that cannot be said."""
        probe: Probe | None = self.probe.currentData()
        if probe is None or humidity is None:
            return None
        try:
            at = self.at.instant()
        except InstantError:
            return None
        return counts_as(self._context.door.journal, probe, Quantity.HUMIDITY, at, humidity)

    # ---------------------------------------------------------------- storing

    def _store(self) -> None:
        self.tell("")
        typed = self._typed()
        if typed is None:
            return
        try:
            at = self.at.instant()
            record = typed.to_record(0, at, self._altitude_m)
        except ReadingError as error:
            self.tell(reading_sentence(error))
            return
        except InstantError as error:
            self.tell(error_sentence(error))
            return
        if at > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("That time is still to come. A reading tells what has been."))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._remember()
        if self._put(record):
            self.accept()
        elif self.note.isHidden():
            self.tell(self.tr("The reading was not stored; what you typed is still here."))

    def _put(self, record: Reading) -> bool:
        door = self._context.door
        journal = door.journal
        probe: Probe | None = self.probe.currentData()
        if self._reading is not None:
            old = self._reading
            new = replace(record, probe=old.probe, import_run=old.import_run)
            if new.at != old.at and journal.readings.at(old.probe, new.at) is not None:
                self.tell(self.tr("There is a reading of this probe at that minute already."))
                return False
            return door.run(lambda journal: journal.readings.move(old, new)) is not None
        if probe is None:
            name, machine = self.probe.currentText(), self._machine.uid
            since = record.at if self._batch is None else min(self._batch.set_at, record.at)
            return (
                door.run(lambda journal: journal.readings.add_with_probe(record, name, machine, since))
                is not None
            )
        new = replace(record, probe=probe.number)
        if journal.readings.at(new.probe, new.at) is not None:
            self.tell(self.tr("There is a reading of this probe at that minute already."))
            return False
        return door.run(lambda journal: journal.readings.add(new)) is not None

    def _remember(self) -> None:
        kept = self._context.settings
        kept.keep(settings.TEMPERATURE_UNIT, str(self.unit.current()))
        kept.keep(settings.HUMIDITY_ENTRY, str(self.way.current()))
        kept.keep(settings.WICK, str(self.wick.currentData()))

    def _delete(self) -> None:
        reading = self._reading
        if reading is not None:
            self._context.door.run(lambda journal: journal.readings.remove(reading))
