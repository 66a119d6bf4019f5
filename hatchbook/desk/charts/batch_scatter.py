"""What the two charts of single batches have in common: value axis, points, read-out, mouse and keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label, Room, paint_labels, place_labels
from hatchbook.desk.charts.point_material import PointCursor, PointMaterial
from hatchbook.desk.painting.group_shapes import paint_shape
from hatchbook.desk.widgets.themed import ThemedWidget, paint_focus_ring
from hatchbook.desk.words.comparison_table import scale_number, scale_top
from hatchbook.figures.comparison_results import BatchPoint, Place

_TOP, _RIGHT, _BOTTOM_AIR = 13.0, 14.0, 6.0
_TICK, _TEXT_GAP, _AXIS_AIR = 4.0, 3.0, 13.0
_NEAR_PX = 14.0
_POINT, _POINT_MANY = 9.0, 6.0
_MANY = 120
_RING = 8.5
_PAGE = 10
_LABELS_AMONG = 60
"""Among more points than these only those that lie far out are named."""


class BatchScatter(ThemedWidget):
    """Points that a mouse and the arrow keys go through.

    Signals:
        batch_chosen: the uid of the batch that was clicked.
        batch_opened: the uid of the batch that is to be opened.
    """

    batch_chosen = Signal(str)
    batch_opened = Signal(str)

    def __init__(self, cursor: PointCursor, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.points = cursor
        self._inks = Inks(self.scheme, self.devicePixelRatioF())
        self._near: list[QPointF] = []
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(160, 90)
        cursor.moved.connect(self.follow)

    def sizeHint(self) -> QSize:
        """A usual size; it takes what it gets."""
        return QSize(420, 220)

    # ---------------------------------------------------------------- to be said by each chart

    def x_of(self, at: int, point: BatchPoint, plot: QRectF) -> float:
        """Where a point lies."""
        raise NotImplementedError

    def order(self, material: PointMaterial) -> Sequence[int]:
        """The numbers of the points from left to right."""
        raise NotImplementedError

    def shown(self, material: PointMaterial) -> range:
        """The numbers of the points that are in view."""
        return range(len(material.points))

    def draw_ground(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        """Paints bands and lines below the points, and the axis under the plot."""
        raise NotImplementedError

    def ground_labels(self, plot: QRectF, material: PointMaterial) -> list[Label]:
        """Labels of what lies below the points."""
        raise NotImplementedError

    def follow(self) -> None:
        """The cursor stands elsewhere."""
        self.update()

    # ---------------------------------------------------------------- geometry

    @property
    def inks(self) -> Inks:
        """Pens and fonts."""
        return self._inks

    def restyle(self) -> None:
        """Takes colours and fonts anew."""
        self._inks = Inks(self.scheme, self.devicePixelRatioF())
        super().restyle()

    def plot(self) -> QRectF:
        """The area of the points."""
        inks = self._inks
        left = inks.width(inks.small, scale_top(1.0)) + _AXIS_AIR
        below = inks.metrics(inks.small).height() + _BOTTOM_AIR
        return QRectF(
            left,
            _TOP,
            max(1.0, self.width() - left - _RIGHT),
            max(1.0, self.height() - _TOP - below),
        )

    def y_of(self, share: float, plot: QRectF) -> float:
        """Where a share lies; held inside the plot."""
        return min(plot.bottom(), max(plot.top(), self.y_beyond(share, plot)))

    def y_beyond(self, share: float, plot: QRectF) -> float:
        """The same where it may lie outside the plot."""
        material = self.points.material
        assert material is not None
        at = (share - material.low) / (material.high - material.low)
        return plot.bottom() - at * plot.height()

    # ---------------------------------------------------------------- painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The chart."""
        with QPainter(self) as painter:
            self._paint(painter)
            if self.hasFocus():
                paint_focus_ring(painter, QRectF(self.rect()), self.scheme, 2.0)

    def picture(self, ratio: float = 2.0) -> QPixmap:
        """The chart as it stands, with `ratio` pixels of the picture to one on the screen."""
        pixmap = QPixmap(self.size() * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(self.scheme.page)
        with QPainter(pixmap) as painter:
            self._paint(painter)
        return pixmap

    def _paint(self, painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self.scheme.page)
        material = self.points.material
        if material is None:
            return
        plot = self.plot()
        self._draw_axis(painter, plot, material)
        self.draw_ground(painter, plot, material)
        centres = {
            at: QPointF(self.x_of(at, material.points[at], plot), self.y_of(material.points[at].share, plot))
            for at in self.shown(material)
        }
        size = _POINT_MANY if len(centres) > _MANY else _POINT
        # What lies outside comes last: nothing covers it.
        for at, centre in sorted(centres.items(), key=lambda one: _rank(material.points[one[0]].place)):
            self._draw_point(painter, material, material.points[at], centre, size)
        room = Room(plot.adjusted(1, 0, -1, 0))
        room.taken += [QRectF(c.x() - 5, c.y() - 5, 10, 10) for c in centres.values()]
        labels = self.ground_labels(plot, material) + self._point_labels(material, centres)
        paint_labels(painter, place_labels(labels, room, self._inks), self._inks)
        self._draw_rings(painter, material, centres)

    def _draw_axis(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        inks = self._inks
        height = inks.metrics(inks.small).height()
        painter.setFont(inks.small)
        for at in material.ticks:
            y = round(self.y_of(at, plot)) + 0.5
            painter.setPen(inks.pen("rule"))
            painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
            painter.setPen(inks.pen("rule_strong"))
            painter.drawLine(QPointF(plot.left() - _TICK, y), QPointF(plot.left(), y))
            text = scale_top(at) if at == material.ticks[-1] else scale_number(at)
            width = inks.width(inks.small, text)
            painter.setPen(inks.colour("ink2"))
            place = QRectF(plot.left() - _TICK - _TEXT_GAP - width, y - height / 2, width, height)
            painter.drawText(place, Qt.TextFlag.TextDontClip, text)
        painter.setPen(inks.pen("rule_strong"))
        x, y = round(plot.left()) + 0.5, round(plot.bottom()) + 0.5
        painter.drawLine(QPointF(x, plot.top()), QPointF(x, y))
        painter.drawLine(QPointF(x, y), QPointF(plot.right(), y))

    def draw_mean(self, painter: QPainter, plot: QRectF, material: PointMaterial) -> None:
        """The line of all batches."""
        y = round(self.y_of(material.limits.mean, plot)) + 0.5
        painter.setPen(self._inks.pen("water_deep", 1.6))
        painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))

    def _draw_point(
        self, painter: QPainter, material: PointMaterial, point: BatchPoint, centre: QPointF, size: float
    ) -> None:
        outside = point.place is not Place.INSIDE
        far = point.place in (Place.FAR_LOW, Place.FAR_HIGH)
        colour = self.scheme.colour(_role(point.place, loss=material.kind.is_loss) if far else "water_deep")
        paint_shape(painter, material.shape(point), centre, size, colour, self.scheme.page, filled=outside)

    def _point_labels(self, material: PointMaterial, centres: dict[int, QPointF]) -> list[Label]:
        labels = []
        for at, centre in centres.items():
            point = material.points[at]
            far = point.place in (Place.FAR_LOW, Place.FAR_HIGH)
            if point.place is Place.INSIDE or (not far and len(centres) > _LABELS_AMONG):
                continue
            ringed = at == self.points.at or point.uid == self.points.chosen
            away = _RING + 6 if ringed else 9.0
            places = [
                (centre + QPointF(away, 0), "right", "middle"),
                (centre + QPointF(-away, 0), "left", "middle"),
                (centre + QPointF(0, away - 2), "centre", "below"),
                (centre + QPointF(0, 2 - away), "centre", "above"),
            ]
            role = _role(point.place, loss=material.kind.is_loss) if far else "ink2"
            font = self._inks.small_bold if far else self._inks.small
            labels.append(Label([point.label], role, font, places, 0 if far else 1))
        return labels

    def _draw_rings(self, painter: QPainter, material: PointMaterial, centres: dict[int, QPointF]) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for at, centre in centres.items():
            if material.points[at].uid == self.points.chosen:
                painter.setPen(QPen(self.scheme.accent, 2.0))
                painter.drawEllipse(centre, _RING, _RING)
        centre_at = None if self.points.at is None else centres.get(self.points.at)
        if centre_at is not None:
            painter.setPen(QPen(self.scheme.focus, 1.6))
            painter.drawEllipse(centre_at, _RING + 3, _RING + 3)

    # ---------------------------------------------------------------- mouse

    def _nearest(self, position: QPointF) -> int | None:
        material = self.points.material
        if material is None:
            return None
        plot = self.plot()
        best, found = _NEAR_PX**2, None
        for at in self.shown(material):
            point = material.points[at]
            across = self.x_of(at, point, plot) - position.x()
            along = self.y_of(point.share, plot) - position.y()
            if across * across + along * along <= best:
                best, found = across * across + along * along, at
        return found

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Points at the nearest batch."""
        found = self._nearest(event.position())
        self.points.point_at(found)
        self.setCursor(Qt.CursorShape.ArrowCursor if found is None else Qt.CursorShape.PointingHandCursor)

    def leaveEvent(self, event: QEvent) -> None:
        """Points at nothing any more."""
        super().leaveEvent(event)
        if not self.hasFocus():
            self.points.point_at(None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Chooses a batch."""
        found = self._nearest(event.position())
        self.points.point_at(found)
        point = self.points.point
        if event.button() == Qt.MouseButton.LeftButton and point is not None and not point.counts_only:
            self.batch_chosen.emit(point.uid)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Opens a batch."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.points.point_at(self._nearest(event.position()))
            self._open()

    def _open(self) -> None:
        point = self.points.point
        if point is not None and not point.counts_only:
            self.batch_opened.emit(point.uid)

    # ---------------------------------------------------------------- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go from batch to batch, Enter opens, Esc points at nothing."""
        match event.key():
            case Qt.Key.Key_Left | Qt.Key.Key_Down:
                self._step(-1)
            case Qt.Key.Key_Right | Qt.Key.Key_Up:
                self._step(1)
            case Qt.Key.Key_PageUp:
                self._step(-_PAGE)
            case Qt.Key.Key_PageDown:
                self._step(_PAGE)
            case Qt.Key.Key_Home:
                self._go(0)
            case Qt.Key.Key_End:
                self._go(-1)
            case Qt.Key.Key_Space if self.points.point is not None:
                point = self.points.point
                if not point.counts_only:
                    self.batch_chosen.emit(point.uid)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self._open()
            case Qt.Key.Key_Escape if self.points.at is not None:
                self.points.point_at(None)
            case _:
                super().keyPressEvent(event)

    def _step(self, by: int) -> None:
        material = self.points.material
        if material is None or not material.points:
            return
        order = list(self.order(material))
        if self.points.at is None:
            self._go(0 if by > 0 else -1)
            return
        here = order.index(self.points.at)
        self.points.point_at(order[min(max(here + by, 0), len(order) - 1)])

    def _go(self, place: int) -> None:
        material = self.points.material
        if material is not None and material.points:
            self.points.point_at(list(self.order(material))[place])

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Shows where the keyboard is."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Points at nothing when the keyboard leaves."""
        super().focusOutEvent(event)
        if not self.underMouse():
            self.points.point_at(None)
        self.update()


def _rank(place: Place) -> int:
    return {Place.INSIDE: 0, Place.LOW: 1, Place.HIGH: 1}.get(place, 2)


def _role(place: Place, *, loss: bool) -> str:
    low = place in (Place.LOW, Place.FAR_LOW)
    return "bad" if low != loss else "ok"
