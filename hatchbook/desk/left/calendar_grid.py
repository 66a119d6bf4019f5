"""The grid of the calendar: days by mouse and keyboard."""

from __future__ import annotations

import calendar
from datetime import date, timedelta
from math import ceil

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QSizePolicy, QTableView, QWidget

from hatchbook.desk.left.calendar_delegate import MARK, CalendarDelegate
from hatchbook.desk.left.calendar_model import DATE_ROLE, NARROW_ROLE, CalendarModel, Index
from hatchbook.desk.left.duty_book import ROWS, Month
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole, role_font

_FIRST, _LAST = date(1900, 1, 1), date(2999, 12, 31)
_DAYS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -7,
    Qt.Key.Key_Down: 7,
}
_MONTHS = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}


class _Weekdays(QHeaderView):
    """The names of the weekdays, as quiet as the paper they stand on."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setSectionsClickable(False)
        self.setHighlightSections(False)
        self.setMinimumSectionSize(8)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def sizeHint(self) -> QSize:
        """One line of small text."""
        return QSize(0, ceil(QFontMetricsF(role_font(TypeRole.CAPTION)).height()) + 4)

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        """A name, left like the numbers below it."""
        scheme = scheme_of(self)
        painter.fillRect(rect, scheme.page)
        font = role_font(TypeRole.CAPTION)
        metrics = QFontMetricsF(font)
        names = [self._name(column, Qt.ItemDataRole.DisplayRole) for column in range(self.count())]
        widest = max(metrics.horizontalAdvance(name) for name in names)
        text = names[section] if widest + 3 <= rect.width() else self._name(section, NARROW_ROLE)
        indent = 7 if widest + 7 <= rect.width() else 3
        painter.setFont(font)
        painter.setPen(scheme.ink3)
        painter.drawText(
            rect.adjusted(indent, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text
        )

    def _name(self, section: int, role: int) -> str:
        return str(self.model().headerData(section, Qt.Orientation.Horizontal, role))


class CalendarGrid(QTableView):
    """Six weeks of days.

    Signals:
        day_wanted: the ``datetime.date`` to choose.
        duties_wanted: the cursor wants into the duties of the chosen day.
        log_wanted: something is to be logged on the chosen day.
    """

    day_wanted = Signal(object)
    duties_wanted = Signal()
    log_wanted = Signal()

    def __init__(self, today: date, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.days = CalendarModel(today, self)
        self._today = today
        self._chosen = today
        self._delegate = CalendarDelegate(self)
        self._delegate.chosen = today
        self.setModel(self.days)
        self.setItemDelegate(self._delegate)
        self.setAccessibleName(self.tr("Calendar of duties"))
        self.setAccessibleDescription(
            self.tr(
                "Arrows move by day, Page Up and Page Down by month, Home is today, Enter goes to the duties."
            )
        )
        self._set_up()

    def _set_up(self) -> None:
        self.setHorizontalHeader(_Weekdays(self))
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(8)
        self.setCornerButtonEnabled(False)
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setMouseTracking(True)
        self.setTabKeyNavigation(False)
        # The cursor alone: a click may turn the page, and another day then stands where it was.
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.set_low(low=False)

    def set_low(self, *, low: bool) -> None:
        """Lower cells for a low window; never lower than the number and its marks."""
        sizes = tokens().sizes
        digits = QFontMetricsF(role_font()).capHeight()
        least = ceil(digits + MARK + 11.5)
        height = max(sizes.calendar_cell_low if low else sizes.calendar_cell, least)
        self.verticalHeader().setDefaultSectionSize(height)
        self.setFixedHeight(ROWS * height + self.horizontalHeader().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Never what keeps the column wide."""
        return QSize(7 * 24, self.minimumHeight())

    # ---------------------------------------------------------------- showing

    @property
    def chosen(self) -> date:
        """The chosen day."""
        return self._chosen

    def show_today(self, today: date) -> None:
        """Marks another day as the present one."""
        self._today = today
        self.days.show_today(today)

    def show_chosen(self, day: date) -> None:
        """Frames the chosen day, where it is shown."""
        self._chosen = day
        self._delegate.chosen = day
        self.setCurrentIndex(self.days.index_of(day))
        self.viewport().update()

    # ---------------------------------------------------------------- mouse and keys

    def currentChanged(self, current: Index, previous: Index) -> None:
        """A day that is clicked, or reached by a screen reader, is chosen."""
        super().currentChanged(current, previous)
        day = current.data(DATE_ROLE)
        if isinstance(day, date) and day != self._chosen:
            self.day_wanted.emit(day)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """No choosing by dragging: after a click the grid may show another month."""
        if event.buttons() == Qt.MouseButton.NoButton:
            super().mouseMoveEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Logs something on the day of the first click."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.log_wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows by day, Page keys by month, Home is today, Enter goes to the duties."""
        key = Qt.Key(event.key())
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier == Qt.KeyboardModifier.NoModifier
        if not plain:
            super().keyPressEvent(event)
        elif key in _DAYS:
            self._want(self._chosen + timedelta(days=_DAYS[key]))
        elif key in _MONTHS:
            self._want(same_day(self._chosen, _MONTHS[key]))
        elif key == Qt.Key.Key_Home:
            self._want(self._today)
        elif key == Qt.Key.Key_End:
            self._want(
                self._chosen.replace(day=calendar.monthrange(self._chosen.year, self._chosen.month)[1])
            )
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.duties_wanted.emit()
        elif key == Qt.Key.Key_Space or (event.text().isprintable() and event.text()):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def _want(self, day: date) -> None:
        self.day_wanted.emit(min(max(day, _FIRST), _LAST))


def same_day(day: date, months: int) -> date:
    """The same day so many months later, or the last one of a shorter month."""
    month = Month.of(day).moved(months)
    return date(month.year, month.month, min(day.day, calendar.monthrange(month.year, month.month)[1]))
