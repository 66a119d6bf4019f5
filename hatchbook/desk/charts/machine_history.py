"""The batches of a machine in a row: the mean humidity of each phase in its band, the mean warmth below."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.charts.machine_marks import SHIFT, paint_item, paint_key, paint_warmth
from hatchbook.desk.charts.ranges import ticks
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget, paint_focus_ring
from hatchbook.desk.words.machines import off_word, phase_line, phase_sentence
from hatchbook.desk.words.numbers import number
from hatchbook.figures.machines import MachineBatch
from hatchbook.figures.results import PhaseFigures
from hatchbook.trade.codes import PhaseKind

_AXIS, _RIGHT = 40.0, 10.0
_LEAST_SLOT = 46.0
_STRIP = 46.0
_LEAST_LINES = 12.5


@dataclass(frozen=True)
class HistoryItem:
    """One phase of one batch: its mean, and between what nine of ten of its readings lay."""

    batch: MachineBatch
    phase: PhaseFigures
    slot: int
    mean: float
    low: float
    high: float
    off: str

    @property
    def warmth(self) -> float:
        """Mean temperature, °C; nan where nothing is known."""
        return math.nan if self.phase.temperature is None else self.phase.temperature.mean


def items_of(batches: Sequence[MachineBatch]) -> list[HistoryItem]:
    """The phases that have readings, oldest batch first; a batch without any takes no room."""
    found: list[HistoryItem] = []
    slot = 0
    for batch in sorted(batches, key=lambda one: one.set_at):
        before = len(found)
        for phase, most in zip(batch.phases, batch.most_readings, strict=True):
            drift = phase.humidity
            if drift is None or math.isnan(drift.mean):
                continue
            low, high = most or (drift.mean, drift.mean)
            found.append(HistoryItem(batch, phase, slot, drift.mean, low, high, off_word(phase)))
        slot += len(found) > before
    return found


class MachineHistory(ThemedWidget):
    """Arrows go from phase to phase, Home and End to the first and the last, Enter opens the batch.

    Signals:
        pointed: the line of the phase that is pointed at; "" for none.
        batch_opened: the uid of the batch that the breeder wants to see.
    """

    pointed = Signal(str)
    batch_opened = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[HistoryItem] = []
        self._at: int | None = None
        self._hidden_slots = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Mean humidity and temperature of the batches in this machine"))

    @property
    def items(self) -> tuple[HistoryItem, ...]:
        """What is shown, oldest first."""
        return tuple(self._items)

    @property
    def current(self) -> HistoryItem | None:
        """The phase that is pointed at."""
        return None if self._at is None else self._items[self._at]

    def said(self) -> str:
        """What is pointed at, in a line; "" for nothing."""
        one = self.current
        return "" if one is None else phase_line(one.batch, one.phase)

    def show_batches(self, batches: Sequence[MachineBatch]) -> None:
        """Shows other batches; the newest are in view."""
        before = self.current
        self._items = items_of(batches)
        self._hidden_slots = self._most_hidden()
        key = None if before is None else (before.batch.uid, before.phase.kind)
        same = [n for n, one in enumerate(self._items) if (one.batch.uid, one.phase.kind) == key]
        self._point_at(same[0] if same else None)
        self.update()

    def sizeHint(self) -> QSize:
        """Wide rather than high."""
        return QSize(560, 200)

    def minimumSizeHint(self) -> QSize:
        """A handful of batches, and room for the strip."""
        return QSize(300, max(184, round(_LEAST_LINES * self._caption().height())))

    # ---------------------------------------------------------------- where things lie

    @property
    def _slots(self) -> int:
        return self._items[-1].slot + 1 if self._items else 0

    def _caption(self) -> QFontMetricsF:
        return QFontMetricsF(role_font(TypeRole.CAPTION))

    def plot(self) -> QRectF:
        """Where the humidity is drawn."""
        line = self._caption().height()
        bottom = self.height() - line - 6 - self._strip_height() - 6
        return QRectF(_AXIS, line + 6, self.width() - _AXIS - _RIGHT, max(bottom - line - 6, 20))

    def strip(self) -> QRectF:
        """Where the temperature is drawn."""
        plot = self.plot()
        return QRectF(plot.left(), plot.bottom() + 6, plot.width(), self._strip_height())

    def _strip_height(self) -> float:
        return max(_STRIP, 2.4 * self._caption().height())

    def _room_for(self) -> int:
        widest = max((self._caption().horizontalAdvance(one.batch.label) for one in self._items), default=0)
        return max(1, int(self.plot().width() / max(_LEAST_SLOT, widest + 10)))

    def _most_hidden(self) -> int:
        return max(0, self._slots - self._room_for())

    def _slot_width(self) -> float:
        return self.plot().width() / max(min(self._slots, self._room_for()), 1)

    def x_of(self, item: HistoryItem) -> float:
        """Where a phase stands."""
        shift = SHIFT if item.phase.kind is PhaseKind.LOCKDOWN else -SHIFT
        return self.plot().left() + (item.slot - self._hidden_slots + 0.5 + shift) * self._slot_width()

    def _is_in_view(self, item: HistoryItem) -> bool:
        return self._hidden_slots <= item.slot < self._hidden_slots + self._room_for()

    def _spans(self) -> tuple[float, float]:
        values = [value for one in self._items for value in (one.low, one.high)]
        bands = [
            edge
            for one in self._items
            for edge in (one.phase.humidity_band.low, one.phase.humidity_band.high)
        ]
        low, high = min([*values, *bands]), max([*values, *bands])
        return max(0.0, 10 * math.floor((low - 2) / 10)), min(100.0, 10 * math.ceil((high + 2) / 10))

    # ---------------------------------------------------------------- painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Axes and bands, then the phases, then the strip; words where there is nothing."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            if not self._items:
                painter.setFont(role_font(TypeRole.BODY))
                painter.setPen(self.scheme.ink2)
                text = self.tr("No batch in this machine has readings yet.")
                flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
                painter.drawText(QRectF(self.rect()).adjusted(20, 0, -20, 0), flags, text)
            else:
                self._hidden_slots = min(self._hidden_slots, self._most_hidden())
                self._paint_humidity(painter)
                paint_warmth(
                    painter,
                    self.strip(),
                    [(one, self.x_of(one)) for one in self._items if self._is_in_view(one)],
                    self._slot_width(),
                    self.scheme,
                )
                self._paint_labels(painter)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), self.scheme, 2.0)

    def _paint_humidity(self, painter: QPainter) -> None:
        scheme, plot = self.scheme, self.plot()
        low, high = self._spans()
        metrics = self._caption()

        def y(value: float) -> float:
            return plot.bottom() - plot.height() * (value - low) / (high - low)

        shown = [one for one in self._items if self._is_in_view(one)]
        current, width = self.current, self._slot_width()
        if current is not None and self._is_in_view(current):
            left = plot.left() + (current.slot - self._hidden_slots) * width
            painter.fillRect(
                QRectF(left, plot.top(), width, self.strip().bottom() - plot.top()), scheme.inset
            )
        for one in shown:
            left = plot.left() + (one.slot - self._hidden_slots) * width
            band = one.phase.humidity_band
            role = "band2" if one.phase.kind is PhaseKind.LOCKDOWN else "band"
            # Half a pixel more, so that bands of neighbours leave no seam.
            painter.fillRect(
                QRectF(left, y(band.high), width + 0.5, y(band.low) - y(band.high)), scheme.colour(role)
            )
        for value in ticks(low, high, 10.0, plot.height(), metrics.height() + 4):
            at = round(y(value)) + 0.5
            painter.setPen(QPen(scheme.rule, 1.0))
            painter.drawLine(QLineF(plot.left(), at, plot.right(), at))
            painter.setPen(scheme.ink2)
            place = QRectF(0, at - metrics.height() / 2, _AXIS - 6, metrics.height())
            painter.drawText(
                place, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, number(value, 0)
            )
        pen = QPen(scheme.band_edge, 1.0)
        pen.setDashPattern([6.0, 4.0])
        for one in shown:
            left = plot.left() + (one.slot - self._hidden_slots) * width
            aim = round(y(one.phase.humidity_band.aim)) + 0.5
            painter.setPen(pen)
            painter.drawLine(QLineF(left, aim, left + width, aim))
        painter.setPen(QPen(scheme.rule_strong, 1.0))
        painter.drawLine(QLineF(plot.left(), plot.top(), plot.left(), self.strip().bottom()))
        paint_key(painter, QRectF(plot.left(), 0, plot.width(), metrics.height() + 2), scheme)
        taken = [
            QRectF(self.x_of(one) - 7, y(one.high) - 2, 14, y(one.low) - y(one.high) + 4) for one in shown
        ]
        for one in shown:
            paint_item(painter, one, self.x_of(one), y, plot, scheme, taken, strong=one is current)

    def _paint_labels(self, painter: QPainter) -> None:
        """Numbers of the batches below, and whether there are more to the left or the right."""
        scheme, strip, metrics, width = self.scheme, self.strip(), self._caption(), self._slot_width()
        current = self.current
        labels = {one.slot: one for one in self._items if self._is_in_view(one)}
        for slot, one in labels.items():
            chosen = current is not None and current.slot == slot
            painter.setFont(role_font(TypeRole.CAPTION, bold=chosen))
            painter.setPen(scheme.ink if chosen else scheme.ink2)
            left = strip.left() + (slot - self._hidden_slots) * width
            place = QRectF(left, strip.bottom() + 3, width, metrics.height())
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, one.batch.label)
        painter.setFont(role_font(TypeRole.CAPTION))
        painter.setPen(scheme.ink2)
        if self._hidden_slots:
            first = metrics.horizontalAdvance(labels[self._hidden_slots].batch.label) if labels else 0.0
            room = strip.left() + (width - first) / 2 - 8
            text = next(
                (one for one in (self.tr("‹ older"), "‹") if metrics.horizontalAdvance(one) < room), ""
            )
            painter.drawText(QPointF(4, strip.bottom() + 3 + metrics.ascent()), text)

    # ---------------------------------------------------------------- pointing

    def _point_at(self, at: int | None) -> None:
        if at is not None:
            slot = self._items[at].slot
            if slot < self._hidden_slots:
                self._hidden_slots = slot
            elif slot >= self._hidden_slots + self._room_for():
                self._hidden_slots = slot - self._room_for() + 1
        self._at = at
        one = None if at is None else self._items[at]
        self.setAccessibleDescription("" if one is None else phase_sentence(one.batch, one.phase))
        self.pointed.emit(self.said())
        self.update()

    def _nearest(self, place: QPointF) -> int | None:
        shown = [n for n, one in enumerate(self._items) if self._is_in_view(one)]
        if not shown or not self.plot().left() <= place.x() <= self.plot().right():
            return None
        return min(shown, key=lambda n: abs(self.x_of(self._items[n]) - place.x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Points at the phase under the pointer."""
        at = self._nearest(event.position())
        if at != self._at:
            self._point_at(at)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Opens the batch under the pointer."""
        self._point_at(self._nearest(event.position()))
        self._open()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Older and newer batches, where there is not room for all; else the page scrolls."""
        across = event.angleDelta().x()
        if not across or not self._most_hidden():
            event.ignore()
            return
        step = -1 if across > 0 else 1
        self._hidden_slots = min(max(self._hidden_slots + step, 0), self._most_hidden())
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at any more, unless by the keyboard."""
        super().leaveEvent(event)
        if not self.hasFocus() and self._at is not None:
            self._point_at(None)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keyboard begins at the newest batch."""
        super().focusInEvent(event)
        if self._at is None and self._items:
            self._point_at(len(self._items) - 1)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Points at nothing any more."""
        super().focusOutEvent(event)
        self._point_at(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows, Home, End, Enter."""
        if not self._items:
            super().keyPressEvent(event)
            return
        last = len(self._items) - 1
        here = last if self._at is None else self._at
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open()
        elif key == Qt.Key.Key_Left:
            self._point_at(max(here - 1, 0))
        elif key == Qt.Key.Key_Right:
            self._point_at(min(here + 1, last))
        elif key == Qt.Key.Key_Home:
            self._point_at(0)
        elif key == Qt.Key.Key_End:
            self._point_at(last)
        else:
            super().keyPressEvent(event)

    def _open(self) -> None:
        if self.current is not None:
            self.batch_opened.emit(self.current.batch.uid)
