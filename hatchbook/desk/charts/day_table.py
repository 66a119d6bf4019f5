"""The chart as a table: a row a day, to read, to hear and to copy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum
from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from hatchbook.desk.charts.event_words import event_sentence
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.words.codes import phase_word
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.numbers import NONE_SIGN, number, share
from hatchbook.figures.results import PhaseFigures
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.instants import DAY_S

Index = QModelIndex | QPersistentModelIndex


class Column(IntEnum):
    """The columns from left to right."""

    DAY = 0
    BEGINS = 1
    PHASE = 2
    HUMIDITY = 3
    TEMPERATURE = 4
    KNOWN = 5
    LOST = 6
    EVENTS = 7


@dataclass(frozen=True)
class DayRow:
    """A day of a phase: means of what is known (NaN: nothing is), and what happened.

    ``lost_percent``: the mean loss of weight at the end of the day, or until now; None where none is estimated.
    """

    day: float
    start_at: int
    phase: PhaseKind
    humidity: float
    temperature_c: float
    known_share: float
    lost_percent: float | None
    events: tuple[str, ...]


def day_rows(material: BatchMaterial) -> list[DayRow]:
    """The days of every phase that has readings, first to last."""
    return [row for phase in material.phases for row in _days_of(material, phase)]


def _days_of(material: BatchMaterial, phase: PhaseFigures) -> Iterator[DayRow]:
    known = phase.humidity or phase.temperature
    if known is None:
        return
    nothing = float("nan")
    for number_in_phase in range(known.daily.day.size):
        start_at = int(known.daily.start_s[number_in_phase])
        end_at = min(start_at + DAY_S, phase.end_at)
        yield DayRow(
            day=phase.from_day + int(known.daily.day[number_in_phase]),
            start_at=start_at,
            phase=phase.kind,
            humidity=float(phase.humidity.daily.mean[number_in_phase]) if phase.humidity else nothing,
            temperature_c=float(phase.temperature.daily.mean[number_in_phase])
            if phase.temperature
            else nothing,
            known_share=float(known.daily.known_share[number_in_phase]),
            lost_percent=material.loss_at(min(end_at, max(start_at, material.now))),
            events=tuple(
                event_sentence(event, material) for event in material.events if start_at <= event.at < end_at
            ),
        )


def _side(column: Column) -> Qt.AlignmentFlag:
    """Numbers stand at the right, words at the left."""
    words = (Column.BEGINS, Column.PHASE, Column.EVENTS)
    numeric = column not in words
    side = Qt.AlignmentFlag.AlignRight if numeric else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter


class DayTableModel(QAbstractTableModel):
    """The days as a table, read only."""

    def __init__(self, rows: list[DayRow], zone: ZoneInfo) -> None:
        super().__init__()
        self._rows = rows
        self._zone = zone

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """A row a day."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """See ``Column``."""
        return 0 if parent.isValid() else len(Column)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """What the columns hold, with their units."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(Column(section))
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return {
            Column.DAY: self.tr("Day"),
            Column.BEGINS: self.tr("Begins"),
            Column.PHASE: self.tr("Phase"),
            Column.HUMIDITY: self.tr("Mean humidity, % RH"),
            Column.TEMPERATURE: self.tr("Mean temperature, °C"),
            Column.KNOWN: self.tr("Time known"),
            Column.LOST: self.tr("Weight lost, %"),
            Column.EVENTS: self.tr("Events"),
        }[Column(section)]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Texts, and on which side they stand."""
        if not index.isValid():
            return None
        column = Column(index.column())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(column)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            text = self.text(index.row(), column)
            return text if role == Qt.ItemDataRole.DisplayRole or column is Column.EVENTS else None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            header = self.headerData(column, Qt.Orientation.Horizontal)
            return f"{header}: {self.text(index.row(), column)}"
        return None

    def text(self, row: int, column: Column) -> str:
        """What a cell says."""
        day = self._rows[row]
        match column:
            case Column.DAY:
                return number(day.day, 0 if day.day == int(day.day) else 1)
            case Column.BEGINS:
                return date_time(day.start_at, self._zone)
            case Column.PHASE:
                return phase_word(day.phase)
            case Column.HUMIDITY:
                return number(day.humidity)
            case Column.TEMPERATURE:
                return number(day.temperature_c)
            case Column.KNOWN:
                return share(day.known_share)
            case Column.LOST:
                return number(day.lost_percent)
            case Column.EVENTS:
                return "; ".join(event.rstrip(".") for event in day.events) or NONE_SIGN

    def as_text(self) -> str:
        """The whole table with tabs, as spreadsheets take it from the clipboard."""
        header = [self.headerData(column, Qt.Orientation.Horizontal) for column in Column]
        lines = [header] + [[self.text(row, column) for column in Column] for row in range(len(self._rows))]
        return "\n".join("\t".join(cell.replace("\n", " ") for cell in line) for line in lines) + "\n"


class DayTable(QTableView):
    """A table of which one copies all, not the cell that happens to be current.

    Signals:
        copy_wanted: the key for copying was pressed.
    """

    copy_wanted = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Notices the key for copying."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_wanted.emit()
            event.accept()
        else:
            super().keyPressEvent(event)


class ChartTableDialog(FramedDialog):
    """Day means and events of a batch; the whole table can be copied."""

    def __init__(self, material: BatchMaterial, zone: ZoneInfo, parent: QWidget | None) -> None:
        batch = material.curves.batch
        title = self.tr("Chart as table: {label} {name}").format(label=batch.label, name=batch.name).strip()
        super().__init__(title, parent, QSize(1000, 560))
        self.model = DayTableModel(day_rows(material), zone)
        self.table = DayTable()
        self.table.setModel(self.model)
        self.table.setAccessibleName(self.tr("Means and events by day"))
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().setVisible(False)
        self.table.setShowGrid(False)
        self.table.setAlternatingRowColors(True)
        header = self.table.horizontalHeader()
        header.setObjectName("head")
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)
        rows = self.table.verticalHeader()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.set_content(self.table)
        copy = self.add_main_button(self.tr("Copy table"))
        copy.clicked.connect(self.copy)
        self.table.copy_wanted.connect(self.copy)
        self.add_leave_button(self.tr("Close"))
        if not self.model.rowCount():
            self.tell(self.tr("There are no readings yet, and so no means."), "info")
            copy.setEnabled(False)

    def copy(self) -> None:
        """Puts the whole table on the clipboard."""
        QGuiApplication.clipboard().setText(self.model.as_text())
        self.tell(self.tr("The table is on the clipboard."), "info")
