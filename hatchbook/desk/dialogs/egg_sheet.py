"""An egg's whole story, and what can be edited of it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QDate, QSize, Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDateEdit,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.pictures import EggGlyph
from hatchbook.desk.words.codes import fate_word
from hatchbook.desk.words.eggs import egg_title, seen_parts
from hatchbook.figures.results import EggFigures
from hatchbook.trade.units import Unit

_GLYPH = 56


class EggSheet(FramedDialog):
    """Pen, laying date, masses, mark and remark can be changed; the looks at the egg are listed."""

    def __init__(self, context: DeskContext, egg: EggFigures, parent: QWidget | None) -> None:
        super().__init__(egg_title(egg), parent, QSize(560, 520))
        self._context = context
        self._egg = egg
        rows = QVBoxLayout()
        rows.setSpacing(10)
        head = QHBoxLayout()
        head.addWidget(EggGlyph(egg.outcome.fate, _GLYPH, fate_word(egg.outcome.fate)))
        titles = QVBoxLayout()
        titles.addWidget(Label(egg_title(egg), role="title"))
        titles.addWidget(Label(fate_word(egg.outcome.fate), ink="ink2"))
        head.addLayout(titles, 1)
        rows.addLayout(head)
        for clash in egg.outcome.contradictions:
            rows.addWidget(InlineNote(str(clash), "warn"))
        rows.addLayout(self._form())
        rows.addWidget(Label(self.tr("Seen"), role="section"))
        self.seen = QListWidget()
        self.seen.setAccessibleName(self.tr("Every look at this egg"))
        self.seen.addItems(seen_parts(egg) or [self.tr("nothing is recorded of it yet")])
        rows.addWidget(self.seen, 1)
        self.set_content(rows)
        closed = context.door.journal.batches.get(egg.egg.batch).closed_at is not None
        save = self.add_main_button(self.tr("Keep the changes"))
        save.setEnabled(not closed and not context.door.journal.read_only)
        save.clicked.connect(self._store)
        self.add_leave_button(self.tr("Close"))

    def _form(self) -> QFormLayout:
        egg = self._egg.egg
        self.pen = QComboBox()
        self.pen.addItem(self.tr("not known"), None)
        for pen in self._context.door.journal.pens.all():
            self.pen.addItem(pen.name, pen.uid)
        self.pen.setCurrentIndex(max(self.pen.findData(egg.pen), 0))
        self.laid_known = QCheckBox(self.tr("laid on"))
        self.laid = QDateEdit()
        self.laid.setCalendarPopup(True)
        self.laid.setDisplayFormat(self.tr("ddd d MMM yyyy"))
        today = self._context.today()
        self.laid.setDate(QDate(today.year, today.month, today.day))
        if egg.laid_on:
            self.laid.setDate(QDate.fromString(egg.laid_on, Qt.DateFormat.ISODate))
        self.laid_known.setChecked(egg.laid_on is not None)
        self.laid.setEnabled(egg.laid_on is not None)
        self.laid_known.toggled.connect(self.laid.setEnabled)
        laid = QHBoxLayout()
        laid.addWidget(self.laid_known)
        laid.addWidget(self.laid, 1)
        self.mass = ValueEdit(Unit.GRAM, self.tr("Mass when set"))
        if egg.set_mass_g is not None:
            self.mass.set_text(f"{egg.set_mass_g:g}")
        self.mark = QLineEdit(egg.mark)
        self.marked = QCheckBox(self.tr("weighed when only marked eggs are"))
        self.marked.setChecked(egg.marked)
        self.remark = QLineEdit(egg.remark)
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&Pen"), self.pen)
        form.addRow(self.tr("Age"), laid)
        form.addRow(self.tr("&Mass when set"), self.mass)
        form.addRow(self.tr("On the &shell"), self.mark)
        form.addRow("", self.marked)
        form.addRow(self.tr("&Remark"), self.remark)
        return form

    def _store(self) -> None:
        mass = self.mass.typed()
        if self.mass.is_bad():
            return
        if mass is not None and mass.stored <= 0:
            self.mass.tell(self.tr("A mass is more than nothing."))
            return
        egg = replace(
            self._egg.egg,
            pen=self.pen.currentData(),
            laid_on=self.laid.date().toString(Qt.DateFormat.ISODate) if self.laid_known.isChecked() else None,
            set_mass_g=None if mass is None else mass.stored,
            mark=self.mark.text().strip(),
            marked=self.marked.isChecked(),
            remark=self.remark.text().strip(),
        )
        if self._context.door.run(lambda journal: journal.eggs.replace(egg)) is not None:
            self.accept()
