"""A row of choices of which one holds."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedButton, ThemedWidget, paint_focus_ring

_PADDING = 12


class Segmented(ThemedWidget):
    """Exclusive choices side by side. Tab reaches the chosen one, arrows choose another.

    Signals:
        chosen(key): the breeder chose another one. `choose` by the program does not send it.
    """

    chosen = Signal(object)

    def __init__(
        self,
        choices: Sequence[tuple[object, str]],
        *,
        name: str,
        current: object | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """`choices` are keys with their words; `name` tells a screen reader what is chosen here."""
        super().__init__(parent)
        if not choices:
            raise ValueError("A row of choices needs at least one")
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self._stepping = False
        self._segments: list[_Segment] = []
        for key, text in choices:
            segment = _Segment(key, text, self)
            segment.clicked.connect(self._clicked)
            row.addWidget(segment)
            self._segments.append(segment)
        self.choose(choices[0][0] if current is None else current)

    def current(self) -> object:
        """The key of the chosen one."""
        return next(segment.key for segment in self._segments if segment.isChecked())

    def choose(self, key: object) -> None:
        """Choose by program. KeyError for a key that is not there."""
        for segment in self._segments:
            if segment.key == key:
                segment.setChecked(True)
                self._let_tab_reach_the_chosen()
                return
        raise KeyError(key)

    def segments(self) -> list[QAbstractButton]:
        """The buttons from first to last."""
        return list(self._segments)

    @property
    def is_stepping(self) -> bool:
        """Whether `chosen` comes from an arrow: the breeder may be on the way to another one."""
        return self._stepping

    def set_tips(self, tips: Sequence[str]) -> None:
        """A tip for each of the choices, from first to last."""
        for segment, tip in zip(self._segments, tips, strict=True):
            segment.setToolTip(tip)

    def step_from(self, segment: QAbstractButton, key: int) -> bool:
        """Act on an arrow, Home or End pressed in a segment; False for other keys."""
        at = self.segments().index(segment)
        last = len(self._segments) - 1
        mirrored = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        forth, back = (Qt.Key.Key_Left, Qt.Key.Key_Right) if mirrored else (Qt.Key.Key_Right, Qt.Key.Key_Left)
        if key in (forth, Qt.Key.Key_Down):
            target = min(last, at + 1)
        elif key in (back, Qt.Key.Key_Up):
            target = max(0, at - 1)
        elif key == Qt.Key.Key_Home:
            target = 0
        elif key == Qt.Key.Key_End:
            target = last
        else:
            return False
        if target != at:
            self._segments[target].setFocus(Qt.FocusReason.OtherFocusReason)
            self._stepping = True
            try:
                self._segments[target].click()
            finally:
                self._stepping = False
        return True

    def _clicked(self) -> None:
        self._let_tab_reach_the_chosen()
        self.chosen.emit(self.current())

    def _let_tab_reach_the_chosen(self) -> None:
        for segment in self._segments:
            strong = Qt.FocusPolicy.StrongFocus if segment.isChecked() else Qt.FocusPolicy.ClickFocus
            segment.setFocusPolicy(strong)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The frame, the lines between the choices, and the chosen one's plate."""
        scheme = self.scheme
        with QPainter(self) as painter:
            frame = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
            painter.setPen(QPen(scheme.rule_strong, 1.0))
            painter.setBrush(scheme.page)
            painter.drawRect(frame)
            for segment in self._segments[:-1]:
                x = segment.geometry().right() + 0.5
                painter.drawLine(QLineF(x, frame.top(), x, frame.bottom()))
            chosen = next(segment for segment in self._segments if segment.isChecked())
            first = chosen is self._segments[0]
            plate = QRectF(chosen.geometry()).adjusted(0.5 if first else -0.5, 0.5, -0.5, -0.5)
            painter.setPen(QPen(scheme.accent, 1.0))
            painter.setBrush(scheme.select)
            painter.drawRect(plate)


class _Segment(ThemedButton):
    """One choice. Paints its text and the focus ring; the row paints the rest."""

    def __init__(self, key: object, text: str, parent: Segmented) -> None:
        super().__init__(parent)
        self.key = key
        self._row = parent
        self.setText(text)
        self.setCheckable(True)
        # Siblings exclude each other, and screen readers call them radio buttons.
        self.setAutoExclusive(True)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.toggled.connect(parent.update)

    def sizeHint(self) -> QSize:
        """The text and some air."""
        metrics = QFontMetricsF(role_font(TypeRole.BODY))
        height = max(tokens().sizes.hit_min, round(metrics.height()) + 8)
        return QSize(round(metrics.horizontalAdvance(self.text())) + 2 * _PADDING, height)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The text."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setFont(role_font(TypeRole.BODY))
            if not self.isEnabled():
                painter.setPen(scheme.rule_strong)
            else:
                strong = self.isChecked() or self.underMouse()
                painter.setPen(scheme.ink if strong else scheme.ink2)
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), scheme, radius=1.0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows choose a neighbour."""
        if not self._row.step_from(self, event.key()):
            super().keyPressEvent(event)
