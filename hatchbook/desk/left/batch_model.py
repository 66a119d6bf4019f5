"""The batches of a journal as a tree: seasons, and the batches set in them."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.left.batch_words import (
    batch_name,
    batch_sentence,
    season_name,
    season_note,
    season_short_note,
)
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import count_of
from hatchbook.figures.results import BatchSummary, Overview, SeasonGroup

Index = QModelIndex | QPersistentModelIndex

BATCH_ROLE = Qt.ItemDataRole.UserRole + 1
SEASON_ROLE = Qt.ItemDataRole.UserRole + 2
NOTE_ROLE = Qt.ItemDataRole.UserRole + 3
SORT_ROLE = Qt.ItemDataRole.UserRole + 4
SHORT_NOTE_ROLE = Qt.ItemDataRole.UserRole + 5

_NOWHERE = QModelIndex()
_UTC = ZoneInfo("UTC")
# A batch's index carries the place of its season counted from 1; a season's carries 0.
_TOP = 0


class BatchModel(QAbstractItemModel):
    """Seasons, newest first, each with its batches; a search leaves those that fit it.

    Roles: ``BATCH_ROLE`` the ``BatchSummary`` (None in a season's row), ``SEASON_ROLE`` the ``SeasonGroup`` as
    the journal has it (None in a batch's row), ``NOTE_ROLE`` what a season's row says of its batches and
    ``SHORT_NOTE_ROLE`` the same in fewer words, ``SORT_ROLE`` the season's year or the instant of setting,
    ``EditRole`` the batch's name.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._all: tuple[SeasonGroup, ...] = ()
        self._found: tuple[SeasonGroup, ...] = ()
        self._whole: tuple[SeasonGroup, ...] = ()
        self._words: tuple[str, ...] = ()
        self._only: frozenset[str] | None = None
        self._first_month = 1
        self._zone = _UTC
        self._can_rename = False

    # ---------------------------------------------------------------- showing

    def show_overview(
        self, overview: Overview, first_month: int = 1, zone: ZoneInfo = _UTC, *, can_rename: bool = True
    ) -> None:
        """Shows the batches of a journal; rows that stay where they were keep cursor and folds."""
        self._all, self._first_month, self._zone = overview.seasons, first_month, zone
        self._can_rename = can_rename
        self._search()

    def find(self, text: str) -> None:
        """Shows only the batches in which every word of a text occurs; all of them for an empty one."""
        words = tuple(text.casefold().split())
        if words != self._words:
            self._words = words
            self._search()

    def keep_to(self, uids: frozenset[str] | None) -> None:
        """Shows only these batches; all of them for None. A search goes on among them."""
        if uids != self._only:
            self._only = uids
            self._search()

    @property
    def is_searching(self) -> bool:
        """Whether a search or a filter holds."""
        return bool(self._words) or self._only is not None

    @property
    def batches(self) -> tuple[BatchSummary, ...]:
        """All batches of the journal, whether they are found or not."""
        return tuple(batch for group in self._all for batch in group.batches)

    def _search(self) -> None:
        found, whole = self._all, self._all
        if self.is_searching:
            fitting = {group.season: tuple(filter(self._fits, group.batches)) for group in self._all}
            whole = tuple(group for group in self._all if fitting[group.season])
            found = tuple(SeasonGroup(group.season, fitting[group.season]) for group in whole)
        # Rows are asked for while a reset begins: they stay whole until then.
        changed = _rows(found) != _rows(self._found)
        if changed:
            self.beginResetModel()
        self._found, self._whole = found, whole
        if changed:
            self.endResetModel()
            return
        for row, group in enumerate(found):
            season = self.index(row, 0)
            self.dataChanged.emit(season, season)
            self.dataChanged.emit(self.index(0, 0, season), self.index(len(group.batches) - 1, 0, season))

    def _fits(self, batch: BatchSummary) -> bool:
        if self._only is not None and batch.uid not in self._only:
            return False
        text = "\n".join((batch.label, batch.name, species_word(batch.species), *batch.found_by)).casefold()
        return all(word in text for word in self._words)

    # ---------------------------------------------------------------- structure

    def index(self, row: int, column: int, parent: Index = _NOWHERE) -> QModelIndex:
        """The row of a season, or of a batch in it."""
        if not self.hasIndex(row, column, parent):
            return QModelIndex()
        return self.createIndex(row, column, parent.row() + 1 if parent.isValid() else _TOP)

    def parent(self, index: Index = _NOWHERE) -> QModelIndex:  # type: ignore[override]
        """The season of a batch."""
        if not index.isValid() or index.internalId() == _TOP:
            return QModelIndex()
        return self.createIndex(index.internalId() - 1, 0, _TOP)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Seasons, or the batches of one."""
        if not parent.isValid():
            return len(self._found)
        if parent.internalId() != _TOP or parent.column() != 0:
            return 0
        return len(self._found[parent.row()].batches)

    def columnCount(self, _parent: Index = _NOWHERE) -> int:
        """One."""
        return 1

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Seasons only fold; batches are chosen and renamed."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled
        if index.internalId() != _TOP:
            flags |= Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
            if self._can_rename:
                flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The summary of a batch, its season, or their words."""
        if not index.isValid():
            return None
        if index.internalId() == _TOP:
            return self._season_data(index.row(), role)
        return self._batch_data(self._found[index.internalId() - 1].batches[index.row()], role)

    def _season_data(self, row: int, role: int) -> object:
        found, whole = self._found[row], self._whole[row]
        name = season_name(found.season, self._first_month)
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return name
            case _ if role == SEASON_ROLE:
                return whole
            case _ if role == SORT_ROLE:
                return found.season
            case _ if role in (NOTE_ROLE, SHORT_NOTE_ROLE):
                if self.is_searching:
                    return count_of(len(found.batches), len(whole.batches))
                return season_note(whole) if role == NOTE_ROLE else season_short_note(whole)
            case Qt.ItemDataRole.AccessibleTextRole:
                return listed([name, str(self._season_data(row, NOTE_ROLE))])
        return None

    def _batch_data(self, batch: BatchSummary, role: int) -> object:
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return f"{batch.label} {batch_name(batch)}"
            case Qt.ItemDataRole.EditRole:
                return batch.name
            case _ if role == BATCH_ROLE:
                return batch
            case _ if role == SORT_ROLE:
                return batch.set_at
            case Qt.ItemDataRole.AccessibleTextRole | Qt.ItemDataRole.ToolTipRole:
                return batch_sentence(batch, self._zone)
        return None

    # ---------------------------------------------------------------- finding rows

    @property
    def zone(self) -> ZoneInfo:
        """The zone in which dates are shown."""
        return self._zone

    def index_of(self, uid: str | None) -> QModelIndex:
        """The row of a batch; an invalid index where it is not shown."""
        for season, group in enumerate(self._found):
            for row, batch in enumerate(group.batches):
                if batch.uid == uid:
                    return self.index(row, 0, self.index(season, 0))
        return QModelIndex()

    def first_batch(self) -> QModelIndex:
        """The topmost batch that is shown."""
        return self.index(0, 0, self.index(0, 0)) if self._found else QModelIndex()

    def indices(self) -> list[QModelIndex]:
        """The rows of all batches that are shown, top to bottom."""
        return [
            self.index(row, 0, self.index(season, 0))
            for season, group in enumerate(self._found)
            for row in range(len(group.batches))
        ]


def _rows(groups: tuple[SeasonGroup, ...]) -> list[tuple[int, tuple[str, ...]]]:
    return [(group.season, tuple(batch.uid for batch in group.batches)) for group in groups]
