"""How the fertile eggs lived on, day by day: a step curve with the days that can be."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.numbers import number, share
from hatchbook.desk.words.survival import (
    alive_sentence,
    left_sentence,
    share_text,
    span_sentence,
    steps_sentence,
)
from hatchbook.figures.survival import BatchSurvival, FollowEnd

_HEIGHT, _LEAST_HEIGHT = 150, 120
_TOP, _GAP, _RIGHT = 8.0, 6.0, 8.0
_CAP, _DOT, _TICK = 4.0, 3.6, 4.0
_LEVELS = (0.0, 0.5, 1.0)
#: The least room for the number of a day, px.
_LABEL = 26.0


class SurvivalCurveSection(QWidget):
    """A sentence, the curve, and below it what the curve rests on."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentence = Label("", wraps=True)
        self.picture = SurvivalPicture()
        self.spans = Label("", "caption", "ink2", wraps=True)
        self.left = Label("", "caption", "ink2", wraps=True)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        for part in (self.sentence, self.picture, self.spans, self.left):
            rows.addWidget(part)

    def show_survival(self, survival: BatchSurvival) -> None:
        """Shows another batch."""
        self.sentence.setText(alive_sentence(survival))
        self.picture.show_survival(survival)
        self.picture.setVisible(bool(survival.eggs))
        for label, text in ((self.spans, span_sentence(survival)), (self.left, left_sentence(survival))):
            label.setText(text)
            label.setVisible(bool(text))


class SurvivalPicture(ThemedWidget):
    """The curve from setting to the end; lockdown is shaded, and has the range of the share alive."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._survival: BatchSurvival | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Fertile eggs alive, by day"))

    def show_survival(self, survival: BatchSurvival) -> None:
        """Shows another batch."""
        self._survival = survival
        spoken = [alive_sentence(survival), steps_sentence(survival), span_sentence(survival)]
        self.setAccessibleDescription(" ".join(text for text in spoken if text))
        self.update()

    def sizeHint(self) -> QSize:
        """Wide and low."""
        return QSize(320, _HEIGHT)

    def minimumSizeHint(self) -> QSize:
        """Less than that cannot be read."""
        return QSize(200, _LEAST_HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Lockdown, scale, band, curve, and the range at lockdown."""
        if self._survival is None or not self._survival.eggs:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            picture = _Picture(painter, self, self._survival)
            picture.ground()
            picture.days()
            picture.band()
            picture.curve()
            picture.range_at_lockdown()


class _Picture:
    """One painting of the curve: where days and shares lie, and the pieces."""

    def __init__(self, painter: QPainter, widget: SurvivalPicture, survival: BatchSurvival) -> None:
        self.painter, self.scheme, self.survival = painter, widget.scheme, survival
        metrics = QFontMetricsF(painter.font())
        self.line = metrics.height()
        left = metrics.horizontalAdvance(share(1.0)) + _GAP
        self.end = survival.end_day + 0.5
        last = metrics.horizontalAdvance(share(1.0)) + _GAP
        self.area = QRectF(
            left, _TOP, widget.width() - left - last - _RIGHT, widget.height() - _TOP - self.line - _GAP
        )

    def x(self, day: float) -> float:
        return self.area.left() + self.area.width() * min(max(day / self.end, 0.0), 1.0)

    def y(self, part: float) -> float:
        return self.area.bottom() - self.area.height() * part

    def ground(self) -> None:
        """The days from lockdown on, the scale of shares."""
        painter, scheme, area = self.painter, self.scheme, self.area
        painter.fillRect(area, scheme.inset)
        begin = self.x(self.survival.lockdown_day)
        painter.fillRect(QRectF(begin, area.top(), area.right() - begin, area.height()), scheme.band)
        for level in _LEVELS:
            y = self.y(level)
            painter.setPen(QPen(scheme.rule_strong if level == 0.0 else scheme.rule, 1.0))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(scheme.ink2)
            box = QRectF(0.0, y - self.line / 2, area.left() - _GAP, self.line)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, share(level))

    def days(self) -> None:
        """The numbers of the days."""
        painter, area = self.painter, self.area
        painter.setPen(self.scheme.ink2)
        step = next((step for step in (1, 2, 3, 7, 14) if step * area.width() / self.end >= _LABEL), 28)
        for day in range(0, int(self.end) + 1, step):
            box = QRectF(self.x(day) - 20, area.bottom() + 4, 40, self.line)
            painter.drawText(box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, number(day, 0))

    def band(self) -> None:
        """From the earliest to the latest curve that can be."""
        band = self.survival.band
        days = np.unique(np.concatenate(([0.0, self.survival.end_day], band.earliest.days, band.latest.days)))
        low, high = band.edges(days)
        upper, lower = self._stairs(days, high), self._stairs(days, low)
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(self.scheme.alpha("live", 0.28))
        self.painter.drawPolygon(QPolygonF([*upper, *reversed(lower)]))

    def curve(self) -> None:
        """The steps, the share at the end, a tick for each egg that left alive."""
        painter, scheme, survival = self.painter, self.scheme, self.survival
        middle = survival.band.middle
        days = np.unique(np.concatenate(([0.0, survival.end_day], middle.days)))
        shares = middle.share_after(days)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(scheme.live, tokens().lines.hold))
        begin = QPointF(self.x(0.0), self.y(1.0))
        painter.drawPolyline(QPolygonF([begin, *self._stairs(days, shares)]))
        for egg in survival.eggs:
            if egg.end in (FollowEnd.TAKEN_OUT, FollowEnd.NOT_KNOWN, FollowEnd.UNDER_WAY):
                x, y = self.x(egg.until_day), self.y(float(middle.share_after(egg.until_day)))
                painter.drawLine(QPointF(x, y - _TICK), QPointF(x, y + _TICK))
        painter.setPen(scheme.ink)
        box = QRectF(self.area.right() + _GAP, self.y(float(shares[-1])) - self.line / 2, 60, self.line)
        painter.drawText(
            box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, share(float(shares[-1]))
        )

    def range_at_lockdown(self) -> None:
        """The range of the share alive when lockdown began, in figures beside it."""
        at = self.survival.at_lockdown
        if at is None:
            return
        painter, scheme = self.painter, self.scheme
        x = self.x(at.day)
        painter.setPen(QPen(scheme.ink, 1.4))
        painter.drawLine(QPointF(x, self.y(at.low)), QPointF(x, self.y(at.high)))
        for end in (at.low, at.high):
            painter.drawLine(QPointF(x - _CAP, self.y(end)), QPointF(x + _CAP, self.y(end)))
        painter.setBrush(scheme.page)
        painter.drawEllipse(QPointF(x, self.y(at.estimate)), _DOT, _DOT)
        text = share_text(at)
        width = QFontMetricsF(painter.font()).horizontalAdvance(text)
        top = min(self.y(at.low), self.area.bottom() - self.line) - self.line / 2
        box = QRectF(x - width - 2 * _GAP, top, width + _GAP, self.line)
        painter.fillRect(box, scheme.inset)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _stairs(self, days: NDArray[np.float64], shares: NDArray[np.float64]) -> list[QPointF]:
        """The corners of a curve that keeps each share until the next day."""
        points: list[QPointF] = []
        for index, (day, part) in enumerate(zip(days.tolist(), shares.tolist(), strict=True)):
            if index:
                points.append(QPointF(self.x(day), points[-1].y()))
            points.append(QPointF(self.x(day), self.y(part)))
        return points
