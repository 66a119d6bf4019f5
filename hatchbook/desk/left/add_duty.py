"""Adding a duty of one's own: when, what, for which batch."""

from __future__ import annotations

from datetime import date, datetime, time

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.dates import long_weekday
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind
from hatchbook.trade.instants import InstantError, from_local_shifted, to_local

_USUAL = time(18, 0)
"""The time offered for another day than today."""


class AddDutyDialog(FramedDialog):
    """Enter stores; what is missing is said beside it."""

    def __init__(self, context: DeskContext, day: date, parent: QWidget | None) -> None:
        super().__init__(self.tr("Add duty"), parent, QSize(420, 230))
        self._context = context
        self.at = InstantEdit(context.zone, _offered(context, day))
        self.at.set_accessible_name(self.tr("When"))
        self.text = QLineEdit()
        self.text.setMaxLength(200)
        self.text.setPlaceholderText(self.tr("Fill the lockdown channels"))
        self.text.setAccessibleName(self.tr("What is to do"))
        self.missing = Label("", TypeRole.CAPTION, "bad", wraps=True)
        self.missing.setVisible(False)
        self.batch = QComboBox()
        self.batch.addItem(self.tr("No batch in particular"), None)
        for batch in context.door.journal.batches.all():
            if batch.closed_at is None:
                self.batch.addItem(f"{batch.label} {batch.name}".strip(), batch.uid)
        self.batch.setCurrentIndex(max(self.batch.findData(context.batch), 0))
        self._build(day)
        self.text.textChanged.connect(lambda _text: self._mark(""))

    def _build(self, day: date) -> None:
        what = QVBoxLayout()
        what.setSpacing(2)
        what.addWidget(self.text)
        what.addWidget(self.missing)
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&What"), what)
        form.addRow(self.tr("W&hen"), self.at)
        form.addRow(self.tr("&Batch"), self.batch)
        form.labelForField(what).setBuddy(self.text)  # type: ignore[attr-defined]
        rows = QVBoxLayout()
        rows.setSpacing(12)
        rows.addWidget(
            Label(self.tr("A duty of your own for {day}").format(day=long_weekday(day)), TypeRole.SECTION)
        )
        rows.addLayout(form)
        rows.addStretch(1)
        self.set_content(rows)
        self.add = self.add_main_button(self.tr("Add duty"))
        self.add.clicked.connect(self._store)
        self.add_leave_button(self.tr("Cancel"))
        self.text.setFocus(Qt.FocusReason.TabFocusReason)

    def _store(self) -> None:
        self.tell("")
        text = self.text.text().strip()
        if not text:
            self._mark(self.tr("Write what is to do."))
            self.text.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        try:
            due_at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        duty = Duty(DutyKind.OTHER, due_at, self.batch.currentData(), text=text)
        if self._context.door.run(lambda journal: journal.duties.add(duty)) is not None:
            self._context.choose_day(to_local(due_at, self._context.zone).date())
            self.accept()

    def _mark(self, trouble: str) -> None:
        edge = scheme_of(self).hex("bad")
        self.text.setStyleSheet(f"border: 1.5px solid {edge};" if trouble else "")
        self.missing.setText(trouble)
        self.missing.setVisible(bool(trouble))


def _offered(context: DeskContext, day: date) -> int:
    """The next full hour today, else the usual hour."""
    zone = context.zone
    now = to_local(context.now(), zone)
    hour = time(now.hour + 1) if day == now.date() and now.hour < 23 else _USUAL
    return from_local_shifted(datetime.combine(day, hour), zone)
