"""A strip with something the breeder should know, in the place it concerns; never a box to click away."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.themed import ThemedWidget


class NoteKind(StrEnum):
    """How much a note matters."""

    INFO = "info"
    WARN = "warn"
    BAD = "bad"


@dataclass(frozen=True)
class _Look:
    icon: str
    icon_role: str
    fill: str
    edge: str


_LOOKS = {
    NoteKind.INFO: _Look("info", "ink2", "inset", "rule"),
    NoteKind.WARN: _Look("flag", "warn", "warn_fill", "warn_edge"),
    NoteKind.BAD: _Look("alert", "bad", "bad_fill", "bad_edge"),
}


_USUAL_WIDTH = 360


def _breakable(text: str) -> str:
    """The same to the eye, but a long path may wrap at its separators and never forces a window wide."""
    return re.sub(r"(?<=\S)([/\\])(?=\S)", "\\1\u200b", text)


class InlineNote(ThemedWidget):
    """Icon, text that wraps, and if wanted a link to the way out.

    Signals:
        link_clicked: the breeder followed the link.
    """

    link_clicked = Signal()

    def __init__(
        self,
        text: str = "",
        kind: NoteKind | str = NoteKind.WARN,
        link: str = "",
        parent: QWidget | None = None,
    ) -> None:
        """`kind` may be given by its word; ValueError when it does not exist."""
        super().__init__(parent)
        space = tokens().spacing
        self._kind = NoteKind(kind)
        self._said = ""
        self._icon = QLabel(self)
        self._icon.setFixedSize(QSize(tokens().sizes.icon, tokens().sizes.icon))
        self._text = Label(wraps=True)
        self._link = LinkButton(role=TypeRole.BODY)
        self._link.clicked.connect(self.link_clicked)
        row = QHBoxLayout(self)
        row.setContentsMargins(space.x3, space.x2, space.x3, space.x2)
        row.setSpacing(space.x2)
        row.addWidget(self._icon, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._text, 1)
        row.addWidget(self._link, 0, Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.set_note(text, kind, link)

    @property
    def kind(self) -> NoteKind:
        """How much it matters."""
        return self._kind

    def text(self) -> str:
        """What it says."""
        return self._said

    def set_text(self, text: str) -> None:
        """Say something else, as urgent as before and with the same link."""
        self.set_note(text, self._kind, self._link.label())

    def set_note(self, text: str, kind: NoteKind | str, link: str = "") -> None:
        """Say something; screen readers hear it when it is on the screen."""
        self._kind = NoteKind(kind)
        self._said = text
        self._text.setText(_breakable(text))
        self._link.set_text(link)
        self._link.setVisible(bool(link))
        self.setAccessibleName(text)
        self.restyle()
        if self.isVisible():
            announce(self, text)

    def sizeHint(self) -> QSize:
        """A strip of a usual width, as high as its text then is."""
        return QSize(_USUAL_WIDTH, self.heightForWidth(_USUAL_WIDTH))

    def restyle(self) -> None:
        """Tint the icon anew."""
        look = _LOOKS[self._kind]
        size, ratio = tokens().sizes.icon, self.devicePixelRatioF()
        self._icon.setPixmap(icon_pixmap(look.icon, self.scheme.colour(look.icon_role), size, ratio))
        super().restyle()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The plate."""
        look, scheme = _LOOKS[self._kind], self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(scheme.colour(look.edge), 1.0))
            painter.setBrush(scheme.colour(look.fill))
            radius = tokens().radii.control
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), radius, radius)
