"""Builds the application and its window."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator
from PySide6.QtWidgets import QApplication

import hatchbook
from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.demo_making import DemoMaking
from hatchbook.desk.door import Door
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import ThreadWorker
from hatchbook.desk.theme.theme import SchemeChoice, current_theme
from hatchbook.desk.window import MainWindow
from hatchbook.trade.resources import resource_path


def build_application(arguments: list[str]) -> QApplication:
    """The application with its names, translations and theme."""
    application = QApplication(arguments)
    application.setApplicationName("hatchbook")
    application.setApplicationDisplayName("Hatchbook")
    application.setApplicationVersion(hatchbook.__version__)
    application.setOrganizationName("hatchbook")
    # Wayland finds the icon by the desktop entry.
    application.setDesktopFileName("hatchbook")
    _translate(application)
    kept = DeskSettings()
    theme = current_theme()
    theme.choose(SchemeChoice(kept.get(settings.SCHEME)))
    theme.apply(application)
    from hatchbook.desk.painting.icons import app_icon

    application.setWindowIcon(app_icon())
    return application


def build_window(path: Path | None = None, *, making: DemoMaking | None = None) -> MainWindow:
    """The main window: on a file, on the demo that is being made, or on the journal that was open last."""
    kept = DeskSettings()
    context = DeskContext(Door(), ThreadWorker(), kept)
    window = MainWindow(context)
    last = kept.get(settings.LAST_JOURNAL)
    if making is not None:
        window.open_once_painted(
            QCoreApplication.translate("Start", "the demo"), lambda: window.files.open_demo(making)
        )
    elif path is not None or (last and Path(last).is_file()):
        file = Path(last) if path is None else path
        window.open_once_painted(file.name, lambda: window.open_file(file))
    return window


def _translate(application: QApplication) -> None:
    """English first, for its plural forms; the locale's own language lies over it."""
    ours = str(resource_path("translations"))
    qt = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    for locale, folder, stem in (
        (QLocale(QLocale.Language.English), ours, "hatchbook"),
        (QLocale(), qt, "qtbase"),
        (QLocale(), ours, "hatchbook"),
    ):
        translator = QTranslator(application)
        if translator.load(locale, stem, "_", folder):
            application.installTranslator(translator)
