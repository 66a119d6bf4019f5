"""Where a file can be dropped while there is none."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.themed import ThemedWidget

_ICON = 32


class DropHint(ThemedWidget):
    """An outline with what to do; it stands out while a file is dragged over the window."""

    def __init__(self, what: str, which: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inviting = False
        self._icon = QLabel()
        self._icon.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column = QVBoxLayout(self)
        column.setSpacing(tokens().spacing.x2)
        column.addStretch(1)
        column.addWidget(self._icon)
        for text, ink in ((what, "ink"), (which, "ink2")):
            label = Label(text, ink=ink, wraps=True)
            label.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(label)
        column.addStretch(1)
        self.setAccessibleName(f"{what} {which}")
        self.restyle()

    def set_inviting(self, inviting: bool) -> None:
        """Whether a file is over the window."""
        if inviting != self._inviting:
            self._inviting = inviting
            self.restyle()

    def restyle(self) -> None:
        """The icon in the scheme's colours."""
        role = "accent" if self._inviting else "ink2"
        self._icon.setPixmap(icon_pixmap("import", self.scheme.colour(role), _ICON, self.devicePixelRatioF()))
        super().restyle()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The outline."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            edge = scheme.accent if self._inviting else scheme.rule_strong
            painter.setPen(QPen(edge, 1.5, Qt.PenStyle.DashLine))
            painter.setBrush(scheme.select if self._inviting else scheme.page)
            radius = tokens().radii.control
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), radius, radius)
