"""The marks of one egg, to be moved in time, changed or removed."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QListView, QWidget

from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.words.hatching import mark_sentence
from hatchbook.journal import Hatching

RECORD_ROLE = Qt.ItemDataRole.UserRole + 1
_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex


class EggMarksModel(QAbstractListModel):
    """One row a hatching record, oldest first; ``RECORD_ROLE`` gives the record."""

    def __init__(self, zone: ZoneInfo, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self._records: tuple[Hatching, ...] = ()

    def show_records(self, records: Sequence[Hatching]) -> None:
        """Shows other records, or the same ones as they are now."""
        self.beginResetModel()
        self._records = tuple(records)
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many marks there are."""
        return 0 if parent.isValid() else len(self._records)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The record, or its sentence."""
        if not index.isValid():
            return None
        record = self._records[index.row()]
        if role == RECORD_ROLE:
            return record
        if role in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
        ):
            return mark_sentence(record, self._zone)
        return None

    def row_of(self, uid: str) -> int:
        """The row of a record; -1 where it is not shown."""
        return next((row for row, record in enumerate(self._records) if record.uid == uid), -1)


class EggMarksView(QListView):
    """Del removes a mark, − and + move it by a quarter of an hour, Enter changes its ring, mass and note.

    Signals:
        mark_removed: the ``Hatching`` that is to go.
        mark_shifted: a ``Hatching`` and by how many quarter hours it moves.
        mark_opened: the ``Hatching`` that is to be changed.
    """

    mark_removed = Signal(object)
    mark_shifted = Signal(object, int)
    mark_opened = Signal(object)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.marks = EggMarksModel(zone, self)
        self.setModel(self.marks)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Marks of this egg"))
        self.doubleClicked.connect(lambda index: self.mark_opened.emit(index.data(RECORD_ROLE)))

    def show_records(self, records: Sequence[Hatching]) -> None:
        """Shows other records; the cursor stays on its record, or goes to the last one."""
        chosen = self.chosen()
        self.marks.show_records(records)
        row = -1 if chosen is None else self.marks.row_of(chosen.uid)
        if self.marks.rowCount():
            self.setCurrentIndex(self.marks.index(row if row >= 0 else self.marks.rowCount() - 1))

    def chosen(self) -> Hatching | None:
        """The mark that the cursor is on."""
        record: Hatching | None = self.currentIndex().data(RECORD_ROLE)
        return record

    def paintEvent(self, event: QPaintEvent) -> None:
        """The marks, or that there is none."""
        super().paintEvent(event)
        if not self.marks.rowCount():
            with QPainter(self.viewport()) as painter:
                painter.setPen(scheme_of(self).ink2)
                top = self.viewport().rect().adjusted(3, 3, -3, -3)
                painter.drawText(
                    top, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft, self.tr("none yet")
                )

    def sizeHint(self) -> QSize:
        """Room for three marks; more scroll."""
        return QSize(200, 3 * self.fontMetrics().height() + 18)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Del, − and +, Enter."""
        record, text = self.chosen(), event.text()
        if record is None:
            super().keyPressEvent(event)
        elif event.key() == Qt.Key.Key_Delete:
            self.mark_removed.emit(record)
        elif text in EARLIER and text:
            self.mark_shifted.emit(record, -1)
        elif text in LATER and text:
            self.mark_shifted.emit(record, 1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.mark_opened.emit(record)
        else:
            super().keyPressEvent(event)


#: What is typed for a quarter of an hour earlier, and later.
EARLIER = "-−,"
LATER = "+=."
