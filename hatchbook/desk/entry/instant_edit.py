"""A field for an instant in the journal's home zone, right also at the change of clocks."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QDate, QDateTime, Qt, QTime, QTimeZone, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox, QDateTimeEdit, QHBoxLayout, QWidget

from hatchbook.trade.instants import from_local, is_repeated, to_local

_Section = QDateTimeEdit.Section
_MINUTE_S, _HOUR_S = 60, 3600

CLOCK_PLAY_S = 5 * 60
"""By how much a time may lie ahead of this computer's clock and still be of what has been (our choice)."""


class WallTimeField(QDateTimeEdit):
    """Date and time of which every part steps on into the next: the day before the first is the last of a month.

    The keyboard comes in at the day of the month; Qt would begin at the name of the weekday, which steps within
    its week only.
    """

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Begins at the day, unless the pointer has chosen another part."""
        super().focusInEvent(event)
        if event.reason() in _BY_KEY:
            self.setSelectedSection(_Section.DaySection)

    def stepEnabled(self) -> QAbstractSpinBox.StepEnabledFlag:
        """Both ways: there is always a day before and one after."""
        both = QAbstractSpinBox.StepEnabledFlag
        return both.StepUpEnabled | both.StepDownEnabled

    def stepBy(self, steps: int) -> None:
        """Moves the part in which the cursor stands, and what lies above it where that is due."""
        section, now = self.currentSection(), self.dateTime()
        match section:
            case _Section.MonthSection:
                moved = now.addMonths(steps)
            case _Section.YearSection:
                moved = now.addYears(steps)
            case _Section.HourSection:
                moved = now.addSecs(steps * _HOUR_S)
            case _Section.MinuteSection:
                moved = now.addSecs(steps * _MINUTE_S)
            case _:
                section, moved = _Section.DaySection, now.addDays(steps)
        self.setDateTime(moved)
        self.setSelectedSection(section)


_BY_KEY = frozenset(
    {
        Qt.FocusReason.TabFocusReason,
        Qt.FocusReason.BacktabFocusReason,
        Qt.FocusReason.ShortcutFocusReason,
        Qt.FocusReason.OtherFocusReason,
    }
)


class InstantEdit(QWidget):
    """Date and time as wall time; where the clock showed that time twice, a choice of which.

    Signals:
        edited: the instant was changed.
    """

    edited = Signal()

    def __init__(self, zone: ZoneInfo, at: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self.field = WallTimeField()
        # The zone's rules are applied here; to Qt the wall time is plain numbers.
        self.field.setTimeZone(QTimeZone(QTimeZone.Initialization.UTC))
        self.field.setDisplayFormat(self.tr("ddd d MMM yyyy  HH:mm"))
        self.field.setCalendarPopup(True)
        self.which = QComboBox()
        self.which.addItem(self.tr("first time round"), 0)
        self.which.addItem(self.tr("second time round"), 1)
        self.which.setAccessibleName(self.tr("The clock showed this hour twice"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.field, 1)
        row.addWidget(self.which)
        self.setFocusProxy(self.field)
        self.set_instant(at)
        self.field.dateTimeChanged.connect(self._changed)
        self.which.currentIndexChanged.connect(lambda _index: self.edited.emit())

    def set_instant(self, at: int) -> None:
        """Shows an instant, UTC seconds; its seconds are kept while it is not edited."""
        local = to_local(at, self._zone)
        shown = QDateTime(
            QDate(local.year, local.month, local.day),
            QTime(local.hour, local.minute, local.second),
            QTimeZone(QTimeZone.Initialization.UTC),
        )
        self.field.setDateTime(shown)
        self.which.setCurrentIndex(local.fold)
        self._show_choice()

    def instant(self) -> int:
        """The instant, UTC seconds.

        Raises:
            InstantError: the clock never showed that time; its text says so plainly.
        """
        return from_local(self._naive(), self._zone, fold=self.which.currentIndex())

    def set_accessible_name(self, name: str) -> None:
        """What the field is for."""
        self.field.setAccessibleName(name)

    def _naive(self) -> datetime:
        shown = self.field.dateTime()
        day, time = shown.date(), shown.time()
        return datetime(day.year(), day.month(), day.day(), time.hour(), time.minute(), time.second())  # noqa: DTZ001

    def _changed(self) -> None:
        self._show_choice()
        self.edited.emit()

    def _show_choice(self) -> None:
        self.which.setVisible(is_repeated(self._naive(), self._zone))


def focus_first(widget: QWidget) -> None:
    """Puts the focus into a field as the Tab key would."""
    widget.setFocus(Qt.FocusReason.TabFocusReason)
