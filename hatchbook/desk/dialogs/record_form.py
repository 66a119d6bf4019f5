"""What the forms of machines, probes and pens share: storing at once, retiring, deleting, saying what is wrong."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLayout, QPushButton, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote, NoteKind
from hatchbook.journal import Change, Journal

Operation = Callable[[Journal], Change]


class RecordForm(QWidget):
    """A form over one record, or over one that is to be added.

    Every change goes through the door as soon as its field is left.

    Signals:
        record_added: the uid of a record that has just been added.
    """

    record_added = Signal(str)

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self.uid: str | None = None
        self.is_storing = False
        """Whether the change that the door tells of is this form's own: what is shown is stored already."""
        self.title = Label("", role="title")
        self.state = Label("", ink="ink2", wraps=True)
        self.note = InlineNote("")
        self.note.setVisible(False)
        self.note.link_clicked.connect(self.retire)
        self.add_button = QPushButton("")
        self.retire_button = QPushButton("")
        self.delete_button = QPushButton(self.tr("Delete"))
        for button in (self.add_button, self.retire_button, self.delete_button):
            button.setAutoDefault(False)
        self.add_button.clicked.connect(self.add)
        self.retire_button.clicked.connect(self.retire)
        self.delete_button.clicked.connect(self.delete)

    def frame(self, content: QLayout) -> None:
        """Puts title above and buttons below what a form consists of."""
        foot = QHBoxLayout()
        foot.addWidget(self.add_button)
        foot.addWidget(self.retire_button)
        foot.addWidget(self.delete_button)
        foot.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 8, 0)
        rows.setSpacing(10)
        rows.addWidget(self.title)
        rows.addWidget(self.state)
        rows.addLayout(content)
        rows.addWidget(self.note)
        rows.addLayout(foot)
        rows.addStretch(1)

    # ---------------------------------------------------------------- for the kinds of record

    def show_record(self, uid: str | None) -> None:
        """Shows a record as it is stored; None for one that is to be added."""
        self.uid = uid
        self.tell("")
        self.add_button.setVisible(uid is None)
        self.retire_button.setVisible(uid is not None)
        self.delete_button.setVisible(uid is not None)

    def focus_first(self) -> None:
        """Puts the focus into the first field."""
        raise NotImplementedError

    def add(self) -> None:
        """Adds what stands in the fields."""
        raise NotImplementedError

    def retire(self) -> None:
        """Takes the record out of use, or into use again."""
        raise NotImplementedError

    def delete(self) -> None:
        """Deletes the record, unless it is used."""
        raise NotImplementedError

    # ---------------------------------------------------------------- storing

    def run(self, operation: Operation) -> Change | None:
        """Stores a change of this form's own; None where the journal refused it, which is then said."""
        self.tell("")
        self.is_storing = True
        try:
            change = self.context.door.run(operation)
        finally:
            self.is_storing = False
        if change is None:
            self.tell(self.tr("This was not stored; what you typed is still here."), NoteKind.BAD)
        return change

    def tell(self, text: str, kind: NoteKind = NoteKind.WARN, link: str = "") -> None:
        """Says something above the buttons; an empty text takes it away."""
        self.note.setVisible(bool(text))
        if text:
            self.note.set_note(text, kind, link)

    def today(self) -> str:
        """The present date as it is stored."""
        return self.context.today().isoformat()


def labelled(text: str, buddy: QWidget) -> Label:
    """A label that leads to its field; as high as the text in it."""
    label = Label(text)
    label.setBuddy(buddy)
    label.setContentsMargins(0, 4, 0, 0)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    return label
