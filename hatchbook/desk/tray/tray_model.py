"""The eggs of a batch by their places on the machine's trays, as a table."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from hatchbook.desk.tray.carry import Place, TraySpace
from hatchbook.desk.words.eggs import egg_sentence, place_name, row_letter
from hatchbook.figures.results import BatchFigures, EggFigures

Index = QModelIndex | QPersistentModelIndex

EGG_ROLE = Qt.ItemDataRole.UserRole + 1
PLACE_ROLE = Qt.ItemDataRole.UserRole + 2
HEADING_ROLE = Qt.ItemDataRole.UserRole + 3
OTHERS_ROLE = Qt.ItemDataRole.UserRole + 4

_NOWHERE = QModelIndex()
_MOST_LOOSE_IN_A_ROW = 6


@dataclass(frozen=True)
class TrayRow:
    """A row of the table: one of a tray, one of eggs without a place, or the heading of what is below it."""

    tray: int = 0
    row: int = 0
    heading: str = ""

    @property
    def is_loose(self) -> bool:
        """Whether the eggs in it have no place."""
        return not self.tray and not self.heading


class TrayModel(QAbstractTableModel):
    """Rows and columns of the trays, one tray under the other; an empty place has no egg.

    Several trays have a heading each. Eggs without a place fill rows of their own below, under a heading.

    Roles: ``EGG_ROLE`` the ``EggFigures`` or None, ``PLACE_ROLE`` (tray, row, column) from 1, None where there is
    no place, ``HEADING_ROLE`` the text of a heading's row, else "", ``OTHERS_ROLE`` whether an egg of another batch
    lies there.

    Signals:
        eggs_leaving: other eggs, or the same ones as they are now, are about to be shown.
        eggs_shown: they are.
    """

    eggs_leaving = Signal()
    eggs_shown = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[TrayRow, ...] = ()
        self._columns = 0
        self._space = TraySpace(1, 0, 0, {})
        self._eggs: dict[tuple[int, int], EggFigures] = {}
        self._cells: dict[str, tuple[int, int]] = {}

    def show_view(self, figures: BatchFigures | None, others: Collection[Place] = ()) -> None:
        """Shows the eggs of another batch, or the same ones as they are now.

        Args:
            others: places in which eggs of other batches lie.
        """
        eggs = () if figures is None else figures.eggs
        placed = {place: egg for egg in eggs if (place := egg.egg.place) is not None}
        loose = [egg for egg in eggs if egg.egg.place is None]
        space = _space(figures, placed, others)
        columns = space.columns or min(len(loose), _MOST_LOOSE_IN_A_ROW)
        rows = tuple(self._laid_out(space, len(loose), columns)) if eggs else ()
        cells = _cells(rows, columns, placed, loose)
        self.eggs_leaving.emit()
        if (rows, columns) == (self._rows, self._columns):
            self._take(space, cells)
            if rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, columns - 1))
        else:
            self.beginResetModel()
            self._rows, self._columns = rows, columns
            self._take(space, cells)
            self.endResetModel()
        self.eggs_shown.emit()

    def _take(self, space: TraySpace, cells: dict[tuple[int, int], EggFigures]) -> None:
        self._space = space
        self._eggs = cells
        self._cells = {egg.egg.uid: cell for cell, egg in cells.items()}

    def _laid_out(self, space: TraySpace, loose: int, columns: int) -> Iterator[TrayRow]:
        for tray in range(1, space.trays + 1):
            if space.trays > 1:
                yield TrayRow(heading=self.tr("Tray {number}").format(number=tray))
            for row in range(1, space.rows + 1):
                yield TrayRow(tray, row)
        if loose:
            yield TrayRow(heading=self.tr("without a place"))
            for _ in range(-(-loose // columns)):
                yield TrayRow()

    # ---------------------------------------------------------------- what lies where

    @property
    def space(self) -> TraySpace:
        """The trays, and which egg lies in which place."""
        return self._space

    def tray_row(self, row: int) -> TrayRow:
        """What a row of the table is."""
        return self._rows[row]

    def heading_rows(self) -> list[int]:
        """The rows that are headings."""
        return [at for at, row in enumerate(self._rows) if row.heading]

    def eggs(self) -> list[EggFigures]:
        """The eggs, row by row."""
        return [self._eggs[cell] for cell in sorted(self._eggs)]

    def egg(self, uid: str) -> EggFigures | None:
        """An egg that is shown, or None."""
        cell = self._cells.get(uid)
        return None if cell is None else self._eggs[cell]

    def index_of(self, uid: str) -> QModelIndex:
        """Where an egg lies; an invalid index where it is not shown."""
        cell = self._cells.get(uid)
        return QModelIndex() if cell is None else self.index(*cell)

    def index_at(self, place: Place) -> QModelIndex:
        """The cell of a place; an invalid index where the trays have no such place."""
        tray, row, column = place
        for at, candidate in enumerate(self._rows):
            if (candidate.tray, candidate.row) == (tray, row):
                return self.index(at, column - 1)
        return QModelIndex()

    def place_name(self, place: Place) -> str:
        """A place as it is called here: C 2, or 2 C 2 where there are several trays."""
        tray, row, column = place
        return place_name(row, column, tray, self._space.trays)

    # ---------------------------------------------------------------- as a model

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Rows of all trays, headings, and rows of eggs without a place."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Columns of a tray."""
        return 0 if parent.isValid() else self._columns

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The egg at a place: the object itself, or its sentence."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == EGG_ROLE:
            return self._eggs.get((index.row(), index.column()))
        if role == PLACE_ROLE:
            return (row.tray, row.row, index.column() + 1) if row.tray else None
        if role == HEADING_ROLE:
            return row.heading
        if role == OTHERS_ROLE:
            return (row.tray, row.row, index.column() + 1) in self._space.others
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.heading or self._sentence(row, index)
        return None

    def _sentence(self, row: TrayRow, index: Index) -> str:
        egg = self._eggs.get((index.row(), index.column()))
        if row.is_loose:
            return "" if egg is None else egg_sentence(egg, self.tr("without a place"))
        place = (row.tray, row.row, index.column() + 1)
        name = self.place_name(place)
        if place in self._space.others:
            return self.tr("{place}, an egg of another batch").format(place=name)
        return self.tr("{place}, empty").format(place=name) if egg is None else egg_sentence(egg, name)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Letters for the rows, numbers for the columns."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation is Qt.Orientation.Horizontal:
            return str(section + 1)
        return row_letter(self._rows[section].row) if section < len(self._rows) else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Eggs can be chosen, empty places pointed at; headings and the rest of a loose row are nothing."""
        plain = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemNeverHasChildren
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if (index.row(), index.column()) in self._eggs:
            return plain | Qt.ItemFlag.ItemIsSelectable
        return plain if self._rows[index.row()].tray else Qt.ItemFlag.NoItemFlags


def _space(
    figures: BatchFigures | None, placed: dict[Place, EggFigures], others: Collection[Place]
) -> TraySpace:
    """The machine's trays; larger where eggs lie in places that it no longer has."""
    trays = rows = columns = 0
    if figures is not None:
        trays, rows, columns = figures.trays, figures.tray_rows, figures.tray_columns
    return TraySpace(
        trays=max([trays, *(tray for tray, _, _ in placed)], default=1) or 1,
        rows=max([rows, *(row for _, row, _ in placed)], default=0),
        columns=max([columns, *(column for _, _, column in placed)], default=0),
        lying={place: egg.egg.uid for place, egg in placed.items()},
        others=frozenset(others).difference(placed),
    )


def _cells(
    rows: tuple[TrayRow, ...], columns: int, placed: dict[Place, EggFigures], loose: list[EggFigures]
) -> dict[tuple[int, int], EggFigures]:
    cells: dict[tuple[int, int], EggFigures] = {}
    rest = iter(loose)
    for at, row in enumerate(rows):
        if row.heading:
            continue
        for column in range(columns):
            egg = placed.get((row.tray, row.row, column + 1)) if row.tray else next(rest, None)
            if egg is not None:
                cells[at, column] = egg
    return cells
