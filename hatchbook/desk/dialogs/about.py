"""What the program is."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QMessageBox, QWidget

import hatchbook
from hatchbook.desk.painting.icons import app_icon


def show_about(parent: QWidget) -> None:
    """Shows name, version and what the file is."""
    box = QMessageBox(parent)
    box.setWindowTitle(QCoreApplication.translate("About", "About Hatchbook"))
    box.setIconPixmap(app_icon().pixmap(64, 64))
    box.setText(
        QCoreApplication.translate(
            "About", "Hatchbook {version}, a hatch journal for small breeders."
        ).format(version=hatchbook.__version__)
    )
    box.setInformativeText(
        QCoreApplication.translate(
            "About",
            "Everything is in one file that belongs to you; any SQLite tool can read it. Nothing is sent anywhere.",
        )
    )
    box.addButton(QCoreApplication.translate("About", "Close"), QMessageBox.ButtonRole.RejectRole)
    box.open()
