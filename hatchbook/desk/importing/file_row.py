"""Which file to read: typed, chosen, or dropped."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QDir, QMimeData, QStandardPaths, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLineEdit, QPushButton, QWidget

from hatchbook.desk import settings
from hatchbook.desk.settings import DeskSettings


@dataclass(frozen=True)
class WantedFile:
    """Which file is asked for: the hint in the empty field, the title of the list of files, its filter."""

    hint: str
    title: str
    kinds: str


class FileRow(QWidget):
    """A field for the path and a button that opens the system's own list of files.

    Signals:
        chosen: the ``Path`` to read.
    """

    chosen = Signal(object)

    def __init__(
        self, kept: DeskSettings, parent: QWidget | None = None, wanted: WantedFile | None = None
    ) -> None:
        super().__init__(parent)
        self._kept = kept
        self._shown = ""
        self._wanted = wanted or WantedFile(
            hint=self.tr("Choose a logger's file, or drop it here"),
            title=self.tr("Choose a logger's file"),
            kinds=self.tr("Logger files (*.csv *.txt *.tsv *.tab *.log *.dat *.asc)"),
        )
        self.field = _PathEdit()
        self.field.setAccessibleName(self.tr("File"))
        self.field.setPlaceholderText(self._wanted.hint)
        self.choose = QPushButton(self.tr("&Choose…"))
        self.choose.setAccessibleName(self.tr("Choose a file"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        row.addWidget(self.field, 1)
        row.addWidget(self.choose)
        self.setFocusProxy(self.field)
        self.field.entered.connect(self._take_typed)
        self.field.editingFinished.connect(self._take_typed)
        self.choose.clicked.connect(self.ask)

    def show_path(self, path: Path) -> None:
        """Shows which file is read, and remembers its folder."""
        self._shown = QDir.toNativeSeparators(str(path))
        self.field.setText(self._shown)
        self.field.setToolTip(self._shown)
        self.field.is_read = True
        self._kept.keep(settings.IMPORT_FOLDER, str(path.parent))

    def ask(self) -> None:
        """Lets the breeder choose a file."""
        dialog = QFileDialog(self, self._wanted.title, self._folder())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters([self._wanted.kinds, self.tr("All files (*)")])
        dialog.fileSelected.connect(lambda name: self.chosen.emit(Path(name)))
        dialog.open()

    def _folder(self) -> str:
        kept = self._kept.get(settings.IMPORT_FOLDER)
        if kept and Path(kept).is_dir():
            return kept
        return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)

    def _take_typed(self) -> None:
        text = self.field.text().strip()
        if text and text != self._shown:
            self._shown = text
            self.chosen.emit(Path(text).expanduser())


class _PathEdit(QLineEdit):
    """Enter reads a path that was typed; once it is read, Enter belongs to the dialog.

    Signals:
        entered: Enter was pressed on a new path.
    """

    entered = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.is_read = True
        # A file that is dropped belongs to the whole dialog.
        self.setAcceptDrops(False)
        self.textEdited.connect(lambda _text: self._mark_new())

    def _mark_new(self) -> None:
        self.is_read = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not self.is_read:
            self.is_read = True
            self.entered.emit()
            event.accept()
            return
        super().keyPressEvent(event)


def dropped_file(data: QMimeData) -> Path | None:
    """The one file that is dragged; None where it is anything else."""
    urls = data.urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.is_file() else None
