"""A question asked in place, with a button for each answer."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from hatchbook.desk.importing.questions import Question
from hatchbook.desk.widgets.notes import InlineNote, NoteKind


class QuestionBar(QWidget):
    """Shows one question; hidden while there is none.

    Signals:
        answered: the hints that the chosen answer means.
    """

    answered = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.note = InlineNote("", NoteKind.WARN)
        self.buttons: list[QPushButton] = []
        self._question: Question | None = None
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(8)
        self._row.addWidget(self.note, 1)
        self.hide()

    @property
    def question(self) -> Question | None:
        """What is asked."""
        return self._question

    def ask(self, question: Question | None) -> None:
        """Asks another question, or none."""
        if question == self._question:
            return
        self._question = question
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        self.buttons = []
        self.setVisible(question is not None)
        if question is None:
            return
        for text, hints in question.answers:
            button = QPushButton(text.replace("&", "&&"))
            button.setAccessibleDescription(question.text)
            button.clicked.connect(lambda _checked=False, hints=hints: self.answered.emit(hints))
            self._row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
            self.buttons.append(button)
        self.note.set_text(question.text)
        self.setFocusProxy(self.buttons[0])
