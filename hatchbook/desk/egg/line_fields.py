"""Single fields over a record: a line of text, an instant; each says below itself what cannot be."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.numbers import NONE_SIGN
from hatchbook.trade.instants import InstantError

Record = Any
"""What a form is over: a frozen record of the journal, or several that belong together."""

Shown = Callable[[Record], str]
Typed = Callable[[Record, str], Record]


class LineField:
    """A line, read when it is left and was changed."""

    def __init__(
        self,
        name: str,
        shown: Shown,
        typed: Typed,
        hand_on: Callable[[Record], bool],
        present: Callable[[], Record],
    ) -> None:
        self.edit = QLineEdit()
        self.edit.setAccessibleName(name)
        self._row = QWidget()
        self._row.setFocusProxy(self.edit)
        self.line = WithTrouble(self._row, edged=self.edit)
        self._shown, self._typed, self._hand_on, self._present = shown, typed, hand_on, present
        self._example = ""
        self.edit.textEdited.connect(lambda _text: self.line.tell(""))
        self.edit.editingFinished.connect(lambda: self.leave())

    def lay_out(self, width: int | None, before: Label | None, after: Label | None, example: str) -> None:
        """Puts the line between its name and its unit; ``example`` stands faintly in the empty line."""
        self._example = example
        self.edit.setPlaceholderText(example)
        row = QHBoxLayout(self._row)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        if before is not None:
            before.setBuddy(self.edit)
            row.addWidget(before)
        row.addWidget(self.edit)
        if after is not None:
            row.addWidget(after)
        if width is not None:
            self.edit.setFixedWidth(width)
            row.addStretch(1)

    def fix(self, *, fixed: bool) -> None:
        """Lets it be read only, or changed."""
        self.edit.setReadOnly(fixed)
        self.edit.setPlaceholderText(NONE_SIGN if fixed else self._example)

    def show_record(self, record: Record, *, another: bool) -> None:
        """Shows a record; of the same one what is being typed, or could not be read, stays."""
        if not another and (self.line.trouble() or (self.edit.hasFocus() and self.edit.isModified())):
            return
        self.line.tell("")
        text = self._shown(record)
        if self.edit.text() != text:
            self.edit.setText(text)
            self.edit.setCursorPosition(0)
        self.edit.setModified(False)

    def leave(self, *, asks: bool = False) -> bool:
        """Whether what stands here can be stored; ``asks``: even where nobody has typed."""
        if not asks and (not self.edit.isModified() or self.edit.isReadOnly()):
            return not self.line.trouble()
        try:
            record = self._typed(self._present(), self.edit.text().strip())
        except ValueError as error:
            self.line.tell(str(error))
            return False
        self.edit.setModified(False)
        stored = self._hand_on(record)
        self.edit.setModified(not stored)
        return stored


class InstantField:
    """Date and time, read when the field is left and was changed."""

    def __init__(
        self,
        edit: InstantEdit,
        shown: Callable[[Record], int],
        typed: Callable[[Record, int], Record],
        hand_on: Callable[[Record], bool],
        present: Callable[[], Record],
    ) -> None:
        self.edit = edit
        self.line = WithTrouble(edit, edged=edit.field)
        self._shown, self._typed, self._hand_on, self._present = shown, typed, hand_on, present
        self._touched = False
        edit.edited.connect(self._touch)
        edit.field.editingFinished.connect(lambda: self.leave())
        edit.which.activated.connect(lambda _row: self.leave())

    def show_record(self, record: Record, *, another: bool) -> None:
        """Shows a record; of the same one what could not be read stays."""
        if not another and self.line.trouble():
            return
        self.line.tell("")
        self.edit.set_instant(self._shown(record))
        self._touched = False

    def _touch(self) -> None:
        self._touched = True
        self.line.tell("")

    def leave(self, *, asks: bool = False) -> bool:
        """Whether what stands here can be stored; ``asks``: even where nobody has typed."""
        if not asks and not self._touched:
            return not self.line.trouble()
        try:
            at = self.edit.instant()
            record = self._typed(self._present(), at)
        except (InstantError, ValueError) as error:
            self.line.tell(str(error))
            return False
        self._touched = False
        stored = self._hand_on(record)
        self._touched = not stored
        return stored
