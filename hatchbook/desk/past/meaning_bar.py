"""A word of a file for a species that is not known: the breeder says which one it means."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.widgets.notes import InlineNote, NoteKind
from hatchbook.desk.words.codes import species_word


class MeaningBar(QWidget):
    """Asks for one word; hidden while there is none.

    Signals:
        answered: the word, and the code of the species that it means.
    """

    answered = Signal(str, str)

    def __init__(self, species: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.note = InlineNote("", NoteKind.WARN)
        self.species = ChoiceCombo(self.tr("Which species the word means"))
        self.species.set_choices([(None, self.tr("choose…")), *((one, species_word(one)) for one in species)])
        self.word = ""
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.note, 1)
        row.addWidget(self.species, 0, Qt.AlignmentFlag.AlignVCenter)
        self.species.picked.connect(self._tell)
        self.setFocusProxy(self.species)
        self.hide()

    def ask(self, words: Sequence[tuple[str, int]]) -> None:
        """Asks for the first of the words, each with how many lines have it."""
        self.word, lines = words[0] if words else ("", 0)
        self.setVisible(bool(words))
        if words:
            text = self.tr(
                "“{word}” is no species that is known, in %Ln line(s). Which one does it mean?", "", lines
            )
            self.note.set_text(text.format(word=self.word))
            self.species.show_value(None)

    def _tell(self, code: object) -> None:
        if isinstance(code, str) and self.word:
            self.answered.emit(self.word, code)
