"""The keys of the program, as the list of actions has them, and those of the panes."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.dialogs.frame import FramedDialog


class KeysDialog(FramedDialog):
    """Two columns: key and what it does."""

    def __init__(self, actions: Actions, parent: QWidget | None) -> None:
        super().__init__(self.tr("Keys"), parent, QSize(560, 560))
        rows = [
            (action.shortcut().toString(QKeySequence.SequenceFormat.NativeText), action.iconText())
            for action in actions
            if not action.shortcut().isEmpty()
        ]
        rows += [
            (self.tr("Tab"), self.tr("Next part of the window")),
            (self.tr("Space"), self.tr("Duties: tick the duty")),
            (self.tr("F2"), self.tr("Batches: rename")),
            (self.tr("Del"), self.tr("Batches: delete")),
            (self.tr("← →"), self.tr("Chart: one reading; with Ctrl one day")),
            (self.tr("+ −"), self.tr("Chart: nearer, farther")),
            (self.tr("Home, End"), self.tr("Chart: first and last reading")),
            (self.tr("E, Shift+E"), self.tr("Chart: next and previous event")),
            (self.tr("Ctrl+arrows"), self.tr("Tray: move the chosen eggs, or swap two")),
            (
                self.tr("M"),
                self.tr("Tray: take the chosen eggs up; arrows carry, Enter puts down, Esc lets go"),
            ),
            (self.tr("Shift+arrows, Ctrl+A"), self.tr("Tray: choose several eggs, or all")),
            (self.tr("1, 2, 3 …"), self.tr("Tray: go to the egg of that number")),
            (self.tr("Alt+← →, PgUp, PgDn"), self.tr("Egg sheet: the egg before, the egg after")),
            (
                self.tr("J K L, U I O P"),
                self.tr("Candling, hatch day, opened eggs: the verdict drawn on the key"),
            ),
            (self.tr("Space, Backspace"), self.tr("The same rounds: as last time, take it back")),
            (self.tr("F2, F3, + −, H"), self.tr("Candling room: other hand, order, light, lid shut or open")),
            (self.tr("− +"), self.tr("Hatch day: a quarter of an hour earlier, later")),
            (
                self.tr("Arrows, Enter"),
                self.tr("Machines: move in the table, log the setting; in the chart open the batch"),
            ),
            (
                self.tr("Enter, Esc"),
                self.tr("Seasons: in the table only the batches of a row, and all again"),
            ),
            (self.tr("Arrows, Enter"), self.tr("Seasons: in the charts go from batch to batch, open one")),
            (self.tr("Enter, Del"), self.tr("Machines, checks and care: open, take away")),
            (self.tr("Enter"), self.tr("Figures: how it is reckoned; tray: the egg; journal: edit the line")),
        ]
        table = QTableWidget(len(rows), 2)
        table.setHorizontalHeaderLabels([self.tr("Key"), self.tr("Does")])
        table.verticalHeader().setVisible(False)
        table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        table.setTabKeyNavigation(False)
        table.setAccessibleName(self.tr("Keys"))
        for row, texts in enumerate(rows):
            for column, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                table.setItem(row, column, item)
        self.set_content(table)
        self.add_leave_button(self.tr("Close"))
