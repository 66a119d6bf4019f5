"""Hides the pointer while nobody moves it: in the dark it is the brightest thing on the screen."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QWidget

_STILL_MS = 2000


class PointerHider(QObject):
    """Watches a window and everything in it."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_STILL_MS)
        self._timer.timeout.connect(self.hide)

    def watch(self) -> None:
        """Begins, or takes in what has been put into the window since."""
        for widget in (self._window, *self._window.findChildren(QWidget)):
            widget.setMouseTracking(True)
            # Twice would be no harm: Qt keeps a filter once.
            widget.installEventFilter(self)
        self._timer.start()

    def hide(self) -> None:
        """Hides the pointer."""
        self._window.setCursor(Qt.CursorShape.BlankCursor)

    def stop(self) -> None:
        """Shows the pointer, and lets it be."""
        self._timer.stop()
        self._window.unsetCursor()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A moved pointer is shown."""
        if event.type() in (QEvent.Type.MouseMove, QEvent.Type.MouseButtonPress, QEvent.Type.Wheel):
            self._window.unsetCursor()
            self._timer.start()
        return super().eventFilter(watched, event)
