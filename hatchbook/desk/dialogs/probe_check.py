"""A check of a probe: over a salt with a known humidity, or beside a reference instrument."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import word
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.holding import fixed_point_line, off_by, salt_name
from hatchbook.desk.words.numbers import temperature, typed_text
from hatchbook.journal import Probe, ProbeCheck
from hatchbook.trade.codes import CheckMethod, Quantity
from hatchbook.trade.instants import InstantError
from hatchbook.trade.salts import FixedPoint, Salt, fixed_points
from hatchbook.trade.units import Unit

_USUAL_C = 25.0
_RANGE = {Quantity.HUMIDITY: (0.0, 100.0), Quantity.TEMPERATURE: (-60.0, 100.0)}


class ProbeCheckDialog(FramedDialog):
    """Notes what a probe showed, and what it should have shown; or changes what was noted."""

    def __init__(
        self, context: DeskContext, probe: Probe, parent: QWidget | None, *, check: ProbeCheck | None = None
    ) -> None:
        super().__init__(self.tr("Check of {probe}").format(probe=probe.name), parent, QSize(560, 400))
        self._context = context
        self._probe = probe
        self._check = check
        self.method = Segmented([(one, word(one)) for one in CheckMethod], name=self.tr("How it was checked"))
        self.quantity = Segmented([(one, word(one)) for one in Quantity], name=self.tr("What was checked"))
        self.at = InstantEdit(context.zone, context.now() if check is None else check.at)
        self.at.set_accessible_name(self.tr("When"))
        self.salt = QComboBox()
        for salt in (Salt.SODIUM_CHLORIDE, Salt.MAGNESIUM_CHLORIDE, *Salt):
            if self.salt.findData(salt) < 0:
                self.salt.addItem(salt_name(salt), salt)
        self.salt.setAccessibleName(self.tr("Salt"))
        self.warmth = QComboBox()
        self.warmth.setAccessibleName(self.tr("Temperature at which it stood"))
        self.known = Label("")
        self.reference = ValueEdit(Unit.PERCENT, self.tr("The reference showed"))
        self.shown = ValueEdit(Unit.PERCENT, self.tr("The probe showed"))
        self.off = Label("", ink="ink2")
        self.text = QLineEdit()
        self.text.setMaxLength(2000)
        self.how = Label(
            self.tr(
                "The air over a salt is known only over plenty of it, moist but not all dissolved, in a small "
                "closed box at an even temperature; leave the probe in until its reading stands still."
            ),
            role="caption",
            ink="ink2",
            wraps=True,
        )
        self._build()
        self.method.chosen.connect(lambda _key: self._show_fields())
        self.quantity.chosen.connect(lambda _key: self._show_fields())
        self.salt.currentIndexChanged.connect(lambda _row: self._fill_warmths())
        self.warmth.currentIndexChanged.connect(lambda _row: self._show_known())
        self.shown.edited.connect(self._show_known)
        self.reference.edited.connect(self._show_known)
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
        self.form.addRow(self.tr("&Salt"), self.salt)
        self.form.addRow(self.tr("&Temperature"), self.warmth)
        self.form.addRow(self.tr("The air over it"), self.known)
        self.form.addRow(self.tr("The &reference showed"), self.reference)
        self.form.addRow(self.tr("The &probe showed"), self.shown)
        self.form.addRow(self.tr("Off by"), self.off)
        self.form.addRow(self.tr("&Note"), self.text)
        rows = QVBoxLayout()
        rows.setSpacing(12)
        rows.addLayout(self.form)
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
    def _over_salt(self) -> bool:
        return self.method.current() == CheckMethod.SALT

    @property
    def _checked(self) -> Quantity:
        return Quantity.HUMIDITY if self._over_salt else Quantity(str(self.quantity.current()))

    @property
    def _point(self) -> FixedPoint:
        point: FixedPoint = self.warmth.currentData()
        return point

    def _fill(self, check: ProbeCheck) -> None:
        self.method.choose(check.method)
        self.quantity.choose(check.quantity)
        row = self.salt.findData(check.salt)
        if row >= 0:
            self.salt.setCurrentIndex(row)
        for row in range(self.warmth.count()):
            if self.warmth.itemData(row).temperature_c == check.temperature_c:
                self.warmth.setCurrentIndex(row)
        self.reference.set_text(typed_text(check.reference_value))
        self.shown.set_text(typed_text(check.shown_value))
        self.text.setText(check.note)

    def _show_fields(self) -> None:
        salt = self._over_salt
        for field, visible in (
            (self.quantity, not salt),
            (self.salt, salt),
            (self.warmth, salt),
            (self.known, salt),
            (self.reference, not salt),
        ):
            self.form.setRowVisible(field, visible)
        self.how.setVisible(salt)
        unit = Unit.PERCENT if self._checked is Quantity.HUMIDITY else Unit.CELSIUS
        self.reference.set_unit(unit)
        self.shown.set_unit(unit)
        self._show_known()

    def _fill_warmths(self) -> None:
        """Only what the table has: nothing is reckoned between its temperatures."""
        kept = self.warmth.currentData().temperature_c if self.warmth.count() else _USUAL_C
        blocked = self.warmth.blockSignals(True)
        self.warmth.clear()
        for point in fixed_points(Salt(self.salt.currentData())):
            self.warmth.addItem(temperature(point.temperature_c, 0), point)
            if point.temperature_c == kept:
                self.warmth.setCurrentIndex(self.warmth.count() - 1)
        self.warmth.blockSignals(blocked)
        self._show_known()

    def _show_known(self) -> None:
        self.tell("")
        self.known.setText(fixed_point_line(self._point))
        check = self._made(0, asks=False)
        self.off.setText("–" if check is None else off_by(check))

    # ---------------------------------------------------------------- storing

    def _made(self, at: int, *, asks: bool) -> ProbeCheck | None:
        """The check as it was typed; where it cannot be and ``asks``, what is wrong is said below its field."""
        values: list[float] = []
        fields = [self.shown] if self._over_salt else [self.reference, self.shown]
        low, high = _RANGE[self._checked]
        for field in fields:
            typed = field.typed()
            if typed is None:
                if asks and field.is_empty():
                    field.tell(self.tr("What did it show?"))
                return self._failed(field, asks)
            if not low <= typed.stored <= high:
                if asks:
                    field.tell(
                        self.tr("Humidity lies between 0 and 100 %.")
                        if self._checked is Quantity.HUMIDITY
                        else self.tr("So cold or so warm shows no such instrument.")
                    )
                return self._failed(field, asks)
            values.append(typed.stored)
        salt = self._over_salt
        return ProbeCheck(
            probe=self._probe.uid,
            at=at,
            quantity=self._checked,
            method=CheckMethod(str(self.method.current())),
            reference_value=self._point.humidity if salt else values[0],
            shown_value=values[-1],
            salt=str(self._point.salt) if salt else "",
            temperature_c=self._point.temperature_c if salt else None,
            note=self.text.text().strip(),
        )

    @staticmethod
    def _failed(field: ValueEdit, asks: bool) -> None:
        if asks:
            field.setFocus(Qt.FocusReason.TabFocusReason)

    def _store(self) -> None:
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return
        check = self._made(at, asks=True)
        if check is None:
            return
        known = self._check
        if known is not None:
            check = replace(check, uid=known.uid)
        change = self._context.door.run(
            lambda journal: (
                journal.probes.add_check(check) if known is None else journal.probes.replace_check(check)
            )
        )
        if change is not None:
            self.accept()
        else:
            self.tell(self.tr("The check was not stored; what you typed is still here."))

    def _delete(self) -> None:
        check = self._check
        if check is not None:
            self._context.door.run(lambda journal: journal.probes.remove_check(check))
