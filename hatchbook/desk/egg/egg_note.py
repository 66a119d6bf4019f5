"""Asks for a note on one or several eggs."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.eggs import egg_title
from hatchbook.figures.results import EggFigures
from hatchbook.trade.instants import InstantError

_LONGEST = 2000
_NUMBERS_NAMED = 12


class EggNoteDialog(FramedDialog):
    """The same note goes into the story of each egg, and as one line into the journal of the batch."""

    def __init__(
        self, context: DeskContext, batch: str, eggs: Sequence[EggFigures], parent: QWidget | None
    ) -> None:
        title = QCoreApplication.translate("EggNoteDialog", "Note on eggs")
        super().__init__(title, parent, QSize(460, 190))
        self._context = context
        self._batch = batch
        self._eggs = [egg.egg.uid for egg in eggs]
        self.text = QLineEdit()
        self.text.setMaxLength(_LONGEST)
        self.text.setAccessibleName(self.tr("Note"))
        self.text_line = WithTrouble(self.text)
        self.at = InstantEdit(context.zone, context.now())
        self.at.set_accessible_name(self.tr("When"))
        self.at_line = WithTrouble(self.at)
        form = QFormLayout()
        form.addRow(self.tr("&Note"), self.text_line)
        form.addRow(self.tr("&When"), self.at_line)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addWidget(Label(self._named(eggs), wraps=True))
        rows.addLayout(form)
        rows.addStretch(1)
        self.set_content(rows)
        self.add_main_button(self.tr("Note it")).clicked.connect(self._store)
        self.add_leave_button(self.tr("Cancel"))
        self.text.textEdited.connect(lambda _text: self.text_line.tell(""))
        self.at.edited.connect(lambda: self.at_line.tell(""))
        focus(self.text)

    def _named(self, eggs: Sequence[EggFigures]) -> str:
        if len(eggs) == 1:
            return egg_title(eggs[0])
        if len(eggs) <= _NUMBERS_NAMED:
            numbers = self.tr(", ").join(str(egg.egg.number) for egg in eggs)
            return self.tr("Eggs {numbers}").format(numbers=numbers)
        return self.tr("%n egg(s)", "", len(eggs))

    def _store(self) -> None:
        text = self.text.text().strip()
        if not text:
            self.text_line.tell(self.tr("Write the note first."))
            focus(self.text)
            return
        try:
            at = self.at.instant()
        except InstantError as error:
            self.at_line.tell(str(error))
            focus(self.at)
            return
        batch, eggs = self._batch, self._eggs
        if (
            self._context.door.run(lambda journal: journal.events.note_eggs(batch, eggs, text, at))
            is not None
        ):
            self.accept()
        else:
            self.tell(self.tr("The note was not stored; what you typed is still here."))
