"""Weights from paper: a list of the eggs, typed down or pasted, stored as one weighing of its day."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QSize, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QFormLayout, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.edit_table import EditTable
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.weighing.paper_model import WEIGHT, PaperMass, PaperModel
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.weighing import odd_list
from hatchbook.figures import batch_figures
from hatchbook.figures.to_weigh import eggs_to_weigh
from hatchbook.journal import Batch, EggMass, Weighing
from hatchbook.trade.instants import InstantError
from hatchbook.trade.units import Unit

_SIZE = QSize(720, 0)
_ROWS_SHOWN = 14


class PaperTable(EditTable):
    """Ctrl+V puts a column of numbers into the weights, from the cell at the cursor on; Del empties a cell."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Notices pasting and Del."""
        editing = self.state() == QAbstractItemView.State.EditingState
        if event.matches(QKeySequence.StandardKey.Paste) and not editing:
            self.paste(QGuiApplication.clipboard().text())
            event.accept()
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and not editing:
            self.model().setData(self.model().index(self.currentIndex().row(), WEIGHT), "")
            event.accept()
        else:
            super().keyPressEvent(event)

    def paste(self, text: str) -> None:
        """Pastes from the row of the cursor on."""
        model = self.model()
        assert isinstance(model, PaperModel)
        model.paste(max(self.currentIndex().row(), 0), text)


class PaperDialog(FramedDialog):
    """Nothing is stored before the button is pressed; weights that cannot well be right are asked about once."""

    def __init__(self, context: DeskContext, batch: Batch, unit: Unit, parent: QWidget | None) -> None:
        super().__init__(QCoreApplication.translate("PaperDialog", "Weights from paper"), parent, _SIZE)
        self._context, self._batch, self._unit = context, batch, unit
        self._asked: list[tuple[str, str]] | None = None
        self.at = InstantEdit(context.zone, context.now())
        self.at.set_accessible_name(self.tr("Weighed at"))
        self.model = PaperModel(context.zone, unit, context.now(), self)
        self.table = PaperTable(self.model, self.tr("Weights of the eggs"), rows_shown=_ROWS_SHOWN)
        figures = batch_figures(context.door.journal, batch.uid, context.now())
        self.model.show_eggs(eggs_to_weigh(context.door.journal, figures, every_egg=True))
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&Weighed at"), self.at)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(form)
        rows.addWidget(
            Label(
                self.tr("Tab goes down the list; Ctrl+V pastes a column of numbers from the cursor on."),
                ink="ink2",
                wraps=True,
            )
        )
        rows.addWidget(self.table)
        self.set_content(rows)
        self.add_leave_button(self.tr("Cancel"))
        self.store_button = self.add_main_button("")
        self.store_button.clicked.connect(self.store)
        self.model.edited.connect(self._name_button)
        self.at.edited.connect(self._look_again)
        self._name_button()
        if self.model.rowCount():
            self.table.setCurrentIndex(self.model.index(0, WEIGHT))
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.tell(self.tr("No egg of this batch lies in the machine any more."), "info")

    def _name_button(self) -> None:
        count = len(self.model.masses())
        self.store_button.setText(self.tr("Store %n weight(s)", "", count))
        self.store_button.setEnabled(count > 0)
        self.tell("")

    def _look_again(self) -> None:
        at = self._instant()
        if at is not None:
            self.model.set_meaning(self._unit, at)

    def _instant(self) -> int | None:
        try:
            return self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return None

    def store(self) -> None:
        """Stores the weights as one weighing; what cannot be read or be right is told first."""
        trouble = self.model.first_trouble()
        if trouble is not None:
            row, column, text = trouble
            self.tell(text)
            self.table.edit_cell(row, column)
            return
        at, masses = self._instant(), self.model.masses()
        if at is None or not masses:
            return
        odd = [(egg_title(one.egg.figures), one.found.typed.text) for one in masses if one.odd is not None]
        if odd and self._asked != odd:
            self._asked = odd
            self.tell(odd_list([name for name, _text in odd]), "warn")
            return
        self._store(at, masses)

    def _store(self, at: int, masses: list[PaperMass]) -> None:
        finest = min(one.found.resolution_g for one in masses)
        weighing = Weighing(self._batch.uid, at, resolution_g=finest)
        records = [
            EggMass(
                weighing.uid,
                one.egg.figures.egg.uid,
                one.found.mass_g,
                one.found.typed.to_json(),
                kept_though_odd=one.odd is not None,
            )
            for one in masses
        ]
        if self._context.door.run(lambda journal: journal.weighings.note_weighing(weighing, records)):
            self.accept()
