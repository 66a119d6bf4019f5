"""The plot of a batch: six rows, and everything that pointer and keys do in it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPixmap,
    QWheelEvent,
)
from PySide6.QtWidgets import QApplication

from hatchbook.desk.charts.canvas import Canvas
from hatchbook.desk.charts.cursor import ChartCursor
from hatchbook.desk.charts.day_axis import DayAxis
from hatchbook.desk.charts.event_lane import EventLane
from hatchbook.desk.charts.humidity_row import HumidityRow
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.phase_lane import PhaseLane
from hatchbook.desk.charts.pointer import PointerLine
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.charts.temperature_row import TemperatureRow
from hatchbook.desk.charts.weight_row import WeightRow
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.journal import Event

_FOLD_TEMPERATURE_BELOW = 330.0
_FOLD_WEIGHT_BELOW = 270.0
_POINTER_MS = 33
_ZOOM_STEP = 1.2
_MOUSE_REASONS = frozenset({Qt.FocusReason.MouseFocusReason, Qt.FocusReason.ActiveWindowFocusReason})


class BatchGraph(Canvas):
    """Phases, humidity, events, temperature, weight and days of a batch.

    Dragging pans, the wheel zooms round the pointer, a double click shows the whole batch; up and down never
    moves, so that bands stay comparable.

    Signals:
        event_chosen: the uid of the event whose mark was clicked, or on which Enter was pressed.
        view_changed: other days are in view by the breeder's hand.
        menu_wanted: the menu, at a point of the screen.
        left: Esc was pressed.
    """

    event_chosen = Signal(str)
    view_changed = Signal()
    menu_wanted = Signal(QPoint)
    left = Signal()

    def __init__(self, zone: ZoneInfo) -> None:
        scale = DayScale()
        self.phases = PhaseLane(scale, zone)
        self.humidity = HumidityRow(scale)
        self.events = EventLane(scale)
        self.temperature = TemperatureRow(scale)
        self.weight = WeightRow(scale)
        self.axis = DayAxis(scale, zone)
        self._line = PointerLine()
        self.cursor_of_days = ChartCursor(scale)
        self._material: BatchMaterial | None = None
        self._pressed: QPointF | None = None
        self._dragged_from: float | None = None
        self._ring = False
        rows = (self.phases, self.humidity, self.events, self.temperature, self.weight, self.axis)
        super().__init__(scale, rows)
        self.scene().addItem(self._line)
        self.cursor_of_days.moved.connect(self._place_line)
        self._waiting: QPointF | None = None
        self._throttle = QTimer(self)
        self._throttle.setSingleShot(True)
        self._throttle.setInterval(_POINTER_MS)
        self._throttle.timeout.connect(self._point_waiting)
        self.viewport().setMouseTracking(True)

    # ---------------------------------------------------------------- showing

    @property
    def material(self) -> BatchMaterial | None:
        """What is shown."""
        return self._material

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo, *, same_batch: bool) -> None:
        """Shows a batch; the days in view stay for the same one."""
        whole = self.scale_of_days.is_whole
        self._material = material
        self.axis.show_days(zone, empty=material is None)
        if material is not None:
            self.scale_of_days.bound(material.set_at, material.first_day, material.last_day)
            if not same_batch or whole:
                self.scale_of_days.show_all()
        for row in (self.phases, self.humidity, self.events, self.temperature, self.weight):
            row.show_material(material, zone)
        if not same_batch:
            self.events.ring(None)
        self.cursor_of_days.take(material, same_batch=same_batch)
        self.lay_out()

    def folded(self, height: float) -> frozenset[Row]:
        """A low chart has no strip for the temperature, one still lower no weights; the read-out tells them."""
        rows: set[Row] = set()
        if height < _FOLD_TEMPERATURE_BELOW:
            rows.add(self.temperature)
        if height < _FOLD_WEIGHT_BELOW or not self.weight.has_content:
            rows.add(self.weight)
        return frozenset(rows)

    def show_days(self, low: float, high: float) -> None:
        """Shows a stretch of days."""
        self.scale_of_days.show(low, high)
        self.rescale()

    def show_all(self) -> None:
        """Shows the whole batch."""
        self.scale_of_days.show_all()
        self.rescale()
        self.view_changed.emit()

    def show_instant(self, at: int) -> None:
        """Brings an instant into view, points at it, and rings the mark of the event that happened then."""
        if self._material is None:
            return
        event = next((event for event in self._material.events if event.at == at), None)
        self.scale_of_days.bring_in(self.scale_of_days.day_of(at), margin=0.2)
        self.rescale()
        self.events.ring(event.uid if event is not None else None)
        self.cursor_of_days.point_at(at, event)

    def rescale(self) -> None:
        """Other days are in view."""
        super().rescale()
        self._place_line()

    def zoom(self, factor: float, around: float | None = None) -> None:
        """Shows more or fewer days round one: the one pointed at if none is given."""
        scale = self.scale_of_days
        if around is None:
            middle = (scale.low + scale.high) / 2
            at = self.cursor_of_days.at
            around = middle if at is None else scale.day_of(at)
        scale.zoom(factor, around)
        self.rescale()
        self.view_changed.emit()

    def _place_line(self) -> None:
        at, scale = self.cursor_of_days.at, self.scale_of_days
        if at is None or not scale.sees(scale.day_of(at)):
            self._line.setVisible(False)
            return
        index, dots = self.cursor_of_days.index, []
        if index is not None and self.cursor_of_days.of_event is None:
            dots = self.humidity.dots_at(index) + self.temperature.dots_at(index) + self.weight.dots_at(at)
        self._line.show_at(scale.px_of(at), self.phases.area.top(), self.axis.area.top(), dots)

    def picture(self, ratio: float = 2.0) -> QPixmap:
        """The chart as it stands, without what pointer and keys leave on it."""
        ring, self._ring = self._ring, False
        self._line.setVisible(False)
        try:
            return super().picture(ratio)
        finally:
            self._ring = ring
            self._place_line()

    def _dress(self, ratio: float) -> None:
        super()._dress(ratio)
        self._line.dress(self._inks)

    # ---------------------------------------------------------------- pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begins to pan."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed = event.position()
            self._dragged_from = None
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pans while pressed; else says what is under the pointer, at most 30 times a second."""
        event.accept()
        if self._pressed is not None:
            self._drag(event.position())
            return
        over_mark = bool(self.events.events_at(event.position()))
        shape = Qt.CursorShape.PointingHandCursor if over_mark else Qt.CursorShape.ArrowCursor
        if self.viewport().cursor().shape() != shape:
            self.viewport().setCursor(shape)
        self._waiting = event.position()
        if not self._throttle.isActive():
            self._point_waiting()
            self._throttle.start()

    def _drag(self, position: QPointF) -> None:
        assert self._pressed is not None
        if self._dragged_from is None:
            if abs(position.x() - self._pressed.x()) < QApplication.startDragDistance():
                return
            self._dragged_from = self._pressed.x()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        self.scale_of_days.pan((self._dragged_from - position.x()) / self.scale_of_days.px_per_day)
        self._dragged_from = position.x()
        self.rescale()
        self.view_changed.emit()

    def _point_waiting(self) -> None:
        position, self._waiting = self._waiting, None
        if position is None or self._material is None:
            return
        if not self.phases.plot.left() <= position.x() <= self.phases.plot.right():
            self.cursor_of_days.point_at(None)
            return
        under = self.events.events_at(position)
        if under:
            self.cursor_of_days.point_at(under[0].at, under[0])
        else:
            self.cursor_of_days.point_at(self.scale_of_days.at_of(self.scale_of_days.day(position.x())))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ends panning; a click on an event's mark chooses it."""
        event.accept()
        if event.button() != Qt.MouseButton.LeftButton:
            return
        clicked = self._pressed is not None and self._dragged_from is None
        self._pressed = self._dragged_from = None
        self.viewport().setCursor(Qt.CursorShape.ArrowCursor)
        if clicked:
            under = self.events.events_at(event.position())
            if under:
                self._choose(under[0])

    def _choose(self, event: Event) -> None:
        self.events.ring(event.uid)
        self.event_chosen.emit(event.uid)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Shows the whole batch."""
        event.accept()
        self.show_all()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zooms round the pointer; sideways, or with Shift, it pans."""
        turned = event.angleDelta()
        if turned.y() < 0 and self.scale_of_days.is_whole:
            # Nothing more to show: a page that scrolls may have the turn.
            event.ignore()
            return
        event.accept()
        if turned.x() or event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            steps = (turned.x() or turned.y()) / 120
            self.scale_of_days.pan(-steps * 0.1 * self.scale_of_days.span)
            self.rescale()
            self.view_changed.emit()
        elif turned.y():
            around = self.scale_of_days.day(event.position().x())
            self.zoom(_ZOOM_STEP ** (-turned.y() / 120), around)

    def enterEvent(self, event: QEnterEvent) -> None:
        """pyqtgraph's scene is not told."""
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at any more, unless the keys did it."""
        event.accept()
        self._throttle.stop()
        self._waiting = None
        if not self.hasFocus():
            self.cursor_of_days.point_at(None)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Asks for the menu."""
        event.accept()
        self.menu_wanted.emit(event.globalPos())

    # ---------------------------------------------------------------- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Readings with the arrows, days with Ctrl, events with E, zoom with + and −, Esc leaves."""
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        cursor = self.cursor_of_days
        match event.key():
            case Qt.Key.Key_Left | Qt.Key.Key_Right:
                direction = 1 if event.key() == Qt.Key.Key_Right else -1
                (cursor.step_day if control else cursor.step)(direction)
                self._follow()
            case Qt.Key.Key_Home:
                cursor.go_to_reading(0)
                self._follow()
            case Qt.Key.Key_End:
                cursor.go_to_last()
                self._follow()
            case Qt.Key.Key_E if not control:
                cursor.next_event(-1 if shift else 1)
                self._follow()
            case Qt.Key.Key_Plus | Qt.Key.Key_Equal:
                self.zoom(1 / _ZOOM_STEP)
            case Qt.Key.Key_Minus:
                self.zoom(_ZOOM_STEP)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter if cursor.of_event is not None:
                self._choose(cursor.of_event)
            case Qt.Key.Key_Escape:
                cursor.point_at(None)
                self.left.emit()
            case _:
                event.ignore()
                return
        event.accept()

    def _follow(self) -> None:
        """Keeps in view what the keys point at."""
        at, scale = self.cursor_of_days.at, self.scale_of_days
        if at is not None and scale.bring_in(scale.day_of(at)):
            self.rescale()
            self.view_changed.emit()

    # ---------------------------------------------------------------- focus

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keyboard has come: a ring shows it."""
        super().focusInEvent(event)
        self._ring = event.reason() not in _MOUSE_REASONS
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The keyboard has gone."""
        super().focusOutEvent(event)
        self._ring = False
        if not self.viewport().underMouse():
            self.cursor_of_days.point_at(None)
        self.viewport().update()

    def drawForeground(self, painter: QPainter, rect: QRectF) -> None:
        """The focus ring."""
        super().drawForeground(painter, rect)
        if self._ring:
            paint_focus_ring(painter, QRectF(self.viewport().rect()), scheme_of(self))
