"""Room air, water and eggs laid end to end on the scale of humidity, with the bands and what is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.guide import half_text
from hatchbook.desk.words.numbers import number
from hatchbook.figures.guide_results import GuideCell, MachineGuide
from hatchbook.figures.results import Band

_BAR, _GAP = 15.0, 5.0
_STEP = 20.0
_LEAST_TOP = 80.0
_MARGIN = 6.0


def _tr(text: str) -> str:
    return QCoreApplication.translate("SumBar", text)


@dataclass(frozen=True)
class SumParts:
    """What an expected humidity is made of, % RH, and its range."""

    name: str
    room: float
    water: float
    eggs: float
    cell: GuideCell

    @property
    def whole(self) -> float:
        """The expected humidity."""
        return self.cell.humidity.value

    def text(self) -> str:
        """Room 18 + water 23 = 41 ± 2 %. Whole numbers that add up; room and sum stand elsewhere too."""
        room, water, eggs, whole = self._rounded()
        values = {
            "room": number(room, 0),
            "water": number(water, 0),
            "eggs": number(eggs, 0),
            "whole": number(whole, 0),
            "half": half_text(self.cell.humidity),
        }
        # Parts too small to be seen are left out, so that the sum is not told more closely than it is known.
        if eggs and water:
            return _tr("room {room} + water {water} + eggs {eggs} = {whole} {half}").format(**values)
        if eggs:
            return _tr("room {room} + eggs {eggs} = {whole} {half}").format(**values)
        if water:
            return _tr("room {room} + water {water} = {whole} {half}").format(**values)
        return _tr("room air alone: {whole} {half}").format(**values)

    def short(self) -> str:
        """The same for where there is little room, the parts in the order of the bar: 18 + 21 + 2 = 41 ± 2 %."""
        room, water, eggs, whole = self._rounded()
        parts = [number(part, 0) for part in (room, water, eggs) if part]
        return _tr("{parts} = {whole} {half}").format(
            parts=" + ".join(parts), whole=number(whole, 0), half=half_text(self.cell.humidity)
        )

    def _rounded(self) -> tuple[int, int, int, int]:
        """Room, water, eggs and their sum in whole numbers that add up."""
        room, eggs, whole = round(self.room), round(self.eggs), round(self.whole)
        water = max(whole - room - eggs, 0) if round(self.water) else 0
        if not water:
            eggs = max(whole - room, 0)
        return room, water, eggs, whole


def parts_of(guide: MachineGuide, cell: GuideCell, name: str) -> SumParts:
    """What the expected humidity of a cell is made of."""
    whole = max(cell.humidity.value, 0.0)
    room = min(guide.room_only, whole)
    eggs = whole - room if not cell.channels else min(guide.egg_share, whole - room)
    return SumParts(name, room, whole - room - eggs, eggs, cell)


def sums_of(guide: MachineGuide) -> tuple[SumParts, ...]:
    """The sums worth showing: that of the advised setting, after that of the present one where it differs."""
    now, advised = guide.now_cell, guide.advised
    if advised is None:
        return () if now is None else (parts_of(guide, now, _tr("now")),)
    if now is None or (now.channels, now.vent) == (advised.channels, advised.vent):
        return (parts_of(guide, advised, _tr("now") if now is not None else _tr("then")),)
    return parts_of(guide, now, _tr("now")), parts_of(guide, advised, _tr("then"))


class SumBar(ThemedWidget):
    """One bar, or two where something else than the present setting is advised. Said in words as well."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sums: tuple[SumParts, ...] = ()
        self._bands: tuple[tuple[str, str, Band], ...] = ()
        self._wanted: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("What the expected humidity is made of"))

    def show_sums(
        self, sums: Sequence[SumParts], bands: Sequence[tuple[str, str, Band]], wanted: float | None
    ) -> None:
        """Shows sums on a scale with bands (name, colour role, band) and the wanted humidity."""
        self._sums, self._bands, self._wanted = tuple(sums), tuple(bands), wanted
        said = [self._line(one.text(), one) for one in sums]
        self.setAccessibleDescription("; ".join(said))
        self.setVisible(bool(sums))
        self.updateGeometry()
        self.update()

    def texts(self) -> list[str]:
        """The sums in words, as they stand under their bars."""
        return [one.text() for one in self._sums]

    def _lines(self) -> list[str]:
        """The words below the scale: each sum, and what is wanted."""
        metrics = QFontMetricsF(role_font(TypeRole.CAPTION))
        lines = [self._line(one.text(), one) for one in self._sums]
        if any(metrics.horizontalAdvance(line) > self.width() for line in lines):
            lines = [self._line(one.short(), one) for one in self._sums]
        if self._wanted is not None:
            lines.append(self.tr("▲ wanted {humidity}\u00a0%").format(humidity=number(self._wanted)))
        return lines

    def _line(self, text: str, one: SumParts) -> str:
        return self.tr("{name}: {sum}").format(name=one.name, sum=text) if len(self._sums) > 1 else text

    def sizeHint(self) -> QSize:
        """Band names, bars, the scale, the words below it."""
        line = QFontMetricsF(role_font(TypeRole.CAPTION)).height()
        bars = len(self._sums) * (_BAR + _GAP) + _GAP
        return QSize(260, round(line + 4 + bars + 6 + line + 4 + len(self._lines()) * (line + 1)))

    def minimumSizeHint(self) -> QSize:
        """Narrow, with the same height."""
        return QSize(200, self.sizeHint().height())

    # ---------------------------------------------------------------- painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Bands behind, then what is wanted, bars, whiskers, the scale, the words."""
        if not self._sums:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            metrics = QFontMetricsF(painter.font())
            line = metrics.height()
            names = max(metrics.horizontalAdvance(one.name) for one in self._sums) + 8
            left = names if len(self._sums) > 1 else _MARGIN
            top = line + 4
            bars = len(self._sums) * (_BAR + _GAP) + _GAP
            plot = QRectF(left, top, self.width() - left - _MARGIN - 8, bars)
            highest = self._highest()
            self._paint_bands(painter, plot, highest, metrics)
            self._paint_scale(painter, plot, highest, metrics)
            for row, one in enumerate(self._sums):
                self._paint_sum(painter, plot, highest, one, plot.top() + _GAP + row * (_BAR + _GAP), metrics)
            if self._wanted is not None:
                self._paint_wanted(painter, plot, highest, self._wanted)
            baseline = plot.bottom() + 10 + line + metrics.ascent()
            for row, text in enumerate(self._lines()):
                is_wanted = row >= len(self._sums)
                painter.setPen(self.scheme.accent if is_wanted else self.scheme.ink)
                shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, self.width())
                painter.drawText(QPointF(0, baseline + row * (line + 1)), shown)

    def _highest(self) -> float:
        most = max(
            [one.cell.humidity.high for one in self._sums]
            + [band.high + 4 for _name, _role, band in self._bands]
            + ([self._wanted] if self._wanted is not None else [])
        )
        return min(max(_LEAST_TOP, _STEP * -(-most // _STEP)), 100.0)

    @staticmethod
    def _x(plot: QRectF, highest: float, value: float) -> float:
        return plot.left() + plot.width() * min(max(value, 0.0), highest) / highest

    def _paint_bands(self, painter: QPainter, plot: QRectF, highest: float, metrics: QFontMetricsF) -> None:
        free_from = 0.0
        for name, role, band in self._bands:
            x0, x1 = self._x(plot, highest, band.low), self._x(plot, highest, band.high)
            painter.fillRect(QRectF(x0, plot.top(), x1 - x0, plot.height()), self.scheme.colour(role))
            width = metrics.horizontalAdvance(name)
            start = min(max((x0 + x1 - width) / 2, free_from), self.width() - width)
            painter.setPen(self.scheme.water_deep)
            painter.drawText(QPointF(start, metrics.ascent()), name)
            free_from = start + width + 8

    def _paint_scale(self, painter: QPainter, plot: QRectF, highest: float, metrics: QFontMetricsF) -> None:
        scheme = self.scheme
        painter.setPen(QPen(scheme.rule_strong, 1.0))
        y = round(plot.bottom()) + 0.5
        painter.drawLine(QLineF(plot.left(), y, plot.right(), y))
        value = 0.0
        while value <= highest + 1e-9:
            x = round(self._x(plot, highest, value)) + 0.5
            painter.setPen(QPen(scheme.rule_strong, 1.0))
            painter.drawLine(QLineF(x, y, x, y + 3))
            text = (
                number(value, 0)
                if value < highest
                else self.tr("{value}\u00a0%").format(value=number(value, 0))
            )
            width = metrics.horizontalAdvance(text)
            painter.setPen(scheme.ink2)
            painter.drawText(
                QPointF(min(x - width / 2, self.width() - width), y + 4 + metrics.ascent()), text
            )
            value += _STEP

    def _paint_sum(
        self,
        painter: QPainter,
        plot: QRectF,
        highest: float,
        one: SumParts,
        top: float,
        metrics: QFontMetricsF,
    ) -> None:
        scheme = self.scheme
        middle = top + _BAR / 2
        if len(self._sums) > 1:
            painter.setPen(scheme.ink)
            painter.drawText(QPointF(0, middle + metrics.ascent() / 2 - 1), one.name)
        edges = [0.0, one.room, one.room + one.water, one.whole]
        for role, begin, end in zip(
            ("water_raw", "water_deep", "water_deep"), edges, edges[1:], strict=False
        ):
            x0, x1 = self._x(plot, highest, begin), self._x(plot, highest, end)
            if x1 - x0 < 0.5:
                continue
            part = QRectF(x0, top, max(x1 - x0 - 1, 1.0), _BAR)
            painter.fillRect(part, scheme.colour(role))
            if begin == edges[2]:
                # Told apart by hatching, not by another colour alone.
                painter.fillRect(part, QBrush(scheme.page, Qt.BrushStyle.BDiagPattern))
        low, high = one.cell.humidity.low, one.cell.humidity.high
        x0, x1 = self._x(plot, highest, low), self._x(plot, highest, high)
        for colour, width in ((scheme.page, 4.0), (scheme.ink, 1.6)):
            painter.setPen(QPen(colour, width))
            painter.drawLine(QLineF(x0, middle, x1, middle))
            for x in (x0, x1):
                painter.drawLine(QLineF(x, middle - 4.5, x, middle + 4.5))

    def _paint_wanted(self, painter: QPainter, plot: QRectF, highest: float, wanted: float) -> None:
        scheme = self.scheme
        x = self._x(plot, highest, wanted)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.accent)
        y = plot.bottom()
        painter.drawPolygon(QPolygonF([QPointF(x, y - 5), QPointF(x - 4.5, y + 3), QPointF(x + 4.5, y + 3)]))
