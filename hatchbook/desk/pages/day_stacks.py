"""Lost and hatched, by day: each egg stands as its glyph on its day."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.tokens import Scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.codes import fate_word, in_sentence
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.numbers import number
from hatchbook.figures.by_day import DayStack
from hatchbook.trade.codes import Fate

_EGG_MOST, _EGG_LEAST = 22.0, 9.0
_LEFT, _RIGHT, _TOP = 14.0, 14.0, 22.0
_GAP = 10.0
_ACROSS = 3


class DayStacks(ThemedWidget):
    """A lane of days; the days from lockdown on have a wider scale of their own, set off by a gap."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._stacks: tuple[DayStack, ...] = ()
        self._lockdown = 18.0
        self._last = 22.0
        self.setAccessibleName(self.tr("Eggs by the day they were lost or hatched"))

    def show_stacks(self, stacks: Sequence[DayStack], lockdown_day: float, incubation_days: float) -> None:
        """Shows other stacks."""
        self._stacks = tuple(stacks)
        self._lockdown = lockdown_day
        latest = max((stack.to_day for stack in stacks), default=0.0)
        self._last = max(incubation_days + 1, latest + 0.5)
        spoken = [
            self.tr("{day}: {count} {fate}").format(
                day=batch_day(stack.shown_day), count=number(count, 0), fate=in_sentence(fate_word(fate))
            )
            for stack in self._stacks
            for fate, count in stack.counts
        ]
        self.setAccessibleDescription("; ".join(spoken))
        self.update()

    def sizeHint(self) -> QSize:
        """Room for stacks of some eggs."""
        return QSize(340, 260)

    def minimumSizeHint(self) -> QSize:
        """Less than that hides the stacks."""
        return QSize(220, 170)

    # ---------------------------------------------------------------- painting

    def _x(self, day: float) -> float:
        width = self.width() - _LEFT - _RIGHT - _GAP
        early = width * 0.5
        if day < self._lockdown:
            return _LEFT + early * max(day, 0.0) / self._lockdown
        share = (day - self._lockdown) / max(self._last - self._lockdown, 0.1)
        return _LEFT + early + _GAP + (width - early) * min(share, 1.0)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Lanes, stacks, spans, days."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            small = role_font(TypeRole.CAPTION)
            painter.setFont(small)
            line = QFontMetricsF(small).height()
            floor = self.height() - line - 12
            self._paint_lanes(painter, scheme, floor)
            side = self._egg_side(floor)
            used: list[tuple[float, float, float]] = []
            for stack in self._stacks:
                self._paint_stack(painter, scheme, stack, floor, side, used)
            self._paint_days(painter, scheme, floor, line)

    def _paint_lanes(self, painter: QPainter, scheme: Scheme, floor: float) -> None:
        early = QRectF(_LEFT - 6, 2, self._x(self._lockdown - 1e-6) - _LEFT + 10, floor - 2)
        late_x = self._x(self._lockdown)
        late = QRectF(late_x - 4, 2, self.width() - _RIGHT - late_x + 10, floor - 2)
        painter.fillRect(early, scheme.colour("inset"))
        painter.fillRect(late, scheme.colour("band"))
        painter.setPen(scheme.colour("ink2"))
        top = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignHCenter
        painter.drawText(early.adjusted(0, 3, 0, 0), top, self.tr("incubation"))
        painter.drawText(late.adjusted(0, 3, 0, 0), top, self.tr("lockdown and hatch"))

    def _egg_side(self, floor: float) -> float:
        tallest = max((self._rows(stack) for stack in self._stacks), default=1)
        return max(_EGG_LEAST, min(_EGG_MOST, (floor - _TOP) / max(tallest, 1)))

    @staticmethod
    def _eggs(stack: DayStack) -> list[Fate]:
        return [fate for fate, count in stack.counts for _ in range(count)]

    def _rows(self, stack: DayStack) -> int:
        return -(-len(self._eggs(stack)) // _ACROSS)

    def _paint_stack(
        self,
        painter: QPainter,
        scheme: Scheme,
        stack: DayStack,
        floor: float,
        side: float,
        used: list[tuple[float, float, float]],
    ) -> None:
        eggs = self._eggs(stack)
        across = min(_ACROSS, len(eggs))
        x = self._x(stack.shown_day) - across * side / 2
        x = max(2.0, min(x, self.width() - across * side - 2))
        height = self._rows(stack) * side
        base = floor - 3
        # A stack that would cover another one stands on top of it.
        for left, right, top in used:
            if x < right and x + across * side > left:
                base = min(base, top - 2)
        for position, fate in enumerate(eggs):
            row, column = divmod(position, _ACROSS)
            square = QRectF(x + column * side, base - (row + 1) * side, side, side)
            paint_egg(painter, square.adjusted(1, 1, -1, -1), fate, scheme)
        used.append((x, x + across * side, base - height))
        if stack.is_span:
            y = floor
            start, end = QPointF(self._x(stack.from_day), y), QPointF(self._x(stack.to_day), y)
            painter.setPen(QPen(scheme.colour("dead3"), 3))
            painter.drawLine(start, end)
            for point in (start, end):
                painter.drawLine(point - QPointF(0, 3), point + QPointF(0, 3))

    def _paint_days(self, painter: QPainter, scheme: Scheme, floor: float, line: float) -> None:
        painter.setPen(QPen(scheme.colour("rule_strong"), 1))
        painter.drawLine(
            QPointF(_LEFT - 6, floor + 3), QPointF(self._x(self._lockdown - 1e-6) + 4, floor + 3)
        )
        painter.drawLine(
            QPointF(self._x(self._lockdown) - 4, floor + 3), QPointF(self.width() - _RIGHT + 6, floor + 3)
        )
        painter.setPen(scheme.colour("ink2"))
        step = 7 if self._lockdown > 10 else 3
        days = [float(day) for day in range(0, int(self._lockdown), step) if self._lockdown - day > step / 2]
        late_step = 1 if self._last - self._lockdown < 8 else 2
        days += [float(day) for day in range(int(-(-self._lockdown // 1)), int(self._last) + 1, late_step)]
        for day in days:
            box = QRectF(self._x(day) - 20, floor + 6, 40, line)
            painter.drawText(box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, number(day, 0))
