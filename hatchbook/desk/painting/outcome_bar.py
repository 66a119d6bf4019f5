"""The outcome of a batch as one bar: what hatched on the left, what was clear on the right.

Between them stand the dead, the latest first and darkest, then what was taken out. Fill, outline and
pattern tell the pieces apart without colour.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from hatchbook.desk.theme.tokens import Scheme
from hatchbook.trade.codes import Fate


class Pattern(Enum):
    """What is drawn over a piece."""

    PLUS = auto()
    RISING = auto()
    FALLING = auto()
    CROSSED = auto()
    MIDDLE = auto()
    UPRIGHT = auto()
    DOTTED_EDGE = auto()


@dataclass(frozen=True)
class Piece:
    """How one fate looks in the bar: colour roles of fill and edge, and a pattern with its role."""

    fill: str | None
    edge: str | None = None
    pattern: Pattern | None = None
    pattern_role: str = "page"


PIECES: dict[Fate, Piece] = {
    Fate.HATCHED: Piece("live"),
    Fate.HELPED: Piece("live", pattern=Pattern.PLUS, pattern_role="hollow"),
    Fate.CULLED: Piece("gone", pattern=Pattern.MIDDLE),
    Fate.EXTERNAL_PIP: Piece("live_soft", "live", Pattern.UPRIGHT, "live"),
    Fate.INTERNAL_PIP: Piece("live_soft", "live", Pattern.MIDDLE, "live"),
    Fate.ALIVE: Piece("live_soft", "live"),
    Fate.SET: Piece("shell", "shell_line"),
    Fate.UNSURE: Piece("warn_fill", "unsure"),
    Fate.PIPPED_DEAD: Piece("dead4"),
    Fate.LATE_DEAD: Piece("dead3"),
    Fate.MID_DEAD: Piece("dead2"),
    Fate.EARLY_DEAD: Piece("dead1"),
    Fate.DEAD: Piece("hollow", "dead2", Pattern.UPRIGHT, "dead2"),
    Fate.TAKEN_OUT: Piece("gone", pattern=Pattern.RISING),
    Fate.CRACKED: Piece("gone", pattern=Pattern.FALLING),
    Fate.ROTTEN: Piece("gone", pattern=Pattern.CROSSED),
    Fate.UNKNOWN: Piece("hollow", "gone", Pattern.DOTTED_EDGE, "gone"),
    Fate.INFERTILE: Piece("hollow", "clear", Pattern.MIDDLE, "clear"),
    Fate.CLEAR: Piece("hollow", "clear"),
}

OUTCOME_ORDER: tuple[Fate, ...] = tuple(PIECES)
"""From left to right; also the order of tallies."""

_GAP = 1.0
_NARROWEST = 3.0
"""A single egg stays visible, gap included, even among hundreds."""
_STEP = 4.0


def piece_widths(total: float, counts: Sequence[int], narrowest: float = _NARROWEST) -> list[float]:
    """Widths in proportion to counts that fill `total`, none of a counted piece below `narrowest`.

    What the narrow ones get is taken from the others in proportion. When there is no room for that, all
    share alike. Counts of nought get nought.
    """
    present = sum(1 for count in counts if count)
    if not present:
        return [0.0] * len(counts)
    if total <= narrowest * present:
        return [total / present if count else 0.0 for count in counts]
    widths = [0.0] * len(counts)
    left, open_indices = total, [index for index, count in enumerate(counts) if count]
    while True:
        sum_open = sum(counts[index] for index in open_indices)
        tight = [index for index in open_indices if left * counts[index] / sum_open < narrowest]
        if not tight:
            break
        for index in tight:
            widths[index] = narrowest
        left -= narrowest * len(tight)
        open_indices = [index for index in open_indices if index not in tight]
    for index in open_indices:
        widths[index] = left * counts[index] / sum_open
    return widths


def paint_outcome(painter: QPainter, rect: QRectF, counts: Mapping[Fate, int], scheme: Scheme) -> None:
    """Paint the bar into `rect`; an empty frame when there are no eggs."""
    painter.save()
    painter.setClipRect(rect, Qt.ClipOperation.IntersectClip)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    numbers = [max(0, counts.get(fate, 0)) for fate in OUTCOME_ORDER]
    if not any(numbers):
        _frame(painter, rect, QPen(scheme.rule_strong, 1.0))
    left = rect.left()
    widths = piece_widths(rect.width() + _GAP, numbers)
    for fate, width in zip(OUTCOME_ORDER, widths, strict=True):
        if width > 0:
            # Whole pixels, so that gaps and edges are equally sharp everywhere.
            start, end = round(left), round(left + width)
            piece = QRectF(start, rect.top(), max(1.0, end - start - _GAP), rect.height())
            _paint_piece(painter, piece, PIECES[fate], scheme)
        left += width
    painter.restore()


def _paint_piece(painter: QPainter, rect: QRectF, piece: Piece, scheme: Scheme) -> None:
    if piece.fill is not None:
        painter.fillRect(rect, scheme.colour(piece.fill))
    if piece.pattern is not None and piece.pattern is not Pattern.DOTTED_EDGE:
        painter.save()
        painter.setClipRect(rect, Qt.ClipOperation.IntersectClip)
        painter.setPen(QPen(scheme.colour(piece.pattern_role), 1.0))
        painter.drawLines(_pattern_lines(rect, piece.pattern))
        painter.restore()
    if piece.edge is not None:
        pen = QPen(scheme.colour(piece.edge), 1.0)
        if piece.pattern is Pattern.DOTTED_EDGE:
            pen.setStyle(Qt.PenStyle.DotLine)
        _frame(painter, rect, pen)


def _frame(painter: QPainter, rect: QRectF, pen: QPen) -> None:
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect.adjusted(0, 0, -1, -1))


def _pattern_lines(rect: QRectF, pattern: Pattern) -> list[QLineF]:
    left, right, top, bottom = rect.left(), rect.right(), rect.top(), rect.bottom()
    middle_x, middle_y = int(rect.center().x()), int(rect.center().y())
    match pattern:
        case Pattern.PLUS:
            return [
                QLineF(middle_x - 2, middle_y, middle_x + 2, middle_y),
                QLineF(middle_x, middle_y - 2, middle_x, middle_y + 2),
            ]
        case Pattern.MIDDLE:
            return [QLineF(left, middle_y, right, middle_y)]
        case Pattern.UPRIGHT:
            count = int(rect.width() // _STEP) + 1
            return [QLineF(left + 2 + _STEP * n, top, left + 2 + _STEP * n, bottom) for n in range(count)]
        case Pattern.CROSSED:
            return _pattern_lines(rect, Pattern.RISING) + _pattern_lines(rect, Pattern.FALLING)
        case Pattern.RISING | Pattern.FALLING:
            height = rect.height()
            count = int((rect.width() + height) // _STEP) + 2
            starts = [left - height + _STEP * n for n in range(count)]
            if pattern is Pattern.RISING:
                return [QLineF(x, bottom, x + height, top) for x in starts]
            return [QLineF(x, top, x + height, bottom) for x in starts]
        case Pattern.DOTTED_EDGE:
            return []
