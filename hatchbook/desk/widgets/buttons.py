"""Buttons that lie flat on the sheet, and links."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAction,
    QActionEvent,
    QFontMetricsF,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolButton, QWidget

from hatchbook.desk.painting.icons import icon
from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedButton, paint_focus_ring

_HEIGHT = 28
LINK_PADDING = 3
"""Room beside a link's text for its focus ring; a layout sets it back to line the text up."""


class FlatButton(QToolButton):
    """A tool button without a frame, for the header of a page. It shows an action, or a text of its own.

    With `icon_name` it draws the line icon in the scheme's colours and keeps it so.
    """

    def __init__(
        self,
        shows: QAction | str = "",
        *,
        icon_name: str | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._icon_name = icon_name
        self.setObjectName("flat")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(max(_HEIGHT, tokens().sizes.hit_min))
        self.setIconSize(QSize(tokens().sizes.icon, tokens().sizes.icon))
        if isinstance(shows, QAction):
            self.setDefaultAction(shows)
            self._follow_action()
        else:
            self.setText(shows)
            self.setAccessibleName(shows.replace("&", ""))
        self.restyle()

    def restyle(self) -> None:
        """Tint the icon anew."""
        if self._icon_name is not None:
            self.setIcon(icon(self._icon_name, scheme_of(self)))
        if self.icon().isNull():
            self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        elif self.text():
            self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        else:
            self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)

    def actionEvent(self, event: QActionEvent) -> None:
        """The action changed: keep our icon, and show its key in the tooltip."""
        super().actionEvent(event)
        self._follow_action()

    def _follow_action(self) -> None:
        action = self.defaultAction()
        if action is None:
            return
        self.restyle()
        name = action.iconText()
        self.setAccessibleName(name)
        key = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        tip = action.toolTip() or name
        self.setToolTip(f"{tip} ({key})" if key and key not in tip else tip)

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of scheme."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self.restyle()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses, as Space does."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class LinkButton(ThemedButton):
    """A short text that leads somewhere; cut with … where there is no room. `clicked` tells when."""

    def __init__(
        self, text: str = "", role: TypeRole = TypeRole.CAPTION, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._role = role
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.set_text(text)

    def set_text(self, text: str) -> None:
        """What the link says. An ampersand is an ampersand."""
        self.setText(text.replace("&", "&&"))
        self.setAccessibleName(text)
        self.updateGeometry()
        self.update()

    def label(self) -> str:
        """What the link says."""
        return self.text().replace("&&", "&")

    def sizeHint(self) -> QSize:
        """As wide as the text, with room for the focus ring."""
        metrics = QFontMetricsF(role_font(self._role))
        width = ceil(metrics.horizontalAdvance(self.label())) + 2 * LINK_PADDING + 1
        return QSize(width, ceil(metrics.height()) + 2)

    def minimumSizeHint(self) -> QSize:
        """A few letters."""
        return QSize(min(40, self.sizeHint().width()), self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Accent-coloured text, underlined when pointed at or reached by keyboard."""
        scheme = self.scheme
        with QPainter(self) as painter:
            font = role_font(self._role)
            font.setUnderline(self.underMouse() or self.hasFocus())
            painter.setFont(font)
            painter.setPen(scheme.accent if self.isEnabled() else scheme.rule_strong)
            area = QRectF(self.rect()).adjusted(LINK_PADDING, 0, -LINK_PADDING, 0)
            text = QFontMetricsF(font).elidedText(self.label(), Qt.TextElideMode.ElideRight, area.width())
            painter.drawText(area, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), scheme)
