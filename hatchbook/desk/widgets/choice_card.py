"""A large button for one of a few ways to begin: icon, title, a line of explanation, its key."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedButton, paint_focus_ring

_EDGE, _ICON, _GAP = 14.0, 22, 12.0


class ChoiceCard(ThemedButton):
    """Space or Enter chooses it; a screen reader hears title, explanation and key."""

    def __init__(
        self, title: str, text: str, key: str, icon_name: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._text, self._key, self._icon_name = text, key, icon_name
        self.setText(title)
        self.setAccessibleName(title)
        self.setAccessibleDescription(f"{text} {key}".strip())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Title above its explanation, both whole."""
        title = QFontMetricsF(role_font(TypeRole.SECTION, bold=True))
        text = QFontMetricsF(role_font(TypeRole.BODY))
        key = QFontMetricsF(role_font(TypeRole.CAPTION)).horizontalAdvance(self._key)
        wide = max(title.horizontalAdvance(self.text()) + _GAP + key, text.horizontalAdvance(self._text))
        high = title.height() + 4 + text.height()
        return QSize(round(wide + _ICON + _GAP + 2 * _EDGE), round(high + 2 * _EDGE))

    def minimumSizeHint(self) -> QSize:
        """The explanation may be cut where there is no room."""
        return QSize(180, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Frame, icon, title, key, explanation."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            frame = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
            painter.setPen(QPen(scheme.accent if self.underMouse() else scheme.rule_strong, 1.0))
            painter.setBrush(scheme.select if self.isDown() else scheme.page)
            painter.drawRoundedRect(frame, 4, 4)
            image = icon_pixmap(self._icon_name, scheme.accent, _ICON, self.devicePixelRatioF())
            painter.drawPixmap(round(_EDGE), round((self.height() - _ICON) / 2), image)
            left = _EDGE + _ICON + _GAP
            room = QRectF(left, _EDGE, self.width() - left - _EDGE, self.height() - 2 * _EDGE)
            self._paint_texts(painter, room)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), scheme, 4.0)

    def _paint_texts(self, painter: QPainter, room: QRectF) -> None:
        scheme = self.scheme
        top, bottom = Qt.AlignmentFlag.AlignTop, Qt.AlignmentFlag.AlignBottom
        painter.setFont(role_font(TypeRole.CAPTION))
        painter.setPen(scheme.ink2)
        painter.drawText(room, top | Qt.AlignmentFlag.AlignRight, self._key)
        title = role_font(TypeRole.SECTION, bold=True)
        painter.setFont(title)
        painter.setPen(scheme.ink)
        painter.drawText(room, top | Qt.AlignmentFlag.AlignLeft, self.text())
        text = role_font(TypeRole.BODY)
        painter.setFont(text)
        painter.setPen(scheme.ink2)
        shown = QFontMetricsF(text).elidedText(self._text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, bottom | Qt.AlignmentFlag.AlignLeft, shown)
        self.setToolTip("" if shown == self._text else self._text)
