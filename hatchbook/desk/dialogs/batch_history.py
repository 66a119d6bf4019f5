"""What was changed in a batch: when, what, from what to what."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.history import step_sentence
from hatchbook.desk.words.records import step_lines
from hatchbook.figures.record_names import RecordNames
from hatchbook.journal import Batch


class BatchHistoryDialog(FramedDialog):
    """Steps, newest first; each opens to the records it changed, read only then."""

    def __init__(self, context: DeskContext, batch: Batch, parent: QWidget | None) -> None:
        title = self.tr("History of {label} {name}").format(label=batch.label, name=batch.name)
        super().__init__(title, parent, QSize(720, 520))
        self._journal = context.door.journal
        self._zone = context.zone
        self._names = RecordNames(self._journal)
        self.tree = QTreeWidget()
        self.tree.setColumnCount(2)
        self.tree.setHeaderLabels([self.tr("When"), self.tr("What")])
        self.tree.header().setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.tree.header().setStretchLastSection(True)
        self.tree.setAccessibleName(title)
        self.tree.setUniformRowHeights(True)
        self.tree.itemExpanded.connect(self._fill)
        for step in self._journal.history.steps(batch=batch.uid):
            sentence = step_sentence(step, self._zone)
            sentence = sentence[:1].upper() + sentence[1:]
            if step.state != "done":
                sentence = self.tr("{step} (taken back)").format(step=sentence)
            item = QTreeWidgetItem([date_time_of_year(step.at, self._zone), sentence])
            item.setData(0, Qt.ItemDataRole.UserRole, step.number)
            item.setChildIndicatorPolicy(QTreeWidgetItem.ChildIndicatorPolicy.ShowIndicator)
            self.tree.addTopLevelItem(item)
        self.set_content(self.tree)
        self.add_leave_button(self.tr("Close"))

    def _fill(self, item: QTreeWidgetItem) -> None:
        number = item.data(0, Qt.ItemDataRole.UserRole)
        if number is None or item.childCount():
            return
        for line in step_lines(self._journal.history.changes(number), self._zone, self._names):
            child = QTreeWidgetItem(["", line])
            child.setToolTip(1, line)
            item.addChild(child)
