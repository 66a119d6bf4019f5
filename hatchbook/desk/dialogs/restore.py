"""The backups of the open journal and what each holds."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QLocale, QSize, Qt, Signal
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.history import step_sentence
from hatchbook.journal.backups import BackupInfo, list_backups

_PATH = Qt.ItemDataRole.UserRole


class RestoreDialog(FramedDialog):
    """Lists the backups, newest first; they are looked into on the worker.

    Signals:
        chosen: the ``Path`` of the backup to put in place.
    """

    chosen = Signal(object)

    def __init__(self, context: DeskContext, parent: QWidget | None) -> None:
        super().__init__(self.tr("Restore a backup"), parent, QSize(760, 460))
        self._zone = context.zone
        path = context.door.journal.path
        self.tree = QTreeWidget()
        self.tree.setRootIsDecorated(False)
        self.tree.setHeaderLabels(
            [self.tr("Made"), self.tr("Batches"), self.tr("Eggs"), self.tr("Readings"), self.tr("Last entry")]
        )
        self.tree.setAccessibleName(self.tr("Backups"))
        header = self.tree.header()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self._reading = Label(self.tr("Looking into the backups…"), ink="ink2")
        rows = QVBoxLayout()
        rows.addWidget(
            Label(
                self.tr("The journal as it is now is set aside beside the file, not deleted."),
                ink="ink2",
                wraps=True,
            )
        )
        rows.addWidget(self.tree, 1)
        rows.addWidget(self._reading)
        self.set_content(rows)
        self._restore = self.add_main_button(self.tr("Put this backup in place"))
        self._restore.setEnabled(False)
        self._restore.clicked.connect(self._choose)
        self.add_leave_button(self.tr("Leave everything as it is"))
        self.tree.currentItemChanged.connect(lambda *_: self._restore.setEnabled(self._path() is not None))
        self.tree.itemActivated.connect(lambda *_: self._choose())
        task = context.worker.start(lambda _task: list_backups(path))
        task.finished.connect(self._show)
        task.failed.connect(self._fail)

    def _show(self, backups: list[BackupInfo]) -> None:
        self._reading.setVisible(not backups)
        self._reading.setText(self.tr("There are no backups yet. One is made when the journal is closed."))
        locale = QLocale()
        for backup in backups:
            if backup.trouble is not None:
                texts = ["", "", "", error_sentence(backup.trouble)]
            else:
                counts = (backup.batches, backup.eggs, backup.readings)
                last = backup.last_step
                texts = [locale.toString(count) for count in counts]
                texts.append("" if last is None else step_sentence(last, self._zone))
            item = QTreeWidgetItem([self._made(backup), *texts])
            item.setToolTip(4, texts[-1])
            for column in (1, 2, 3):
                item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            if backup.trouble is None:
                item.setData(0, _PATH, str(backup.path))
            else:
                item.setDisabled(True)
            self.tree.addTopLevelItem(item)
        if first := self.tree.topLevelItem(0):
            self.tree.setCurrentItem(first)

    def _made(self, backup: BackupInfo) -> str:
        """When it was made, and why where that was no ordinary backup."""
        made = date_time_of_year(backup.at, self._zone)
        match backup.reason:
            case "before_restore":
                return self.tr("{date}, set aside by a restore").format(date=made)
            case "before_migration":
                return self.tr("{date}, before an update of the format").format(date=made)
        return made

    def _fail(self, error: BaseException) -> None:
        self._reading.hide()
        self.tell(error_sentence(error))

    def _path(self) -> Path | None:
        item = self.tree.currentItem()
        name = item.data(0, _PATH) if item is not None else None
        return None if name is None else Path(name)

    def _choose(self) -> None:
        path = self._path()
        if path is not None:
            self.accept()
            self.chosen.emit(path)
