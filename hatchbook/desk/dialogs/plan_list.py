"""The dates of a planned batch along a rail: what each asks, and what is aimed at from there on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.painting.marks import duty_mark, paint_mark
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.dates import batch_day, clock_time, weekday_date
from hatchbook.desk.words.planning import stop_sentence, targets_lines
from hatchbook.figures.planning import DraftPlan, PlanStop
from hatchbook.trade.codes import DutyKind, Fate

Index = QModelIndex | QPersistentModelIndex

STOP_ROLE = Qt.ItemDataRole.UserRole + 1
_NOWHERE = QModelIndex()

_RAIL_X, _RAIL, _LOCKDOWN_RAIL = 5.0, 8.0, 14.0
_MARK_X, _DATE_X = 33.0, 62.0
_COLUMN_GAP = 12.0
_LINE_AIR = 4
#: Which of several duties of a date its mark shows.
_RANK = (DutyKind.SET, DutyKind.HATCH, DutyKind.LOCKDOWN, DutyKind.CANDLE, DutyKind.WEIGH)


@dataclass(frozen=True)
class StopLine:
    """A date of the plan as it is shown; ``share``: of the incubation, up to the next date."""

    stop: PlanStop
    date: str
    beside: str
    what: str
    targets: tuple[str, ...]
    in_lockdown: bool
    share: float
    last: bool


class PlanModel(QAbstractListModel):
    """The dates of a plan, first to last."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lines: list[StopLine] = []

    def show_plan(self, draft: DraftPlan, zone: ZoneInfo, weighed: str, unit: str) -> None:
        """Shows a plan; ``weighed``: what is weighed, in words; ``unit`` of temperatures, C or F."""
        self.beginResetModel()
        self._lines = list(_lines(draft, zone, weighed, unit))
        self.endResetModel()

    def lines(self) -> Sequence[StopLine]:
        """The dates as they are shown."""
        return tuple(self._lines)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many dates there are."""
        return 0 if parent.isValid() else len(self._lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The line itself, or its sentence."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if role == STOP_ROLE:
            return line
        if role in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
        ):
            parts = [part for part in (line.date, line.beside, line.what) if part]
            sentence = ", ".join(parts)
            return "; ".join((sentence, *line.targets))
        return None


def _lines(draft: DraftPlan, zone: ZoneInfo, weighed: str, unit: str) -> Sequence[StopLine]:
    stops, plan = draft.stops, draft.plan
    whole = max(plan.hatch_due_at_s - plan.set_at_s, 1)
    begins = {phase.start_s: phase.targets for phase in plan.phases}
    lines = []
    for position, stop in enumerate(stops):
        following = stops[position + 1].at if position + 1 < len(stops) else stop.at
        # A phase that begins between this date and the next is told of at this one.
        targets = [phase for at, phase in begins.items() if stop.at <= at < max(following, stop.at + 1)]
        lines.append(
            StopLine(
                stop=stop,
                date=weekday_date(stop.at, zone),
                beside=clock_time(stop.at, zone) if stop.day == 0 else batch_day(stop.day, _places(stop.day)),
                what=stop_sentence(stop, weighed),
                targets=tuple(line for phase in targets for line in targets_lines(phase, unit)),
                in_lockdown=stop.at >= plan.lockdown_at_s,
                share=(following - stop.at) / whole,
                last=position + 1 == len(stops),
            )
        )
    return lines


def _places(day: float) -> int:
    return 0 if day == round(day) else 1


class PlanDelegate(QStyledItemDelegate):
    """Paints a date with its mark, and the rail down to the next one."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """The lines of text, and of the room that is left its share of the time."""
        line: StopLine = index.data(STOP_ROLE)
        model = index.model()
        heights = sum(_least_height(model.index(row, 0).data(STOP_ROLE)) for row in range(model.rowCount()))
        room = max(self._view.viewport().height() - heights - 1, 0)
        return QSize(100, _least_height(line) + int(room * line.share))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One date."""
        scheme = scheme_of(self._view)
        line: StopLine = index.data(STOP_ROLE)
        rect = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = QFontMetricsF(role_font())
        text_height = metrics.height() + _LINE_AIR
        middle = rect.top() + text_height / 2
        top = middle if index.row() == 0 else rect.top()
        bottom = middle if line.last else rect.bottom() + 1
        above = None if index.row() == 0 else index.model().index(index.row() - 1, 0).data(STOP_ROLE)
        # The rail above the tick belongs to the date before.
        for start, end, lockdown in (
            (top, middle, above is not None and above.in_lockdown),
            (middle, bottom, line.in_lockdown),
        ):
            if end > start:
                width = _LOCKDOWN_RAIL if lockdown else _RAIL
                left = rect.left() + _RAIL_X + (_LOCKDOWN_RAIL - width) / 2
                role = scheme.accent if lockdown else scheme.band_edge
                painter.fillRect(QRectF(left, start, width, end - start), role)
        painter.setPen(QPen(scheme.rule_strong, 1.0))
        x = rect.left()
        painter.drawLine(QPointF(x + _RAIL_X + _LOCKDOWN_RAIL, middle), QPointF(x + _MARK_X - 4, middle))
        kind = next((kind for kind in _RANK if kind in line.stop.kinds), line.stop.kinds[0])
        if kind is DutyKind.SET:
            paint_egg(painter, QRectF(x + _MARK_X - 1, middle - 8, 16, 16), Fate.SET, scheme)
        else:
            mark = duty_mark(kind)
            paint_mark(painter, mark, QPointF(x + _MARK_X + 7, middle), 10.0, scheme.water_deep)
        row = QRectF(x, rect.top(), rect.width(), text_height)
        centre = Qt.AlignmentFlag.AlignVCenter
        day_x = _DATE_X + self._widest(index, "date") + _COLUMN_GAP
        what = row.adjusted(day_x + self._widest(index, "beside") + _COLUMN_GAP, 0, -2, 0)
        painter.setFont(role_font())
        painter.setPen(scheme.ink)
        painter.drawText(row.adjusted(_DATE_X, 0, 0, 0), centre, line.date)
        cut = metrics.elidedText(line.what, Qt.TextElideMode.ElideRight, what.width())
        painter.drawText(what, centre, cut)
        painter.setPen(scheme.ink2)
        painter.drawText(row.adjusted(day_x, 0, 0, 0), centre, line.beside)
        small = role_font(TypeRole.CAPTION)
        height = QFontMetricsF(small).height()
        painter.setFont(small)
        below = QRectF(x + _DATE_X, rect.top() + text_height - 2, rect.width() - _DATE_X - 2, height)
        for text in line.targets:
            cut = QFontMetricsF(small).elidedText(text, Qt.TextElideMode.ElideRight, below.width())
            painter.drawText(below, centre, cut)
            below.translate(0, height)
        if option.state & QStyle.StateFlag.State_HasFocus:
            paint_focus_ring(painter, rect.adjusted(_DATE_X - 6, 0, 0, 0), scheme, 2.0)
        painter.restore()

    @staticmethod
    def _widest(index: Index, field: str) -> float:
        """The width of the widest text of a column, px."""
        model, metrics = index.model(), QFontMetricsF(role_font())
        lines = [model.index(row, 0).data(STOP_ROLE) for row in range(model.rowCount())]
        return max(metrics.horizontalAdvance(getattr(line, field)) for line in lines)


def _least_height(line: StopLine) -> int:
    height = QFontMetricsF(role_font()).height() + _LINE_AIR
    if line.targets:
        height += QFontMetricsF(role_font(TypeRole.CAPTION)).height() * len(line.targets) + 2
    return round(height)


class PlanList(QListView):
    """The plan of a batch; the rail is as long as the incubation."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plan = PlanModel(self)
        self.setModel(self.plan)
        self.setItemDelegate(PlanDelegate(self))
        self.setAccessibleName(self.tr("Plan of the batch"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.viewport().setAutoFillBackground(False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The rows share the height anew."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.scheduleDelayedItemsLayout()
