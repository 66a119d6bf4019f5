"""What the marks of the calendar mean, in one line."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.marks import duty_mark, paint_mark
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.trade.codes import DutyKind

_MARK, _LINE = 8.0, 11.0
_BESIDE = 4.0
_WIDEST_GAP = 10.0
_NARROWEST_GAP = 3.0


class DutyLegend(ThemedWidget):
    """Candle, weigh, lock, hatch and turn, each beside its mark; gaps shrink before words are cut."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        meaning = self.tr(
            "Filled marks are of the chosen batch, outlined ones of the others. "
            "The line at the foot is the chosen batch: thin while it is turned, thick from lockdown to hatch."
        )
        self.setToolTip(meaning)
        self.setAccessibleName(self.tr("Key of the calendar"))
        self.setAccessibleDescription(meaning)

    def entries(self) -> list[tuple[DutyKind, str]]:
        """Kinds and the words beside their marks; turning is the line."""
        return [
            (DutyKind.CANDLE, self.tr("candle")),
            (DutyKind.WEIGH, self.tr("weigh")),
            (DutyKind.LOCKDOWN, self.tr("lock")),
            (DutyKind.HATCH, self.tr("hatch")),
            (DutyKind.TURN, self.tr("turn")),
        ]

    def sizeHint(self) -> QSize:
        """One line of small text."""
        return QSize(200, ceil(QFontMetricsF(role_font(TypeRole.CAPTION)).height()) + 4)

    def minimumSizeHint(self) -> QSize:
        """Never what keeps the column wide."""
        return QSize(60, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Marks and words from the left."""
        font = role_font(TypeRole.CAPTION)
        metrics = QFontMetricsF(font)
        entries = self.entries()
        widths = [
            (_LINE if kind is DutyKind.TURN else _MARK) + _BESIDE + metrics.horizontalAdvance(word)
            for kind, word in entries
        ]
        # What has no room at all is left out, rather than cut; the tooltip says everything.
        while len(entries) > 1 and sum(widths) + _NARROWEST_GAP * (len(entries) - 1) > self.width():
            entries.pop()
            widths.pop()
        spare = self.width() - sum(widths)
        gap = min(max(spare / len(entries), _NARROWEST_GAP), _WIDEST_GAP)
        centre = self.height() / 2
        baseline = centre + metrics.capHeight() / 2
        x = min(max(spare - gap * (len(entries) - 1), 0.0), 7.0)
        with QPainter(self) as painter:
            painter.setFont(font)
            for (kind, word), width in zip(entries, widths, strict=True):
                left = _LINE if kind is DutyKind.TURN else _MARK
                if kind is DutyKind.TURN:
                    painter.fillRect(QRectF(x, centre - 0.5, _LINE, 1.5), self.scheme.ink2)
                else:
                    mark_at = QPointF(x + _MARK / 2, centre)
                    paint_mark(painter, duty_mark(kind), mark_at, _MARK, self.scheme.ink2)
                painter.setPen(self.scheme.ink2)
                painter.drawText(QPointF(x + left + _BESIDE, baseline), word)
                x += width + gap
