"""What there is to do while there is no batch: the only tutorial."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QCommandLinkButton, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.widgets.labels import Label
from hatchbook.journal import Journal

_WIDTH = 460


class FirstRunPage(QWidget):
    """Three ways in, and what the journal will show."""

    def __init__(self, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._title = Label(self.tr("A journal for your hatches"), role="title")
        self._text = Label("", ink="ink2", wraps=True)
        self._text.setFixedWidth(_WIDTH)
        column = QVBoxLayout(self)
        column.setContentsMargins(48, 56, 48, 32)
        column.setSpacing(10)
        column.addWidget(self._title)
        column.addWidget(self._text)
        column.addSpacing(12)
        choices = (
            (
                "new_batch",
                self.tr("New batch"),
                self.tr("Plan back from the day you want chicks, or set eggs now."),
            ),
            (
                "open_demo",
                self.tr("Open the demo"),
                self.tr("An invented holding, five seasons. Nothing is kept."),
            ),
            ("open_journal", self.tr("Open a journal"), self.tr("A file that ends with .hatchbook.")),
        )
        self.buttons: list[QCommandLinkButton] = []
        for name, title, text in choices:
            key = actions[name].shortcut().toString()
            button = QCommandLinkButton(f"{title}  ({key})", text)
            button.setFixedWidth(_WIDTH)
            button.setIconSize(QSize(22, 22))
            button.setIcon(actions[name].icon())
            button.clicked.connect(actions[name].trigger)
            column.addWidget(button)
            self.buttons.append(button)
        column.addSpacing(20)
        column.addWidget(Label(self.tr("Then, day by day"), role="section"))
        for line in (
            self.tr(
                "The list on the left holds your batches; the calendar says what each asks of you today."
            ),
            self.tr("Here stand the mean humidity so far and what to hold from now on, above the curves."),
            self.tr(
                "Readings come from a logger's file (Ctrl+I) or by hand (Ctrl+R); water and vent go in with F8."
            ),
            self.tr("Candling, hatching and opened eggs give the rates, each with its counts and its range."),
        ):
            label = Label(line, ink="ink2", wraps=True)
            label.setFixedWidth(_WIDTH)
            column.addWidget(label)
        column.addStretch(1)

    def show_journal(self, journal: Journal | None) -> None:
        """Says whether a journal is open, and that it holds no batch yet."""
        if journal is None:
            self._text.setText(
                self.tr("No journal is open. It is one file on your computer, and it belongs to you.")
            )
        else:
            self._text.setText(self.tr("{file} holds no batch yet.").format(file=journal.path.name))

    def showEvent(self, event: object) -> None:
        """The first choice has the focus."""
        super().showEvent(event)  # type: ignore[arg-type]
        self.buttons[0].setFocus()
