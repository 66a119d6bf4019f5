"""Text in one of the roles of the type scale and one of the ink roles."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLabel, QToolTip, QWidget

from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font

_RESTYLE_ON = LOOK_EVENTS | {QEvent.Type.Polish}


class Label(QLabel):
    """A label that takes its size from a type role and its colour from an ink role.

    The text is plain: a name that a breeder typed is never read as markup.
    """

    def __init__(
        self,
        text: str = "",
        role: TypeRole | str = TypeRole.BODY,
        ink: str = "ink",
        *,
        bold: bool | None = None,
        wraps: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        """`role` may be given by its word; ValueError, or KeyError for an ink, when it does not exist."""
        super().__init__(parent)
        self._role = TypeRole(role)
        self._ink = ink
        self._bold = bold
        self._restyling = False
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(wraps)
        self.setText(text)
        self.restyle()

    @property
    def ink(self) -> str:
        """The colour role of the text."""
        return self._ink

    def set_ink(self, ink: str) -> None:
        """Change the colour role. KeyError for a role that does not exist."""
        scheme_of(self).colour(ink)
        self._ink = ink
        self.restyle()

    def restyle(self) -> None:
        """Take colour and font anew."""
        # Setting a palette or a font brings another change event.
        if self._restyling:
            return
        self._restyling = True
        try:
            colour = scheme_of(self).colour(self._ink)
            palette = self.palette()
            if palette.color(QPalette.ColorGroup.Active, QPalette.ColorRole.WindowText) != colour:
                for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Inactive):
                    palette.setColor(group, QPalette.ColorRole.WindowText, colour)
                self.setPalette(palette)
            font = role_font(self._role, bold=self._bold)
            if self.font() != font:
                self.setFont(font)
        finally:
            self._restyling = False

    def event(self, event: QEvent) -> bool:
        """Notices a change of scheme, font or place."""
        handled = super().event(event)
        if event.type() in _RESTYLE_ON:
            self.restyle()
        return handled


class ElidedLabel(Label):
    """One line that ends in … where there is no room; the full text is in the tooltip and read aloud.

    Shorter texts may be given, of which then the first that fits stands in for it.
    """

    _shorter: Sequence[str] = ()

    def set_shorter(self, *texts: str) -> None:
        """What is shown where the full text does not fit, the longest first."""
        self._shorter = texts
        self.update()

    def _shown(self) -> str:
        """The longest text that fits, or the shortest there is where none does."""
        room, metrics = self.contentsRect().width(), self.fontMetrics()
        texts = (self.text(), *self._shorter)
        return next((text for text in texts if metrics.horizontalAdvance(text) <= room), texts[-1])

    def sizeHint(self) -> QSize:
        """As wide as the full text."""
        metrics = self.fontMetrics()
        margins = self.contentsMargins()
        width = metrics.horizontalAdvance(self.text()) + margins.left() + margins.right() + 1
        return QSize(width, metrics.height() + margins.top() + margins.bottom())

    def minimumSizeHint(self) -> QSize:
        """A few letters."""
        metrics = self.fontMetrics()
        short = min(self.sizeHint().width(), metrics.averageCharWidth() * 5)
        return QSize(short, self.sizeHint().height())

    def is_elided(self) -> bool:
        """Whether the text is cut at the present width."""
        return self.fontMetrics().horizontalAdvance(self.text()) > self.contentsRect().width()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The text, cut if need be."""
        with QPainter(self) as painter:
            group = QPalette.ColorGroup.Active if self.isEnabled() else QPalette.ColorGroup.Disabled
            painter.setPen(self.palette().color(group, QPalette.ColorRole.WindowText))
            area = self.contentsRect()
            text = self.fontMetrics().elidedText(self._shown(), Qt.TextElideMode.ElideRight, area.width())
            painter.drawText(area, self.alignment(), text)

    def event(self, event: QEvent) -> bool:
        """Shows the full text as tooltip when it is cut and there is no other."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip and not self.toolTip():
            if self.is_elided():
                QToolTip.showText(event.globalPos(), self.text(), self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)
