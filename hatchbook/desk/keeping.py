"""What every pane that can be taken out of the program has in common: where to, a picture, what came of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths, Qt
from PySide6.QtGui import QPixmap, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from hatchbook.desk.widgets.notes import InlineNote


class Keeping(QObject):
    """Asks where to, saves a picture, and tells what came of it: in the status bar, or in a note if it failed."""

    def __init__(self, place: QWidget, note: InlineNote) -> None:
        super().__init__(place)
        self._place = place
        self._note = note

    def picture(self) -> QPixmap:
        """What there is to be seen, as it stands."""
        raise NotImplementedError

    def file_name(self) -> str | None:
        """The name that is offered, without its ending; None where there is nothing to take out."""
        raise NotImplementedError

    def save_picture(self) -> None:
        """Asks where to, and saves the picture there."""
        self.ask(self.tr("Save picture"), self.tr("Picture (*.png)"), "png", self.save_picture_as)

    def save_picture_as(self, name: str) -> None:
        """Saves the picture under a name."""
        if self.picture().save(name, "PNG"):
            self.confirm(self.tr("Picture saved as {file}").format(file=Path(name).name))
        else:
            self.complain(self.tr("The picture could not be saved as {file}.").format(file=name))

    def ask(self, title: str, kind: str, suffix: str, then: Callable[[str], None]) -> None:
        """Lets the breeder choose a file, and hands its name on."""
        offered = self.file_name()
        if offered is None:
            return
        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        dialog = QFileDialog(self._place.window(), title, folder, kind)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix)
        dialog.selectFile(f"{offered}.{suffix}")
        dialog.fileSelected.connect(then)
        dialog.open()

    def confirm(self, text: str) -> None:
        """Tells in the status bar that it went well."""
        self._note.setVisible(False)
        QApplication.sendEvent(self._place, QStatusTipEvent(text))

    def complain(self, text: str) -> None:
        """Tells in the note that it did not."""
        self._note.set_note(text, "bad")
        self._note.setVisible(True)
