"""A field for an instant in the journal's home zone, right also at the change of clocks."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QDate, QDateTime, Qt, QTime, QTimeZone, Signal
from PySide6.QtWidgets import QComboBox, QDateTimeEdit, QHBoxLayout, QWidget

from hatchbook.trade.instants import from_local, is_repeated, to_local


class InstantEdit(QWidget):
    """Date and time as wall time; where the clock showed that time twice, a choice of which.

    Signals:
        edited: the instant was changed.
    """

    edited = Signal()

    def __init__(self, zone: ZoneInfo, at: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self.field = QDateTimeEdit()
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
