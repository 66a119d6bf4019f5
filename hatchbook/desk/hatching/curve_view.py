"""The hatch curve: chicks and pips so far by the hour, against the time the hatch was due."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.hatching.hour_scale import HourScale
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.hatching import curve_sentence, due_sentence
from hatchbook.desk.words.numbers import number
from hatchbook.figures.hatch_curve import HatchCurve

_TOP, _RIGHT, _GAP = 20.0, 10.0, 5.0


class CurveView(ThemedWidget):
    """Chicks as a filled stair, pips as a thin one above it; upright lines for the due time and for now."""

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self._curve: HatchCurve | None = None
        self._now = 0
        self.setAccessibleName(self.tr("Hatch curve: chicks and pips by the hour"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_curve(self, curve: HatchCurve, now: int) -> None:
        """Shows how a batch hatches, as it stands at an instant."""
        self._curve, self._now = curve, now
        due = due_sentence(curve.due_at, now, self._zone)
        self.setAccessibleDescription(
            self.tr("{curve}; {due}").format(curve=curve_sentence(curve, self._zone), due=due)
        )
        self.update()

    def sizeHint(self) -> QSize:
        """Wide rather than high; it takes what it gets."""
        return QSize(340, 150)

    def minimumSizeHint(self) -> QSize:
        """Two lines of hours below, one of labels above, and some room for the curve."""
        return QSize(240, 104)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Axes, stairs, upright lines; where there is neither pip nor chick, that is said."""
        curve = self._curve
        if curve is None:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            metrics = QFontMetricsF(painter.font())
            most = max(curve.eggs_in_question, 1)
            left = metrics.horizontalAdvance(number(most, 0)) + 2 * _GAP
            plot = QRectF(self.rect()).adjusted(left, _TOP, -_RIGHT, -2 * metrics.height() - _GAP)
            scale = HourScale(curve, self._now, self._zone, plot)
            self._paint_axes(painter, plot, scale, most)
            self._paint_uprights(painter, plot, scale, metrics)
            ends = [
                (self._paint_stair(painter, scale, plot, most, chicks=chicks), chicks)
                for chicks in (False, True)
            ]
            for end, chicks in ends:
                self._paint_label(painter, end, plot, chicks=chicks)
            if not curve.hours:
                text = self.tr("no pip and no chick yet")
                plate = QRectF(0, 0, metrics.horizontalAdvance(text) + 12, metrics.height() + 6)
                plate.moveCenter(plot.center())
                painter.fillRect(plate, self.scheme.page)
                painter.setPen(self.scheme.ink2)
                painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, text)

    def _paint_axes(self, painter: QPainter, plot: QRectF, scale: HourScale, most: int) -> None:
        scheme = self.scheme
        metrics = QFontMetricsF(painter.font())
        for value in range(0, most + 1, _nice_step(most)):
            y = plot.bottom() - plot.height() * value / most
            painter.setPen(QPen(scheme.rule_strong if value == 0 else scheme.rule, 1.0))
            painter.drawLine(QLineF(plot.left(), y, plot.right(), y))
            painter.setPen(scheme.ink2)
            row = QRectF(0, y - metrics.height() / 2, plot.left() - _GAP, metrics.height())
            painter.drawText(
                row, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, number(value, 0)
            )
        for tick in scale.ticks(metrics):
            painter.setPen(QPen(scheme.rule_strong, 1.0))
            painter.drawLine(QLineF(tick.x, plot.bottom(), tick.x, plot.bottom() + 4))
            painter.setPen(scheme.ink2)
            for line, text in enumerate((tick.clock, tick.date)):
                width = metrics.horizontalAdvance(text)
                x = min(max(tick.x - width / 2, 0.0), self.width() - width)
                painter.drawText(
                    QPointF(x, plot.bottom() + _GAP + metrics.ascent() + line * metrics.height()), text
                )

    def _paint_stair(
        self, painter: QPainter, scale: HourScale, plot: QRectF, most: int, *, chicks: bool
    ) -> QPointF | None:
        """Gives back where the stair ends; None where there is none of it."""
        curve = self._curve
        if curve is None or not curve.hours:
            return None
        if not (curve.hours[-1].chicks_so_far if chicks else curve.hours[-1].pips_so_far):
            return None

        def y(value: int) -> float:
            return plot.bottom() - plot.height() * value / most

        points = [QPointF(scale.x(curve.hours[0].from_h), plot.bottom())]
        for hour in curve.hours:
            so_far = hour.chicks_so_far if chicks else hour.pips_so_far
            # What happened within an hour is drawn at its middle: it is not known closer.
            x = scale.x(hour.from_h + 0.5)
            points += [QPointF(x, points[-1].y()), QPointF(x, y(so_far))]
        until = min(max(scale.hour_of(self._now), curve.hours[-1].from_h + 1.0), scale.last_h)
        points.append(QPointF(scale.x(until), points[-1].y()))
        scheme = self.scheme
        if chicks:
            area = QPolygonF([*points, QPointF(points[-1].x(), plot.bottom())])
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.alpha("live_soft", 0.55))
            painter.drawPolygon(area)
        pen = QPen(scheme.live if chicks else scheme.ink2, 2.2 if chicks else 1.2)
        if not chicks:
            pen.setDashPattern([3.0, 2.5])
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(points))
        return points[-1]

    def _paint_label(self, painter: QPainter, end: QPointF | None, plot: QRectF, *, chicks: bool) -> None:
        """What a stair stands for, above its end; none for pips that are no more than the chicks."""
        curve = self._curve
        if curve is None or end is None:
            return
        last = curve.hours[-1]
        if not chicks and last.pips_so_far <= last.chicks_so_far:
            return
        text = self.tr("hatched") if chicks else self.tr("pipped")
        metrics = QFontMetricsF(painter.font())
        width = metrics.horizontalAdvance(text)
        x = max(plot.left() + 2, end.x() - width - 4)
        plate = QRectF(x - 1, end.y() - 3 - metrics.ascent(), width + 2, metrics.ascent())
        painter.fillRect(plate, self.scheme.page)
        painter.setPen(self.scheme.live if chicks else self.scheme.ink2)
        painter.drawText(QPointF(x, end.y() - 4), text)

    def _paint_uprights(
        self, painter: QPainter, plot: QRectF, scale: HourScale, metrics: QFontMetricsF
    ) -> None:
        curve = self._curve
        if curve is None:
            return
        scheme = self.scheme
        marks = [
            (0.0, self.tr("due"), scheme.accent, 1.6),
            (scale.hour_of(self._now), self.tr("now"), scheme.ink, 1.0),
        ]
        if curve.first_pip_at is not None:
            marks.append((scale.hour_of(curve.first_pip_at), self.tr("first pip"), scheme.ink2, 1.0))
        taken: list[tuple[float, float]] = []
        for hour, text, colour, width in marks:
            if not scale.first_h <= hour <= scale.last_h:
                continue
            x = scale.x(hour)
            painter.setPen(QPen(colour, width))
            painter.drawLine(QLineF(x, plot.top() - 3, x, plot.bottom()))
            breadth = metrics.horizontalAdvance(text)
            start = min(max(x - breadth / 2, 0.0), self.width() - breadth)
            # Where two labels would touch, the lower-ranked goes; its line stays.
            if all(start > right + 4 or start + breadth < left - 4 for left, right in taken):
                taken.append((start, start + breadth))
                painter.drawText(QPointF(start, plot.top() - 3 - metrics.descent()), text)


def _nice_step(most: int) -> int:
    """A step of 1, 2 or 5 times a power of ten that divides a count into no more than five parts."""
    power = 1
    while True:
        for step in (power, 2 * power, 5 * power):
            if most <= 5 * step:
                return step
        power *= 10
