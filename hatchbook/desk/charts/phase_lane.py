"""The lane at the top: rails of the phases with their names, marks of the duties, and now."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from hatchbook.desk.charts.clusters import Spot, arrange
from hatchbook.desk.charts.drawing import vertical
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.row import Row
from hatchbook.desk.charts.scale import DayScale
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.words.codes import phase_word
from hatchbook.desk.words.dates import clock_time, date_time
from hatchbook.desk.words.duties import duty_sentence
from hatchbook.figures.calendar import is_overdue
from hatchbook.figures.results import PhaseFigures
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind, PhaseKind

_MARK = 10.0
_PITCH = 12.5
_RAIL = 18.0
_TEXT_AIR = 7.0


def phase_name(phase: PhaseFigures) -> str:
    """A phase with how often its eggs are turned."""
    name = phase_word(phase.kind)
    if not phase.turns_per_day:
        return name
    return QCoreApplication.translate(
        "Chart", "{phase}, turned %n time(s) a day", "", phase.turns_per_day
    ).format(phase=name)


class PhaseLane(Row):
    """Duties above, phases below; the label of now beside its line."""

    def __init__(self, scale: DayScale, zone: ZoneInfo) -> None:
        super().__init__(scale)
        self._zone = zone
        self._material: BatchMaterial | None = None
        self._spots: list[Spot] = []
        self._rail = _RAIL

    def show_material(self, material: BatchMaterial | None, zone: ZoneInfo) -> None:
        """Shows the phases and duties of another batch, or other ones of the same."""
        self._material, self._zone = material, zone

    def wanted_height(self, inks: Inks) -> float:
        """Room for the marks, and rails as high as their names."""
        self._rail = max(_RAIL, inks.metrics(inks.small_bold).height() + 2)
        return tokens().sizes.phase_lane - _RAIL + self._rail

    @property
    def _rails(self) -> QRectF:
        return QRectF(self.plot.left(), self.area.bottom() - self._rail, self.plot.width(), self._rail - 1)

    # ---------------------------------------------------------------- painting

    def draw_back(self, painter: QPainter, inks: Inks) -> None:
        """Paints rails, names, now and marks."""
        if self._material is None:
            return
        self._draw_rails(painter, inks, self._material)
        self._draw_duties(painter, inks, self._material)

    def _draw_rails(self, painter: QPainter, inks: Inks, material: BatchMaterial) -> None:
        rails = self._rails
        painter.save()
        painter.setClipRect(rails)
        for phase in material.phases:
            role = "band2" if phase.kind is PhaseKind.LOCKDOWN else "band"
            left, right = self.scale.px(phase.from_day), self.scale.px(phase.to_day)
            painter.fillRect(QRectF(left, rails.top(), right - left, rails.height()), inks.colour(role))
        painter.restore()
        now, taken = self._now_label(inks, material)
        for phase in material.phases:
            self._draw_name(painter, inks, phase, taken)
        if now and taken is not None:
            painter.setFont(inks.small_bold)
            painter.setPen(inks.colour("ink"))
            painter.drawText(taken, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, now)
        if self.scale.sees(self.scale.day_of(material.now)):
            painter.setPen(inks.pen("ink", tokens().lines.now))
            vertical(painter, self.scale.px_of(material.now), self.area)

    def _now_label(self, inks: Inks, material: BatchMaterial) -> tuple[str, QRectF | None]:
        """The longest label of now that leaves the running phase its name, and its place."""
        day = self.scale.day_of(material.now)
        rails = self._rails
        found: tuple[str, QRectF | None] = ("", None)
        for text in self._now_texts(material):
            width = inks.width(inks.small_bold, text)
            if day < self.scale.low:
                if day >= 0 or self.scale.low > 0:
                    return "", None
                # Planned: said at the beginning.
                x = max(self.scale.px(0.0), rails.left()) + _TEXT_AIR
            elif day > self.scale.high:
                return "", None
            else:
                x = self.scale.px(day) + _TEXT_AIR
                if x + width > rails.right() - 2:
                    x = self.scale.px(day) - _TEXT_AIR - width
            place = QRectF(x, rails.top(), width, rails.height())
            if place.left() < rails.left() or place.right() > rails.right():
                continue
            if found[1] is None:
                found = (text, place)
            running = material.running
            if running is None or self._name_place(inks, running, place, short=True) is not None:
                return text, place
        return found

    def _now_texts(self, material: BatchMaterial) -> tuple[str, ...]:
        if material.now < material.set_at:
            return (
                QCoreApplication.translate("Chart", "to be set on {date}").format(
                    date=date_time(material.set_at, self._zone)
                ),
            )
        now = QCoreApplication.translate("Chart", "now, {time}")
        return (
            now.format(time=date_time(material.now, self._zone)),
            now.format(time=clock_time(material.now, self._zone)),
            QCoreApplication.translate("Chart", "now"),
        )

    def _draw_name(self, painter: QPainter, inks: Inks, phase: PhaseFigures, taken: QRectF | None) -> None:
        for short in (False, True):
            place = self._name_place(inks, phase, taken, short=short)
            if place is not None:
                painter.setFont(inks.small)
                painter.setPen(inks.colour("water_deep" if phase.kind is PhaseKind.LOCKDOWN else "ink2"))
                name = phase_word(phase.kind) if short else phase_name(phase)
                align = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip
                painter.drawText(place, align, name)
                return

    def _name_place(
        self, inks: Inks, phase: PhaseFigures, taken: QRectF | None, *, short: bool
    ) -> QRectF | None:
        """Where a phase's name fits on its rail beside the label of now; None where it does not."""
        name = phase_word(phase.kind) if short else phase_name(phase)
        width, rails = inks.width(inks.small, name), self._rails
        left = max(self.scale.px(phase.from_day), rails.left()) + _TEXT_AIR
        right = min(self.scale.px(phase.to_day), rails.right()) - 3
        starts = [left] if taken is None else [left, taken.right() + 2 * _TEXT_AIR]
        for start in starts:
            place = QRectF(start, rails.top(), width, rails.height())
            free = taken is None or not place.adjusted(-_TEXT_AIR, 0, _TEXT_AIR, 0).intersects(taken)
            if start >= left and place.right() <= right and free:
                return place
        return None

    def _draw_duties(self, painter: QPainter, inks: Inks, material: BatchMaterial) -> None:
        y = self._marks_y
        places = [self.scale.px_of(duty.due_at) for duty in material.duties]
        between = (self.plot.left(), self.plot.right() + _PITCH)
        self._spots = arrange(places, _PITCH, between=between)
        for spot in self._spots:
            if not self.plot.left() - 3 < spot.x < self.plot.right() + 3:
                continue
            if spot.is_crowd:
                painter.setFont(inks.small)
                painter.setPen(inks.colour("ink2"))
                place = QRectF(spot.x - _MARK, y - _MARK, 2 * _MARK, 2 * _MARK)
                painter.drawText(place, Qt.AlignmentFlag.AlignCenter, f"+{len(spot.members)}")
                continue
            duty = material.duties[spot.members[0]]
            overdue = is_overdue(duty, material.curves.batch, material.now)  # type: ignore[arg-type]
            inks.draw_mark(
                painter,
                duty.kind,
                QPointF(spot.x, y),
                _MARK,
                "bad" if overdue else "water_deep",
                filled=_is_done(duty, material.now),
            )

    @property
    def _marks_y(self) -> float:
        return self.area.top() + (self.area.height() - self._rail) / 2

    # ---------------------------------------------------------------- tips

    def tip(self, point: QPointF) -> str:
        """The duty or the phase under the pointer."""
        material = self._material
        if material is None:
            return ""
        if point.y() >= self._rails.top():
            phase = material.phase_at(self.scale.at_of(self.scale.day(point.x())))
            return "" if phase is None else phase_name(phase)
        for spot in self._spots:
            if abs(point.x() - spot.x) <= _PITCH / 2:
                return "\n".join(self._duty_tip(material, member) for member in spot.members)
        return ""

    def _duty_tip(self, material: BatchMaterial, member: int) -> str:
        duty = material.duties[member]
        due, sentence = date_time(duty.due_at, self._zone), duty_sentence(duty)
        if duty.done_at is not None:
            text = QCoreApplication.translate("Chart", "{duty}, due {due}, done {done}")
            return text.format(duty=sentence, due=due, done=date_time(duty.done_at, self._zone))
        if is_overdue(duty, material.curves.batch, material.now):  # type: ignore[arg-type]
            text = QCoreApplication.translate("Chart", "{duty}, was due {due}, not done")
        else:
            text = QCoreApplication.translate("Chart", "{duty}, {due}")
        return text.format(duty=sentence, due=due)


def _is_done(duty: Duty, now: int) -> bool:
    return duty.done_at is not None or (duty.kind is DutyKind.SET and duty.due_at <= now)
