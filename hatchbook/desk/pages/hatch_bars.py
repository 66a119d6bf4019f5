"""When the chicks came out: bars of chicks along the hours of the hatch."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.gauge import GaugeScale, gauge_height
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.numbers import number

_HOURS_A_DAY = 24
_STEPS_H = (1, 2, 3, 4, 6, 8, 12, 24, 48, 96)
_MOST_BARS = 12
_BARS_HEIGHT, _MARGIN, _BAR_MOST = 17.0, 8.0, 22.0
_AS_A_GAUGE = GaugeScale(0.0, 1.0, (0.0,))


@dataclass(frozen=True)
class HatchBins:
    """Chicks in stretches of so many hours each, the first of which begins at a day since setting."""

    from_day: float
    step_h: int
    counts: tuple[int, ...]

    @property
    def to_day(self) -> float:
        """The end of the last stretch."""
        return self.from_day + len(self.counts) * self.step_h / _HOURS_A_DAY


def hatch_bins(chick_days: Sequence[float]) -> HatchBins:
    """The chicks by the hour, in the shortest stretches of which few enough are needed; at least one chick."""
    hours = [day * _HOURS_A_DAY for day in chick_days]
    first, last = min(hours), max(hours)
    step = next((one for one in _STEPS_H if (last - first) / one < _MOST_BARS), _STEPS_H[-1])
    begin = math.floor(first / step) * step
    counts = [0] * (int((last - begin) // step) + 1)
    for hour in hours:
        counts[int((hour - begin) // step)] += 1
    return HatchBins(begin / _HOURS_A_DAY, step, tuple(counts))


class HatchBars(ThemedWidget):
    """As high as a gauge. The words for it stand beside it; screen readers hear those."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bins: HatchBins | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_chicks(self, chick_days: Sequence[float]) -> None:
        """Shows the days since setting on which chicks came out; at least one."""
        self._bins = hatch_bins(chick_days)
        self.update()

    def sizeHint(self) -> QSize:
        """As high as rail and tick labels of a gauge."""
        return QSize(160, gauge_height(role_font(TypeRole.CAPTION), _AS_A_GAUGE))

    def minimumSizeHint(self) -> QSize:
        """Narrow, but bars stay apart."""
        return QSize(90, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Bars on a line, and the days at its ends."""
        bins, scheme = self._bins, self.scheme
        if bins is None:
            return
        with QPainter(self) as painter:
            painter.setFont(role_font(TypeRole.CAPTION))
            room = self.width() - 2 * _MARGIN
            wide = min(room / len(bins.counts), _BAR_MOST)
            most, floor = max(bins.counts), round(_BARS_HEIGHT - 2) + 0.5
            painter.setPen(Qt.PenStyle.NoPen)
            for place, count in enumerate(bins.counts):
                if count:
                    high = max(2.0, (floor - 2) * count / most)
                    bar = QRectF(_MARGIN + place * wide + 0.5, floor - high, wide - 1, high)
                    painter.fillRect(bar, scheme.colour("live"))
            right = _MARGIN + len(bins.counts) * wide
            painter.setPen(QPen(scheme.rule_strong, 1))
            painter.drawLine(round(_MARGIN), round(floor), round(right), round(floor))
            self._paint_days(painter, bins, right)

    def _paint_days(self, painter: QPainter, bins: HatchBins, right: float) -> None:
        metrics = QFontMetricsF(painter.font())
        painter.setPen(self.scheme.ink3)
        base = _BARS_HEIGHT - 2 + metrics.ascent()
        first, last = (number(day) for day in (bins.from_day, bins.to_day))
        painter.drawText(QPointF(_MARGIN, base), first)
        if first == last:
            return
        wide = metrics.horizontalAdvance(last)
        left = max(right - wide, _MARGIN + metrics.horizontalAdvance(first) + 8)
        painter.drawText(QPointF(left, base), last)
