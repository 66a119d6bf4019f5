"""The lower edge of the candling room: what was done last; and the line in which notes and names are typed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QStackedLayout, QVBoxLayout, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.rules import HLine

_HEIGHT = 34
_LONGEST = 2000


class DimLineEdit(QLineEdit):
    """A line whose caret is as dim as its text; Qt inverts the ground for it, which is white in the dark."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """The line, with the caret painted over."""
        super().paintEvent(event)
        if self.hasFocus():
            # Qt hands out the caret's rectangle with 5 px to its left.
            around = self.cursorRect()
            with QPainter(self) as painter:
                painter.fillRect(around.x() + 5, around.y(), 2, around.height(), scheme_of(self).ink)


class RoomFoot(QWidget):
    """A rule, and below it the message, or the entry line.

    Signals:
        entry_left: the entry line was closed, and the eggs get the keys again.
    """

    entry_left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.message = ElidedLabel("", "candle_body")
        self.aside = Label("", "body", "ink2")
        self.entry_label = Label("", "candle_body")
        self.entry = DimLineEdit()
        self.entry.setMaxLength(_LONGEST)
        self.entry.installEventFilter(self)
        self._keep: Callable[[str], bool] | None = None
        said = QWidget()
        row = QHBoxLayout(said)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(24)
        row.addWidget(self.message, 1)
        row.addWidget(self.aside)
        typed = QWidget()
        row = QHBoxLayout(typed)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addWidget(self.entry_label)
        row.addWidget(self.entry, 1)
        row.addWidget(Label(self.tr("Enter keeps it, Esc leaves it"), ink="ink2"))
        self._pages = QStackedLayout()
        self._pages.addWidget(said)
        self._pages.addWidget(typed)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        rows.addWidget(HLine())
        rows.addLayout(self._pages)
        said.setFixedHeight(_HEIGHT)
        typed.setFixedHeight(_HEIGHT)

    def tell(self, text: str, *, warns: bool = False) -> None:
        """Says what was done, or why not; a screen reader hears it."""
        ink = "warn" if warns else "ink"
        if ink != self.message.ink:
            self.message.set_ink(ink)
        if text != self.message.text():
            self.message.setText(text)
        announce(self, text)

    @property
    def is_typing(self) -> bool:
        """Whether the entry line is open."""
        return self._keep is not None

    def ask(self, label: str, text: str, keep: Callable[[str], bool]) -> None:
        """Opens the entry line; ``keep`` gets what was typed, and says whether it could be kept."""
        self._keep = keep
        self.entry_label.setText(label)
        self.entry.setAccessibleName(label)
        self.entry.setText(text)
        self.entry.selectAll()
        self._pages.setCurrentIndex(1)
        self.entry.setFocus(Qt.FocusReason.OtherFocusReason)

    def leave(self) -> None:
        """Closes the entry line."""
        if self._keep is not None:
            self._keep = None
            self._pages.setCurrentIndex(0)
            self.entry_left.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter keeps what was typed, Esc leaves it; what cannot be kept stays to be typed on."""
        if (
            watched is self.entry
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and self._keep is not None
        ):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                if self._keep(self.entry.text()):
                    self.leave()
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.leave()
                return True
        return super().eventFilter(watched, event)
