"""What happens when the program itself fails: one plain dialog with the report to copy, and a file of it."""

from __future__ import annotations

import faulthandler
import logging
import sys
import threading
import traceback
from pathlib import Path
from types import TracebackType

from platformdirs import user_log_path
from PySide6.QtCore import QMessageLogContext, QObject, Qt, QtMsgType, Signal, qInstallMessageHandler
from PySide6.QtWidgets import QApplication, QMessageBox

_LOG = logging.getLogger("hatchbook")
_QT_LOG = logging.getLogger("qt")
_LEVELS = {
    QtMsgType.QtDebugMsg: logging.DEBUG,
    QtMsgType.QtInfoMsg: logging.INFO,
    QtMsgType.QtWarningMsg: logging.WARNING,
    QtMsgType.QtCriticalMsg: logging.ERROR,
    QtMsgType.QtFatalMsg: logging.CRITICAL,
}


class CrashWatch(QObject):
    """Catches what no one else caught, in any thread; shows one report at a time.

    Signals:
        caught: the report as text; emitted in any thread, shown in the window's.
    """

    caught = Signal(str)

    def __init__(self, log: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._log = log
        self._seen: set[str] = set()
        self._box: QMessageBox | None = None
        self.caught.connect(self._show, type=Qt.ConnectionType.QueuedConnection)

    def hook(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """For ``sys.excepthook``."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        report = "".join(traceback.format_exception(kind, error, trace))
        _LOG.error("%s", report)
        # A raising paint or data() would come again with every frame.
        if report not in self._seen:
            self._seen.add(report)
            self.caught.emit(report)

    def _show(self, report: str) -> None:
        if self._box is not None:
            return
        box = QMessageBox(QApplication.activeWindow())
        box.setIcon(QMessageBox.Icon.Critical)
        box.setWindowTitle(self.tr("Something went wrong"))
        box.setText(
            self.tr(
                "Hatchbook made a mistake. What was shown as entered is stored; what you did last may not be."
            )
        )
        box.setInformativeText(self.tr("The report is kept in {file}.").format(file=self._log))
        box.setDetailedText(report)
        copy = box.addButton(self.tr("Copy report"), QMessageBox.ButtonRole.ActionRole)
        copy.clicked.disconnect()
        copy.clicked.connect(lambda: QApplication.clipboard().setText(report))
        box.addButton(self.tr("Go on"), QMessageBox.ButtonRole.AcceptRole)
        box.finished.connect(self._forget)
        self._box = box
        box.open()

    def _forget(self) -> None:
        self._box = None


def watch_for_crashes(application: QApplication) -> CrashWatch:
    """Installs the hooks; the report of a hard crash of an earlier run is kept beside the log."""
    folder = user_log_path("hatchbook", ensure_exists=True)
    log = folder / "hatchbook.log"
    logging.basicConfig(
        level=logging.INFO,
        format="%(asctime)s %(levelname)s %(name)s: %(message)s",
        handlers=[logging.FileHandler(log, encoding="utf-8"), logging.StreamHandler()],
    )
    fault = (folder / "hard-crash.log").open("a", encoding="utf-8")
    faulthandler.enable(fault)
    application.aboutToQuit.connect(faulthandler.disable)
    application.aboutToQuit.connect(fault.close)
    watch = CrashWatch(log, application)
    sys.excepthook = watch.hook
    threading.excepthook = lambda args: watch.hook(
        args.exc_type, args.exc_value or args.exc_type(), args.exc_traceback
    )
    qInstallMessageHandler(_log_qt)
    return watch


def _log_qt(kind: QtMsgType, _context: QMessageLogContext, message: str) -> None:
    _QT_LOG.log(_LEVELS.get(kind, logging.WARNING), "%s", message)
