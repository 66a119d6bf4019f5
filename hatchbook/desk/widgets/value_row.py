"""The row of a key figure that carries the number: value, unit, spread, and an aside at the right."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget

_GAP = 5.0


@dataclass(frozen=True)
class FigureText:
    """The words of a figure: "48.0", "%", "± 2", "31 of 36"; empty where there is none."""

    value: str = "–"
    unit: str = ""
    spread: str = ""
    aside: str = ""

    def sentence(self) -> str:
        """All of it in reading order."""
        return " ".join(part for part in (self.value, self.unit, self.spread, self.aside) if part)


class ValueRow(ThemedWidget):
    """Parts of different size on one base line. Where there is no room the aside goes first, then the spread."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = FigureText()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def text(self) -> FigureText:
        """What it shows."""
        return self._text

    def set_text(self, text: FigureText) -> None:
        """Show a figure."""
        self._text = text
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for all parts."""
        width = sum(self._width(part, font) + _GAP for part, font, _ in self._parts())
        return QSize(round(width), round(QFontMetricsF(role_font(TypeRole.FIGURE)).height()))

    def minimumSizeHint(self) -> QSize:
        """Wide enough for value and unit."""
        width = sum(self._width(part, font) + _GAP for part, font, _ in self._parts()[:2])
        return QSize(round(width), self.sizeHint().height())

    def shown_parts(self) -> tuple[str, ...]:
        """The parts that fit at the present width."""
        return tuple(text for text, _, _, _ in self._placed())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The parts on their base line."""
        scheme = self.scheme
        metrics = QFontMetricsF(role_font(TypeRole.FIGURE))
        base = (self.height() - metrics.height()) / 2 + metrics.ascent()
        with QPainter(self) as painter:
            for text, font, role, x in self._placed():
                painter.setFont(font)
                painter.setPen(scheme.colour(role))
                painter.drawText(QPointF(x, base), text)

    def _parts(self) -> list[tuple[str, QFont, str]]:
        text = self._text
        return [
            (text.value, role_font(TypeRole.FIGURE), "ink"),
            (text.unit, role_font(TypeRole.SECTION, bold=False), "ink2"),
            (text.spread, role_font(TypeRole.CAPTION), "ink2"),
            (text.aside, role_font(TypeRole.CAPTION), "ink2"),
        ]

    def _placed(self) -> list[tuple[str, QFont, str, float]]:
        placed: list[tuple[str, QFont, str, float]] = []
        x = 0.0
        *leading, (aside, aside_font, aside_role) = self._parts()
        for index, (text, font, role) in enumerate(leading):
            width = self._width(text, font)
            if not text or (index == 2 and x + width > self.width()):
                continue
            placed.append((text, font, role, x))
            x += width + _GAP
        width = self._width(aside, aside_font)
        if aside and x + _GAP + width <= self.width():
            placed.append((aside, aside_font, aside_role, self.width() - width))
        return placed

    @staticmethod
    def _width(text: str, font: QFont) -> float:
        return QFontMetricsF(font).horizontalAdvance(text) if text else 0.0
