"""Where the parts of a rate's column lie, for its header and its cells alike."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from hatchbook.desk.seasons.scale import RateScale
from hatchbook.desk.theme.type_scale import role_font

_INDENT, _GAP, _EDGE = 12.0, 12.0, 10.0
_BETWEEN = 7.0


@dataclass(frozen=True)
class RateColumn:
    """The plot at the left, the mean and the range as text at the right."""

    plot: QRectF
    mean: QRectF
    span: QRectF

    @classmethod
    def within(cls, cell: QRectF) -> RateColumn:
        """The parts of a cell."""
        mean = QFontMetricsF(role_font(bold=True)).horizontalAdvance("100 %")
        span = QFontMetricsF(role_font()).horizontalAdvance("00–100")
        texts = mean + _BETWEEN + span
        left = cell.right() - _EDGE - texts
        plot = QRectF(cell.left() + _INDENT, cell.top(), left - _GAP - cell.left() - _INDENT, cell.height())
        plot.setWidth(max(plot.width(), 1.0))
        return cls(
            plot,
            QRectF(left, cell.top(), mean, cell.height()),
            QRectF(left + mean + _BETWEEN, cell.top(), span, cell.height()),
        )

    def x(self, scale: RateScale, share: float) -> float:
        """Where a share lies."""
        return self.plot.left() + scale.place(share) * self.plot.width()
