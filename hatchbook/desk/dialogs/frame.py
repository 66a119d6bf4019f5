"""What the dialogs share: title, content, a note, and buttons named by what they do."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine


class FramedDialog(QDialog):
    """A window-modal dialog with a note for trouble and a row of buttons; it is deleted when it closes.

    A size without height takes the height that its content needs at that width.
    """

    def __init__(self, title: str, parent: QWidget | None, size: QSize | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        # A batch without a name leaves a space behind.
        self.setWindowTitle(" ".join(title.split()))
        self.note = InlineNote("")
        self.note.setVisible(False)
        self.buttons = QDialogButtonBox()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(18, 16, 18, 14)
        self._rows.setSpacing(12)
        self._rows.addWidget(self.note)
        self._rows.addWidget(self.buttons)
        self.buttons.rejected.connect(self.reject)
        self._size = size
        if size is not None and size.height():
            self.resize(size)

    def showEvent(self, event: QShowEvent) -> None:
        """Takes the height of the content, where no other was given."""
        super().showEvent(event)
        if self._size is not None and not self._size.height():
            width = max(self._size.width(), self.sizeHint().width())
            self.resize(width, self._height_needed(width))

    def grow_to_content(self) -> None:
        """Takes more height where its content needs more now; it never jumps smaller under the hand."""
        if self.isVisible():
            self._rows.activate()
            needed = self._height_needed(self.width())
            if needed > self.height():
                self.resize(self.width(), needed)

    def _height_needed(self, width: int) -> int:
        wrapped = self._rows.totalHeightForWidth(width) if self._rows.hasHeightForWidth() else 0
        return wrapped or self.sizeHint().height()

    def set_content(self, content: QLayout | QWidget) -> None:
        """Puts the content above note and buttons."""
        if isinstance(content, QLayout):
            self._rows.insertLayout(0, content, 1)
        else:
            self._rows.insertWidget(0, content, 1)

    def share_foot(self, wide: QWidget, *others: QWidget) -> None:
        """Puts the buttons into one row with what is said beside them, under a rule."""
        foot = QHBoxLayout()
        foot.addWidget(wide, 1)
        for widget in others:
            foot.addWidget(widget)
        foot.addSpacing(12)
        self._rows.removeWidget(self.buttons)
        foot.addWidget(self.buttons)
        self._rows.addWidget(HLine())
        self._rows.addLayout(foot)

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
