"""Lost and hatched, by day: each egg stands as its glyph on its day."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hatchbook.desk.pages.day_bins import Bin, Lane, best_bins, span_rows
from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.painting.outcome_bar import PIECES
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.by_day import stack_text
from hatchbook.desk.words.numbers import number
from hatchbook.figures.by_day import DayStack

_EGG_MOST, _EGG_LEAST = 22, 8
_LEFT, _RIGHT, _GAP = 12.0, 12.0, 14.0
_EARLY_SHARE = 0.5
_SPAN_STEP = 6.0
#: The least room for the number of a day, px.
_LABEL = 26.0


class DayStacks(ThemedWidget):
    """A lane of days; the days from lockdown on have a wider scale of their own, set off by a gap."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._stacks: tuple[DayStack, ...] = ()
        self._rows: list[list[DayStack]] = []
        self._bins: list[Bin] = []
        self._side = float(_EGG_MOST)
        self._lockdown = 18.0
        self._last = 22.0
        self.setAccessibleName(self.tr("Eggs by the day they were lost or hatched"))

    def show_stacks(self, stacks: Sequence[DayStack], lockdown_day: float, incubation_days: float) -> None:
        """Shows other stacks."""
        self._stacks = tuple(stacks)
        self._lockdown = lockdown_day
        latest = max((stack.to_day for stack in stacks), default=0.0)
        self._last = max(incubation_days + 1, latest + 0.5)
        self._rows = span_rows(self._stacks)
        self.setAccessibleDescription("; ".join(stack_text(stack) for stack in self._stacks))
        self.update()

    def sizeHint(self) -> QSize:
        """Room for stacks of some eggs."""
        return QSize(340, 260)

    def minimumSizeHint(self) -> QSize:
        """Less than that hides the stacks."""
        return QSize(220, 170)

    # ---------------------------------------------------------------- painting

    def _lanes(self) -> tuple[Lane, Lane]:
        width = self.width() - _LEFT - _RIGHT - _GAP
        early = width * _EARLY_SHARE
        return (
            Lane(0.0, self._lockdown, _LEFT, early),
            Lane(self._lockdown, self._last, _LEFT + early + _GAP, width - early),
        )

    def _floor(self) -> float:
        """Where the eggs stand: below are the line, the bars of spans, the days."""
        line = QFontMetricsF(role_font(TypeRole.CAPTION)).height()
        return self.height() - line - 9 - _SPAN_STEP * len(self._rows)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Lanes, stacks, spans, days."""
        scheme = self.scheme
        lanes = self._lanes()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            line = QFontMetricsF(painter.font()).height()
            floor = self._floor()
            self._paint_lanes(painter, scheme, lanes, floor)
            side, bins = best_bins(self._stacks, lanes, floor - line - 10, _EGG_MOST, _EGG_LEAST)
            self._side, self._bins = side, bins
            for stack in bins:
                for position, fate in enumerate(stack.eggs):
                    row, column = divmod(position, stack.across)
                    place = QRectF(stack.left + column * side, floor - 3 - (row + 1) * side, side, side)
                    paint_egg(painter, place.adjusted(1, 1, -1, -1), fate, scheme)
            self._paint_spans(painter, scheme, lanes, floor)
            self._paint_days(painter, scheme, lanes, floor, line)

    def event(self, event: QEvent) -> bool:
        """Over a stack the tooltip tells its eggs, over a bar those that it is of."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            told = self.text_at(QPointF(event.pos()))
            if told:
                QToolTip.showText(event.globalPos(), told, self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)

    def text_at(self, at: QPointF) -> str:
        """What stands at a point: a line for each stack; "" where there is none."""
        floor, lanes = self._floor(), self._lanes()
        stacks: tuple[DayStack, ...] = ()
        if at.y() > floor:
            for row, spans in enumerate(self._rows):
                if abs(at.y() - _span_y(floor, row)) <= _SPAN_STEP / 2:
                    ends = [(_x(lanes, one.from_day), _x(lanes, one.to_day), one) for one in spans]
                    stacks = tuple(one for left, right, one in ends if left - 2 <= at.x() <= right + 2)
        else:
            for one in self._bins:
                right, top = one.left + one.across * self._side, floor - 3 - one.rows * self._side
                if one.left <= at.x() <= right and at.y() >= top:
                    stacks = one.stacks
        return "\n".join(stack_text(stack) for stack in stacks)

    def _paint_lanes(self, painter: QPainter, scheme: Scheme, lanes: tuple[Lane, Lane], floor: float) -> None:
        words = (self.tr("incubation"), self.tr("lockdown and hatch"))
        for lane, role, word in zip(lanes, ("inset", "band"), words, strict=True):
            rect = QRectF(lane.left - 4, 2, lane.width + 8, floor - 2)
            painter.fillRect(rect, scheme.colour(role))
            painter.setPen(scheme.colour("ink2"))
            top = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter
            painter.drawText(rect.adjusted(0, 3, 0, 0), top, word)

    def _paint_spans(self, painter: QPainter, scheme: Scheme, lanes: tuple[Lane, Lane], floor: float) -> None:
        """A bar for every span of days to which a death is known, none over another."""
        for row, spans in enumerate(self._rows):
            y = _span_y(floor, row)
            for stack in spans:
                painter.setPen(QPen(scheme.colour(_bar_role(stack)), 2))
                ends = [QPointF(_x(lanes, day), y) for day in (stack.from_day, stack.to_day)]
                painter.drawLine(*ends)
                for end in ends:
                    painter.drawLine(end - QPointF(0, 2), end + QPointF(0, 2))

    def _paint_days(
        self, painter: QPainter, scheme: Scheme, lanes: tuple[Lane, Lane], floor: float, line: float
    ) -> None:
        for lane in lanes:
            painter.setPen(QPen(scheme.colour("rule_strong"), 1))
            painter.drawLine(
                QPointF(lane.left - 4, floor + 3), QPointF(lane.left + lane.width + 4, floor + 3)
            )
            painter.setPen(scheme.colour("ink2"))
            days = lane.to_day - lane.from_day
            step = next(step for step in (1, 2, 3, 7, 14, 28) if step * lane.width / days >= _LABEL)
            first = -(-lane.from_day // 1)
            for day in range(int(first), int(lane.to_day) + 1, step):
                if lane is lanes[0] and lane.to_day - day < step / 2:
                    continue
                below = floor + 6 + _SPAN_STEP * len(self._rows)
                box = QRectF(lane.x(day) - 20, below, 40, line)
                painter.drawText(
                    box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, number(day, 0)
                )


def _x(lanes: tuple[Lane, Lane], day: float) -> float:
    return (lanes[0] if lanes[0].holds(day) else lanes[1]).x(day)


def _span_y(floor: float, row: int) -> float:
    """Where the bars of a row lie, below the line on which the eggs stand."""
    return floor + 3 + _SPAN_STEP * (row + 0.75)


def _bar_role(stack: DayStack) -> str:
    """The ink of its eggs where all died at one stage."""
    fates = [fate for fate, _count in stack.counts]
    role = (PIECES[fates[0]].fill or "") if len(fates) == 1 else ""
    return role if role.startswith("dead") else "dead3"
