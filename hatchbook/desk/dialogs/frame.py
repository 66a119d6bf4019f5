"""What the dialogs share: title, content, a note, and buttons named by what they do."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLayout, QPushButton, QVBoxLayout, QWidget

from hatchbook.desk.widgets.notes import InlineNote


class FramedDialog(QDialog):
    """A window-modal dialog with a note for trouble and a row of buttons; it is deleted when it closes."""

    def __init__(self, title: str, parent: QWidget | None, size: QSize | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.note = InlineNote("")
        self.note.setVisible(False)
        self.buttons = QDialogButtonBox()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(18, 16, 18, 14)
        self._rows.setSpacing(12)
        self._rows.addWidget(self.note)
        self._rows.addWidget(self.buttons)
        self.buttons.rejected.connect(self.reject)
        if size is not None:
            self.resize(size)

    def set_content(self, content: QLayout | QWidget) -> None:
        """Puts the content above note and buttons."""
        if isinstance(content, QLayout):
            self._rows.insertLayout(0, content, 1)
        else:
            self._rows.insertWidget(0, content, 1)

    def add_main_button(self, text: str) -> QPushButton:
        """The button that does what the dialog is for; Enter presses it."""
        button = self.buttons.addButton(text, QDialogButtonBox.ButtonRole.ActionRole)
        button.setDefault(True)
        button.setAutoDefault(True)
        return button

    def add_leave_button(self, text: str) -> QPushButton:
        """The button that leaves without doing anything; Esc does the same."""
        button = self.buttons.addButton(text, QDialogButtonBox.ButtonRole.RejectRole)
        button.setAutoDefault(False)
        return button

    def tell(self, text: str, kind: str = "bad") -> None:
        """Shows what is in the way, in place; an empty text hides it."""
        self.note.setVisible(bool(text))
        if text:
            self.note.set_note(text, kind)
