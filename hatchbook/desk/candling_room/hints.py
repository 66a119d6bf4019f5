"""What the other keys do, to be read and to be clicked on."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from hatchbook.desk.candling_room.keyboard import Pressed
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import ThemedButton

_GAP = 12


class Hint(ThemedButton):
    """A key in bold and what it does; a click does the same."""

    def __init__(self, key: str, does: str, key_width: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key, self._does, self._key_width = key, does, key_width
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._name()

    @property
    def does(self) -> str:
        """What the key does."""
        return self._does

    def set_does(self, does: str) -> None:
        """The key does something else now."""
        if does != self._does:
            self._does = does
            self._name()
            self.update()

    def _name(self) -> None:
        self.setText(self._does)
        self.setAccessibleName(f"{self._does}, {self._key}")
        self.setToolTip(self._does)

    def sizeHint(self) -> QSize:
        """Room for the key; the words are cut where there is none."""
        height = round(QFontMetricsF(role_font()).height()) + 7
        return QSize(round(self._key_width) + 60, max(height, tokens().sizes.hit_min))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The hint."""
        scheme, area = self.scheme, QRectF(self.rect())
        side = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        with QPainter(self) as painter:
            painter.setFont(role_font(bold=True))
            painter.setPen(scheme.ink)
            painter.drawText(area, side, self._key)
            painter.setFont(role_font())
            painter.setPen(scheme.ink2)
            words = area.adjusted(self._key_width + _GAP, 0, 0, 0)
            text = QFontMetricsF(role_font()).elidedText(
                self._does, Qt.TextElideMode.ElideRight, words.width()
            )
            painter.drawText(words, side, text)


class HintGrid(QWidget):
    """The hints in two columns.

    Signals:
        pressed: what the key of the hint that was clicked on means.
    """

    pressed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(2 * _GAP)
        self._grid.setVerticalSpacing(0)
        self._hints: dict[str, Hint] = {}

    def show_hints(
        self, left: list[tuple[str, str, Pressed | None]], right: list[tuple[str, str, Pressed | None]]
    ) -> None:
        """Shows other keys: what is printed, what it does, what it means (None: nothing that a click could do)."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self._hints = {}
        metrics = QFontMetricsF(role_font(bold=True))
        for column, rows in enumerate((left, right)):
            width = max((metrics.horizontalAdvance(key) for key, _, _ in rows), default=0.0)
            for row, (key, does, pressed) in enumerate(rows):
                hint = Hint(key, does, width, self)
                hint.setEnabled(pressed is not None)
                if pressed is not None:
                    hint.clicked.connect(lambda _checked=False, pressed=pressed: self.pressed.emit(pressed))
                self._grid.addWidget(hint, row, column)
                self._hints[key] = hint
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)

    def hint(self, key: str) -> Hint:
        """The hint of a key as it is printed. KeyError where there is none."""
        return self._hints[key]
