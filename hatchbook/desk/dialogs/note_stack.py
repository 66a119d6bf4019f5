"""Several notes below each other, as many as there is something to say."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.widgets.notes import InlineNote, NoteKind


class NoteStack(QWidget):
    """Shows sentences as notes; without any it takes no room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(6)
        self._notes: list[InlineNote] = []
        self.setVisible(False)

    def show_notes(self, sentences: Sequence[tuple[str, NoteKind]]) -> None:
        """Shows these, in their order; a note that stays the same is not said again."""
        while len(self._notes) < len(sentences):
            note = InlineNote("")
            self._rows.addWidget(note)
            self._notes.append(note)
        for note, (text, kind) in zip(self._notes, sentences, strict=False):
            if (note.text(), note.kind) != (text, kind):
                note.set_note(text, kind)
            note.setVisible(True)
        for note in self._notes[len(sentences) :]:
            note.setVisible(False)
        self.setVisible(bool(sentences))

    def texts(self) -> list[str]:
        """What is shown."""
        return [note.text() for note in self._notes if not note.isHidden()]
