"""The base of our own painted widgets: the scheme they are painted in, and when to repaint."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.theme.tokens import Scheme, tokens


class ThemedWidget(QWidget):
    """A widget that paints itself in the scheme that holds where it stands."""

    @property
    def scheme(self) -> Scheme:
        """The colours to paint with."""
        return scheme_of(self)

    def restyle(self) -> None:
        """Scheme or font changed: drop what was derived from them. Override and call this."""
        self.updateGeometry()
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of scheme or font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self.restyle()


class ThemedButton(QAbstractButton):
    """The same for what can be pressed; Enter presses as Space does."""

    @property
    def scheme(self) -> Scheme:
        """The colours to paint with."""
        return scheme_of(self)

    def restyle(self) -> None:
        """Scheme or font changed: drop what was derived from them. Override and call this."""
        self.updateGeometry()
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of scheme or font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self.restyle()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


def paint_focus_ring(painter: QPainter, rect: QRectF, scheme: Scheme, radius: float = 3.0) -> None:
    """The 2 px ring that shows where the keyboard is, just inside `rect`."""
    width = tokens().lines.focus
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(scheme.focus, width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = width / 2
    painter.drawRoundedRect(rect.adjusted(inset, inset, -inset, -inset), radius, radius)
    painter.restore()
