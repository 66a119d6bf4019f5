"""What stands in the page's place while the journal is being opened."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.widgets.labels import Label


class OpeningPage(QWidget):
    """A sheet with one line."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.line = Label("", ink="ink2")
        column = QVBoxLayout(self)
        column.addWidget(self.line, 0, Qt.AlignmentFlag.AlignCenter)

    def show_name(self, name: str) -> None:
        """Says what is being opened."""
        self.line.setText(self.tr("Opening {name}…").format(name=name))
