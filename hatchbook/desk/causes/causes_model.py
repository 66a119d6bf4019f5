"""Causes as a tree: a row a cause, below it what it can be behind, the lines it rests on, what is not known."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.causes import (
    SENTENCES_SHOWN,
    cause_word,
    explains_sentence,
    never_sentence,
    record_sentence,
    said,
    strength_spoken,
    strength_word,
    unknown_sentence,
)
from hatchbook.desk.words.evidence import evidence_sentence
from hatchbook.figures.cause_results import BatchCauses, CauseFigures, EvidenceItem, RecordRef

CAUSE_ROLE = Qt.ItemDataRole.UserRole + 1
DETAIL_ROLE = Qt.ItemDataRole.UserRole + 2
SORT_ROLE = Qt.ItemDataRole.UserRole + 3

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex


class Column(IntEnum):
    """The columns of a cause."""

    CAUSE = 0
    EVIDENCE = 1
    FOR = 2
    AGAINST = 3


@dataclass(frozen=True)
class Detail:
    """A line under a cause; one with a record can be opened. ``depth``: how far it stands in."""

    text: str
    record: RecordRef | None = None
    depth: int = 0


def details_of(cause: CauseFigures, zone: ZoneInfo) -> tuple[Detail, ...]:
    """The lines under a cause."""
    lines = [Detail(explains_sentence(cause))]
    told: set[tuple[str, str, int]] = set()
    for items in (cause.for_, cause.against):
        for position, item in enumerate(items):
            lines += _lines_of(item, zone, told, whole=position >= SENTENCES_SHOWN)
    lines += [Detail(text) for text in (unknown_sentence(cause), never_sentence(cause)) if text]
    return tuple(lines)


def _lines_of(
    item: EvidenceItem, zone: ZoneInfo, told: set[tuple[str, str, int]], *, whole: bool
) -> list[Detail]:
    """The sentence of an item with its records; without any only where its cell has no room for it."""
    records = []
    for record in item.records:
        key = (record.kind, record.uid, record.at)
        if key not in told:
            told.add(key)
            records.append(Detail(record_sentence(record, zone), record, 1))
    return [Detail(evidence_sentence(item)), *records] if records or whole else []


class CausesModel(QAbstractItemModel):
    """Roles: ``CAUSE_ROLE`` the ``CauseFigures``, ``DETAIL_ROLE`` the ``Detail``, ``SORT_ROLE`` its points.

    ``batch``: the uid of the batch whose causes they are.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.batch = ""
        self._causes: tuple[CauseFigures, ...] = ()
        self._details: tuple[tuple[Detail, ...], ...] = ()

    def show_causes(self, causes: BatchCauses | None, zone: ZoneInfo) -> None:
        """Shows the causes of another batch; None shows none."""
        self.beginResetModel()
        self.batch = "" if causes is None else causes.batch
        self._causes = () if causes is None else causes.causes
        self._details = tuple(details_of(cause, zone) for cause in self._causes)
        self.endResetModel()

    # ---------------------------------------------------------------- shape

    def index(self, row: int, column: int, parent: Index = _NOWHERE) -> QModelIndex:
        """A cell; the lines under a cause carry its row and 1 as their id, the causes 0."""
        if not self.hasIndex(row, column, parent):
            return QModelIndex()
        return self.createIndex(row, column, parent.row() + 1 if parent.isValid() else 0)

    def parent(self, index: Index = _NOWHERE) -> QModelIndex:  # type: ignore[override]
        """The cause of a line."""
        if not index.isValid() or not index.internalId():
            return QModelIndex()
        return self.createIndex(int(index.internalId()) - 1, 0, 0)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Causes, and lines under a cause."""
        if not parent.isValid():
            return len(self._causes)
        if parent.internalId() or parent.column():
            return 0
        return len(self._details[parent.row()])

    def columnCount(self, parent: Index = _NOWHERE) -> int:  # noqa: ARG002
        """As of a cause; a line fills the first and the view spans it."""
        return len(Column)

    def hasChildren(self, parent: Index = _NOWHERE) -> bool:
        """Every cause has lines."""
        return self.rowCount(parent) > 0

    # ---------------------------------------------------------------- data

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The words of a cell, or what it stands for."""
        if not index.isValid():
            return None
        if index.internalId():
            return self._of_line(
                self._details[int(index.internalId()) - 1][index.row()], index.column(), role
            )
        cause, column = self._causes[index.row()], Column(index.column())
        if role == CAUSE_ROLE:
            return cause
        if role == SORT_ROLE:
            return cause.net
        if role == Qt.ItemDataRole.DisplayRole:
            return _text(cause, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return strength_spoken(cause) if column is Column.EVIDENCE else _text(cause, column)
        return None

    def _of_line(self, detail: Detail, column: int, role: int) -> object:
        if role == DETAIL_ROLE:
            return detail
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return detail.text if column == 0 else ""
        if role == Qt.ItemDataRole.AccessibleDescriptionRole and detail.record is not None:
            return self.tr("Enter opens it")
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The titles of the columns."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return (
                self.tr("Cause"),
                self.tr("Evidence"),
                self.tr("Speaks for it"),
                self.tr("Speaks against it"),
            )[section]
        return None


def _text(cause: CauseFigures, column: Column) -> str:
    match column:
        case Column.CAUSE:
            return cause_word(cause.code)
        case Column.EVIDENCE:
            return strength_word(cause.strength)
        case Column.FOR:
            return said(cause.for_)
        case Column.AGAINST:
            return said(cause.against)
