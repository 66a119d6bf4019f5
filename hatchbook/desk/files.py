"""Opening, making, restoring and closing journal files from the window."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtCore import QObject, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from hatchbook.desk import settings
from hatchbook.desk.clock import system_zone
from hatchbook.desk.context import DeskContext
from hatchbook.desk.demo_making import DemoMaking
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import (
    Journal,
    JournalBusyError,
    JournalDamagedError,
    JournalError,
    JournalReadOnlyError,
    JournalUnreadableError,
    NotAJournalError,
)

_LOG = logging.getLogger(__name__)
_SUFFIX = ".hatchbook"
_RECENT = 8


class JournalFiles(QObject):
    """What the File menu does; holds the demo's temporary copy while it is open."""

    def __init__(self, context: DeskContext, window: QWidget) -> None:
        super().__init__(window)
        self._context = context
        self._window = window
        self._demo_folder: TemporaryDirectory[str] | None = None

    def handlers(self) -> dict[str, Callable[[], object]]:
        """The actions that this part carries out."""
        return {
            "new_journal": self.ask_new,
            "open_journal": self.ask_open,
            "open_demo": self.open_demo,
            "restore_backup": self.ask_restore,
            "journal_settings": self.change_settings,
            "check_journal": self.check,
            "import_readings": self.import_readings,
            "import_past": self.import_past,
        }

    # ---------------------------------------------------------------- opening

    def open(self, path: Path) -> bool:
        """Opens a journal file; where it cannot be opened, says why and offers the way out."""
        try:
            journal = Journal.open(path)
        except JournalUnreadableError as error:
            self._tell(error)
            return False
        except (JournalBusyError, JournalReadOnlyError) as error:
            return self._offer_reading(path, error)
        except (JournalDamagedError, NotAJournalError) as error:
            # A damaged beginning, or an empty file, is no journal to look at, and still has its backups.
            return self._offer_backup(path, error)
        except JournalError as error:
            self._tell(error)
            return False
        self._take(journal)
        return True

    def open_demo(self, making: DemoMaking | None = None) -> None:
        """Opens a fresh copy of the demo journal, which goes when it is closed."""
        making = DemoMaking(self._context.now()) if making is None else making
        try:
            journal = making.finish()
        except JournalError as error:
            self._take(None, keep=False)
            self._tell(error)
            return
        self._take(journal, keep=False)
        self._demo_folder = making.folder

    def ask_open(self) -> None:
        """Asks for a journal file and opens it."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, self.tr("Open a journal"), self._folder(), self._filter()
        )
        if name:
            self.open(Path(name))

    def ask_new(self) -> bool:
        """Asks where to make a new journal, makes and opens it."""
        suggestion = str(Path(self._folder()) / f"{self.tr('hatch journal')}{_SUFFIX}")
        name, _ = QFileDialog.getSaveFileName(
            self._window,
            self.tr("Make a new journal"),
            suggestion,
            self._filter(),
            options=QFileDialog.Option.DontConfirmOverwrite,
        )
        if not name:
            return False
        path = Path(name)
        if path.suffix != _SUFFIX:
            path = path.with_name(path.name + _SUFFIX)
        return self.create(path)

    def create(self, path: Path) -> bool:
        """Makes a new journal in this computer's time zone and opens it."""
        try:
            journal = Journal.create(path, time_zone=system_zone().key)
        except JournalError as error:
            self._tell(error)
            return False
        self._take(journal)
        return True

    def ensure_journal(self) -> bool:
        """Makes sure that a journal is open before something is entered: asks for a new one if none is."""
        return self._context.door.is_open or self.ask_new()

    # ---------------------------------------------------------------- keeping

    def close_journal(self) -> None:
        """Closes the open journal, which backs it up."""
        self._take(None, keep=False)

    def back_up_if_due(self) -> None:
        """Makes the backup that is due while the window stays open, beside: a large journal takes a while."""
        door = self._context.door
        if not door.is_open:
            return
        journal = door.journal
        try:
            if not journal.backup_is_due():
                return
        except JournalError as error:
            door.refused.emit(error)
            return

        def back_up(_task: object) -> None:
            with journal.second() as second:
                second.back_up(reason="interval")

        self._context.worker.start(back_up).failed.connect(self._tell_backup_failed)

    def _tell_backup_failed(self, error: BaseException) -> None:
        if not isinstance(error, JournalError):
            raise error
        self._context.door.refused.emit(error)

    def ask_restore(self) -> None:
        """Shows the backups and what each holds, and puts the chosen one in place."""
        from hatchbook.desk.dialogs.restore import RestoreDialog

        if not self._context.door.is_open:
            return
        path = self._context.door.journal.path
        dialog = RestoreDialog(self._context, self._window)
        dialog.chosen.connect(lambda backup: self._restore(path, backup))
        dialog.open()

    def _restore(self, path: Path, backup: Path) -> None:
        from hatchbook.journal import backups

        self._take(None, keep=False)
        try:
            backups.restore(path, backup)
        except JournalError as error:
            self._tell(error)
        self.open(path)

    def change_settings(self) -> None:
        """Changes the journal's time zone and the first month of its seasons."""
        from hatchbook.desk.dialogs.journal_settings import JournalSettingsDialog

        if self._context.door.is_open:
            JournalSettingsDialog(self._context, self._window).open()

    def check(self) -> None:
        """Checks the open journal on the worker and says what was found."""
        from hatchbook.desk.dialogs.check_report import CheckDialog

        if self._context.door.is_open:
            CheckDialog(self._context, self._window).open()

    def import_readings(self, path: Path | None = None) -> None:
        """Opens the import of a logger's file."""
        from hatchbook.desk.dialogs.import_readings import ImportDialog

        if self.ensure_journal():
            ImportDialog(self._context, self._window, path).open()

    def import_past(self, path: Path | None = None) -> None:
        """Opens the import of a table of past seasons."""
        from hatchbook.desk.dialogs.import_past import ImportPastDialog

        if self.ensure_journal():
            ImportPastDialog(self._context, self._window, path).open()

    # ---------------------------------------------------------------- helpers

    def _take(self, journal: Journal | None, *, keep: bool = True) -> None:
        try:
            self._context.door.take(journal)
        except JournalError as error:
            # The file is closed all the same; its backup was not made.
            self._tell(error)
        folder, self._demo_folder = self._demo_folder, None
        if folder is not None:
            folder.cleanup()
        if keep and journal is not None:
            kept = self._context.settings
            name = str(journal.path)
            recent = [name, *(other for other in kept.get(settings.RECENT_JOURNALS) if other != name)]
            kept.keep(settings.RECENT_JOURNALS, tuple(recent[:_RECENT]))
            kept.keep(settings.LAST_JOURNAL, name)

    def _offer_reading(self, path: Path, error: JournalError) -> bool:
        box = self._box(error)
        if isinstance(error, JournalReadOnlyError):
            box.setText(
                self.tr("{file}, or the folder in which it lies, cannot be written.").format(file=path.name)
            )
        read = box.addButton(self.tr("Open for reading only"), QMessageBox.ButtonRole.AcceptRole)
        again = box.addButton(self.tr("Try again"), QMessageBox.ButtonRole.ActionRole)
        box.addButton(self.tr("Leave it"), QMessageBox.ButtonRole.RejectRole)
        box.exec()
        if box.clickedButton() is again:
            return self.open(path)
        if box.clickedButton() is not read:
            return False
        try:
            self._take(Journal.open(path, read_only=True))
        except JournalError as other:
            self._tell(other)
            return False
        return True

    def _offer_backup(self, path: Path, error: JournalError) -> bool:
        from hatchbook.journal import backups

        try:
            good = backups.latest_good(path)
        except JournalError:  # their folder cannot be read
            good = None
        if good is None:
            self._tell(error)
            return False
        box = self._box(error)
        box.setInformativeText(
            self.tr(
                "The latest good backup is {name}. If it is put in place, the file as it is now is set aside, "
                "not deleted."
            ).format(name=good.name)
        )
        restore = box.addButton(self.tr("Go back to the backup"), QMessageBox.ButtonRole.AcceptRole)
        box.addButton(self.tr("Leave it"), QMessageBox.ButtonRole.RejectRole)
        box.exec()
        if box.clickedButton() is not restore:
            return False
        try:
            backups.restore(path, good)
        except JournalError as other:
            self._tell(other)
            return False
        return self.open(path)

    def _tell(self, error: JournalError) -> None:
        _LOG.info("journal error: %s", error)
        box = self._box(error)
        box.addButton(self.tr("Close"), QMessageBox.ButtonRole.RejectRole)
        box.exec()

    def _box(self, error: JournalError) -> QMessageBox:
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle(self.tr("Journal"))
        box.setText(error_sentence(error))
        return box

    def _folder(self) -> str:
        last = self._context.settings.get(settings.LAST_JOURNAL)
        if last:
            return str(Path(last).parent)
        return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)

    def _filter(self) -> str:
        return self.tr("Hatchbook journals (*{suffix});;All files (*)").format(suffix=_SUFFIX)
