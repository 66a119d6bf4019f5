"""The list of lines that do not come in as they stand, with a way to copy it."""

from __future__ import annotations

from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QHeaderView, QVBoxLayout, QWidget

from hatchbook.desk.importing.left_out_model import LINE, TEXT, WHY, LeftOutModel
from hatchbook.desk.importing.ruled_table import RuledTable
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.exchange.left_out import DUPLICATE, LeftOut
from hatchbook.journal.reject_codes import DIFFERS

_LINE_WIDTH = 84


class LeftOutPane(QWidget):
    """Title, Copy list, table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = LeftOutModel(self)
        self.title = ElidedLabel("", role="section")
        self.copy = LinkButton(self.tr("Copy list"))
        self.table = RuledTable(self.tr("Lines left out"))
        self.table.setModel(self.model)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(WHY, QHeaderView.ResizeMode.Stretch)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 0, 0)
        head.addWidget(self.title, 1)
        head.addWidget(self.copy)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.table, 1)
        self.copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.model.as_text()))
        self.show_lines(LeftOut())

    def show_lines(self, left_out: LeftOut) -> None:
        """Shows the lines that do not come in as they stand."""
        self.model.show_lines(left_out)
        self.copy.setVisible(bool(left_out.lines))
        self.title.setText(self._title_for(left_out))

    def _title_for(self, left_out: LeftOut) -> str:
        if not left_out.lines:
            return self.tr("Every line can be read")
        if not left_out.dropped:
            return self.tr("%Ln line(s) with one value only", "", len(left_out.lines))
        if left_out.codes & {DUPLICATE, DIFFERS}:
            return self.tr("%Ln line(s) will be left out", "", left_out.dropped)
        return self.tr("%Ln line(s) cannot be read and will be left out", "", left_out.dropped)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shares the width out."""
        super().resizeEvent(event)
        width = self.table.viewport().width()
        self.table.setColumnWidth(LINE, _LINE_WIDTH)
        self.table.setColumnWidth(TEXT, max(80, round((width - _LINE_WIDTH) * 0.46)))
