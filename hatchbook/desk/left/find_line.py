"""The line that searches the batch list."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.painting.icons import icon
from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font


class FindLine(QLineEdit):
    """Searches as one types. Esc clears it, and leaves it when it is clear; Down and Enter go to what was found.

    Signals:
        left: the cursor wants back into the list.
        entered: the first batch found is wanted.
    """

    left = Signal()
    entered = Signal()

    _glass: QAction | None = None
    _tinted_for: Scheme | None = None

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Find batch"))
        self.setAccessibleDescription(self.tr("Shows only the batches in which every word occurs."))
        key = actions["find"].shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        self.setPlaceholderText(self.tr("Find batch, pen, note…"))
        self.setToolTip(self.tr("Find by number, name, species, breed, pen or note  ({key})").format(key=key))
        self.setClearButtonEnabled(True)
        # Made here and not by the line: Python loses hold of an action that Qt makes for it.
        self._glass = QAction(icon("search", scheme_of(self)), "", self)
        self.addAction(self._glass, QLineEdit.ActionPosition.LeadingPosition)
        self._restyle()

    def start(self) -> None:
        """Takes the cursor, with what stands there ready to be typed over."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc, Down and Enter lead out."""
        match event.key():
            case Qt.Key.Key_Escape if self.text():
                self.clear()
            case Qt.Key.Key_Escape | Qt.Key.Key_Down:
                self.left.emit()
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.entered.emit()
            case _:
                super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Notices another scheme."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self._restyle()

    def _restyle(self) -> None:
        scheme = scheme_of(self)
        if self._glass is not None and scheme is not self._tinted_for:
            self._tinted_for = scheme
            self._glass.setIcon(icon("search", scheme))
        font = role_font(TypeRole.CAPTION)
        if self.font() != font:
            self.setFont(font)
