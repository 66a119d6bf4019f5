"""The eggs of a batch by their places on the machine's trays, as a table."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.eggs import egg_sentence, place_name, row_letter
from hatchbook.figures.results import BatchFigures, EggFigures

Index = QModelIndex | QPersistentModelIndex

EGG_ROLE = Qt.ItemDataRole.UserRole + 1
PLACE_ROLE = Qt.ItemDataRole.UserRole + 2

_NOWHERE = QModelIndex()
Place = tuple[int, int, int]


class TrayModel(QAbstractTableModel):
    """Rows and columns of the trays, one tray under the other; an empty place has no egg.

    Roles: ``EGG_ROLE`` the ``EggFigures`` or None, ``PLACE_ROLE`` (tray, row, column) from 1. Eggs without a
    place fill rows of their own below.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows = self._columns = 0
        self._tray_rows = 1
        self._trays = 1
        self._by_place: dict[Place, EggFigures] = {}

    def show_view(self, figures: BatchFigures | None) -> None:
        """Shows the eggs of another batch, or the same ones as they are now."""
        self.beginResetModel()
        self._by_place = {}
        eggs = () if figures is None else figures.eggs
        placed = [egg for egg in eggs if egg.egg.tray is not None]
        loose = [egg for egg in eggs if egg.egg.tray is None]
        self._columns = max([egg.egg.tray_column or 0 for egg in placed], default=min(len(loose), 6))
        if figures is not None and figures.tray_columns:
            self._columns = max(self._columns, figures.tray_columns)
        self._tray_rows = max([egg.egg.tray_row or 0 for egg in placed], default=0)
        if figures is not None and figures.tray_rows:
            self._tray_rows = max(self._tray_rows, figures.tray_rows)
        self._tray_rows = max(self._tray_rows, 1)
        self._trays = max([egg.egg.tray or 1 for egg in placed], default=1)
        for egg in placed:
            place = (egg.egg.tray or 1, egg.egg.tray_row or 1, egg.egg.tray_column or 1)
            self._by_place[place] = egg
        self._rows = self._trays * self._tray_rows if eggs else 0
        for position, egg in enumerate(loose):
            row, column = divmod(position, max(self._columns, 1))
            self._by_place[self._place(self._rows + row, column)] = egg
        if loose:
            self._rows += -(-len(loose) // max(self._columns, 1))
        self.endResetModel()

    def _place(self, row: int, column: int) -> Place:
        tray, tray_row = divmod(row, self._tray_rows)
        return tray + 1, tray_row + 1, column + 1

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Rows of all trays."""
        return 0 if parent.isValid() else self._rows

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Columns of a tray."""
        return 0 if parent.isValid() else self._columns

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The egg at a place: the object itself, or its sentence."""
        if not index.isValid():
            return None
        place = self._place(index.row(), index.column())
        egg = self._by_place.get(place)
        if role == EGG_ROLE:
            return egg
        if role == PLACE_ROLE:
            return place
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            name = place_name(place[1], place[2], place[0], self._trays)
            if egg is None:
                return self.tr("{place}, empty").format(place=name)
            return egg_sentence(egg, name)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Letters for the rows, numbers for the columns."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation is Qt.Orientation.Horizontal:
            return str(section + 1)
        tray, row, _ = self._place(section, 0)
        return row_letter(row) if self._trays == 1 else f"{tray}{row_letter(row)}"

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Eggs can be chosen and dragged; any place can take one."""
        flags = super().flags(index) | Qt.ItemFlag.ItemIsDropEnabled
        if self.data(index, EGG_ROLE) is not None:
            flags |= Qt.ItemFlag.ItemIsDragEnabled
        return flags

    def index_of(self, uid: str) -> QModelIndex:
        """Where an egg lies; an invalid index where it is not on the tray."""
        for (tray, row, column), egg in self._by_place.items():
            if egg.egg.uid == uid:
                return self.index((tray - 1) * self._tray_rows + row - 1, column - 1)
        return QModelIndex()
