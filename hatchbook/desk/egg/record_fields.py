"""Fields over one frozen record, each read, checked and handed on by itself as soon as it is left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import StrEnum
from typing import Any

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QCheckBox, QComboBox, QWidget

from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.egg.choice_combo import ChoiceCombo
from hatchbook.desk.egg.line_fields import InstantField, LineField, Record, Shown, Typed
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.labels import Label


class RecordFields(QWidget):
    """Shows a record and hands on what becomes of it.

    Of a record that is new nothing is handed on until ``finished_new`` is asked for.

    Signals:
        changed: the record with the one field changed that was left.
    """

    changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._record: Record = None
        self._is_new = False
        self._is_fixed = False
        self._lines: list[LineField] = []
        self._instants: list[InstantField] = []
        self._choices: list[ChoiceCombo] = []
        self._shows: list[Callable[[Record], None]] = []
        self._fixable: list[QWidget] = []

    @property
    def record(self) -> Record:
        """The record as it is shown; None before any is."""
        return self._record

    def show_record(self, record: Record, *, is_new: bool = False, another: bool = True) -> None:
        """Shows a record.

        Args:
            is_new: it is not stored yet.
            another: it is not the one shown before: what was typed there and could not be read goes away.
        """
        self._record, self._is_new = record, is_new
        for line in self._lines:
            line.show_record(record, another=another)
        for instant in self._instants:
            instant.show_record(record, another=another)
        for show in self._shows:
            show(record)

    def fix(self, *, fixed: bool) -> None:
        """Lets nothing be changed, or everything; what is shown can be read and copied either way."""
        self._is_fixed = fixed
        for line in self._lines:
            line.fix(fixed=fixed)
        for widget in self._fixable:
            widget.setEnabled(not fixed)
        self._dress_fixed()

    def _dress_fixed(self) -> None:
        """What cannot be changed looks like text, as easy to read as what can."""
        ink = scheme_of(self).hex("ink")
        plain = "background: transparent; border: none; padding: 4px 0;"
        for line in self._lines:
            line.edit.setStyleSheet(f"QLineEdit {{ {plain} }}" if self._is_fixed else "")
        for widget in self._fixable:
            rule = f"QComboBox, QDateTimeEdit {{ {plain} color: {ink}; }} QCheckBox {{ color: {ink}; }}"
            hidden = "::drop-down { width: 0; border: none; }"
            arrows = f"QComboBox{hidden} QDateTimeEdit{hidden}"
            widget.setStyleSheet(f"{rule} {arrows}" if self._is_fixed else "")

    def changeEvent(self, event: QEvent) -> None:
        """Another scheme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._is_fixed:
            self._dress_fixed()

    def settle(self) -> bool:
        """Hands on what is typed in a field that was not left yet; False where it cannot be."""
        for choice in self._choices:
            choice.leave()
        good = [field.leave() for field in self._fields]
        return all(good)

    def finished_new(self) -> Record | None:
        """The new record as it was filled in; None where a field cannot be read, which is then said."""
        for choice in self._choices:
            choice.leave()
        good = [field.leave(asks=True) for field in self._fields]
        if all(good):
            return self._record
        for field in self._fields:
            if field.line.trouble():
                focus(field.edit)
                break
        return None

    @property
    def _fields(self) -> list[LineField | InstantField]:
        return [*self._lines, *self._instants]

    def is_touched(self) -> bool:
        """Whether something is typed that was not handed on."""
        return any(line.edit.isModified() for line in self._lines)

    def _hand_on(self, record: Record) -> bool:
        """Whether the record is as it was to be afterwards; it is not where it could not be stored."""
        if record != self._record:
            if self._is_new:
                self._record = record
            else:
                self.changed.emit(record)
        return bool(record == self._record)

    # ---------------------------------------------------------------- making fields

    def line(
        self,
        name: str,
        shown: Shown,
        typed: Typed,
        *,
        longest: int = 2000,
        width: int | None = None,
        before: Label | None = None,
        after: Label | None = None,
        example: str = "",
    ) -> WithTrouble:
        """A line of text.

        Args:
            name: for screen readers.
            shown: the text for a record.
            typed: the record for a text; raises ValueError with a sentence for the breeder.
            width: px, where the text is short.
            before, after: what stands in one row with it: its own name, its unit.
            example: what stands faintly in the empty field.
        """
        field = LineField(name, shown, typed, self._hand_on, lambda: self._record)
        field.edit.setMaxLength(longest)
        field.lay_out(width, before, after, example)
        self._lines.append(field)
        return field.line

    def choice(
        self,
        name: str,
        choices: Sequence[tuple[StrEnum | str | None, str, QIcon | None]],
        shown: Callable[[Record], object],
        chosen: Callable[[Record, Any], Record],
    ) -> ChoiceCombo:
        """A list to choose from: keys, their words, and icons or None."""
        combo = ChoiceCombo()
        combo.setAccessibleName(name)
        fill(combo, choices)
        self._choices.append(combo)

        def show(record: Record) -> None:
            combo.setCurrentIndex(combo.findData(shown(record)))

        combo.settled.connect(lambda: self._hand_on(chosen(self._record, combo.currentData())))
        self._shows.append(show)
        self._fixable.append(combo)
        return combo

    def tick(
        self, text: str, shown: Callable[[Record], bool], ticked: Callable[[Record, bool], Record]
    ) -> QCheckBox:
        """A box to tick."""
        box = QCheckBox(text)
        box.clicked.connect(lambda _checked=False: self._hand_on(ticked(self._record, box.isChecked())))
        self._shows.append(lambda record: box.setChecked(shown(record)))
        self._fixable.append(box)
        return box

    def instant(
        self, edit: InstantEdit, shown: Callable[[Record], int], typed: Callable[[Record, int], Record]
    ) -> WithTrouble:
        """An instant."""
        field = InstantField(edit, shown, typed, self._hand_on, lambda: self._record)
        self._instants.append(field)
        self._fixable.append(edit)
        return field.line


def fill(combo: QComboBox, choices: Sequence[tuple[StrEnum | str | None, str, QIcon | None]]) -> None:
    """Offers other choices."""
    combo.clear()
    for key, word, icon in choices:
        if icon is None:
            combo.addItem(word, key)
        else:
            combo.addItem(icon, word, key)


def top_label(text: str, width: int | None = None) -> Label:
    """The name of a field, on a level with its first line."""
    label = Label(text)
    label.setContentsMargins(0, 4, 0, 0)
    label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
    if width is not None:
        label.setMinimumWidth(width)
    return label
