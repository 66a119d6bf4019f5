"""The tray of the egg under the lamp, as a table: candled now, still to do, passed, empty."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.candling_room.round_state import RoundEgg
from hatchbook.desk.candling_room.sitting import Sitting
from hatchbook.desk.words.candling import egg_place, egg_spoken
from hatchbook.desk.words.eggs import place_name, row_letter
from hatchbook.trade.codes import Fate

Index = QModelIndex | QPersistentModelIndex

CELL_ROLE = Qt.ItemDataRole.UserRole + 1

_NOWHERE = QModelIndex()
_LOOSE_COLUMNS = 6
#: Eggs without a place lie on a tray of their own behind the others.
LOOSE = 0


class CellState(StrEnum):
    """What is to be seen in a place of the tray."""

    DONE = "done"
    DUE = "due"
    PASSED = "passed"


@dataclass(frozen=True)
class Cell:
    """An egg in its place; ``fate``: the glyph, of the verdict where there is one."""

    egg: RoundEgg
    fate: Fate
    state: CellState


class RoomTrayModel(QAbstractTableModel):
    """One tray of the batch at a time. Role: ``CELL_ROLE`` the ``Cell``, or None for an empty place."""

    def __init__(self, sitting: Sitting, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._sitting = sitting
        self._trays = sorted({_tray_of(egg) for egg in sitting.state.eggs}, key=lambda tray: tray or 10**6)
        self._tray = self._trays[0] if self._trays else 1
        self._cells: dict[tuple[int, int], RoundEgg] = {}
        self._where: dict[str, tuple[int, int]] = {}
        self._rows = self._columns = 0
        self._lay()

    @property
    def tray(self) -> int:
        """The number of the tray that is shown; ``LOOSE`` for the eggs without a place."""
        return self._tray

    @property
    def trays(self) -> int:
        """How many trays hold eggs of the batch."""
        return len([tray for tray in self._trays if tray != LOOSE])

    def show_tray_of(self, egg: RoundEgg) -> None:
        """Shows the tray in which an egg lies."""
        if _tray_of(egg) != self._tray:
            self.beginResetModel()
            self._tray = _tray_of(egg)
            self._lay()
            self.endResetModel()

    def index_of(self, uid: str) -> QModelIndex:
        """Where an egg lies on the tray that is shown; an invalid index where it is on another."""
        place = self._where.get(uid)
        return QModelIndex() if place is None else self.index(*place)

    def tell_changed(self, uid: str) -> None:
        """What was seen in an egg is another now."""
        index = self.index_of(uid)
        if index.isValid():
            self.dataChanged.emit(index, index)

    def _lay(self) -> None:
        eggs = [egg for egg in self._sitting.state.eggs if _tray_of(egg) == self._tray]
        if self._tray == LOOSE:
            columns = min(max(len(eggs), 1), _LOOSE_COLUMNS)
            self._cells = {divmod(at, columns): egg for at, egg in enumerate(eggs)}
            self._rows, self._columns = -(-len(eggs) // columns), columns
        else:
            machine = self._sitting.machine
            self._cells = {(egg.place[1] - 1, egg.place[2] - 1): egg for egg in eggs if egg.place is not None}
            # An egg can lie beyond the trays of a machine that was changed since.
            self._rows = max([machine.tray_rows, *(row + 1 for row, _ in self._cells)])
            self._columns = max([machine.tray_columns, *(column + 1 for _, column in self._cells)])
        self._where = {egg.uid: place for place, egg in self._cells.items()}

    # ---------------------------------------------------------------- as a model

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Rows of the tray."""
        return 0 if parent.isValid() else self._rows

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Columns of the tray."""
        return 0 if parent.isValid() else self._columns

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The cell, or the sentence for it."""
        if not index.isValid() or role not in (CELL_ROLE, Qt.ItemDataRole.AccessibleTextRole):
            return None
        egg = self._cells.get((index.row(), index.column()))
        if role == CELL_ROLE:
            return None if egg is None else self._cell(egg)
        if egg is None:
            return self._empty(index)
        state, figures = self._sitting.state, self._sitting.eggs[egg.uid]
        place = egg_place(figures, self.trays)
        return egg_spoken(figures, place, state.verdicts.get(egg.uid), due=state.is_due(egg))

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Letters for the rows, numbers for the columns; nothing where eggs have no place."""
        if role != Qt.ItemDataRole.DisplayRole or self._tray == LOOSE:
            return None
        return str(section + 1) if orientation is Qt.Orientation.Horizontal else row_letter(section + 1)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Eggs can be gone to."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if (index.row(), index.column()) not in self._cells:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def _cell(self, egg: RoundEgg) -> Cell:
        code = self._sitting.state.verdicts.get(egg.uid)
        if code is not None:
            return Cell(egg, self._sitting.fate_of(code), CellState.DONE)
        return Cell(egg, Fate.SET, CellState.PASSED if egg.passed else CellState.DUE)

    def _empty(self, index: Index) -> str:
        if self._tray == LOOSE:
            return ""
        place = place_name(index.row() + 1, index.column() + 1, self._tray, self.trays)
        return self.tr("{place}, empty").format(place=place)


def _tray_of(egg: RoundEgg) -> int:
    return LOOSE if egg.place is None else egg.place[0]
