"""The list of lines that stay out, with ways to copy it and to save the lines as they are."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QVBoxLayout, QWidget

from hatchbook.desk.importing.ruled_table import RuledTable
from hatchbook.desk.past.refused_model import LINE, TEXT, WHY, RefusedModel
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.exchange.past_seasons.refusals import RefusedLine

_LINE_WIDTH = 76
_WHY_SHARE = 0.55


class RefusedPane(QWidget):
    """Title, Copy list, Save lines, table.

    Signals:
        save_wanted: the refused lines are to be saved.
    """

    save_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = RefusedModel(self)
        self.title = ElidedLabel("", role="section")
        self.copy = LinkButton(self.tr("Copy list"))
        self.save = LinkButton(self.tr("Save these lines…"))
        self.save.setToolTip(
            self.tr("Saves the lines as they are, to be put right in a spreadsheet and brought in later")
        )
        self.table = RuledTable(self.tr("Refused lines"))
        self.table.setModel(self.model)
        self.table.horizontalHeader().setSectionResizeMode(TEXT, QHeaderView.ResizeMode.Stretch)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 0, 0)
        head.addWidget(self.title, 1)
        head.addWidget(self.copy)
        head.addWidget(self.save)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.table, 1)
        self.copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.model.as_text()))
        self.save.clicked.connect(self.save_wanted)
        self.show_lines(())

    def show_lines(self, lines: tuple[RefusedLine, ...]) -> None:
        """Shows the refused lines."""
        self.model.show_lines(lines)
        self.title.setText(self.tr("%Ln line(s) cannot come in", "", len(lines)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shares the width out."""
        super().resizeEvent(event)
        width = self.table.viewport().width()
        self.table.setColumnWidth(LINE, _LINE_WIDTH)
        self.table.setColumnWidth(WHY, max(80, round((width - _LINE_WIDTH) * _WHY_SHARE)))
