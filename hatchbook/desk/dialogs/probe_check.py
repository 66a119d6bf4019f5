"""A check of a probe: over one or two salts with a known humidity, or beside a reference instrument."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import CLOCK_PLAY_S, InstantEdit
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import word
from hatchbook.desk.words.corrections import preview_sentences
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.holding import fixed_point_line, off_by, salt_name
from hatchbook.desk.words.numbers import NONE_SIGN, temperature, typed_text
from hatchbook.figures.corrections import correction_preview
from hatchbook.journal import Probe, ProbeCheck
from hatchbook.trade.codes import CheckMethod, Quantity
from hatchbook.trade.instants import InstantError
from hatchbook.trade.salts import FixedPoint, Salt, fixed_points
from hatchbook.trade.units import Unit

_USUAL_C = 25.0
_RANGE = {Quantity.HUMIDITY: (0.0, 100.0), Quantity.TEMPERATURE: (-60.0, 100.0)}


_TWO_SALTS = "two salts"


class ProbeCheckDialog(FramedDialog):
    """Notes what a probe showed and what it should have shown, or changes that; says before what it corrects."""

    def __init__(
        self, context: DeskContext, probe: Probe, parent: QWidget | None, *, check: ProbeCheck | None = None
    ) -> None:
        super().__init__(self.tr("Check of {probe}").format(probe=probe.name), parent, QSize(600, 0))
        self._context = context
        self._probe = probe
        self._check = check
        ways: list[tuple[object, str]] = [
            (CheckMethod.SALT, self.tr("Over a salt")),
            (_TWO_SALTS, self.tr("Over two salts")),
            (CheckMethod.REFERENCE, word(CheckMethod.REFERENCE)),
        ]
        if check is not None:
            del ways[1]
        self.method = Segmented(ways, name=self.tr("How it was checked"))
        self.quantity = Segmented([(one, word(one)) for one in Quantity], name=self.tr("What was checked"))
        self.at = InstantEdit(context.zone, context.now() if check is None else check.at)
        self.at.set_accessible_name(self.tr("When"))
        self.warmth = QComboBox()
        self.warmth.setAccessibleName(self.tr("Temperature at which it stood"))
        self.salt = _salt_box(self.tr("Salt"), Salt.SODIUM_CHLORIDE)
        self.known = Label("")
        self.reference = ValueEdit(Unit.PERCENT, self.tr("The reference showed"))
        self.shown = ValueEdit(Unit.PERCENT, self.tr("The probe showed"))
        self.second_salt = _salt_box(self.tr("Second salt"), Salt.MAGNESIUM_CHLORIDE)
        self.second_known = Label("")
        self.second_shown = ValueEdit(Unit.PERCENT, self.tr("The probe showed over the second salt"))
        self.off = Label("", ink="ink2")
        self.text = QLineEdit()
        self.text.setMaxLength(2000)
        self.meaning = Label("", wraps=True)
        self.how = Label("", role="caption", ink="ink2", wraps=True)
        self._build()
        self.method.chosen.connect(lambda _key: self._show_fields())
        self.quantity.chosen.connect(lambda _key: self._show_fields())
        for box in (self.salt, self.second_salt):
            box.currentIndexChanged.connect(lambda _row: self._fill_warmths())
        self.warmth.currentIndexChanged.connect(lambda _row: self._show_known())
        for field in (self.shown, self.second_shown, self.reference):
            field.edited.connect(self._show_known)
        self.at.edited.connect(self._show_known)
        self._fill_warmths()
        if check is not None:
            self._fill(check)
        self._show_fields()
        self.shown.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.form.addRow(self.tr("Checked"), self.method)
        self.form.addRow(self.tr("W&hen"), self.at)
        self.form.addRow(self.tr("Of"), self.quantity)
        self.form.addRow(self.tr("&Temperature"), self.warmth)
        self.form.addRow(self.tr("&Salt"), self.salt)
        self.form.addRow(self.tr("The air over it"), self.known)
        self.form.addRow(self.tr("The &reference showed"), self.reference)
        self.form.addRow(self.tr("The &probe showed"), self.shown)
        self.form.addRow(self.tr("Se&cond salt"), self.second_salt)
        self.form.addRow(self.tr("The air over that"), self.second_known)
        self.form.addRow(self.tr("There &it showed"), self.second_shown)
        self.form.addRow(self.tr("Off by"), self.off)
        self.form.addRow(self.tr("&Note"), self.text)
        rows = QVBoxLayout()
        rows.setSpacing(12)
        rows.addLayout(self.form)
        rows.addWidget(self.meaning)
        rows.addWidget(self.how)
        rows.addStretch(1)
        self.set_content(rows)
        known = self._check is not None
        self.store = self.add_main_button(self.tr("Keep the change") if known else self.tr("Note the check"))
        self.store.clicked.connect(self._store)
        if known:
            self.delete = self.add_leave_button(self.tr("Delete this check"))
            self.delete.clicked.connect(self._delete)
        self.add_leave_button(self.tr("Cancel"))

    # ---------------------------------------------------------------- showing

    @property
    def _over_two(self) -> bool:
        return self.method.current() == _TWO_SALTS

    @property
    def _over_salt(self) -> bool:
        return self.method.current() != CheckMethod.REFERENCE

    @property
    def _checked(self) -> Quantity:
        return Quantity.HUMIDITY if self._over_salt else Quantity(str(self.quantity.current()))

    @property
    def _points(self) -> list[FixedPoint]:
        """Of the salts it stood over, at the temperature chosen."""
        boxes = [self.salt, self.second_salt] if self._over_two else [self.salt]
        return [
            point
            for box in boxes
            for point in fixed_points(Salt(box.currentData()))
            if point.temperature_c == self.warmth.currentData()
        ]

    def _fill(self, check: ProbeCheck) -> None:
        self.method.choose(check.method)
        self.quantity.choose(check.quantity)
        row = self.salt.findData(check.salt)
        if row >= 0:
            self.salt.setCurrentIndex(row)
        row = self.warmth.findData(check.temperature_c)
        if row >= 0:
            self.warmth.setCurrentIndex(row)
        self.reference.set_text(typed_text(check.reference_value))
        self.shown.set_text(typed_text(check.shown_value))
        self.text.setText(check.note)

    def _show_fields(self) -> None:
        salt, two = self._over_salt, self._over_two
        for field, visible in (
            (self.quantity, not salt),
            (self.salt, salt),
            (self.warmth, salt),
            (self.known, salt),
            (self.reference, not salt),
            (self.second_salt, two),
            (self.second_known, two),
            (self.second_shown, two),
        ):
            self.form.setRowVisible(field, visible)
        self.how.setText(self._conditions())
        unit = Unit.PERCENT if self._checked is Quantity.HUMIDITY else Unit.CELSIUS
        self.reference.set_unit(unit)
        self.shown.set_unit(unit)
        self._fill_warmths()
        self.grow_to_content()

    def _conditions(self) -> str:
        """What makes a good check, in short."""
        if self._over_salt:
            return self.tr(
                "The air over a salt is known only over plenty of it, wet but at least a third of it not "
                "dissolved, in a small closed box at an even temperature, within a degree. Leave the probe in "
                "until its reading stands still: half a day or more. Carelessly done it may be 5 % wrong."
            )
        return self.tr(
            "Hang both close together, out of the draught of the fan, and wait until neither moves any more. The "
            "reference is taken to be right to ± 2 % and ± 0.2 °C itself."
        )

    def _fill_warmths(self) -> None:
        """Only what the table has of all salts: nothing is reckoned between its temperatures."""
        kept = self.warmth.currentData() if self.warmth.count() else _USUAL_C
        boxes = [self.salt, self.second_salt] if self._over_two else [self.salt]
        offered = [{point.temperature_c for point in fixed_points(Salt(box.currentData()))} for box in boxes]
        blocked = self.warmth.blockSignals(True)
        self.warmth.clear()
        for celsius in sorted(set.intersection(*offered)):
            self.warmth.addItem(temperature(celsius, 0), celsius)
            if celsius == kept:
                self.warmth.setCurrentIndex(self.warmth.count() - 1)
        self.warmth.blockSignals(blocked)
        self._show_known()

    def _show_known(self) -> None:
        self.tell("")
        for label, point in zip((self.known, self.second_known), self._points, strict=False):
            label.setText(fixed_point_line(point))
        try:
            at = self.at.instant()
        except InstantError:
            at = self._context.now()
        checks = self._made(at, asks=False)
        self.off.setText(" · ".join(off_by(check) for check in checks) if checks else NONE_SIGN)
        if not checks:
            self.meaning.setText("")
            self.meaning.setVisible(False)
            return
        without = "" if self._check is None else self._check.uid
        preview = correction_preview(self._context.door.journal, checks, without)
        text = preview_sentences(preview, self._context.zone, at)
        refused = preview.plus_minus is None
        self.meaning.setText("" if refused else text)
        self.meaning.setVisible(not refused)
        self.tell(text if refused else "", "warn")
        self.grow_to_content()

    # ---------------------------------------------------------------- storing

    def _made(self, at: int, *, asks: bool) -> list[ProbeCheck]:
        """The checks as they were typed; none where that cannot be: with ``asks`` it is said below its field."""
        fields = [self.shown]
        if self._over_two:
            fields.append(self.second_shown)
        elif not self._over_salt:
            fields.insert(0, self.reference)
        values: list[float] = []
        for field in fields:
            value = self._value(field, asks=asks)
            if value is None:
                if asks:
                    field.setFocus(Qt.FocusReason.TabFocusReason)
                return []
            values.append(value)
        if self._over_two and self.salt.currentData() == self.second_salt.currentData():
            if asks:
                self.tell(self.tr("Those are the same salt twice: choose two that lie apart."))
                self.second_salt.setFocus(Qt.FocusReason.OtherFocusReason)
            return []
        note = self.text.text().strip()
        if not self._over_salt:
            return [
                ProbeCheck(
                    self._probe.uid, at, self._checked, CheckMethod.REFERENCE, values[0], values[1], note=note
                )
            ]
        return [
            ProbeCheck(
                probe=self._probe.uid,
                at=at,
                quantity=Quantity.HUMIDITY,
                method=CheckMethod.SALT,
                reference_value=point.humidity,
                shown_value=value,
                salt=str(point.salt),
                temperature_c=point.temperature_c,
                note=note,
            )
            for point, value in zip(self._points, values, strict=True)
        ]

    def _value(self, field: ValueEdit, *, asks: bool) -> float | None:
        """What was typed into a field, where an instrument can show it."""
        low, high = _RANGE[self._checked]
        typed = field.typed()
        if typed is None:
            if asks and field.is_empty():
                field.tell(self.tr("What did it show?"))
            return None
        if not low <= typed.stored <= high:
            if asks:
                field.tell(
                    self.tr("Humidity lies between 0 and 100 %.")
                    if self._checked is Quantity.HUMIDITY
                    else self.tr("So cold or so warm shows no such instrument.")
                )
            return None
        return typed.stored

    def _store(self) -> None:
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return
        if at > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("That time is still to come. A check tells what has been."))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        checks = self._made(at, asks=True)
        if not checks:
            return
        known = self._check
        if known is None:
            change = self._context.door.run(lambda journal: journal.probes.add_checks(checks))
        else:
            changed = replace(checks[0], uid=known.uid)
            change = self._context.door.run(lambda journal: journal.probes.replace_check(changed))
        if change is not None:
            self.accept()
        else:
            self.tell(self.tr("The check was not stored; what you typed is still here."))

    def _delete(self) -> None:
        check = self._check
        if check is not None:
            self._context.door.run(lambda journal: journal.probes.remove_check(check))


def _salt_box(name: str, first: Salt) -> QComboBox:
    """The salts, the two of a hygrometer's usual check before the others."""
    box = QComboBox()
    for salt in dict.fromkeys((Salt.SODIUM_CHLORIDE, Salt.MAGNESIUM_CHLORIDE, *Salt)):
        box.addItem(salt_name(salt), salt)
    box.setCurrentIndex(box.findData(first))
    box.setAccessibleName(name)
    return box
