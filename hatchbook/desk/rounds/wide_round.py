"""A round over the whole dialog: tray at the left, what is known in the middle, keys as they lie at the right."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import ClassVar

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractSpinBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.rounds.round_dialog import EggRoundDialog
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.words.contradictions import contradiction_sentence
from hatchbook.desk.words.eggs import short_title
from hatchbook.desk.words.history import change_sentence
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Batch, Change

_LEAST, _MOST = QSize(1060, 650), QSize(1240, 780)
#: The window around the dialog stays to be seen.
_AROUND = QSize(40, 50)
#: How tray, middle and keys share the width.
_SHARES = (6, 7, 7)
_TRAY_FRAME, _EGG_LARGEST = 22, 56
#: Under the right hand, the index finger on J.
RIGHT_HAND: Mapping[str, tuple[int, int]] = {
    "U": (0, 0),
    "I": (0, 1),
    "O": (0, 2),
    "P": (0, 3),
    "J": (1, 0),
    "K": (1, 1),
    "L": (1, 2),
}


def wide_size(parent: QWidget | None) -> QSize:
    """The size of a wide round over a window: as large as there is room, within reason."""
    room = _LEAST if parent is None else parent.window().size() - _AROUND
    return room.boundedTo(_MOST).expandedTo(_LEAST)


class WideRound(EggRoundDialog):
    """Fills three columns; subclasses put their parts into ``left``, ``centre`` and ``right`` in ``fill``.

    Space gives the last verdict again, Enter skips. Fields are reached by their letters; Enter and Esc lead from
    them back to the tray.
    """

    key_places: ClassVar[Mapping[str, tuple[int, int]]] = RIGHT_HAND

    def __init__(
        self, context: DeskContext, batch: Batch, title: str, parent: QWidget | None, at: int
    ) -> None:
        self._fields: dict[str, QWidget] = {}
        self._entries: set[QObject] = set()
        super().__init__(context, batch, title, parent, at, wide_size(parent))
        # On paper, as the pages of the window are.
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        context.door.changed.connect(self._show_last)

    # ---------------------------------------------------------------- layout

    def lay_out(self) -> None:
        """Head line, three columns, foot line."""
        self.heading = Label("", role="title")
        self.facts = ElidedLabel("", ink="ink2")
        self.last = ElidedLabel("")
        self.hints = ElidedLabel("", role="caption", ink="ink2")
        self.left, self.centre, self.right = QVBoxLayout(), QVBoxLayout(), QVBoxLayout()
        for column in (self.left, self.centre, self.right):
            column.setSpacing(8)
        self.fill()
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.heading)
        head.addWidget(self.facts, 1, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.progress, 0, Qt.AlignmentFlag.AlignBottom)
        columns = QHBoxLayout()
        columns.setSpacing(16)
        self.lay_out_columns(columns)
        foot = QHBoxLayout()
        foot.addWidget(self.last, 1)
        foot.addWidget(self.hints)
        rows = QVBoxLayout()
        rows.setSpacing(8)
        rows.addLayout(head)
        rows.addWidget(HLine())
        rows.addLayout(columns, 1)
        rows.addWidget(HLine())
        rows.addLayout(foot)
        self.hints.setText(self.hints_text())
        self.set_content(rows)

    def lay_out_columns(self, columns: QHBoxLayout) -> None:
        """The columns side by side."""
        for position, (column, stretch) in enumerate(
            zip((self.left, self.centre, self.right), _SHARES, strict=True)
        ):
            if position:
                columns.addWidget(VLine())
            columns.addLayout(column, stretch)

    def fill(self) -> None:
        """Makes the parts of the three columns."""
        raise NotImplementedError

    def hints_text(self) -> str:
        """The keys that every wide round has."""
        return self.tr("Space as last time · Enter skip · Backspace take back · Esc leave")

    def add_field(self, letter: str, field: QWidget) -> None:
        """A field that its letter leads to; Enter or Esc in it leads back to the tray."""
        self._fields[letter] = field
        entry = field.focusProxy() or field
        self._entries.add(entry)
        entry.installEventFilter(self)

    # ---------------------------------------------------------------- keys

    def handle_key(self, event: QKeyEvent) -> bool:
        """Space, Enter, and the letters of the fields, besides the verdicts'."""
        if super().handle_key(event):
            return True
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        if not plain:
            return False
        if event.key() == Qt.Key.Key_Space:
            self.give_again()
            return True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.skip()
            return True
        field = self._fields.get(event.text().upper())
        if field is not None and field.isEnabled():
            self.enter_field(field)
            return True
        return False

    def enter_field(self, field: QWidget) -> None:
        """Puts the focus into a field; what stands there is chosen, so that typing replaces it."""
        field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        entry = field.focusProxy() or field
        if isinstance(entry, QLineEdit):
            entry.selectAll()

    def skip(self) -> None:
        """Goes on to the next egg without a verdict."""
        egg = self.current()
        if egg is not None:
            self.go_on(egg.egg.uid)

    def back_to_tray(self) -> None:
        """Puts the focus back on the eggs."""
        self.tray.setFocus(Qt.FocusReason.OtherFocusReason)

    def field_key(self, entry: QObject, event: QKeyEvent) -> bool:
        """Acts on a key in a field: Enter and Esc lead back to the tray."""
        del entry
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.back_to_tray()
            return True
        return False

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In a field letters are text."""
        if watched is self.tray and event.type() in (QEvent.Type.Resize, QEvent.Type.Show):
            self._fit_tray()
        if watched in self._entries and isinstance(watched, QLineEdit | QAbstractSpinBox):
            if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
                return self.field_key(watched, event)
            return False
        return super().eventFilter(watched, event)

    def name_of(self, egg: EggFigures) -> str:
        """What an egg is called on these trays: C 2."""
        return short_title(egg, self.figures.trays)

    def tell_contradictions(self, uids: Collection[str]) -> None:
        """Says which records of these eggs can not both be true; the stronger one stands all the same."""
        clashes = [
            self.tr("{egg}: {clash}").format(egg=self.name_of(egg), clash=contradiction_sentence(clash))
            for egg in self.figures.eggs
            if egg.egg.uid in uids
            for clash in egg.outcome.contradictions
        ]
        if clashes:
            self.tell(" ".join(clashes), "warn")

    def _fit_tray(self) -> None:
        """No higher than its eggs at this width, so that what stands below comes close."""
        columns, rows = self.tray.tray.columnCount(), self.tray.tray.rowCount()
        if columns and rows:
            side = min(_EGG_LARGEST, (self.tray.width() - _TRAY_FRAME) // columns)
            self.tray.setMaximumHeight(rows * side + _TRAY_FRAME)

    def _show_last(self, change: Change) -> None:
        if change.step.batch != self.batch.uid:
            return
        sentence = change_sentence(change, self.context.zone)
        self.last.setText(sentence)
        announce(self, sentence)
