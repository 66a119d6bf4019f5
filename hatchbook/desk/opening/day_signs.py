"""The day-by-day signs as a list: the days that the candlings leave open stand out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.embryo import day_and_signs, sign_day_text, signs_of_day
from hatchbook.trade.embryo import DaySigns

DAY_ROLE = Qt.ItemDataRole.UserRole + 1
OPEN_ROLE = Qt.ItemDataRole.UserRole + 2
_NOWHERE = QModelIndex()
#: An embryo's age is read to about a day.
_SLACK_DAYS = 1.0
_GAP, _AIR = 10, 1
Index = QModelIndex | QPersistentModelIndex


class DaySignsModel(QAbstractListModel):
    """One row a day; ``DAY_ROLE`` gives the ``DaySigns``, ``OPEN_ROLE`` whether the embryo may have died then."""

    def __init__(self, days: Sequence[DaySigns], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._days = tuple(days)
        self._span: tuple[float, float] | None = None

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many days have signs."""
        return 0 if parent.isValid() else len(self._days)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The day, or its sentence."""
        if not index.isValid():
            return None
        day = self._days[index.row()]
        if role == DAY_ROLE:
            return day
        if role == OPEN_ROLE:
            return self.is_open(day)
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return self.tr("fits the candlings") if self._span is not None and self.is_open(day) else ""
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return day_and_signs(day)
        return None

    def is_open(self, day: DaySigns) -> bool:
        """Whether the embryo may have died on a day, by what was seen of it."""
        if self._span is None:
            return True
        return self._span[0] - _SLACK_DAYS < day.day <= self._span[1] + _SLACK_DAYS

    def show_span(self, span: tuple[float, float] | None) -> None:
        """The days between which it died; None where nothing is known."""
        self._span = span
        if self._days:
            self.dataChanged.emit(self.index(0), self.index(len(self._days) - 1))

    def row_at(self, day: float) -> int:
        """The row of the nearest day."""
        return min(range(len(self._days)), key=lambda row: abs(self._days[row].day - day), default=-1)


class _SignsDelegate(QStyledItemDelegate):
    """The day at the left, its signs beside it on as many lines as they need; what cannot be is faint."""

    def __init__(self, view: DaySignsView) -> None:
        super().__init__(view)
        self._view = view
        # Texts are measured once: the list is laid out anew with every egg.
        self._heights: dict[tuple[int, int], int] = {}
        self._days: int | None = None

    def forget(self) -> None:
        """Another font: everything is measured anew."""
        self._heights.clear()
        self._days = None

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """One day."""
        scheme = scheme_of(option.widget)
        day: DaySigns = index.data(DAY_ROLE)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        rect = QRect(option.rect)
        painter.save()
        if chosen:
            painter.fillRect(rect, scheme.select)
        painter.setPen(scheme.ink if chosen or index.data(OPEN_ROLE) else scheme.ink3)
        painter.setFont(role_font(bold=True))
        days = self._days_width()
        before = QRect(rect.left(), rect.top() + _AIR, days - _GAP, rect.height())
        painter.drawText(before, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop, sign_day_text(day))
        painter.setFont(role_font())
        painter.drawText(rect.adjusted(days, _AIR, -2, 0), Qt.TextFlag.TextWordWrap, signs_of_day(day))
        if option.state & QStyle.StateFlag.State_HasFocus:
            paint_focus_ring(painter, QRectF(rect), scheme)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """As high as the signs need at the list's width."""
        del option
        # Its scroll bar comes and goes with the height of the rows: they leave room for it always.
        width = self._view.width() - self._view.verticalScrollBar().sizeHint().width() - 2
        height = self._heights.get((index.row(), width))
        if height is None:
            room = QRect(0, 0, width - self._days_width() - 2, 10_000)
            text = signs_of_day(index.data(DAY_ROLE))
            height = QFontMetrics(role_font()).boundingRect(room, Qt.TextFlag.TextWordWrap, text).height()
            self._heights[index.row(), width] = height
        return QSize(width, height + 2 * _AIR)

    def _days_width(self) -> int:
        if self._days is None:
            metrics = QFontMetrics(role_font(bold=True))
            self._days = max(map(metrics.horizontalAdvance, self._view.day_texts), default=0) + _GAP + 2
        return self._days


class DaySignsView(QListView):
    """Arrows or a click choose a day.

    Signals:
        day_wanted: the day of the row that the breeder chose, in days since setting.
    """

    day_wanted = Signal(float)

    def __init__(self, days: Sequence[DaySigns], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.signs = DaySignsModel(days, self)
        self._in_view: float | None = None
        self.day_texts = [sign_day_text(day) for day in days]
        self.setModel(self.signs)
        self._delegate = _SignsDelegate(self)
        self.setItemDelegate(self._delegate)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Signs of an embryo's age, by day"))
        self.clicked.connect(self._want)

    def sizeHint(self) -> QSize:
        """Some days; the others scroll."""
        return QSize(260, 6 * self.fontMetrics().height())

    def minimumSizeHint(self) -> QSize:
        """Two days at least."""
        return QSize(160, 4 * self.fontMetrics().height())

    def show_day(self, day: float | None, span: tuple[float, float] | None) -> None:
        """Puts the cursor on a day; without one the days that are open are brought into view."""
        self.signs.show_span(span)
        self._in_view = day if day is not None else span[1] if span is not None else None
        if day is None:
            self.clearSelection()
            self.setCurrentIndex(QModelIndex())
        else:
            self.setCurrentIndex(self.signs.index(self.signs.row_at(day)))
        self._bring_into_view()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """↑ and ↓ choose the day that they lead to."""
        before = self.currentIndex().row()
        super().keyPressEvent(event)
        if self.currentIndex().row() != before:
            self._want(self.currentIndex())

    def changeEvent(self, event: QEvent) -> None:
        """Notices another font."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.ApplicationFontChange):
            self._delegate.forget()
            self.scheduleDelayedItemsLayout()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What was in view stays in view, also when the list gets its first size."""
        super().resizeEvent(event)
        self._bring_into_view()

    def _bring_into_view(self) -> None:
        if self._in_view is not None:
            index = self.signs.index(self.signs.row_at(self._in_view))
            self.scrollTo(index, QAbstractItemView.ScrollHint.PositionAtCenter)

    def _want(self, index: QModelIndex) -> None:
        day: DaySigns | None = index.data(DAY_ROLE)
        if day is not None:
            self.day_wanted.emit(day.day)
