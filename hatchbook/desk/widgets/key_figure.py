"""One of the figures over a page: what it is, how it stands, what it should be, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from math import ceil

from PySide6.QtCore import QMargins, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.painting.gauge import GaugeScale, gauge_height
from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.buttons import LINK_PADDING, LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel
from hatchbook.desk.widgets.themed import ThemedButton, paint_focus_ring
from hatchbook.desk.widgets.value_row import FigureText, ValueRow

_FLAG_SIZE = 14
_MARGINS = QMargins(11, 6, 10, 4)
_PICTURE_AT = 3
_USUAL_SCALE = GaugeScale(0.0, 1.0, (0.0,))


class FootRole(StrEnum):
    """What the line under a figure is: a remark, a way to somewhere, or a reason to act."""

    NORMAL = "normal"
    LINK = "link"
    WARN = "warn"
    BAD = "bad"


_INKS = {FootRole.NORMAL: "ink2", FootRole.WARN: "warn", FootRole.BAD: "bad"}


class KeyFigure(ThemedButton):
    """Caption, value with unit and spread, a picture, and one line.

    Tab reaches it and Enter asks how the figure is reckoned; a screen reader hears one sentence.

    Signals:
        activated: the breeder wants to know how the figure is reckoned.
        foot_activated: the breeder followed the link in the line.
    """

    activated = Signal()
    foot_activated = Signal()

    def __init__(self, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.clicked.connect(self.activated)
        self._spoken = ""
        self._foot_role = FootRole.NORMAL
        self._caption = ElidedLabel(caption, TypeRole.CAPTION, "ink2")
        self._row = ValueRow()
        self._picture: QWidget | None = None
        self._flag = QLabel()
        self._foot = ElidedLabel("", TypeRole.CAPTION, "ink2")
        self._link = LinkButton()
        self._link.clicked.connect(self.foot_activated)
        self._lay_out()
        self._level_foot()
        self.set_foot("")

    def _lay_out(self) -> None:
        # What is no link stands in by the room a link's text has for its focus ring, so that all line up.
        self._upper = QVBoxLayout()
        self._upper.setContentsMargins(LINK_PADDING, 0, 0, 0)
        self._upper.setSpacing(0)
        self._upper.addWidget(self._caption)
        self._upper.addWidget(self._row)
        # A picture lower than a gauge lies where the gauge's rail would be.
        self._upper.addStretch(1)
        self._upper.addStretch(2)
        self._foot_line = QHBoxLayout()
        self._foot_line.setSpacing(4)
        self._foot_line.addWidget(self._flag)
        self._foot_line.addWidget(self._foot, 1)
        self._foot_line.addWidget(self._link)
        self._foot_line.addStretch(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(_MARGINS)
        column.setSpacing(0)
        column.addLayout(self._upper, 1)
        column.addLayout(self._foot_line)

    def caption(self) -> str:
        """What the figure is."""
        return self._caption.text()

    def set_caption(self, caption: str) -> None:
        """What the figure is."""
        self._caption.setText(caption)
        self._speak()

    def set_figure(self, text: FigureText, spoken: str = "") -> None:
        """Show a figure. `spoken` is its sentence for screen readers where the parts do not read well."""
        self._row.set_text(text)
        self._spoken = spoken
        self._speak()

    def set_missing(self, reason: str) -> None:
        """There is no figure: a dash, no picture, and the reason below."""
        self.set_picture(None)
        self.set_figure(FigureText())
        self.set_foot(reason)

    def figure(self) -> FigureText:
        """What it shows."""
        return self._row.text

    def set_picture(self, picture: QWidget | None) -> None:
        """Put a gauge or a bar under the value; the one before is deleted."""
        if picture is self._picture:
            return
        if self._picture is not None:
            self._upper.removeWidget(self._picture)
            self._picture.hide()
            self._picture.deleteLater()
        self._picture = picture
        if picture is not None:
            self._upper.insertWidget(_PICTURE_AT, picture)

    def set_foot(self, text: str, role: FootRole = FootRole.NORMAL, shorter: Sequence[str] = ()) -> None:
        """The line below, and what stands there where it does not fit, the longest first.

        A warning carries a flag, so that it is told by more than its colour.
        """
        self._foot_role = role
        link = role is FootRole.LINK
        self._link.set_text(text if link else "")
        self._link.setVisible(link)
        self._foot_line.setContentsMargins(0 if link else LINK_PADDING, 0, 0, 0)
        self._foot.setText("" if link else text)
        self._foot.set_shorter(*(() if link else shorter))
        self._foot.setVisible(not link)
        if not link:
            self._foot.set_ink(_INKS[role])
        self._flag.setVisible(role in (FootRole.WARN, FootRole.BAD))
        self._restyle_flag()
        self._speak()

    @property
    def foot_role(self) -> FootRole:
        """What the line below is."""
        return self._foot_role

    def foot(self) -> str:
        """The line below."""
        return self._link.label() if self._foot_role is FootRole.LINK else self._foot.text()

    def sizeHint(self) -> QSize:
        """As high as caption, value, gauge and line, whether or not all are there: a row stays level."""
        return QSize(max(150, super().sizeHint().width()), self._full_height())

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for five in a row."""
        return QSize(super().minimumSizeHint().width(), self._full_height())

    def _full_height(self) -> int:
        caption = ceil(QFontMetricsF(role_font(TypeRole.CAPTION)).height())
        gauge = gauge_height(role_font(TypeRole.CAPTION), _USUAL_SCALE)
        parts = caption + self._row.sizeHint().height() + gauge + self._link.sizeHint().height()
        return parts + _MARGINS.top() + _MARGINS.bottom()

    def restyle(self) -> None:
        """Tint the flag anew."""
        self._restyle_flag()
        self._level_foot()
        super().restyle()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A light plate when pointed at, a ring when the keyboard is here."""
        scheme = self.scheme
        with QPainter(self) as painter:
            if self.underMouse() and self.isEnabled():
                painter.fillRect(self.rect(), scheme.inset)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()).adjusted(2, 2, -2, -2), scheme)

    def _restyle_flag(self) -> None:
        if self._foot_role in (FootRole.WARN, FootRole.BAD):
            colour = self.scheme.colour(_INKS[self._foot_role])
            self._flag.setPixmap(icon_pixmap("flag", colour, _FLAG_SIZE, self.devicePixelRatioF()))

    def _level_foot(self) -> None:
        """A link is a little higher than a remark; give all lines its height, so that gauges stay level."""
        self._foot.setMinimumHeight(self._link.sizeHint().height())

    def _speak(self) -> None:
        sentence = self._spoken or f"{self._caption.text()}: {self._row.text.sentence()}"
        self.setAccessibleName(sentence)
        self.setAccessibleDescription(self.foot())
        self._row.setAccessibleName(self._row.text.sentence())
