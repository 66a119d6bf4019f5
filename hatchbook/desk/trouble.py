"""The bar that says what the journal refused, and stays until it is solved."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QWidget

from hatchbook.desk.door import Door
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import JournalError


class TroubleBar(QWidget):
    """Hidden unless something could not be stored."""

    def __init__(self, door: Door) -> None:
        super().__init__()
        self.setVisible(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        self.note = InlineNote("", kind="bad")
        self._seen = FlatButton(self.tr("Seen"))
        row.addWidget(self.note, 1)
        row.addWidget(self._seen)
        self._seen.clicked.connect(self.hide)
        door.refused.connect(self.tell)
        door.changed.connect(lambda _change: self.hide())
        door.journal_changed.connect(self.hide)

    def tell(self, error: JournalError) -> None:
        """Shows why nothing was stored."""
        self.note.set_text(error_sentence(error))
        self.setVisible(True)
